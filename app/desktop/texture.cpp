#include "desktop/texture.h"

#include <GLFW/glfw3.h>

#include <bit>
#include <cstdint>

namespace desktop {

Texture::~Texture() {
  if (name_ != 0) glDeleteTextures(1, &name_);
}

void* Texture::hold(const handover::Pixels& pixels) {
  while (glGetError() != GL_NO_ERROR) {
  }
  if (name_ == 0) glGenTextures(1, &name_);
  glBindTexture(GL_TEXTURE_2D, name_);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
  glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, pixels.width, pixels.height, 0, GL_RGBA, GL_UNSIGNED_BYTE,
               pixels.bytes.data());
  if (glGetError() != GL_NO_ERROR) return nullptr;
  return std::bit_cast<void*>(static_cast<std::uintptr_t>(name_));
}

} // namespace desktop
