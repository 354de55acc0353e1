// speed: how fast the program is on this machine.
#include "command/commands.h"
#include "speed/speed.h"

#include <fmt/format.h>

#include <cstdlib>
#include <filesystem>
#include <ostream>

namespace command {

namespace {

namespace fs = std::filesystem;

// Where the shop file is by itself, so that the same disk is measured.
fs::path usual_folder() {
  const char* const data = std::getenv("XDG_DATA_HOME");
  if (data != nullptr && fs::path(data).is_absolute()) return fs::path(data) / "witnessmark";
  const char* const home = std::getenv("HOME");
  if (home != nullptr && *home != '\0') return fs::path(home) / ".local" / "share" / "witnessmark";
  return fs::temp_directory_path();
}

Exit run_speed(const Arguments& arguments, const Streams& streams) {
  speed::Wishes wishes;
  wishes.folder = arguments.has("--in") ? fs::path(arguments.value("--in")) : usual_folder();
  wishes.program = fs::read_symlink("/proc/self/exe");
  wishes.quick = arguments.has("--quick");
  wishes.again = arguments.has("--check");
  wishes.growth = arguments.has("--growth") || wishes.again;
  if (arguments.has("--only")) wishes.only = arguments.value("--only");
  const auto form = arguments.has("--markdown") ? speed::Form::markdown : speed::Form::plain;
  try {
    const auto figures = speed::measure(wishes, [&](std::string_view what) {
      streams.err << "measuring: " << what << '\n' << std::flush;
    });
    if (figures.rows.empty() && figures.growths.empty())
      return refuse(streams, fmt::format("nothing that is measured is called {}", one_line(wishes.only)));
    if (!figures.rows.empty()) streams.out << speed::table(figures.rows, form);
    if (!figures.growths.empty()) streams.out << '\n' << speed::table(figures.growths, form);
    return wishes.again && figures.far_over ? Exit::answer_is_no : Exit::done;
  } catch (const std::runtime_error& failed) {
    return refuse(streams, failed.what());
  }
}

} // namespace

Command speed_command() {
  return {.name = "speed",
          .purpose = "Measures how fast the program is here, beside the least that it could take.",
          .usage = {.line = "witnessmark speed [--quick] [--growth] [--check] [--only NAME] [--markdown] [--in FOLDER]",
                    .switches = {{.name = "--quick"},
                                 {.name = "--growth"},
                                 {.name = "--check"},
                                 {.name = "--only", .takes = Takes::one, .value = "NAME"},
                                 {.name = "--markdown"},
                                 {.name = "--in", .takes = Takes::one, .value = "FOLDER"}}},
          .details = "  --quick       in less than a minute, on a smaller shop and with fewer rounds\n"
                     "  --growth      also how times grow with events, steps and builds: the exponent is 1 where\n"
                     "                twice as much takes twice as long\n"
                     "  --check       with --growth; what is beyond twice what is wanted, or grows too fast, is\n"
                     "                measured four times more, and counts when the one in the middle still is\n"
                     "  --only NAME   what begins so: recording, opening, verifying, procedures, blockers,\n"
                     "                large-shop, flatness, pages, frames, window\n"
                     "  --markdown    the tables as Markdown\n"
                     "  --in FOLDER   measures on the disk of this folder; without it that of the data folder\n"
                     "\n"
                     "Each figure stands beside its floor: the least that the libraries and the machine need for the\n"
                     "same, measured in turn with ours. Figures and floors are medians, and so is how the pairs\n"
                     "compare. What is measured on are practice shops in a folder that goes away.\n"
                     "\n"
                     "Exit status 1 only with --check, when something counts as too slow.\n",
          .work = run_speed};
}

} // namespace command
