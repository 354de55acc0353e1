#include "bench/look.h"

#include "bench/fonts.h"
#include "bench/lengths.h"
#include "json/read.h"
#include "json/write.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bench {

using json::Value;
using quantity::Error;
using quantity::Result;

namespace {

// The least room the screens are laid out for, in pixels at text of 20 pixels.
constexpr float least_width = 680;
constexpr float least_height = 400;
constexpr float largest = 3;  // of scale: the letters' texture fits in every OpenGL
constexpr float step = 0.25f; // of scale, where the window decides it: fonts are not loaded anew at each pixel

Error bad(std::string what) {
  return {"bad-look", std::move(what)};
}

Result<void> take_theme(const Value& value, Look& look) {
  const Theme* found = value.is(json::Kind::text) ? find_theme(value.as_text()) : nullptr;
  if (!found) return bad("\"theme\" is none that there is");
  look.theme = found->name;
  return {};
}

Result<void> take_text(const Value& value, Look& look) {
  const auto size = value.is(json::Kind::number) ? value.as_integer() : std::nullopt;
  if (!size || std::ranges::find(text_sizes, *size) == text_sizes.end())
    return bad(fmt::format("\"text\" is none of {}", fmt::join(text_sizes, ", ")));
  look.text = static_cast<int>(*size);
  return {};
}

Result<void> take_units(const Value& value, Look& look) {
  const std::string units = value.is(json::Kind::text) ? value.as_text() : "";
  if (units != "mm" && units != "inch") return bad("\"units\" is neither mm nor inch");
  look.inches = units == "inch";
  return {};
}

} // namespace

Result<Look> read_look(std::string_view text) {
  const auto read = json::read_one(text);
  if (!read) return bad(read.error().message);
  if (!read->is(json::Kind::object)) return bad("it holds no object");
  Look look;
  for (const auto& [name, take] :
       {std::pair{"theme", &take_theme}, std::pair{"text", &take_text}, std::pair{"units", &take_units}})
    if (const Value* value = read->find(name))
      if (const auto taken = take(*value, look); !taken) return taken.error();
  return look;
}

std::string written(const Look& look) {
  return json::canonical(Value::object({{"text", Value::integer(look.text)},
                                        {"theme", Value::text(std::string(look.theme))},
                                        {"units", Value::text(look.inches ? "inch" : "mm")}})) +
         "\n";
}

float scale_for(const Look& look, float display, float width, float height) {
  const float wanted = std::min(largest, display * static_cast<float>(look.text) / 100);
  const float room = std::min(width / least_width, height / least_height);
  return room >= wanted ? wanted : std::max(1.0f, std::min(wanted, std::floor(room / step) * step));
}

bool put_on(const Look& look, float scale) {
  const Theme& wanted = *find_theme(look.theme);
  show_inches(look.inches);
  const bool other_letters = fonts().text == nullptr || fonts().scale != scale || letters_lacking();
  if (!other_letters && &wanted == &theme()) return false;
  use_theme(wanted);
  // A font that has gone away meanwhile leaves the letters there are.
  const bool loaded = other_letters && load_fonts(scale).empty();
  apply_style(fonts().scale);
  return loaded;
}

} // namespace bench
