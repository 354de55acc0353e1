// Everything on the screen, drawn with Dear ImGui into whatever there is to draw into: the build sheet, the findings,
// the builds, the log, the shop, the computations. Knows no window system; desktop/ gives it frames and keys, a test
// gives it a context without either.
#pragma once

#include "bench/desk.h"
#include "bench/look.h"
#include "handover/scaled.h"

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace bench {

class Window {
public:
  explicit Window(Desk& desk);
  ~Window();

  void frame();                                 // between ImGui::NewFrame and ImGui::Render; fills the display
  bool wants_frame() const;                     // something moved that shows only in the next frame
  void dropped(std::vector<std::string> paths); // files, on what is shown
  // `upload` makes a texture of a picture, in the place of the one before, and gives what ImGui knows it by.
  void show_photographs_by(std::function<void*(const handover::Pixels&)> upload);
  void begin_with(Mirror look); // else as Mirror() has it
  const Look& look() const;     // to be put on between frames
  // For scripts that take pictures.
  void show(const std::string& screen);          // one of those that `witnessmark bench --help` lists
  void work_out(const std::string& computation); // one of the registry, with its worked example

private:
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace bench
