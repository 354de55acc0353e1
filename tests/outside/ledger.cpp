#include "outside/ledger.h"

#include "calc/registry.h"

#define CATCH_CONFIG_EXTERNAL_INTERFACES // listeners
#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <set>
#include <vector>

namespace outside {

namespace {

struct Row {
  std::size_t checks = 0;
  std::size_t disagreements = 0;
  double worst = 0; // largest difference as a part of the printed value
};

struct Ledger {
  std::map<std::string, std::map<std::pair<std::string, Standing>, Row>> rows; // by computation, then source
  std::set<std::string> disputes;

  Row& row(const Source& source, std::string_view computation) {
    return rows[std::string(computation)][{std::string(source.document), source.standing}];
  }
};

Ledger& ledger() {
  static Ledger kept;
  return kept;
}

std::string_view words(Standing standing) {
  switch (standing) {
  case Standing::read: return "read";
  case Standing::recalled: return "from memory";
  case Standing::reference: return "another program";
  case Standing::worked: return "worked another way";
  case Standing::custom: return "common practice, no source";
  }
  throw std::logic_error("a standing without words");
}

bool is_published(Standing standing) {
  return standing == Standing::read || standing == Standing::recalled;
}

std::string percent(double part) {
  if (part < 5e-11) return "none"; // below what twelve digits hold
  return part < 0.1 ? fmt::format("{:.1g} %", part * 100) : fmt::format("{:.0f} %", part * 100);
}

std::string table(const Ledger& kept) {
  std::string text = "# Checked against something outside\n\n"
                     "Written by the tests of this folder, compared with what they find each time they run. "
                     "\"Worst\" is the largest difference of a number, as a part of the printed one: rounding in "
                     "print, unless it is listed at the end. A computation without a published source says so.\n\n"
                     "| computation | source | how it stands | checks | worst |\n|---|---|---|---:|---:|\n";
  const auto write = [&](const std::string& name, std::string_view registered) {
    const auto found = kept.rows.find(name);
    bool published = false;
    if (found != kept.rows.end())
      for (const auto& [source, row] : found->second) {
        published |= is_published(source.second);
        text += fmt::format("| `{}` | {} | {} | {} | {} |\n", name, source.first, words(source.second), row.checks,
                            percent(row.worst));
      }
    if (!published) text += fmt::format("| `{}` | no published source found ({}) | | 0 | |\n", name, registered);
  };
  for (const calc::Computation& each : calc::all_computations()) write(std::string(each.name), each.source);
  for (const auto& [name, rows] : kept.rows)
    if (!calc::find_computation(name)) write(name, "not a computation");
  text += "\n## Disagreements found\n\nWhere a document prints something else than comes out. None was tuned away.\n\n";
  for (const std::string& dispute : kept.disputes) text += "- " + dispute + "\n";
  return text;
}

// Writes the table once every test has run: a run of some tests only knows a part of it.
struct Writing : Catch::TestEventListenerBase {
  using Catch::TestEventListenerBase::TestEventListenerBase;
  void testRunEnded(const Catch::TestRunStats&) override {
    if (m_config->hasTestFilters()) return;
    std::ofstream(OUTSIDE_TABLE) << table(ledger());
  }
};
CATCH_REGISTER_LISTENER(Writing)

} // namespace

void agrees(const Source& source, std::string_view computation, double got, double printed, double slack) {
  INFO(source.document << ": " << computation);
  const double difference = std::abs(got - printed);
  CHECK(got == Approx(printed).margin(slack * (1 + 1e-9)).epsilon(0));
  Row& row = ledger().row(source, computation);
  ++row.checks;
  const double size = printed != 0 ? std::abs(printed) : slack;
  if (size > 0) row.worst = std::max(row.worst, difference / size);
}

void agrees(const Source& source, std::string_view computation, bool same) {
  INFO(source.document << ": " << computation);
  CHECK(same);
  ++ledger().row(source, computation).checks;
}

void disagrees(const Source& source, std::string_view computation, double got, double printed, double slack,
               const std::string& why) {
  INFO(source.document << ": " << computation << ": " << why);
  CHECK(std::abs(got - printed) > slack);
  ++ledger().row(source, computation).disagreements;
  ledger().disputes.insert(
      fmt::format("{} (`{}`): printed {:g}, comes out as {:.6g}: {}", source.document, computation, printed, got, why));
}

} // namespace outside
