#include "desktop/picture.h"

#include <GLFW/glfw3.h>
#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <memory>

namespace desktop {

Picture read_back_buffer(int width, int height) {
  Picture picture{width, height, {}};
  picture.pixels.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  glPixelStorei(GL_PACK_ALIGNMENT, 4);
  glReadBuffer(GL_BACK);
  glReadPixels(0, 0, width, height, GL_BGRA, GL_UNSIGNED_INT_8_8_8_8_REV, picture.pixels.data());
  turn_over(picture);
  return picture;
}

void turn_over(Picture& picture) {
  const auto row = static_cast<std::ptrdiff_t>(picture.width);
  for (std::ptrdiff_t top = 0, bottom = picture.height - 1; top < bottom; ++top, --bottom) {
    const auto from = picture.pixels.begin() + top * row;
    std::swap_ranges(from, from + row, picture.pixels.begin() + bottom * row);
  }
}

// Cairo's RGB24 is what a Picture holds, but for the length of its rows, which cairo chooses.
quantity::Result<void> write_png(const Picture& picture, const std::string& path) {
  const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.width, picture.height), &cairo_surface_destroy);
  cairo_status_t status = cairo_surface_status(surface.get());
  if (status == CAIRO_STATUS_SUCCESS) {
    cairo_surface_flush(surface.get());
    auto* row = cairo_image_surface_get_data(surface.get());
    for (int y = 0; y < picture.height; ++y, row += cairo_image_surface_get_stride(surface.get()))
      std::copy_n(picture.pixels.begin() + static_cast<std::ptrdiff_t>(y) * picture.width, picture.width,
                  reinterpret_cast<std::uint32_t*>(row));
    cairo_surface_mark_dirty(surface.get());
    status = cairo_surface_write_to_png(surface.get(), path.c_str());
  }
  if (status == CAIRO_STATUS_SUCCESS) return {};
  return quantity::Error{"picture-failed", fmt::format("the picture {} could not be written ({}); choose a folder that "
                                                       "is there and can be written to",
                                                       path, cairo_status_to_string(status))};
}

} // namespace desktop
