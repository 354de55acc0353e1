// The screens without a window, on a shop: frames drawn into nothing, keys struck, and what a frame costs.
#pragma once

#include "bench/desk.h"
#include "bench/window.h"

#include <string>

namespace speed {

class Screens {
public:
  explicit Screens(record::Session session); // 1280x800, scale 1
  ~Screens();
  Screens(const Screens&) = delete;
  Screens& operator=(const Screens&) = delete;

  double frame();       // what this thread used of its core, in seconds
  double empty_frame(); // the same of one with nothing on it
  void strike(int key); // each goes into the next frame
  void type(char letter);
  void wheel(float by);
  void settle(); // frames until nothing is under way
  void sign_in();
  void show(const std::string& screen);
  void open(const std::string& build);

private:
  double timed(bool with_screens);
  struct Context {
    Context();
    ~Context();
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
  } context_;
  bench::Desk desk_;
  bench::Window window_;
};

} // namespace speed
