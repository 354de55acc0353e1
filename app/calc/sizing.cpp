// Which bearing shells and which over- or undersize an engine needs, and how large to bore.
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace calc {

namespace {

struct Shells {
  Exact upper;
  Exact lower; // of two walls the thicker
  Exact off;   // middle of the clearance from the middle of its limits

  bool mixed() const { return upper != lower; }
  Exact walls() const { return upper + lower; }
};

// The best first: equal walls, then nearest the middle, then the looser, then the walls most alike.
bool is_better(const Shells& a, const Shells& b) {
  const auto rank = [](const Shells& pair) {
    return std::tuple(pair.mixed(), pair.off, pair.walls(), pair.lower - pair.upper);
  };
  return rank(a) < rank(b);
}

// What the housing leaves round the journal, at its tightest and loosest: the clearance and both walls.
struct Room {
  Exact tight;
  Exact loose;
};

std::vector<Shells> pairs_inside(const Room& room, const Exact& low, const Exact& high, std::vector<Exact> walls) {
  std::ranges::sort(walls);
  std::vector<Shells> pairs;
  for (std::size_t i = 0; i < walls.size(); ++i)
    for (std::size_t j = i; j < walls.size(); ++j) {
      const Exact both = walls[i] + walls[j];
      if (room.tight - both < low || room.loose - both > high) continue;
      const Exact off = ((room.tight + room.loose - low - high) / Exact(2) - both).abs();
      pairs.push_back({walls[i], walls[j], off});
    }
  return pairs;
}

Result<Answer> shell_selection(const Given& given) {
  const Readings& housing = given.readings("housing");
  const Readings& journal = given.readings("journal");
  const Readings& available = given.readings("available");
  const Exact low = given.quantity("low").value;
  const Exact high = given.quantity("high").value;
  if (low > high) return bad_input("low", "is above high");
  const std::vector<Exact> bores = housing.flat();
  const std::vector<Exact> journals = journal.flat();
  const Room room{smallest(bores) - largest(journals), largest(bores) - smallest(journals)};
  const std::vector<Shells> pairs = pairs_inside(room, low, high, available.flat());

  Answer answer;
  if (pairs.empty()) {
    answer.results = {{"upper", Outcome()}, {"lower", Outcome()}, {"min", Outcome()}, {"max", Outcome()}};
    answer.notes.push_back(room.loose - room.tight > high - low
                               ? "the sizes vary by more than the limits leave: no shells can bring both min and max "
                                 "inside"
                               : "no pair of the available shells brings the clearance inside the limits");
    return answer;
  }
  const Shells best = *std::ranges::min_element(pairs, is_better);
  // One wall used twice brings its U along twice.
  std::vector<Part> parts = {{1, housing.u_single()}, {1, journal.u_single()}};
  if (best.mixed())
    for (const Part& part : {Part{1, available.u}, Part{1, available.u}, Part{2, available.u_shared}})
      parts.push_back(part);
  else
    parts.push_back({2, available.u_single()});
  const auto u = combined(parts);
  answer.results = {{"upper", Quantity{best.upper, available.unit, available.u_single()}},
                    {"lower", Quantity{best.lower, available.unit, available.u_single()}},
                    {"min", Quantity{room.tight - best.walls(), housing.unit, u}},
                    {"max", Quantity{room.loose - best.walls(), housing.unit, u}}};
  const bool tied = std::ranges::any_of(pairs, [&](const Shells& pair) {
    return pair.mixed() == best.mixed() && pair.off == best.off && pair.walls() != best.walls();
  });
  if (tied) answer.notes.push_back("two pairs come equally near: the one with the larger clearance was taken");
  return answer;
}

Result<Answer> bore_target(const Given& given) {
  const Quantity piston = given.quantity("piston");
  const Quantity least = given.quantity("low");
  const Quantity most = given.quantity("high");
  if (least.value > most.value) return bad_input("low", "is above high");
  const Exact low = piston.value + least.value;
  const Exact high = piston.value + most.value;
  if (low.sign() <= 0) return bad_input("low", "takes up the whole piston: no bore is left");
  Outcome bore_low;
  Outcome bore_high;
  if (given.has("hone")) {
    const Quantity hone = given.quantity("hone");
    if (hone.value >= low) return bad_input("hone", "is as much as the whole bore");
    bore_low = Quantity{low - hone.value, piston.unit, combined({{1, piston.u}, {1, least.u}, {1, hone.u}})};
    bore_high = Quantity{high - hone.value, piston.unit, combined({{1, piston.u}, {1, most.u}, {1, hone.u}})};
  }
  return Answer{{{"low", Quantity{low, piston.unit, combined({{1, piston.u}, {1, least.u}})}},
                 {"high", Quantity{high, piston.unit, combined({{1, piston.u}, {1, most.u}})}},
                 {"bore_low", bore_low},
                 {"bore_high", bore_high}},
                {}};
}

std::optional<Exact> smallest_from(const std::vector<Exact>& sizes, const Exact& need) {
  std::optional<Exact> best;
  for (const Exact& size : sizes)
    if (size >= need && (!best || size < *best)) best = size;
  return best;
}

// What bores and journals share: each is machined by one step of the available sizes, the worst decides for all.
struct Machining {
  std::vector<Exact> wear; // of each, from the nominal on
  const Readings& worn;
  std::string_view none; // when no step is enough, for the one of that number
};

// None is worn beyond what may stay: nothing is cut.
Answer as_they_are(const Given& given, const Machining& machining, const Exact& worst, const Exact& number) {
  const Quantity stay = given.quantity("stay");
  Answer answer;
  answer.results = {
      {"choice", Quantity{0, stay.unit, {}}}, {"governs", number}, {"metal_removed", Quantity{0, stay.unit, {}}}};
  const Exact u = combined({{1, machining.worn.u_single()}, {1, given.quantity("nominal").u}, {1, stay.u}}).value_or(0);
  if (worst + u > stay.value)
    answer.notes.push_back("choice: within the U of the sizes one may be worn beyond what may stay: measure again");
  return answer;
}

Result<Answer> next_size(const Given& given, const Machining& machining) {
  const Quantity nominal = given.quantity("nominal");
  const Quantity cleanup = given.quantity("cleanup");
  const Readings& available = given.readings("available");
  const Exact one_sided = given.has("one_sided") ? given.number("one_sided") : Exact(0);
  if (one_sided > 1) return bad_input("one_sided", "is above 1, which is all the wear on one wall");
  const auto worst = std::ranges::max_element(machining.wear);
  const Exact number = whole(static_cast<std::size_t>(worst - machining.wear.begin()) + 1);
  if (given.has("stay") && *worst <= given.quantity("stay").value) return as_they_are(given, machining, *worst, number);
  const Exact per_wear = Exact(1) + one_sided;
  const Exact need = per_wear * *worst + cleanup.value;
  const std::vector<Exact> sizes = available.flat();
  const auto choice = smallest_from(sizes, need);

  Answer answer;
  Outcome chosen;
  Outcome removed;
  if (choice) {
    chosen = Quantity{*choice, available.unit, available.u_single()};
    removed = Quantity{*choice - *worst, nominal.unit,
                       combined({{1, available.u_single()}, {1, nominal.u}, {1, machining.worn.u_single()}})};
  } else {
    answer.notes.push_back(fmt::format(fmt::runtime(machining.none), number.text()));
  }
  answer.results = {{"choice", chosen}, {"governs", number}, {"metal_removed", removed}};

  const Exact u =
      combined(
          {{per_wear, machining.worn.u_single()}, {per_wear, nominal.u}, {1, cleanup.u}, {1, available.u_single()}})
          .value_or(0);
  const auto least = smallest_from(sizes, need - u);
  const auto most = smallest_from(sizes, need + u);
  if (least != most)
    answer.notes.push_back(
        fmt::format("choice: within the U of the sizes it may be {} or {}: measure again",
                    quantity::text({*least, available.unit, {}}),
                    most ? quantity::text({*most, available.unit, {}}) : std::string("none of the available")));
  return answer;
}

Result<Answer> oversize_selection(const Given& given) {
  const Exact nominal = given.quantity("nominal").value;
  const Readings& largest_bores = given.readings("largest");
  Machining machining{{}, largest_bores, "none of the available oversizes cleans up cylinder {}: sleeve or replace"};
  for (const Exact& bore : largest_bores.flat()) machining.wear.push_back(bore - nominal);
  return next_size(given, machining);
}

Result<Answer> undersize_selection(const Given& given) {
  const Exact nominal = given.quantity("nominal").value;
  const Readings& smallest_journals = given.readings("smallest");
  if (largest(given.readings("available").flat()) >= nominal)
    return bad_input("available", "holds an undersize that leaves nothing of the journal");
  Machining machining{
      {}, smallest_journals, "none of the available undersizes cleans up journal {}: replace the crankshaft"};
  for (const Exact& journal : smallest_journals.flat()) machining.wear.push_back(nominal - journal);
  return next_size(given, machining);
}

Field limit(std::string_view name, std::string_view meaning) {
  return {.name = name, .dimension = Dimension::length, .meaning = meaning, .sign = Sign::any};
}

Field list(std::string_view name, std::string_view meaning) {
  return {.name = name, .shape = Shape::list, .dimension = Dimension::length, .meaning = meaning};
}

std::vector<Field> machining_inputs(const Field& nominal, const Field& worn, const Field& available) {
  return {nominal,
          worn,
          {.name = "cleanup",
           .dimension = Dimension::length,
           .meaning = "least metal to be cut beyond the wear, on diameter",
           .sign = Sign::not_negative},
          available,
          {.name = "one_sided",
           .shape = Shape::number,
           .meaning = "0 when the wear is shared by both walls (unless said), to 1 when it is all on one wall and the "
                      "machining keeps the original axis",
           .required = false,
           .sign = Sign::not_negative},
          {.name = "stay",
           .dimension = Dimension::length,
           .meaning = "wear, on diameter, up to which all may stay as they are; 0 is then the choice",
           .required = false,
           .sign = Sign::not_negative}};
}

Computation shell_computation() {
  using enum Dimension;
  Field available = list("available", "wall thicknesses there are, at most 100");
  available.most = 100;
  return {.name = "shell-selection",
          .group = "sizing",
          .purpose = "Pair of bearing shells that brings the clearance nearest the middle of its limits.",
          .inputs = {{.name = "housing",
                      .shape = Shape::readings,
                      .dimension = length,
                      .meaning = "diameters of the housing without shells, its cap tightened"},
                     {.name = "journal", .shape = Shape::readings, .dimension = length, .meaning = "journal diameters"},
                     limit("low", "least clearance allowed"),
                     limit("high", "most clearance allowed"),
                     available},
          .results = {{"upper", ResultKind::quantity, length, "wall of the upper shell; null when no pair fits"},
                      {"lower", ResultKind::quantity, length,
                       "wall of the lower shell, the thicker of a mixed pair (either place gives the same clearance); "
                       "null when no pair fits"},
                      {"min", ResultKind::quantity, length, "tightest clearance; null when no pair fits"},
                      {"max", ResultKind::quantity, length, "loosest clearance; null when no pair fits"}},
          .formula = "min = smallest housing - upper - lower - largest journal; max = largest housing - upper - lower "
                     "- smallest journal; both inside low..high, their middle nearest the limits' middle; equal walls "
                     "before mixed ones; of two equally near the looser",
          .source = "TM 5-6115-545-34 table 1-2 p. 1-38 (rod bore, wall, journal and clearance that belong together); "
                    "common practice, no source (equal walls before mixed)",
          .example = {R"({"housing":{"values":[51.000,51.004],"unit":"mm"},"journal":{"values":[47.972,47.968],)"
                      R"("unit":"mm"},"low":"0.030 mm","high":"0.070 mm","available":{"values":[1.484,1.489,1.494],)"
                      R"("unit":"mm"}})",
                      R"({"calculation":"shell-selection","results":{"upper":{"value":1.489,"unit":"mm"},)"
                      R"("lower":{"value":1.489,"unit":"mm"},"min":{"value":0.05,"unit":"mm"},)"
                      R"("max":{"value":0.058,"unit":"mm"}},"notes":[]})"},
          .work = shell_selection};
}

Computation bore_computation() {
  using enum Dimension;
  return {
      .name = "bore-target",
      .group = "sizing",
      .purpose = "Finished size of a bore for the piston that will run in it, and the size to bore to before honing.",
      .inputs = {{.name = "piston", .dimension = length, .meaning = "skirt diameter of the piston that will go in"},
                 limit("low", "least clearance wanted"),
                 limit("high", "most clearance wanted"),
                 {.name = "hone",
                  .dimension = length,
                  .meaning = "metal left for the hone, on diameter",
                  .required = false,
                  .sign = Sign::not_negative}},
      .results = {{"low", ResultKind::quantity, length, "smallest finished bore"},
                  {"high", ResultKind::quantity, length, "largest finished bore"},
                  {"bore_low", ResultKind::quantity, length, "smallest size to bore to; null without hone"},
                  {"bore_high", ResultKind::quantity, length, "largest size to bore to; null without hone"}},
      .formula = "low = piston + least clearance; high = piston + most clearance; bore_low = low - hone; bore_high = "
                 "high - hone",
      .source = "TM 10-3930-653-14&P (piston, clearance and bore that belong together); common practice, no source "
                "(allowance for honing)",
      .example = {R"({"piston":"83.445 mm","low":"0.035 mm","high":"0.045 mm","hone":"0.02 mm"})",
                  R"({"calculation":"bore-target","results":{"low":{"value":83.48,"unit":"mm"},)"
                  R"("high":{"value":83.49,"unit":"mm"},"bore_low":{"value":83.46,"unit":"mm"},)"
                  R"("bore_high":{"value":83.47,"unit":"mm"}},"notes":[]})"},
      .work = bore_target};
}

} // namespace

std::vector<Computation> sizing_computations() {
  using enum Dimension;
  const auto results = [](std::string_view governing) {
    return std::vector<ResultField>{
        {"choice", ResultKind::quantity, length,
         "smallest size that cleans up all, 0 when all may stay; null when none does"},
        {"governs", ResultKind::number, {}, governing},
        {"metal_removed", ResultKind::quantity, length, "from that one, on diameter; null when none does"}};
  };
  return {shell_computation(),
          bore_computation(),
          {.name = "oversize-selection",
           .group = "sizing",
           .purpose = "Smallest oversize that cleans up every cylinder.",
           .inputs = machining_inputs({.name = "nominal", .dimension = length, .meaning = "bore when new"},
                                      list("largest", "largest diameter found in each cylinder"),
                                      list("available", "oversizes there are, on diameter")),
           .results = results("cylinder that decides, from 1"),
           .formula = "nominal + choice >= largest + one_sided (largest - nominal) + cleanup for every cylinder; "
                      "metal_removed = nominal + choice - largest; nothing is cut when every largest - nominal <= stay",
           .source = "TM 55-1905-219-14-10 p. 5-368 (block bored for the next oversize); common practice, no source "
                     "(one oversize for all; worn within what the maker allows stays)",
           .example = {R"({"nominal":"83.000 mm","largest":{"values":[83.062,83.201,83.118],"unit":"mm"},)"
                       R"("cleanup":"0.05 mm","available":{"values":[0.25,0.50,0.75,1.00],"unit":"mm"}})",
                       R"({"calculation":"oversize-selection","results":{"choice":{"value":0.5,"unit":"mm"},)"
                       R"("governs":2,"metal_removed":{"value":0.299,"unit":"mm"}},"notes":[]})"},
           .work = oversize_selection},
          {.name = "undersize-selection",
           .group = "sizing",
           .purpose = "Smallest undersize that cleans up every journal.",
           .inputs = machining_inputs({.name = "nominal", .dimension = length, .meaning = "journal when new"},
                                      list("smallest", "smallest diameter found on each journal"),
                                      list("available", "undersizes there are, on diameter")),
           .results = results("journal that decides, from 1"),
           .formula =
               "nominal - choice <= smallest - one_sided (nominal - smallest) - cleanup for every journal; "
               "metal_removed = smallest - (nominal - choice); nothing is cut when every nominal - smallest <= stay",
           .source = "TM 5-4320-300-14 p. 6-103 (journal diameters for each undersize); TM 5-3805-262-34 p. 4-24 (one "
                     "ground, all ground)",
           .example = {R"({"nominal":"48.000 mm","smallest":{"values":[47.961,47.948,47.955,47.970],"unit":"mm"},)"
                       R"("cleanup":"0.02 mm","available":{"values":[0.25,0.50],"unit":"mm"}})",
                       R"({"calculation":"undersize-selection","results":{"choice":{"value":0.25,"unit":"mm"},)"
                       R"("governs":2,"metal_removed":{"value":0.198,"unit":"mm"}},"notes":[]})"},
           .work = undersize_selection}};
}

} // namespace calc
