// The one window on the display: GLFW, OpenGL 3.3 and Dear ImGui, from opening to closing. Knows nothing of what is
// drawn in it.
#pragma once

#include "desktop/key_queue.h"
#include "desktop/options.h"

#include <atomic>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

struct GLFWwindow;

namespace desktop {

class Pane {
public:
  // Not shown yet. One at a time, on the main thread, with all calls but `wake`. The message says what the display
  // lacks; code "no-display", "no-opengl" or "no-font".
  static Result<std::unique_ptr<Pane>> open(const Options& options);
  ~Pane();
  Pane(const Pane&) = delete;
  Pane& operator=(const Pane&) = delete;

  float scale() const { return scale_; } // of text and everything measured by it
  // Between frames.
  void put_on(const bench::Look& look) const;
  void show();
  bool closing() const; // the window was asked to close
  bool hidden() const;  // nobody would see what is drawn

  // Sleeps until something happens to the window, `wake` is called, or the seconds are over.
  void wait(double seconds);
  void poll();                                        // takes in what has happened, without sleeping
  bool stirred() { return stirred_.exchange(false); } // something has happened since this was asked last
  void wake();                                        // from any thread
  // Paths of the files dropped on the window since this was asked last.
  std::vector<std::string> take_dropped() { return std::exchange(dropped_, {}); }
  bool keys_wait() const { return !keys_.empty(); }
  bool take_press(int key) { return keys_.take_press(key); } // out of its turn

  // One frame: gives the screens their keys (KeyQueue says what `ready` is), has them drawn, leaves the result in the
  // back buffer.
  void draw(bool ready, const std::function<void()>& screens);
  void present(); // shows what was drawn

  Size pixels() const; // of what is drawn into

private:
  Pane() = default;
  Result<void> open_window(const Options& options);
  Result<void> start_drawing();
  void listen();
  static Pane& of(GLFWwindow* window);

  bool library_ = false; // what was begun, for the end
  GLFWwindow* window_ = nullptr;
  bool context_ = false;
  bool platform_ = false;
  bool renderer_ = false;
  float scale_ = 1;
  KeyQueue keys_;
  std::vector<std::string> dropped_;
  std::atomic<bool> stirred_ = true;
};

double seconds(); // since the display was opened, running evenly

} // namespace desktop
