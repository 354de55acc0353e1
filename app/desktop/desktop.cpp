#include "desktop/desktop.h"

#include "bench/fonts.h"
#include "bench/keys.h"
#include "bench/window.h"
#include "desktop/look_file.h"
#include "desktop/picture.h"
#include "desktop/texture.h"
#include "desktop/window.h"
#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <future>
#include <sys/resource.h>
#include <thread>

namespace desktop {

namespace {

constexpr int closed = 0; // exit statuses
constexpr int could_not_open = 2;

// Dear ImGui shows some of what was done only one or two frames later.
constexpr int frames_after_an_event = 3;
constexpr double look_every = 0.5; // s, for what other processes have written
constexpr double tell_every = 0.1; // s, how far something long has come
constexpr int frames_before_a_picture = 8;

constexpr std::size_t longest_line = 4000; // characters: the longest path of a file fits

int refuse(std::string_view message) {
  const std::string in_quotes = json::shown(message, longest_line); // what cannot be seen is escaped
  fmt::print(stderr, "error: {}\n", std::string_view(in_quotes).substr(1, in_quotes.size() - 2));
  return could_not_open;
}

// --- the shop file --------------------------------------------------------------------------------------------------

Result<std::filesystem::path> shop_file(const Options& options) {
  if (!options.shop.empty()) return options.shop;
  auto shop = default_shop(std::getenv("XDG_DATA_HOME"), std::getenv("HOME"));
  if (!shop) return shop;
  std::error_code failed;
  std::filesystem::create_directories(shop->parent_path(), failed);
  if (!failed) return shop;
  return Error{"no-folder", fmt::format("the folder {} could not be made ({}); name a shop file with --shop",
                                        json::shown(shop->parent_path().native(), longest_line), failed.message())};
}

// --- how it looks ---------------------------------------------------------------------------------------------------

bench::Mirror mirror(const Options& options, float display) {
  bench::Mirror out;
  out.display = display;
  out.now = look_of(options, out.kept);
  if (!options.picture.empty()) return out; // looks the same for whoever has it drawn
  const auto file = look_file(std::getenv("XDG_CONFIG_HOME"), std::getenv("HOME"));
  const auto kept = read_look_file(file);
  if (kept) {
    out.kept = *kept;
  } else {
    out.trouble = kept.error().message;
    fmt::print(stderr, "note: {}\n", out.trouble);
  }
  out.now = look_of(options, out.kept);
  out.place = file.native();
  if (file.empty())
    out.trouble = "The environment names no home folder, so the look is not kept; it holds until the window is closed.";
  else
    out.keep = [file](const bench::Look& look) { return keep_look(look, file); };
  return out;
}

// --- the frame loop -------------------------------------------------------------------------------------------------

class Loop {
public:
  Loop(Pane& pane, bench::Desk& desk, bench::Window& screens) : pane_(pane), desk_(desk), screens_(screens) {}

  // Until it is closed, or `most` frames were shown.
  void run(std::optional<int> most) {
    pane_.show();
    while (!pane_.closing() && (!most || shown_ < *most)) {
      take_in();
      if (frames_ > 0) draw_one();
    }
  }

private:
  // Without frames to draw, sleeps until there is a reason for one.
  void take_in() {
    if (frames_ > 0) {
      pane_.poll();
    } else {
      pane_.wait(desk_.busy() ? tell_every : look_every);
      if (desk_.busy()) frames_ = 1;
    }
    if (pane_.stirred()) frames_ = frames_after_an_event;
    if (auto files = pane_.take_dropped(); !files.empty()) screens_.dropped(std::move(files));
    if (seconds() - looked_ >= look_every) {
      looked_ = seconds();
      if (desk_.look()) frames_ = frames_after_an_event;
    }
    if (pane_.hidden()) frames_ = 0;
  }

  void draw_one() {
    const bool ready = desk_.settled();
    if (const auto going = desk_.going(); going && going->may_stop && pane_.take_press(bench::key::escape))
      desk_.stop();
    pane_.put_on(screens_.look());
    pane_.draw(ready, [this] { screens_.frame(); });
    if (bench::letters_lacking()) return; // it is drawn anew
    pane_.present();
    ++shown_;
    --frames_;
    if (screens_.wants_frame()) frames_ = std::max(frames_, 1);
    if (ready && pane_.keys_wait()) frames_ = frames_after_an_event;
  }

  Pane& pane_;
  bench::Desk& desk_;
  bench::Window& screens_;
  int frames_ = frames_after_an_event;
  std::int64_t shown_ = 0; // since the beginning
  double looked_ = 0;
};

int take_picture(Pane& pane, const bench::Desk& desk, bench::Window& screens, const std::string& file) {
  for (int frame = 0; frame < frames_before_a_picture; ++frame) {
    pane.put_on(screens.look());
    while (desk.busy()) std::this_thread::sleep_for(std::chrono::milliseconds(2));
    pane.draw(true, [&screens] { screens.frame(); });
  }
  const Size size = pane.pixels();
  const auto written = write_png(read_back_buffer(size.width, size.height), file);
  return written ? closed : refuse(written.error().message);
}

// --- from the arguments to the end ----------------------------------------------------------------------------------

int open_window(const Options& options) {
  const auto file = shop_file(options);
  if (!file) return refuse(file.error().message);
  // Beside one another: the display takes as long as a large shop.
  auto reading = std::async(std::launch::async, [&file] { return record::Session::open(*file, {}); });
  const auto pane = Pane::open(options);
  auto session = reading.get();
  if (!session) return refuse(session.error().message);
  if (!pane) return refuse(pane.error().message);
  bench::Desk desk(std::move(*session), [&pane] { (*pane)->wake(); });
  const auto builds = desk.builds();
  if (!options.build.empty() && std::ranges::find(builds, options.build) == builds.end())
    return refuse(fmt::format("there is no build {} in {}", json::shown(options.build), json::shown(file->native())));
  bench::Window screens(desk);
  screens.begin_with(mirror(options, (*pane)->scale()));
  Texture photograph;
  screens.show_photographs_by([&photograph](const handover::Pixels& pixels) { return photograph.hold(pixels); });
  if (!options.build.empty()) desk.open(options.build);
  if (!options.screen.empty()) screens.show(options.screen);
  if (!options.computation.empty()) screens.work_out(options.computation);
  if (!options.picture.empty()) return take_picture(**pane, desk, screens, options.picture);
  Loop(**pane, desk, screens).run(options.frames);
  if (options.frames) fmt::print("{} shown\n", *options.frames);
  return std::fflush(stdout) == 0 ? closed : could_not_open;
}

int run_options(const std::vector<std::string>& arguments) {
  const auto options = read_options(arguments);
  if (!options) return refuse(options.error().message);
  if (!options->help) return open_window(*options);
  fmt::print("{}", help());
  return std::fflush(stdout) == 0 ? closed : refuse("the help could not be written to stdout");
}

} // namespace

int run(const std::vector<std::string>& arguments) {
  const rlimit nothing{0, 0};
  setrlimit(RLIMIT_CORE, &nothing); // a passphrase or an unlocked key may be in memory
  const auto rest = arguments.empty() ? arguments.end() : arguments.begin() + 1; // behind "bench"
  try {
    return run_options({rest, arguments.end()});
  } catch (const std::exception& mistake) {
    return refuse(fmt::format("this program made a mistake: {}", mistake.what()));
  }
}

} // namespace desktop
