#include "desktop/picture.h"

#include <cairo.h>
#include <catch2/catch.hpp>

#include <cstring>
#include <filesystem>
#include <memory>
#include <stdlib.h>

using desktop::Picture;

namespace {

class Folder {
public:
  Folder() : path_((std::filesystem::temp_directory_path() / "witnessmark-test-XXXXXX").native()) {
    REQUIRE(::mkdtemp(path_.data()) != nullptr);
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string operator/(const char* name) const { return path_ + "/" + name; }

private:
  std::string path_;
};

std::uint32_t pixel_of(cairo_surface_t* surface, int x, int y) {
  std::uint32_t pixel = 0;
  const unsigned char* row =
      cairo_image_surface_get_data(surface) + static_cast<std::ptrdiff_t>(y) * cairo_image_surface_get_stride(surface);
  std::memcpy(&pixel, row + static_cast<std::ptrdiff_t>(x) * 4, sizeof pixel);
  return pixel & 0xFFFFFF;
}

} // namespace

TEST_CASE("a picture read from the bottom is turned over") {
  Picture picture{2, 3, {1, 2, 3, 4, 5, 6}};
  turn_over(picture);
  CHECK(picture.pixels == std::vector<std::uint32_t>{5, 6, 3, 4, 1, 2});
  Picture none{0, 0, {}};
  turn_over(none);
  CHECK(none.pixels.empty());
}

TEST_CASE("a picture written is the picture read, whatever stands above its colours") {
  const Folder folder;
  const std::string file = folder / "picture.png";
  const Picture picture{3, 2, {0xFF0000, 0x0000FF00, 0xFF0000FF, 0x80123456, 0x00FFFFFF, 0}};
  REQUIRE(write_png(picture, file));
  const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> read(
      cairo_image_surface_create_from_png(file.c_str()), &cairo_surface_destroy);
  REQUIRE(cairo_surface_status(read.get()) == CAIRO_STATUS_SUCCESS);
  REQUIRE(cairo_image_surface_get_width(read.get()) == 3);
  REQUIRE(cairo_image_surface_get_height(read.get()) == 2);
  for (int y = 0; y < 2; ++y)
    for (int x = 0; x < 3; ++x)
      CHECK(pixel_of(read.get(), x, y) == (picture.pixels[static_cast<std::size_t>(y * 3 + x)] & 0xFFFFFF));
}

TEST_CASE("a picture that cannot be written is refused in a sentence") {
  const Folder folder;
  const auto written = write_png(Picture{1, 1, {0}}, folder / "not-there/x.png");
  REQUIRE(!written.ok());
  CHECK(written.error().code == "picture-failed");
  CHECK_THAT(written.error().message, Catch::Contains("not-there/x.png could not be written"));
}
