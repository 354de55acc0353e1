// limits: every number that a procedure needs, and filling it in from the manual, twice.
#include "command/commands.h"
#include "procedure/names.h"
#include "procedure/transcript.h"
#include "record/replaced.h"
#include "record/session.h"
#include "json/read.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <ostream>

namespace command {

namespace {

using procedure::Limit;
using procedure::LimitValues;
using procedure::NumberSet;
using procedure::Transcribed;

// --- telling --------------------------------------------------------------------------------------------------------

std::string id_of(const NumberSet& set) {
  return set.line == 0 ? set.limit : fmt::format("{} --line {}", set.limit, set.line);
}

// Without the numbers for whoever is to read them in the manual, not here.
std::string line_of(const procedure::Procedure& procedure, const NumberSet& set, bool blind) {
  const Limit& limit = *procedure.limit(set.limit);
  const LimitValues& values = *procedure::values_of(procedure, set);
  std::string out = fmt::format("{}: {}: {}", procedure::name_of(procedure::transcribed(limit, values)), id_of(set),
                                procedure::title_of(procedure, set));
  out += "; " + (blind ? std::string() : procedure::numbers_text(limit, values) + "; ") + procedure::origin_text(limit);
  if (const auto hands = procedure::hands_text(values); !hands.empty()) out += "; " + hands;
  if (!blind)
    for (const auto& one : procedure::differences(limit, values)) out += "; " + one;
  return out;
}

std::string counted(const std::map<Transcribed, int>& counts) {
  std::string out;
  for (const auto& [state, count] : counts)
    out += fmt::format("{}{} {}", out.empty() ? "" : ", ", count, procedure::name_of(state));
  return out;
}

Exit list(const procedure::Procedure& procedure, const Arguments& arguments, const Streams& streams) {
  const std::string only = arguments.has("--of") ? arguments.value("--of") : "";
  if (!only.empty() && !procedure.limit(only))
    return refuse(streams,
                  fmt::format("there is no limit \"{}\"; without --of all of them are listed", one_line(only)));
  const bool to_check = arguments.has("--to-check");
  std::map<Transcribed, int> counts;
  for (const NumberSet& set : procedure::number_sets(procedure)) {
    if (!only.empty() && set.limit != only) continue;
    const Limit& limit = *procedure.limit(set.limit);
    const auto state = procedure::transcribed(limit, *procedure::values_of(procedure, set));
    ++counts[state];
    const bool wanted = !to_check || state == Transcribed::entered || state == Transcribed::differs;
    if (wanted) streams.out << line_of(procedure, set, to_check) << '\n';
  }
  if (only.empty()) streams.out << "sets of numbers: " << (counts.empty() ? "none" : counted(counts)) << '\n';
  return Exit::done;
}

// --- filling in -----------------------------------------------------------------------------------------------------

Result<void> take_pair(const Arguments& arguments, std::string_view name, std::string& low, std::string& high) {
  if (!arguments.has(name)) return {};
  const auto& both = arguments.values(name);
  if (both.size() != 2)
    return Error{"bad-arguments",
                 fmt::format("{} takes two numbers, low and high; write - for one that is not given", name)};
  low = both[0] == "-" ? "" : both[0];
  high = both[1] == "-" ? "" : both[1];
  return {};
}

Result<procedure::TypedNumbers> typed_numbers(const Arguments& arguments) {
  procedure::TypedNumbers typed;
  if (const auto good = take_pair(arguments, "--standard", typed.standard_low, typed.standard_high); !good)
    return good.error();
  if (const auto good = take_pair(arguments, "--service", typed.service_low, typed.service_high); !good)
    return good.error();
  if (arguments.has("--target")) typed.target = arguments.value("--target");
  if (arguments.has("--unit")) typed.unit = arguments.value("--unit");
  if (typed.empty() != arguments.has("--none"))
    return Error{"bad-arguments",
                 "give the numbers with --standard, --service or --target, or say --none when the maker "
                 "gives none"};
  return typed;
}

Result<procedure::Origin> origin_of(const Arguments& arguments) {
  procedure::Origin origin;
  if (arguments.has("--source")) origin.source = arguments.value("--source");
  if (!arguments.has("--basis")) return origin;
  const std::string& basis = arguments.value("--basis");
  for (const auto& word : procedure::written_bases)
    if (word.text == basis && (basis == "maker" || basis == "standard" || basis == "shop")) origin.basis = word.word;
  if (!origin.basis) return Error{"bad-arguments", "--basis is maker, standard or shop"};
  return origin;
}

Result<NumberSet> named_set(const Arguments& arguments, std::string_view by) {
  NumberSet set{arguments.value(by), 0};
  if (!arguments.has("--line")) return set;
  const std::string& line = arguments.value("--line");
  const bool number =
      !line.empty() && line.size() < 4 && std::ranges::all_of(line, [](char c) { return '0' <= c && c <= '9'; });
  if (!number) return Error{"bad-arguments", "--line is the number of a line of the limit's \"when\", from 1"};
  set.line = std::stoul(line);
  return set;
}

Exit tell_slips(const std::vector<procedure::Remark>& slips, const Streams& streams) {
  for (const auto& slip : slips)
    streams.out << fmt::format("{} {}\n", slip.code.empty() ? "error:" : "warning: " + slip.code,
                               one_line(slip.fault.message));
  const bool error = std::ranges::any_of(slips, [](const auto& slip) { return slip.code.empty(); });
  streams.out << "not saved: look the numbers up again"
              << (error ? "\n" : ", or add --anyway when they are meant so\n");
  return Exit::answer_is_no;
}

struct Task {
  const std::string& file;
  const std::string& text;
  NumberSet set;
  procedure::TypedNumbers typed;
  procedure::Hand hand;
};

Result<std::string> saved(const Task& task, const Result<std::string>& fresh) {
  if (!fresh) return fresh.error();
  if (const auto kept = record::replace_file(task.file, task.text, *fresh); !kept) return kept.error();
  return *fresh;
}

Exit enter(const Task& task, const procedure::Origin& origin, bool anyway, const Streams& streams) {
  const auto slips = procedure::slips_of(task.text, task.set, task.typed);
  if (!slips) return refuse(streams, slips.error().message);
  if (!slips->empty() && !anyway && !task.typed.empty()) return tell_slips(*slips, streams);
  const auto fresh = saved(task, procedure::with_entered(task.text, task.set, task.typed, origin, task.hand));
  if (!fresh) return refuse(streams, fresh.error().message);
  streams.out << line_of(*procedure::read_procedure(*fresh).procedure, task.set, false) << '\n';
  return Exit::done;
}

Exit check_again(const Task& task, const Streams& streams) {
  const auto fresh = saved(task, procedure::with_checked(task.text, task.set, task.typed, task.hand));
  if (!fresh) return refuse(streams, fresh.error().message);
  const auto read = procedure::read_procedure(*fresh).procedure;
  const Limit& limit = *read->limit(task.set.limit);
  const auto differ = procedure::differences(limit, *procedure::values_of(*read, task.set));
  if (differ.empty()) {
    streams.out << fmt::format("agrees: {}\n", id_of(task.set));
    return Exit::done;
  }
  streams.out << fmt::format("differs: {}: {}\n", id_of(task.set), fmt::join(differ, "; "))
              << "both are kept, and the numbers count as not checked: look in the manual, then --enter or --check the "
                 "one that was wrong once more\n";
  return Exit::answer_is_no;
}

Exit fill_in(const std::string& file, const std::string& text, const Arguments& arguments, const Streams& streams) {
  const bool enters = arguments.has("--enter");
  const Usage usage = limits_command().usage;
  if (enters == arguments.has("--check"))
    return refuse_use(streams, "either --enter or --check names the limit", usage);
  if (arguments.has("--of") || arguments.has("--to-check"))
    return refuse_use(streams, "--of and --to-check list, they do not fill in", usage);
  if (!arguments.has("--as") || arguments.value("--as").empty())
    return refuse_use(streams, "--as NAME is missing: who reads the manual", usage);
  const auto set = named_set(arguments, enters ? "--enter" : "--check");
  if (!set) return refuse(streams, set.error().message);
  const auto typed = typed_numbers(arguments);
  if (!typed) return refuse(streams, typed.error().message);
  const auto origin = origin_of(arguments);
  if (!origin) return refuse(streams, origin.error().message);
  const procedure::Hand hand{arguments.value("--as"), calc::text(calc::local_date(record::machine_clock()))};
  const Task task{file, text, *set, *typed, hand};
  return enters ? enter(task, *origin, arguments.has("--anyway"), streams) : check_again(task, streams);
}

Exit run_limits(const Arguments& arguments, const Streams& streams) {
  const std::string& file = arguments.operands().front();
  const auto text = json::read_file(file);
  if (!text) return refuse(streams, text.error().message);
  if (arguments.has("--enter") || arguments.has("--check")) return fill_in(file, *text, arguments, streams);
  for (const char* name :
       {"--as", "--line", "--standard", "--service", "--target", "--unit", "--none", "--basis", "--source", "--anyway"})
    if (arguments.has(name))
      return refuse_use(streams, fmt::format("{} goes with --enter or --check", name), limits_command().usage);
  const auto reading = procedure::read_procedure(*text);
  if (reading.procedure) return list(*reading.procedure, arguments, streams);
  const auto error = std::ranges::find(reading.remarks, procedure::Severity::error, &procedure::Remark::severity);
  return refuse(streams,
                fmt::format("{}; correct it first, see witnessmark lint", procedure::line_of(*error, one_line(file))));
}

} // namespace

Command limits_command() {
  return {
      .name = "limits",
      .purpose = "Lists the numbers a procedure needs, and fills them in from the manual, twice.",
      .usage =
          {.line = "witnessmark limits FILE [--of ID | --to-check] | limits FILE --enter ID | --check ID --as NAME ...",
           .switches = {{.name = "--of", .takes = Takes::one, .value = "ID"},
                        {.name = "--to-check"},
                        {.name = "--enter", .takes = Takes::one, .value = "ID"},
                        {.name = "--check", .takes = Takes::one, .value = "ID"},
                        {.name = "--as", .takes = Takes::one, .value = "NAME"},
                        {.name = "--line", .takes = Takes::one, .value = "N"},
                        {.name = "--standard", .takes = Takes::several, .value = "LOW HIGH"},
                        {.name = "--service", .takes = Takes::several, .value = "LOW HIGH"},
                        {.name = "--target", .takes = Takes::one, .value = "N"},
                        {.name = "--unit", .takes = Takes::one, .value = "UNIT"},
                        {.name = "--none"},
                        {.name = "--basis", .takes = Takes::one, .value = "BASIS"},
                        {.name = "--source", .takes = Takes::one, .value = "TEXT"},
                        {.name = "--anyway"}},
           .operand = "FILE",
           .least = 1,
           .most = 1},
      .details =
          "  FILE             lists each set of numbers on a line: empty, entered, checked, differs, or maker\n"
          "                   gives none; its name, what it limits, the numbers, their basis, and who read them\n"
          "  --of ID          only this limit\n"
          "  --to-check       only those that a second person has still to read, without their numbers\n"
          "  --enter ID       fills it in as the first reading. A likely slip is told, and nothing saved\n"
          "  --check ID       the second reading, from the manual and without a look at the first: told is only\n"
          "                   that it agrees, or else what differs. Exit status 1 when it differs\n"
          "  --as NAME        who reads the manual\n"
          "  --line N         the numbers of this line of the limit's \"when\", from 1; left out, its own\n"
          "  --standard LOW HIGH, --service LOW HIGH, --target N   the numbers, with - for a bound not given:\n"
          "                   --standard - 0.10 is at most 0.10. A number may have its unit: \"1.8883 in\"\n"
          "  --unit UNIT      of all of them; left out, the unit of the limit\n"
          "  --none           the maker gives no number\n"
          "  --basis, --source   with --enter: maker, standard or shop; document and page\n"
          "  --anyway         with --enter: saves it although a slip is likely; lint goes on telling of it\n"
          "\n"
          "Both readings stay in the file. What nobody has checked is marked on the sheet and in the handover.\n",
      .work = run_limits};
}

} // namespace command
