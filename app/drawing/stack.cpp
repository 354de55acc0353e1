#include "drawing/stack.h"

#include "build/calculate.h"
#include "calc/inputs.h"
#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace drawing {

using calc::Given;
using quantity::Exact;
using quantity::Quantity;

namespace {

// To a thousandth at most, as finely as shims are measured.
std::string text_of(const Quantity& quantity) {
  std::string number = quantity.value.fixed(3);
  number.erase(number.find_last_not_of('0') + 1);
  if (number.ends_with('.')) number.pop_back();
  return fmt::format("{} {}", number, quantity.unit->name);
}

std::optional<Quantity> result(const json::Value& results, std::string_view name) {
  const auto* found = results.find(name);
  if (!found || !found->is(json::Kind::object)) return std::nullopt;
  const auto value = Exact::written(found->at("value").as_text());
  const auto* unit = quantity::find_unit(found->at("unit").as_text());
  return value && unit ? std::optional(Quantity{*value, unit, std::nullopt}) : std::nullopt;
}

std::string good(const Given& given) {
  const auto bound = [&](std::string_view name) {
    return given.has(name) ? std::optional(given.quantity(name).value) : std::nullopt;
  };
  const calc::Bounds bounds{bound("low"), bound("high")};
  if (!bounds.low && !bounds.high) return "";
  return "good: " + build::text(bounds, *given.quantity(bounds.low ? "low" : "high").unit);
}

void lacks(Stack& out, const Exact& height, const Exact& wanted, const quantity::Unit& unit) {
  const Exact lack = wanted - height;
  out.lack = lack.to_double();
  out.lack_words = lack.sign() == 0 ? "as wanted"
                                    : fmt::format("{} {}", text_of({lack.abs(), &unit, std::nullopt}),
                                                  lack.sign() > 0 ? "missing" : "too much");
}

// `after`: what the size there is gives.
void takes(Stack& out, const json::Value& results, std::string_view after, std::string_view gives = ": ") {
  const auto choice = result(results, "choice");
  const auto then = result(results, after);
  if (!choice)
    out.then = "None of the sizes there are fits";
  else if (choice->value.sign() == 0)
    out.then = "No shim needed";
  else
    out.then = "Take " + text_of(*choice) + (then ? std::string(gives) + text_of(*then) : "");
}

// One shim that sets a pressure, an angle or a lash.
Stack one_shim(const Given& given, const json::Value& results, std::string_view after) {
  Stack out;
  const Quantity fitted = given.quantity("fitted");
  out.layers.push_back({"shim fitted", text_of(fitted)});
  out.sum = fmt::format("{}: {}", text_of(fitted), text_of(given.quantity("measured")));
  const auto wanted = result(results, "wanted");
  if (wanted) {
    out.wanted = fmt::format("wanted {}: {}", text_of(*wanted), text_of(given.quantity("target")));
    lacks(out, fitted.value, quantity::convert(wanted->value, *wanted->unit, *fitted.unit), *fitted.unit);
  }
  out.limits = good(given);
  takes(out, results, after);
  return out;
}

Stack thrust_washers(const Given& given, const json::Value& results) {
  Stack out;
  const auto& fitted = given.readings("fitted");
  Exact sum;
  const auto washers = fitted.flat();
  for (std::size_t i = 0; i < washers.size(); ++i) {
    out.layers.push_back({washers.size() > 1 ? fmt::format("washer, side {}", i + 1) : "thrust washer",
                          text_of({washers[i], fitted.unit, std::nullopt})});
    sum = sum + washers[i];
  }
  const Quantity play = given.quantity("play");
  const Exact middle = (given.quantity("low").value + given.quantity("high").value) / Exact(2);
  const Exact wanted = sum + play.value - middle;
  out.sum = fmt::format("together {}: play {}", text_of({sum, fitted.unit, std::nullopt}), text_of(play));
  out.wanted = fmt::format("wanted {}: play {}", text_of({wanted, fitted.unit, std::nullopt}),
                           text_of({middle, play.unit, std::nullopt}));
  out.limits = good(given);
  lacks(out, sum, wanted, *fitted.unit);
  takes(out, results, "play_after", washers.size() > 1 ? " on each side: play " : ": play ");
  return out;
}

Stack valve_spring(const Given& given) {
  Stack out;
  const Quantity wanted = given.quantity("wanted");
  const Quantity measured = given.quantity("measured");
  out.layers.push_back({"spring at its height", text_of(wanted)});
  out.sum = text_of(wanted);
  out.wanted = "room for it: " + text_of(measured);
  lacks(out, wanted.value, measured.value, *measured.unit);
  if (out.lack > 0) out.then = "Take " + text_of({measured.value - wanted.value, measured.unit, std::nullopt});
  return out;
}

std::optional<Stack> liner(const Given& given, const json::Value& results) {
  const auto& flange = given.readings("flange");
  if (flange.flat().size() != 1 || !given.has("low") || !given.has("high")) return std::nullopt;
  Stack out;
  const Exact thick = flange.flat().front();
  const Exact deep = given.readings("counterbore").flat().front();
  const Exact middle = (given.quantity("low").value + given.quantity("high").value) / Exact(2);
  const auto write = [&](const Exact& value) { return text_of({value, flange.unit, std::nullopt}); };
  out.layers.push_back({"flange of the liner", write(thick)});
  out.sum = fmt::format("{}: stands {} above the deck", write(thick), write(thick - deep));
  out.wanted = fmt::format("wanted {}: counterbore and {}", write(deep + middle), write(middle));
  out.limits = good(given);
  lacks(out, thick, deep + middle, *flange.unit);
  if (given.has("available")) takes(out, results, "height_after");
  return out;
}

} // namespace

std::optional<Stack> stack(const build::Build& build, build::EntryAt at, std::size_t position) {
  const auto& entry = build.plan->entry(at);
  static constexpr std::array known = {"shim-selection", "lash-shim", "thrust-selection", "installed-height",
                                       "liner-height"};
  if (!entry.computation || std::find(known.begin(), known.end(), entry.computation->name) == known.end())
    return std::nullopt;
  const auto& all = build.entry(at).calculated;
  if (position >= all.size() || !all[position].filled()) return std::nullopt;
  const auto input = build::inputs_of(build, at, position);
  if (input.is(json::Kind::null)) return std::nullopt;
  const auto given = calc::read_inputs(entry.computation->inputs, input);
  if (!given) return std::nullopt;
  const auto& results = all[position].results;
  const std::string_view name = entry.computation->name;
  if (name == "shim-selection") return one_shim(*given, results, "result_after");
  if (name == "lash-shim") return one_shim(*given, results, "lash_after");
  if (name == "thrust-selection") return thrust_washers(*given, results);
  if (name == "installed-height") return valve_spring(*given);
  return liner(*given, results);
}

Figure layers(const Stack& stack, Room room) {
  Figure figure;
  figure.width = room.width;
  figure.height = room.height;
  const double line = room.text * 1.3;
  const double piece = line * 0.9; // what is missing or too much
  const double base = room.height - line * (stack.then.empty() ? 0.2 : 1.2);
  const double top = stack.lack > 0 ? piece + line * 0.4 : line * 0.6; // of the stack as it is
  const double left = room.text * 0.2;
  const double right = room.width * 0.44;
  const double each = (base - top) / static_cast<double>(stack.layers.size());
  for (std::size_t i = 0; i < stack.layers.size(); ++i) {
    const double low = base - each * static_cast<double>(i);
    const std::vector<Point> corners = {{left, low}, {right, low}, {right, low - each}, {left, low - each}};
    figure.polygons.push_back({corners, Tone::metal});
    figure.lines.push_back(edge(corners, Tone::ink, room.text * 0.1));
    const bool cut = stack.lack < 0 && i + 1 == stack.layers.size(); // its upper part is hatched
    figure.texts.push_back(fitted({(left + right) / 2, low - (each - (cut ? piece : 0)) / 2},
                                  fmt::format("{}: {}", stack.layers[i].name, stack.layers[i].text), room.text,
                                  right - left - room.text * 0.4));
  }
  const double wanted = stack.lack > 0 ? top - piece : stack.lack < 0 ? top + piece : top;
  if (stack.lack > 0) {
    for (const double x : {left, right})
      dashed(figure, {x, top}, {x, wanted}, Tone::ink, room.text * 0.12, room.text * 0.35);
  } else if (stack.lack < 0) {
    for (double x = left; x + piece * 0.5 < right; x += room.text * 0.5)
      figure.lines.push_back(straight({x, wanted}, {x + piece * 0.5, top}, Tone::ink, room.text * 0.07));
  }
  figure.lines.push_back(straight({0, wanted}, {room.width * 0.5, wanted}, Tone::here, room.text * 0.22));
  std::vector<Written> words = {{stack.wanted, true, Tone::here}};
  if (!stack.limits.empty()) words.push_back({stack.limits});
  words.push_back({stack.lack_words, true});
  words.push_back({stack.sum});
  const double from = room.width * 0.5 + room.text * 0.3;
  const double last = base - line * static_cast<double>(words.size() - 1);
  list(figure, {from, std::max(line * 0.5, std::min(wanted, last))}, words, room.text, line, room.width - from);
  if (!stack.then.empty())
    figure.texts.push_back(fitted({room.width / 2, room.height - line / 2}, stack.then, room.text, room.width, true));
  return figure;
}

} // namespace drawing
