// Torque wrenches: what to set with an extension, and whether the wrench may be used at all.
#include "calc/calendar.h"
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace calc {

namespace {

const Unit& newton_metre() {
  return *quantity::find_unit("N.m");
}

struct Direction {
  Exact cosine;
  Exact sine;
};

// Of an angle in degrees, however many turns it holds; exact on the four axes.
Direction direction(const Exact& angle) {
  const Exact turns = angle / Exact(360);
  const Exact within = (turns - turns.floor()) * Exact(360);
  if (within == Exact(0)) return {1, 0};
  if (within == Exact(90)) return {0, 1};
  if (within == Exact(180)) return {-1, 0};
  if (within == Exact(270)) return {0, -1};
  const double radians = within.to_double() * std::numbers::pi / 180;
  return {Exact::rounded(std::cos(radians)), Exact::rounded(std::sin(radians))};
}

Result<Answer> wrench_setting(const Given& given) {
  const Quantity torque = given.quantity("torque");
  const Quantity length = given.quantity("wrench_length");
  const Quantity extension = given.quantity("extension");
  const Quantity angle = quantity::in_unit(given.quantity("angle"), *quantity::find_unit("deg")).value();
  const auto [cosine, sine] = direction(angle.value);
  const Exact reach = extension.value * cosine;
  const Exact arm = length.value + reach;
  if (arm.sign() <= 0)
    return bad_input("extension", "reaches back to the grip or beyond: no setting gives this torque");
  Exact setting = torque.value * length.value / arm;
  if (!cosine.is_whole()) setting = Exact::rounded(setting.to_double());

  const Exact per_length = setting / length.value;
  const Exact per_arm = setting / arm;
  const Exact radian = degrees(1);
  const Quantity as_given{setting, torque.unit,
                          combined({{setting / torque.value, torque.u},
                                    {per_length * reach / arm, length.u},
                                    {per_arm * cosine, extension.u},
                                    {per_arm * extension.value * sine / radian, angle.u}})};
  Answer answer;
  answer.results = {{"setting", quantity::in_unit(as_given, newton_metre()).value()}};
  if (torque.unit != &newton_metre())
    answer.notes.push_back("in the unit given: " + quantity::text({as_given.value, as_given.unit, {}}));
  return answer;
}

constexpr int longest_interval = 1200; // months

// Why the calibration no longer counts on the day, "" while it does.
Result<std::string> lapsed(const Given& given) {
  const Result<Date> calibrated = parse_date(given.text("calibrated"));
  if (!calibrated) return bad_input("calibrated", calibrated.error().message);
  const Result<Date> on = parse_date(given.text("on"));
  if (!on) return bad_input("on", on.error().message);
  if (*on < *calibrated) return bad_input("on", "is before the wrench was calibrated");
  const Exact& months = given.number("interval_months");
  if (months > Exact(longest_interval))
    return bad_input("interval_months", fmt::format("is more than {}", longest_interval));
  const Date due = add_months(*calibrated, static_cast<int>(months.to_double()));
  return *on > due ? fmt::format("its calibration ran out after {}", text(due)) : std::string();
}

// The same for the times it was used.
Result<std::string> worn(const Given& given) {
  constexpr const char* done = "cycles";
  constexpr const char* allowed = "cycle_limit";
  if (given.has(done) != given.has(allowed))
    return bad_input(given.has(done) ? allowed : done, "missing; the two go together");
  if (!given.has(done)) return std::string();
  const Exact& used = given.number(done);
  const Exact& limit = given.number(allowed);
  if (!used.is_whole()) return bad_input(done, "must be a whole number");
  if (used < limit) return std::string();
  return fmt::format("used {} times since its calibration, good for {}", used.text(), limit.text());
}

Result<std::string> out_of_range(const Quantity& torque, const Given& given) {
  const std::vector<Exact> range = given.readings("range").flat();
  if (range[0] > range[1]) return bad_input("range", "must be its low end, then its high end");
  if (torque.value >= range[0] && torque.value <= range[1]) return std::string();
  return fmt::format("{} is {} its range, {} to {}", quantity::text({torque.value, torque.unit, {}}),
                     torque.value < range[0] ? "below" : "above", range[0].text(),
                     quantity::text({range[1], torque.unit, {}}));
}

// A torque aimed at inside low + u to high - u is inside low to high whatever the wrench does.
Result<std::string> too_wide(const Quantity& error, const Given& given) {
  if (!given.has("low") || !given.has("high")) return std::string();
  const Exact low = given.quantity("low").value;
  const Exact high = given.quantity("high").value;
  if (low > high) return bad_input("low", "is above high");
  if (low + error.value <= high - error.value) return std::string();
  return fmt::format("its error, {} either way, fills the limits {} to {}", quantity::text(error), low.text(),
                     quantity::text({high, error.unit, {}}));
}

Result<Answer> wrench_fitness(const Given& given) {
  const Quantity torque = given.quantity("torque");
  const Exact& class_error = given.number("class_error");
  if (class_error >= Exact(1)) return bad_input("class_error", "is a fraction below 1: 0.04 for 4 per cent");
  const Quantity error{torque.value * class_error, torque.unit, {}};
  Answer answer;
  for (const Result<std::string>& reason :
       {out_of_range(torque, given), lapsed(given), worn(given), too_wide(error, given)}) {
    if (!reason) return reason.error();
    if (!reason->empty()) answer.notes.push_back(*reason);
  }
  answer.results = {{"fit", answer.notes.empty()}, {"u", quantity::in_unit(error, newton_metre()).value()}};
  return answer;
}

Computation setting_computation() {
  using enum Dimension;
  return {.name = "wrench-setting",
          .group = "wrench",
          .purpose = "What to set on a torque wrench that works through an extension.",
          .inputs = {{.name = "torque", .dimension = torque, .meaning = "wanted at the fastener"},
                     {.name = "wrench_length", .dimension = length, .meaning = "square drive to middle of the grip"},
                     {.name = "extension", .dimension = length, .meaning = "square drive to the fastener"},
                     {.name = "angle",
                      .dimension = angle,
                      .meaning = "of the extension: 0 in line with the wrench, 90 square to it, 180 back",
                      .sign = Sign::any}},
          .results = {{"setting", ResultKind::quantity, torque, "to be set on the wrench"}},
          .formula = "setting = torque L/(L + E cos(angle)); E cos(angle) > -L",
          .source = "TM 1-1500-204-23-9 para 8-6; NAVEDTRA 14315, figures 3-44 and 3-45",
          .example = {R"({"torque":"100 N.m","wrench_length":"400 mm","extension":"60 mm","angle":"45 deg"})",
                      R"({"calculation":"wrench-setting","results":{"setting":{"value":90.4105165939,)"
                      R"("unit":"N.m"}},"notes":[]})"},
          .work = wrench_setting};
}

Computation fitness_computation() {
  using enum Dimension;
  const auto limit = [](std::string_view name, std::string_view meaning) {
    return Field{.name = name, .dimension = torque, .meaning = meaning, .required = false};
  };
  return {.name = "wrench-fitness",
          .group = "wrench",
          .purpose = "Whether a torque wrench may be used for a torque on a day.",
          .inputs = {{.name = "torque", .dimension = torque, .meaning = "it is to be set to"},
                     {.name = "range",
                      .shape = Shape::list,
                      .dimension = torque,
                      .meaning = "low and high end of its scale; twice the same when it is fixed",
                      .least = 2,
                      .most = 2},
                     {.name = "class_error",
                      .shape = Shape::number,
                      .meaning = "most it may deviate, as a fraction of the torque: 0.04 for 4 per cent"},
                     {.name = "calibrated", .shape = Shape::text, .meaning = "date of its last calibration"},
                     {.name = "on", .shape = Shape::text, .meaning = "date of use"},
                     {.name = "interval_months",
                      .shape = Shape::count,
                      .meaning = "calibration holds to the same day after so many months, that day included"},
                     {.name = "cycles",
                      .shape = Shape::number,
                      .meaning = "times used since its calibration",
                      .required = false,
                      .sign = Sign::not_negative},
                     {.name = "cycle_limit",
                      .shape = Shape::count,
                      .meaning = "times used after which it is due",
                      .required = false},
                     limit("low", "least torque allowed"),
                     limit("high", "most torque allowed")},
          .results = {{"fit", ResultKind::truth, {}, "true when nothing speaks against it; reasons in the notes"},
                      {"u", ResultKind::quantity, torque, "U of a torque it gives (k = 2): torque * class_error"}},
          .formula = "fit when torque lies in range, on <= calibrated + interval, cycles < cycle_limit, and low + u <= "
                     "high - u",
          .source = "ISO 6789:2003 (deviations by class; 12 months or 5000 uses, whichever comes first)",
          .example = {R"({"torque":"88 N.m","range":{"values":[20,100],"unit":"N.m"},"class_error":0.04,)"
                      R"("calibrated":"2024-02-29","on":"2025-03-01","interval_months":12,"low":"84 N.m",)"
                      R"("high":"92 N.m"})",
                      R"({"calculation":"wrench-fitness","results":{"fit":false,"u":{"value":3.52,"unit":"N.m"}},)"
                      R"("notes":["its calibration ran out after 2025-02-28"]})"},
          .work = wrench_fitness};
}

} // namespace

std::vector<Computation> wrench_computations() {
  return {setting_computation(), fitness_computation()};
}

} // namespace calc
