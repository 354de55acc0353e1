// Photographs scaled down for the handover; pictures made here by gdk-pixbuf itself.
#include "handover/scaled.h"

#include "record/owned.h"
#include "record/photograph.h"

#include <catch2/catch.hpp>

#include <gdk-pixbuf/gdk-pixbuf.h>

namespace {

std::string picture(int width, int height, const char* kind) {
  const record::Owned<GdkPixbuf, g_object_unref> made(gdk_pixbuf_new(GDK_COLORSPACE_RGB, FALSE, 8, width, height));
  gdk_pixbuf_fill(made.get(), 0x80604000);
  gchar* bytes = nullptr;
  gsize size = 0;
  REQUIRE(gdk_pixbuf_save_to_buffer(made.get(), &bytes, &size, kind, nullptr, nullptr));
  std::string out(bytes, size);
  g_free(bytes);
  return out;
}

std::pair<std::int64_t, std::int64_t> size_of(const std::string& bytes) {
  const auto facts = record::photograph_facts(bytes);
  REQUIRE(facts);
  CHECK(facts->text_or_empty("media") == "image/jpeg");
  return {*facts->at("width").as_integer(), *facts->at("height").as_integer()};
}

} // namespace

TEST_CASE("a large photograph is made 1600 pixels long, a small one is left as it is") {
  const auto wide = handover::scaled_down(picture(4000, 3000, "jpeg"));
  REQUIRE(wide);
  CHECK(size_of(*wide) == std::pair<std::int64_t, std::int64_t>{1600, 1200});
  const auto tall = handover::scaled_down(picture(1000, 3200, "png"));
  REQUIRE(tall);
  CHECK(size_of(*tall) == std::pair<std::int64_t, std::int64_t>{500, 1600});
  const auto small = handover::scaled_down(picture(640, 480, "png"));
  REQUIRE(small);
  CHECK(size_of(*small) == std::pair<std::int64_t, std::int64_t>{640, 480});
}

TEST_CASE("what is no picture is refused") {
  CHECK_FALSE(handover::scaled_down(picture(400, 300, "png").substr(0, 40)));
  CHECK_FALSE(handover::scaled_down("no picture"));
  CHECK_FALSE(handover::scaled_down(""));
}

TEST_CASE("a file that claims a picture of a thousand million pixels is not unfolded") {
  std::string huge = picture(4, 3, "png");
  huge[18] = '\x7f'; // width: millions
  huge[22] = '\x7f';
  CHECK_FALSE(handover::scaled_down(huge));
}
