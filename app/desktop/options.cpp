#include "desktop/options.h"

#include "calc/registry.h"
#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <string_view>

namespace desktop {

namespace {

constexpr std::array<std::string_view, 15> screens = {"builds", "sheet",  "strip-down", "findings", "parts",
                                                      "sizes",  "limits", "log",        "shop",     "people",
                                                      "gauges", "work",   "keys",       "look",     "procedure"};
constexpr int largest_side = 16'384; // pixels: what OpenGL 3.3 draws into everywhere

Error bad(const std::string& what) {
  return {"bad-arguments", what + "; witnessmark bench --help tells about it"};
}

// The whole text as a number.
template <typename Number>
std::optional<Number> number_in(std::string_view text) {
  Number number{};
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (fault != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

Result<void> take_size(std::string_view text, Options& options) {
  const std::size_t cross = text.find('x');
  if (cross != std::string_view::npos) {
    const auto width = number_in<int>(text.substr(0, cross));
    const auto height = number_in<int>(text.substr(cross + 1));
    if (width && height && *width >= smallest.width && *height >= smallest.height && *width <= largest_side &&
        *height <= largest_side) {
      options.size = {*width, *height};
      return {};
    }
  }
  return bad(fmt::format("--size {} is no size from {}x{} to {}x{}", json::shown(text), smallest.width, smallest.height,
                         largest_side, largest_side));
}

Result<void> take_scale(std::string_view text, Options& options) {
  options.scale = number_in<float>(text);
  if (options.scale && *options.scale >= smallest_scale && *options.scale <= largest_scale) return {};
  return bad(fmt::format("--scale {} is no number from {} to {}", json::shown(text), smallest_scale, largest_scale));
}

Result<void> take_screen(std::string_view text, Options& options) {
  options.screen = text;
  if (std::ranges::find(screens, text) != screens.end()) return {};
  return bad(fmt::format("--screen {} is none of {}", json::shown(text), fmt::join(screens, ", ")));
}

Result<void> take_computation(std::string_view text, Options& options) {
  options.computation = text;
  if (calc::find_computation(text)) return {};
  return bad(
      fmt::format("--calc {} is no computation, witnessmark calc --list shows those there are", json::shown(text)));
}

Result<void> take_theme(std::string_view text, Options& options) {
  options.theme = text;
  if (bench::find_theme(text)) return {};
  std::vector<std::string_view> there;
  for (const auto& one : bench::themes()) there.push_back(one.name);
  return bad(fmt::format("--theme {} is none of {}", json::shown(text), fmt::join(there, ", ")));
}

Result<void> take_text(std::string_view text, Options& options) {
  options.text = number_in<int>(text);
  if (options.text && std::ranges::find(bench::text_sizes, *options.text) != bench::text_sizes.end()) return {};
  return bad(fmt::format("--text {} is none of {}", json::shown(text), fmt::join(bench::text_sizes, ", ")));
}

Result<void> take_frames(std::string_view text, Options& options) {
  options.frames = number_in<int>(text);
  if (options.frames && *options.frames > 0) return {};
  return bad(fmt::format("--frames {} is no number from 1", json::shown(text)));
}

Result<void> take_units(std::string_view text, Options& options) {
  options.inches = text == "inch";
  if (text == "inch" || text == "mm") return {};
  return bad(fmt::format("--units {} is neither mm nor inch", json::shown(text)));
}

Result<void> take(std::string_view name, std::string_view value, Options& options) {
  if (name == "--size") return take_size(value, options);
  if (name == "--scale") return take_scale(value, options);
  if (name == "--screen") return take_screen(value, options);
  if (name == "--calc") return take_computation(value, options);
  if (name == "--theme") return take_theme(value, options);
  if (name == "--text") return take_text(value, options);
  if (name == "--units") return take_units(value, options);
  if (name == "--frames") return take_frames(value, options);
  if (name == "--build") {
    options.build = value;
  } else if (name == "--picture") {
    options.picture = value;
  } else {
    options.shop = value;
  }
  return {};
}

constexpr std::array<std::string_view, 11> names = {"--shop",  "--build", "--screen", "--calc",  "--picture", "--size",
                                                    "--scale", "--theme", "--text",   "--units", "--frames"};

} // namespace

Result<Options> read_options(const std::vector<std::string>& arguments) {
  Options options;
  options.help = std::ranges::find(arguments, "--help") != arguments.end();
  if (options.help) return options;
  std::vector<std::string_view> given;
  for (auto next = arguments.begin(); next != arguments.end(); ++next) {
    const std::size_t equals = next->find('=');
    const std::string_view name = std::string_view(*next).substr(0, equals);
    if (std::ranges::find(names, name) == names.end()) return bad(fmt::format("{} is not known", json::shown(name)));
    if (std::ranges::find(given, name) != given.end()) return bad(fmt::format("{} is given twice", name));
    given.push_back(name);
    std::string_view value;
    if (equals != std::string::npos) {
      value = std::string_view(*next).substr(equals + 1);
    } else if (next + 1 != arguments.end() && !(next + 1)->starts_with("--")) {
      value = *++next;
    }
    if (value.empty()) return bad(fmt::format("{} must be followed by its value", name));
    if (const auto taken = take(name, value, options); !taken) return taken.error();
  }
  return options;
}

bench::Look look_of(const Options& options, bench::Look kept) {
  if (options.theme) kept.theme = bench::find_theme(*options.theme)->name;
  kept.text = options.text.value_or(kept.text);
  kept.inches = options.inches.value_or(kept.inches);
  return kept;
}

namespace {

// Their names with commas between, in lines that stand under one another.
std::string names_of_screens() {
  constexpr std::string_view indent = "                  ";
  constexpr std::size_t longest = 70;
  std::string out(indent);
  std::size_t line = 0;
  for (const auto& name : screens) {
    if (line > 0) out += ',';
    if (line > 0 && line + name.size() <= longest) out += ' ';
    if (line + name.size() > longest) {
      out += fmt::format("\n{}", indent);
      line = 0;
    }
    out += name;
    line += name.size() + 2;
  }
  return out;
}

} // namespace

std::string help() {
  return fmt::format(
      "witnessmark bench [--shop FILE] [--build ID] [--screen NAME] [--calc NAME] [--scale S]\n"
      "                  [--size WxH] [--theme NAME] [--text N] [--units NAME] [--picture FILE.png]\n"
      "                  [--frames N]\n"
      "\n"
      "Opens the window on a shop file; witnessmark alone does the same on the default one.\n"
      "\n"
      "  --shop FILE     the shop file; without it witnessmark/shop.wm in the data folder\n"
      "                  ($XDG_DATA_HOME, else ~/.local/share)\n"
      "  --build ID      the build to begin with\n"
      "  --screen NAME   the screen to begin with:\n"
      "{}\n"
      "  --calc NAME     a computation to begin with, its worked example filled in\n"
      "  --scale S       size of the text, {} to {}; without it what the display asks for\n"
      "  --size WxH      size of the window in pixels, from {}x{}\n"
      "\n"
      "How it looks, for this session; without them as it was left on the screen \"look\", which each user\n"
      "has in witnessmark/look.json in the folder for settings ($XDG_CONFIG_HOME, else ~/.config):\n"
      "  --theme NAME    light, dark or contrast\n"
      "  --text N        size of the text in per cent of the scale: {}\n"
      "  --units NAME    mm: lengths as the procedure has them; inch: those in mm are shown in inches\n"
      "\n"
      "For scripts:\n"
      "  --picture FILE.png   draws that screen once, in a window that is not shown, and writes it there;\n"
      "                       it looks as the options say, whatever was kept\n"
      "  --frames N           says on stdout when so many frames were shown, and closes\n"
      "\n"
      "Exit status 0 closed, or picture written; 2 could not open. A display with OpenGL 3.3 is needed (for\n"
      "the picture too); everything else that witnessmark does works without one: witnessmark --help.\n",
      names_of_screens(), smallest_scale, largest_scale, smallest.width, smallest.height,
      fmt::join(bench::text_sizes, ", "));
}

Result<std::filesystem::path> default_shop(const char* xdg_data_home, const char* home) {
  const std::filesystem::path shop = std::filesystem::path("witnessmark") / "shop.wm";
  const std::filesystem::path data = xdg_data_home == nullptr ? "" : xdg_data_home;
  if (data.is_absolute()) return data / shop; // the specification has a relative one ignored
  if (home != nullptr && *home != '\0') return std::filesystem::path(home) / ".local" / "share" / shop;
  return Error{"no-home", "the environment names no home folder to keep the shop file in; name the file with --shop"};
}

} // namespace desktop
