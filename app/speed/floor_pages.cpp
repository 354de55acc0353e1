#include "speed/floor_pages.h"

#include <cairo-pdf.h>
#include <cairo.h>

#include <stdexcept>

namespace speed {

namespace {

constexpr double points_in_a_mm = 72 / 25.4;

cairo_status_t take(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

} // namespace

std::vector<handover::Written> lines_of(const std::function<void()>& draws) {
  std::vector<handover::Written> lines;
  handover::list_what_is_written(&lines);
  draws();
  handover::list_what_is_written(nullptr);
  return lines;
}

void write(const std::vector<handover::Written>& lines) {
  std::string bytes;
  cairo_surface_t* const surface = cairo_pdf_surface_create_for_stream(
      take, &bytes, handover::page_width * points_in_a_mm, handover::page_height * points_in_a_mm);
  cairo_t* const pen = cairo_create(surface);
  cairo_scale(pen, points_in_a_mm, points_in_a_mm);
  int page = 1;
  for (const auto& line : lines) {
    for (; page < line.page; ++page) cairo_show_page(pen);
    const bool strong = line.weight == handover::Weight::strong;
    cairo_select_font_face(pen, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           strong ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(pen, line.height);
    cairo_move_to(pen, line.x, line.y);
    cairo_show_text(pen, line.text.c_str());
  }
  cairo_show_page(pen);
  cairo_destroy(pen);
  cairo_surface_finish(surface);
  const bool whole = cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS;
  cairo_surface_destroy(surface);
  if (!whole || bytes.empty()) throw std::runtime_error("cairo wrote no PDF");
}

} // namespace speed
