// The look of the window as one user left it, in a file of their own.
#pragma once

#include "bench/look.h"

#include <filesystem>

namespace desktop {

using quantity::Result;

// witnessmark/look.json in the folder the environment names for settings: XDG_CONFIG_HOME when that is an absolute
// path, else .config in HOME (XDG Base Directory Specification 0.8). Either may be null. "" when there is no such
// folder.
std::filesystem::path look_file(const char* xdg_config_home, const char* home);

// As it was kept; the usual one when there is no file. Code "look-unreadable": what is wrong with it, in a sentence.
Result<bench::Look> read_look_file(const std::filesystem::path& file);

// Writes a new file and puts it in the place of the old one, whole or not at all; folders that are missing are made.
// Code "look-not-kept".
Result<void> keep_look(const bench::Look& look, const std::filesystem::path& file);

} // namespace desktop
