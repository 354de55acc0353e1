// What `witnessmark bench` is told on the command line.
#pragma once

#include "bench/look.h"
#include "quantity/result.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace desktop {

using quantity::Error;
using quantity::Result;

struct Size {
  int width = 0; // pixels
  int height = 0;
};
constexpr Size smallest{1024, 600};
constexpr Size usual{1280, 800};
constexpr float smallest_scale = 1; // text of 20 pixels
constexpr float largest_scale = 3;

struct Options {
  bool help = false;
  std::filesystem::path shop; // empty: the default one
  std::string screen;         // "" leaves the choice to the screens
  std::string build;          // likewise
  std::string computation;    // likewise, of the screen "work"
  std::string picture;        // file to draw into instead of opening the window
  std::optional<int> frames;  // after so many the window says so and closes
  std::optional<Size> size;   // else `usual`, grown by the scale
  std::optional<float> scale; // else the display's
  // Of the look, for this session; else as it was kept.
  std::optional<std::string> theme;
  std::optional<int> text;
  std::optional<bool> inches;
};

// `arguments` behind "bench". "--name VALUE" and "--name=VALUE" are the same. Code "bad-arguments".
Result<Options> read_options(const std::vector<std::string>& arguments);

// `kept` as these options would have it.
bench::Look look_of(const Options& options, bench::Look kept);

std::string help();

// witnessmark/shop.wm in the folder the environment names for data: XDG_DATA_HOME when that is an absolute path, else
// .local/share in HOME (XDG Base Directory Specification 0.8). Either may be null. Code "no-home".
Result<std::filesystem::path> default_shop(const char* xdg_data_home, const char* home);

} // namespace desktop
