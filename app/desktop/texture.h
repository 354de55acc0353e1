// A photograph in the memory of OpenGL, for Dear ImGui to draw.
#pragma once

#include "handover/scaled.h"

namespace desktop {

class Texture {
public:
  Texture() = default;
  ~Texture(); // while its OpenGL context is the current one
  Texture(const Texture&) = delete;
  Texture& operator=(const Texture&) = delete;

  // Takes the place of what it held before. What Dear ImGui knows it by, or null when OpenGL will not have it.
  void* hold(const handover::Pixels& pixels);

private:
  unsigned name_ = 0;
};

} // namespace desktop
