// The screens without a window: an ImGui context of its own, a desk that answers at once, a practice shop in a folder
// that goes away, and fingers.
#pragma once

#include "bench/desk.h"
#include "bench/keys.h"
#include "bench/widgets.h"
#include "bench/window.h"

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

// Gone with this, and all that is in it.
struct TemporaryFolder {
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  std::filesystem::path path;
};

class Screen {
public:
  // A shop of Ivo (owner and builder, "copper and brass") with a few gauges and the short block opened as "marigold".
  // `procedure`: the text of another one than the short block.
  // `wake`: what the desk's own thread calls; without it the desk answers at once.
  explicit Screen(float scale = 1, float width = 1280, float height = 800, const std::string& procedure = "",
                  std::function<void()> wake = {});
  struct EmptyShop {};
  explicit Screen(EmptyShop, std::function<void()> wake = {}); // one in which nobody is enrolled and no engine is open
  ~Screen();
  Screen(const Screen&) = delete;
  Screen& operator=(const Screen&) = delete;

  void frame(); // and as many more as the window asks for
  void one_frame();
  void press(int key);
  void press_with_shift(int key);
  void type(const std::string& text);
  void enter(const std::string& text) {
    type(text);
    press(bench::key::enter);
  }
  // As a gauge that types: all of it and Enter faster than fingers could.
  void gauge(const std::string& text);
  void click(const std::string& id); // a button or field by its id
  void sign_in();
  void in_the_shop(const std::string& line); // an action that is not done on the screen, by Ivo
  bool shows(const std::string& text) const; // somewhere on the screen, as last drawn
  const build::Build& build() const { return *desk->build(); }
  const build::EntryState& entry(const std::string& step, const std::string& entry) const;
  std::string state(const std::string& step) const;

  std::vector<bench::Drawn> drawn;
  std::unique_ptr<bench::Desk> desk;
  std::unique_ptr<bench::Window> window;
  calc::Moment now{1'767'600'000'000, 60};

private:
  std::filesystem::path shop_file() const { return folder_.path / "s.shop"; }
  std::function<calc::Moment()> clock() const {
    return [this] { return now; };
  }
  void show(record::Session session, float scale, float width, float height, std::function<void()> wake = {});
  void take_letters(); // as whoever draws them does
  float display_scale_ = 1;
  TemporaryFolder folder_;
};
