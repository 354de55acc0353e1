// Sections, steps and entries of the pages, and the figure of all clearances.
#include "build/blockers.h"
#include "build/tightening.h"
#include "handover/content_parts.h"
#include "handover/figures.h"
#include "handover/values.h"
#include "handover/words.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

using build::EntryAt;
using build::Exact;
using build::Standing;
using procedure::EntryKind;

namespace {

std::string gauge_text(const GaugeFacts& facts, const std::string& entry, const std::string& id) {
  const auto it = facts.find({entry, id});
  if (it == facts.end()) return id;
  const auto& fact = it->second;
  std::string out = fmt::format("{} {}", fact.text_or_empty("kind"), id);
  if (const auto u = Exact::written(fact.text_or_empty("u")))
    out += fmt::format(", U {} {}{}", shown_u(*u), fact.text_or_empty("unit"),
                       fact.text_or_empty("u_from") == "stated" ? "" : " (assumed)");
  return out;
}

std::string measured_with(const std::vector<OneValue>& values, const GaugeFacts& facts, const std::string& entry,
                          bool by_eye) {
  std::vector<std::string> gauges, how;
  for (const auto& value : values) {
    for (const auto& gauge : value.gauges) add_once(gauges, gauge);
    for (const auto& one : value.how) add_once(how, one);
  }
  if (gauges.empty()) return by_eye ? "counted or seen, without a gauge" : "";
  std::string out;
  for (const auto& gauge : gauges) out += (out.empty() ? "with " : "; ") + gauge_text(facts, entry, gauge);
  for (const auto& one : how) out += "; " + one;
  return out;
}

Shown as_value(const OneValue& one) {
  std::string note = remark(one.judged);
  const auto add = [&](std::string_view more) { note += (note.empty() ? "" : ", ") + std::string(more); };
  if (!one.as_found.empty()) add("as found " + one.as_found);
  if (one.tries > 1) add(fmt::format("mean of {}", one.tries));
  if (one.asked) add("taken apart since");
  return {one.where, one.number(), note};
}

Standing worst(const std::vector<OneValue>& values) {
  Standing out = Standing::empty;
  for (const auto& value : values) out = build::worse(out, value.judged.standing);
  return out;
}

// Those of one result by the same limits stand together, in the order in which they first come.
std::vector<std::vector<OneValue>> grouped(const std::vector<OneValue>& values) {
  std::vector<std::vector<OneValue>> out;
  for (const auto& value : values) {
    const auto alike = std::find_if(out.begin(), out.end(), [&](const auto& group) {
      return group.front().result == value.result && group.front().unit == value.unit &&
             limits_text(group.front()) == limits_text(value);
    });
    if (alike == out.end())
      out.push_back({value});
    else
      alike->push_back(value);
  }
  return out;
}

// Numbers read off one scale are written with the places that most of them have: 48.010 beside 48.013.
void same_places(std::vector<Shown>& values) {
  std::map<int, int> counts;
  for (const auto& value : values)
    if (is_number(value.text)) ++counts[places_of(value.text)];
  int usual = 0, most = 0;
  for (const auto& [places, count] : counts)
    if (count >= most) {
      usual = places;
      most = count;
    }
  for (auto& value : values) {
    if (!is_number(value.text) || places_of(value.text) >= usual) continue;
    if (places_of(value.text) == 0) value.text += '.';
    value.text.append(static_cast<std::size_t>(usual - places_of(value.text)), '0');
  }
}

std::vector<Group> groups_of(const Build& build, EntryAt at, const GaugeFacts& facts) {
  const auto& entry = build.plan->entry(at);
  const std::string name = build.plan->step(at.step).id + "/" + entry.id;
  std::vector<Group> out;
  for (const auto& values : grouped(values_of(build, at))) {
    Group group;
    group.name = readable(values.front().result);
    group.unit = unit_name(*values.front().unit);
    group.limits = limits_text(values.front());
    if (values.front().judged_at_all) group.verdict = std::string(build::name_of(worst(values)));
    group.measured = measured_with(values, facts, name, entry.by_eye);
    for (const auto& value : values) group.values.push_back(as_value(value));
    same_places(group.values);
    out.push_back(std::move(group));
  }
  return out;
}

std::vector<StageDone> stages_of(const Build& build, EntryAt at, const GaugeFacts& facts) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  const std::string name = build.plan->step(at.step).id + "/" + entry.id;
  std::vector<StageDone> out;
  for (std::size_t s = 0; s < entry.stages.size(); ++s) {
    const auto& stage = entry.stages[s];
    const std::string aim = aim_text(build, entry, stage);
    StageDone done{fmt::format("Stage {}: {}{}{}", s + 1, procedure::name_of(stage.kind), aim.empty() ? "" : ", ", aim),
                   {},
                   "",
                   ""};
    const auto* limit = stage.limit.empty() ? nullptr : build.limit(stage.limit);
    std::vector<std::string> gauges;
    for (std::size_t f = 0; f < state.fasteners.size(); ++f) {
      if (state.fasteners[f].size() <= s) continue;
      const auto& one = state.fasteners[f][s];
      const bool measured = limit != nullptr;
      done.fasteners.push_back(
          {entry.fasteners[f].id, measured ? shown(one.value, {}, std::nullopt) : "done", remark(one.judged)});
      if (!one.gauge.empty() && std::find(gauges.begin(), gauges.end(), one.gauge) == gauges.end())
        gauges.push_back(one.gauge);
    }
    if (limit) done.unit = unit_name(*limit->unit);
    for (const auto& gauge : gauges)
      done.gauges += (done.gauges.empty() ? "with " : "; ") + gauge_text(facts, name, gauge);
    if (!done.fasteners.empty()) out.push_back(std::move(done));
  }
  return out;
}

void tell_plain(const build::EntryState& state, const procedure::Entry& entry, EntryDone& out) {
  const std::string note = remark(state.judged);
  const std::string behind = (note.empty() ? "" : ", " + note) + (state.asked ? ", taken apart since" : "");
  switch (entry.kind) {
  case EntryKind::confirm: out.lines.push_back("done and seen" + behind); break;
  case EntryKind::choice:
  case EntryKind::identity: out.lines.push_back(state.text + behind); break;
  case EntryKind::wait:
    out.lines.push_back(
        fmt::format("from {} to {} at least{}", calc::local_text(state.from), calc::local_text(state.until), behind));
    break;
  default: break;
  }
}

std::string source_of(const Build& build, const procedure::Source& source) {
  const auto& procedure = build.plan->procedure();
  if (const auto* from = std::get_if<procedure::FromEntry>(&source)) {
    const auto* step = procedure.step(from->step);
    const auto* entry = step ? step->find(from->entry) : nullptr;
    if (!entry) return "";
    return from->result.empty() ? entry->title : fmt::format("{} of {}", readable(from->result), entry->title);
  }
  if (const auto* from = std::get_if<procedure::FromLimit>(&source)) {
    const auto* limit = procedure.limit(from->limit);
    return limit ? fmt::format("{} of the limits of {}", from->bound, limit->title.empty() ? limit->id : limit->title)
                 : "";
  }
  if (const auto* from = std::get_if<procedure::FromOption>(&source)) {
    const auto* option = procedure.option(from->option);
    return option ? option->title : "";
  }
  return ""; // the procedure's own numbers, too many to print
}

// The formula in words, and what its words stand for here.
std::string calculation(const Build& build, const procedure::Entry& entry) {
  std::string inputs;
  for (const auto& [name, source] : entry.inputs)
    if (const auto text = source_of(build, source); !text.empty())
      inputs += fmt::format("{}{} = {}", inputs.empty() ? "; here " : ", ", readable(name), text);
  return fmt::format("Calculated: {}{} ({})", formula_in_words(entry.computation->formula), inputs,
                     entry.computation->source);
}

EntryDone entry_of(const Build& build, EntryAt at, const GaugeFacts& facts) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  EntryDone out;
  out.title = entry.title;
  out.at = at;
  out.groups = groups_of(build, at, facts);
  if (entry.computation && !out.groups.empty()) out.lines.push_back(calculation(build, entry));
  out.stages = stages_of(build, at, facts);
  out.figures = figures_of(build, at);
  const auto placed = [](const auto& one) { return one.at.has_value(); };
  out.figure = !out.stages.empty() && entry.fasteners.size() > 3 &&
               std::all_of(entry.fasteners.begin(), entry.fasteners.end(), placed);
  if (state.lever && !out.stages.empty())
    out.lines.push_back(fmt::format("Through an adapter: the wrench was set to {} of the torque at the fastener",
                                    state.lever->ratio.fixed(3)));
  if (state.done) tell_plain(state, entry, out);
  for (const auto& calculated : state.calculated)
    if (!calculated.refusal.empty()) out.lines.push_back("Not calculated: " + readable(calculated.refusal));
  return out;
}

StepDone step_of(const Build& build, std::size_t s, const GaugeFacts& facts) {
  const auto& step = build.plan->step(s);
  StepDone out;
  out.title = step.title;
  out.standing = std::string(build::name_of(build::standing_of(build, s)));
  out.hold = step.hold;
  for (const auto& signature : build.step(s).signatures)
    out.signatures.push_back({signature.name, signature.meaning, calc::local_text(signature.time)});
  if (build::step_on(build, s) == build::Holds::no) return out;
  for (std::size_t e = 0; e < step.entries.size(); ++e) {
    const EntryAt at{s, e};
    if (build::entry_on(build, at) == build::Holds::no || !build::has_anything(build.entry(at))) continue;
    out.entries.push_back(entry_of(build, at, facts));
  }
  return out;
}

bool worth_a_scale(const OneValue& value) {
  if (value.left_out || !value.by.bounds) return false;
  const auto& [low, high] = *value.by.bounds;
  if (!low && !high) return false;
  return !(low && high && *low == *high); // a count that must be right
}

bool judged_by(const procedure::Entry& entry, const std::string& limit) {
  return entry.limit == limit ||
         std::any_of(entry.judge.begin(), entry.judge.end(), [&](const auto& judge) { return judge.second == limit; });
}

// The limit's title says what is measured in few words. Where several entries of the section go by the limit, the
// entry's own is needed too, and that of its step where these are the same.
std::string name_of_scale(const Build& build, EntryAt at, const OneValue& value) {
  constexpr std::size_t two_lines = 68;
  const auto& limit = *value.by.limit;
  const auto& procedure = build.plan->procedure();
  const auto& section = *procedure.section_of(build.plan->step(at.step).id);
  const std::size_t begin = *build.plan->find_step(section.steps.front().id); // its steps follow one another
  const std::string& title = build.plan->entry(at).title;
  bool others = false;
  bool same = limit.title.empty();
  const auto& users = build.plan->entries_of_limit(limit.id); // in the order of the steps
  for (auto user = std::ranges::lower_bound(users, begin, {}, &EntryAt::step);
       user != users.end() && user->step < begin + section.steps.size() && !(others && same); ++user) {
    if (*user == at || !judged_by(build.plan->entry(*user), limit.id) ||
        build::entry_on(build, *user) == build::Holds::no)
      continue;
    others = true;
    same = same || build.plan->entry(*user).title == title;
  }
  if (same) return of_entry(build, at);
  if (!others) return limit.title;
  const std::string both = fmt::format("{}: {}", limit.title, title);
  return both.size() <= two_lines ? both : title;
}

void scales_of(const Build& build, EntryAt at, std::vector<Scale>& out) {
  std::vector<std::vector<OneValue>> alike; // by limit and bounds
  for (const auto& value : values_of(build, at)) {
    if (!worth_a_scale(value)) continue;
    const auto same = std::find_if(alike.begin(), alike.end(), [&](const auto& group) {
      return group.front().by.limit == value.by.limit && limits_text(group.front()) == limits_text(value);
    });
    if (same == alike.end())
      alike.push_back({value});
    else
      same->push_back(value);
  }
  for (const auto& values : alike) {
    const auto& first = values.front();
    const auto& [low, high] = *first.by.bounds;
    Scale scale;
    scale.title = name_of_scale(build, at, first);
    if (first.by.column == "service" && alike.size() > 1) scale.title += " (service limit)";
    const int places = places_of(*first.by.limit);
    if (low) scale.low = low->to_double(), scale.low_text = low->fixed(places);
    if (high) scale.high = high->to_double(), scale.high_text = high->fixed(places);
    scale.unit = unit_name(*first.by.limit->unit);
    scale.doubt = first.doubt;
    for (const auto& value : values)
      scale.marks.push_back({value.in_limit_unit().to_double(), value.u_in_limit_unit().to_double()});
    const auto tight = std::min_element(values.begin(), values.end(),
                                        [](const auto& a, const auto& b) { return room_of(a) < room_of(b); });
    scale.tightest = shown(tight->in_limit_unit(), tight->u_in_limit_unit(), tight->by.bounds);
    if (!tight->where.empty() && values.size() > 1) scale.tightest += " at " + tight->where;
    const Standing standing = worst(values);
    for (const auto& value : values)
      if (value.judged.standing == standing) scale.trouble = remark(value.judged);
    out.push_back(std::move(scale));
  }
}

} // namespace

std::vector<SectionDone> sections_of(const Build& build, const GaugeFacts& facts) {
  std::vector<SectionDone> out;
  std::size_t s = 0;
  for (const auto& section : build.plan->procedure().sections) {
    SectionDone done;
    done.title = section.title;
    done.deferred = std::find(build.deferred.begin(), build.deferred.end(), section.id) != build.deferred.end();
    for (std::size_t i = 0; i < section.steps.size(); ++i, ++s) {
      done.steps.push_back(step_of(build, s, facts));
      if (build::step_on(build, s) == build::Holds::no) continue;
      for (std::size_t e = 0; e < build.plan->step(s).entries.size(); ++e)
        if (build::entry_on(build, {s, e}) != build::Holds::no) scales_of(build, {s, e}, done.scales);
    }
    out.push_back(std::move(done));
  }
  return out;
}

} // namespace handover
