// A picture of what has just been drawn, and writing it as PNG.
#pragma once

#include "quantity/result.h"

#include <cstdint>
#include <string>
#include <vector>

namespace desktop {

struct Picture {
  int width = 0; // pixels
  int height = 0;
  std::vector<std::uint32_t> pixels; // 0xRRGGBB, whatever stands above it; rows from the top
};

// What OpenGL has drawn into the back buffer of the current context and not shown yet.
Picture read_back_buffer(int width, int height);

// Rows from the bottom put into rows from the top.
void turn_over(Picture& picture);

// Replaces a file that is there. Code "picture-failed".
quantity::Result<void> write_png(const Picture& picture, const std::string& path);

} // namespace desktop
