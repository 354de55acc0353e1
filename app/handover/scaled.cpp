#include "handover/scaled.h"

#include "record/owned.h"

#include <gdk-pixbuf/gdk-pixbuf.h>

#include <algorithm>

namespace handover {

namespace {

using record::Owned;
using Loader = Owned<GdkPixbufLoader, g_object_unref>;
using Picture = Owned<GdkPixbuf, g_object_unref>;

// Bytes far beyond any camera's are not unfolded: a small file may claim a huge picture.
constexpr double most_pixels = 200e6;

struct Claimed {
  bool too_large = false;
};

void limit(GdkPixbufLoader* loader, int width, int height, gpointer claimed) {
  if (static_cast<double>(width) * height <= most_pixels) return;
  static_cast<Claimed*>(claimed)->too_large = true;
  gdk_pixbuf_loader_set_size(loader, 1, 1);
}

Picture read(std::string_view bytes) {
  const Loader loader(gdk_pixbuf_loader_new());
  Claimed claimed;
  g_signal_connect(loader.get(), "size-prepared", G_CALLBACK(limit), &claimed);
  const bool taken = gdk_pixbuf_loader_write(loader.get(), reinterpret_cast<const guchar*>(bytes.data()), bytes.size(),
                                             nullptr) != FALSE;
  const bool whole = gdk_pixbuf_loader_close(loader.get(), nullptr) != FALSE;
  GdkPixbuf* const picture = gdk_pixbuf_loader_get_pixbuf(loader.get());
  if (!taken || !whole || !picture || claimed.too_large) return nullptr;
  return Picture(gdk_pixbuf_apply_embedded_orientation(picture));
}

} // namespace

Result<std::string> scaled_down(std::string_view photograph) {
  const Error no{"no-photograph", "A photograph cannot be read."};
  Picture picture = read(photograph);
  if (!picture) return no;
  const int width = gdk_pixbuf_get_width(picture.get());
  const int height = gdk_pixbuf_get_height(picture.get());
  const int longest = std::max(width, height);
  if (longest > longest_side) {
    const auto scaled = [&](int side) { return std::max(1, static_cast<int>(1.0 * side * longest_side / longest)); };
    picture.reset(gdk_pixbuf_scale_simple(picture.get(), scaled(width), scaled(height), GDK_INTERP_HYPER));
    if (!picture) return no;
  }
  gchar* bytes = nullptr;
  gsize size = 0;
  if (!gdk_pixbuf_save_to_buffer(picture.get(), &bytes, &size, "jpeg", nullptr, "quality", "85", nullptr)) return no;
  std::string out(bytes, size);
  g_free(bytes);
  return out;
}

} // namespace handover
