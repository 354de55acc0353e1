#include "desktop/look_file.h"

#include "json/read.h"
#include "json/utf8.h"

#include <fmt/format.h>

#include <fstream>

namespace desktop {

using quantity::Error;

namespace {

constexpr std::size_t longest_name = 4000; // characters: the longest path of a file fits
constexpr std::size_t largest_file = 10'000;

Error not_kept(const std::filesystem::path& file, const std::string& why) {
  return {"look-not-kept", fmt::format("The look is not kept: {} cannot be written ({}); it holds until the window is "
                                       "closed.",
                                       json::shown(file.native(), longest_name), why)};
}

} // namespace

std::filesystem::path look_file(const char* xdg_config_home, const char* home) {
  const std::filesystem::path look = std::filesystem::path("witnessmark") / "look.json";
  const std::filesystem::path settings = xdg_config_home == nullptr ? "" : xdg_config_home;
  if (settings.is_absolute()) return settings / look;
  return home == nullptr || *home == '\0' ? std::filesystem::path() : std::filesystem::path(home) / ".config" / look;
}

Result<bench::Look> read_look_file(const std::filesystem::path& file) {
  std::error_code ignored;
  if (file.empty() || !std::filesystem::exists(file, ignored)) return bench::Look();
  const auto unreadable = [&](const std::string& why) {
    return Error{"look-unreadable",
                 fmt::format("{} cannot be read ({}); the window looks as it does at first, and what is chosen on the "
                             "screen \"look\" takes the file's place.",
                             json::shown(file.native(), longest_name), why)};
  };
  const auto text = json::read_file(file, largest_file);
  if (!text) return unreadable(text.error().message);
  auto look = bench::read_look(*text);
  if (!look) return unreadable(look.error().message);
  return look;
}

Result<void> keep_look(const bench::Look& look, const std::filesystem::path& file) {
  std::error_code fault;
  std::filesystem::create_directories(file.parent_path(), fault);
  if (fault) return not_kept(file, fault.message());
  std::filesystem::path fresh = file;
  fresh += ".new";
  std::ofstream stream(fresh, std::ios::trunc);
  stream << bench::written(look);
  stream.close();
  if (stream.fail())
    fault = std::make_error_code(std::errc::io_error);
  else
    std::filesystem::rename(fresh, file, fault);
  if (!fault) return {};
  std::error_code ignored;
  std::filesystem::remove(fresh, ignored);
  return not_kept(file, fault.message());
}

} // namespace desktop
