#include "bench/work_figures.h"
#include "bench/work_words.h"

#include "calculating.h"

#include <set>

using bench::figure_of;
using calc::Exact;
using calc::Outcome;
using calc::Outcomes;
using calc::Quantity;

namespace {

Quantity mm(const char* value, const char* u = nullptr) {
  Quantity out{Exact::decimal(value).value(), quantity::find_unit("mm"), {}};
  if (u) out.u = Exact::decimal(u).value();
  return out;
}

std::vector<std::string> names_of(const std::vector<bench::Offered>& offers) {
  std::vector<std::string> names;
  for (const auto& offer : offers) names.emplace_back(offer.computation->name);
  return names;
}

} // namespace

TEST_CASE("names of the registry are read as words") {
  CHECK(bench::in_words("oil-clearance") == "Oil clearance");
  CHECK(bench::in_words("gauge_bore") == "Gauge bore");
  CHECK(bench::in_words("clearance_min") == "Clearance minimum");
  CHECK(bench::in_words("out_of_round") == "Out of round");
  CHECK(bench::in_words("mu_thread") == "\u00B5 thread");
  CHECK(bench::in_words("u") == "U");
  CHECK(bench::in_words("to") == "To");
  CHECK(bench::in_words("d2") == "d2");
  CHECK(bench::in_words("at_20") == "At 20");
}

TEST_CASE("clauses become sentences, and what only a program would say is put otherwise") {
  CHECK(bench::sentence_of("out_of_round: a two-point reading cannot see three lobes") ==
        "Out of round: a two-point reading cannot see three lobes.");
  CHECK(bench::sentence_of("no lash: fit a thinner shim!") == "No lash: fit a thinner shim!");
  CHECK(bench::sentence_of("") == "");
  const auto* form = calc::find_computation("form");
  CHECK(bench::meaning_of(form->inputs.front()) ==
        "diameters, one row a plane, one column a direction; - where an oil hole is skipped");
  for (const calc::Computation& each : calc::all_computations()) {
    INFO(each.name);
    const auto has_null = [](const std::string& text) { return text.find(" null") != std::string::npos; };
    for (const calc::Field& field : each.inputs) CHECK_FALSE(has_null(bench::meaning_of(field)));
    for (const auto& result : each.results) CHECK_FALSE(has_null(bench::meaning_of(result)));
    for (const calc::Field& field : each.inputs) CHECK(bench::how_to_type(field).ends_with("."));
  }
}

TEST_CASE("every computation is offered once, under a heading that stands once") {
  const auto all = bench::offered("");
  std::set<std::string> headings;
  std::set<std::string_view> names;
  REQUIRE(all.size() == calc::all_computations().size());
  CHECK_FALSE(all.front().heading.empty());
  for (const auto& offer : all) {
    CHECK(names.insert(offer.computation->name).second);
    if (!offer.heading.empty()) CHECK(headings.insert(offer.heading).second);
  }
  CHECK(headings.contains("Sizes, clearances and play"));
}

TEST_CASE("a group nobody has thought of is still offered, under its own name") {
  CHECK(bench::heading_of("oil-pumps") == "Oil pumps");
  CHECK(bench::heading_of("strip") == bench::heading_of("clearance"));
}

TEST_CASE("letters narrow the computations down, those first that have them in their title") {
  CHECK(names_of(bench::offered("oil cl")).front() == "oil-clearance");
  CHECK(names_of(bench::offered("CLEARANCE oil")).front() == "oil-clearance");
  CHECK(names_of(bench::offered("ring-gap")).front() == "ring-gap");
  CHECK(names_of(bench::offered("end play")).front() == "end-play");
  const auto gaskets = names_of(bench::offered("gasket"));
  CHECK(std::ranges::find(gaskets, "protrusion") != gaskets.end()); // it stands in its purpose
  CHECK(bench::offered("flux capacitor").empty());
  CHECK(bench::offered("   ").size() == calc::all_computations().size());
}

TEST_CASE("required inputs come first, in the order they are described") {
  const auto fields = bench::in_order(*calc::find_computation("torque-stages"));
  REQUIRE(fields.size() == 3);
  CHECK(fields[0]->name == "final");
  CHECK(fields[1]->name == "fractions");
  for (const calc::Computation& each : calc::all_computations()) {
    const auto ordered = bench::in_order(each);
    CHECK(std::ranges::is_sorted(ordered, std::greater(), &calc::Field::required));
  }
}

// JCGM 100:2008, 7.2.6: U to at most two digits, the value to the same place.
TEST_CASE("a value is shown to the place of its U") {
  CHECK(figure_of(mm("0.05525", "0.0025"), false) == "0.0553 mm \u00B1 0.0025");
  CHECK(figure_of(mm("0.026", "0.00424264068712"), false) == "0.0260 mm \u00B1 0.0042");
  CHECK(figure_of(mm("0.05", "0.005"), false) == "0.050 mm \u00B1 0.005");
  CHECK(figure_of(mm("12345.678", "123.4"), false) == "12346 mm \u00B1 123");
  CHECK(figure_of(mm("-0.007", "0.0099999"), false) == "-0.0070 mm \u00B1 0.0100");
  CHECK(figure_of(mm("0.5", "0"), false) == "0.5 mm \u00B1 0");
}

TEST_CASE("without U six digits are shown, and every digit on demand") {
  CHECK(figure_of(mm("0.494778744523"), false) == "0.494779 mm");
  CHECK(figure_of(mm("61.9633"), false) == "61.9633 mm");
  CHECK(figure_of(mm("413.68543759"), false) == "413.685 mm");
  CHECK(figure_of(mm("0.0000115"), false) == "0.0000115 mm");
  CHECK(figure_of(mm("0.00000123456789"), false) == "0.00000123457 mm");
  CHECK(figure_of(mm("1234567.89"), false) == "1234568 mm");
  CHECK(figure_of(mm("99.99999999"), false) == "100 mm");
  CHECK(figure_of(mm("0"), false) == "0 mm");
  CHECK(figure_of(mm("0.494778744523"), true) == "0.494778744523 mm");
  CHECK(figure_of(mm("0.026", "0.00424264068712"), true) == "0.026 mm \u00B1 0.00424264068712");
}

TEST_CASE("what is no number is said in words") {
  CHECK(figure_of({}, false) == "none");
  CHECK(figure_of(true, false) == "yes");
  CHECK(figure_of(false, false) == "no");
  CHECK(figure_of(std::string("within"), false) == "within");
  CHECK(figure_of(Exact(3), false) == "3");
  CHECK(figure_of(Quantity{Exact::ratio(1, 4), quantity::find_unit("1"), {}}, false) == "0.25");
}

TEST_CASE("a list says its unit once and keeps to one place") {
  CHECK(figure_of(Outcomes{mm("0.62"), mm("0.6095")}, false) == "0.6200, 0.6095 mm");
  CHECK(figure_of(Outcomes{mm("0.0494", "0.0105"), mm("0.044", "0.0105")}, false) ==
        "0.049, 0.044 mm, each \u00B1 0.011");
  CHECK(figure_of(Outcomes{mm("0.5", "0.01"), mm("0.4")}, false) == "0.50 mm \u00B1 0.01, 0.4 mm");
  CHECK(figure_of(Outcomes{Exact(1), {}, Exact(3)}, false) == "1, none, 3");
  CHECK(figure_of(Outcomes{Outcome(Outcomes{Exact(1), Exact(2)}), Outcome(Outcomes{Exact(3)})}, false) == "1, 2; 3");
  CHECK(figure_of(Outcomes{}, false) == "none");
  CHECK(bench::has_u(Outcomes{mm("1"), mm("1", "0")}));
  CHECK_FALSE(bench::has_u(std::string("1")));
}
