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

Error unreadable() {
  return {"no-photograph", "A photograph cannot be read."};
}

struct Claimed {
  int longest = 0; // pixels to be unfolded, 0: all of them
  bool too_large = false;
};

int scaled(int side, int longest, int longest_wanted) {
  return std::max(1, static_cast<int>(1.0 * side * longest_wanted / longest));
}

void limit(GdkPixbufLoader* loader, int width, int height, gpointer of_claimed) {
  Claimed& claimed = *static_cast<Claimed*>(of_claimed);
  claimed.too_large = static_cast<double>(width) * height > most_pixels;
  const int longest = std::max(width, height);
  if (claimed.too_large)
    gdk_pixbuf_loader_set_size(loader, 1, 1);
  else if (claimed.longest > 0 && longest > claimed.longest)
    gdk_pixbuf_loader_set_size(loader, scaled(width, longest, claimed.longest),
                               scaled(height, longest, claimed.longest));
}

Picture read(std::string_view bytes, int longest = 0) {
  const Loader loader(gdk_pixbuf_loader_new());
  Claimed claimed{longest};
  g_signal_connect(loader.get(), "size-prepared", G_CALLBACK(limit), &claimed);
  const bool taken = gdk_pixbuf_loader_write(loader.get(), reinterpret_cast<const guchar*>(bytes.data()), bytes.size(),
                                             nullptr) != FALSE;
  const bool whole = gdk_pixbuf_loader_close(loader.get(), nullptr) != FALSE;
  GdkPixbuf* const picture = gdk_pixbuf_loader_get_pixbuf(loader.get());
  if (!taken || !whole || !picture || claimed.too_large) return nullptr;
  return Picture(gdk_pixbuf_apply_embedded_orientation(picture));
}

} // namespace

Result<Pixels> pixels_of(std::string_view photograph, int longest) {
  Picture picture = read(photograph, longest);
  if (picture) picture.reset(gdk_pixbuf_add_alpha(picture.get(), FALSE, 0, 0, 0));
  if (!picture) return unreadable();
  Pixels out{gdk_pixbuf_get_width(picture.get()), gdk_pixbuf_get_height(picture.get()), {}};
  const std::size_t row = 4 * static_cast<std::size_t>(out.width);
  for (int y = 0; y < out.height; ++y) {
    const guint8* from = gdk_pixbuf_read_pixels(picture.get()) +
                         static_cast<std::ptrdiff_t>(y) * gdk_pixbuf_get_rowstride(picture.get());
    out.bytes.insert(out.bytes.end(), from, from + row);
  }
  return out;
}

Result<std::string> scaled_down(std::string_view photograph) {
  Picture picture = read(photograph);
  if (!picture) return unreadable();
  const int width = gdk_pixbuf_get_width(picture.get());
  const int height = gdk_pixbuf_get_height(picture.get());
  const int longest = std::max(width, height);
  if (longest > longest_side) {
    picture.reset(gdk_pixbuf_scale_simple(picture.get(), scaled(width, longest, longest_side),
                                          scaled(height, longest, longest_side), GDK_INTERP_HYPER));
    if (!picture) return unreadable();
  }
  gchar* bytes = nullptr;
  gsize size = 0;
  if (!gdk_pixbuf_save_to_buffer(picture.get(), &bytes, &size, "jpeg", nullptr, "quality", "85", nullptr))
    return unreadable();
  std::string out(bytes, size);
  g_free(bytes);
  return out;
}

} // namespace handover
