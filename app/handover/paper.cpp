#include "handover/paper.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <string>

namespace handover {

namespace {

constexpr double points_in_a_mm = 72 / 25.4;

// How dark a tone comes out, 0 black to 1 white: far enough apart for any printer.
double grey(drawing::Tone tone) {
  switch (tone) {
  case drawing::Tone::ink:
  case drawing::Tone::here: return 0;
  case drawing::Tone::paint: return 0.35;
  case drawing::Tone::metal: return 0.82;
  case drawing::Tone::faint: return 0.65;
  case drawing::Tone::paper: return 1;
  }
  return 0;
}

quantity::Error not_written(const std::string& file) {
  return {
      "not-written",
      fmt::format("The file {} could not be written; choose a folder that is there, can be written to and has room.",
                  file)};
}

// Cairo does not say when a file of its own could not be written to the end; so it is ours.
cairo_status_t take(void* file, const unsigned char* data, unsigned int length) {
  auto& out = *static_cast<std::ofstream*>(file);
  out.write(reinterpret_cast<const char*>(data), length);
  return out ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

} // namespace

struct Paper::Pages {
  std::string name;
  std::ofstream file;
  cairo_surface_t* surface = nullptr;
  cairo_t* pen = nullptr;

  Pages() = default;
  Pages(const Pages&) = delete;
  Pages& operator=(const Pages&) = delete;
  ~Pages() {
    cairo_destroy(pen);
    cairo_surface_destroy(surface);
  }

  void tone(drawing::Tone its) const {
    const double level = grey(its);
    cairo_set_source_rgb(pen, level, level, level);
  }

  void letters(double height, bool strong) const {
    cairo_select_font_face(pen, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           strong ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(pen, height);
  }

  void path(const std::vector<drawing::Point>& points) const {
    cairo_new_path(pen);
    for (const auto& point : points) cairo_line_to(pen, point.x, point.y);
  }

  // In the figure's units.
  void text(const drawing::Text& its) const {
    letters(its.size, its.strong);
    cairo_text_extents_t wide;
    cairo_text_extents(pen, its.text.c_str(), &wide);
    cairo_font_extents_t tall;
    cairo_font_extents(pen, &tall);
    tone(its.tone);
    cairo_move_to(pen, its.at.x - wide.x_advance / 2, its.at.y + (tall.ascent - tall.descent) / 2);
    cairo_show_text(pen, its.text.c_str());
  }
};

Paper::Paper(std::unique_ptr<Pages> pages) : pages_(std::move(pages)) {}
Paper::Paper(Paper&&) noexcept = default;
Paper& Paper::operator=(Paper&&) noexcept = default;
Paper::~Paper() = default;

quantity::Result<Paper> Paper::open(const std::filesystem::path& file) {
  auto pages = std::make_unique<Pages>();
  pages->name = file.string();
  pages->file.open(file, std::ios::binary | std::ios::trunc);
  if (!pages->file) return not_written(pages->name);
  pages->surface = cairo_pdf_surface_create_for_stream(take, &pages->file, page_width * points_in_a_mm,
                                                       page_height * points_in_a_mm);
  pages->pen = cairo_create(pages->surface);
  cairo_scale(pages->pen, points_in_a_mm, points_in_a_mm);
  cairo_set_line_join(pages->pen, CAIRO_LINE_JOIN_ROUND);
  return Paper(std::move(pages));
}

void Paper::next_page() {
  cairo_show_page(pages_->pen);
}

void Paper::text(double x, double y, std::string_view line, double height, Weight weight) {
  pages_->letters(height, weight == Weight::strong);
  cairo_font_extents_t tall;
  cairo_font_extents(pages_->pen, &tall);
  pages_->tone(drawing::Tone::ink);
  cairo_move_to(pages_->pen, x, y + tall.ascent);
  cairo_show_text(pages_->pen, std::string(line).c_str());
}

double Paper::width_of(std::string_view line, double height, Weight weight) const {
  pages_->letters(height, weight == Weight::strong);
  cairo_text_extents_t wide;
  cairo_text_extents(pages_->pen, std::string(line).c_str(), &wide);
  return wide.x_advance;
}

void Paper::figure(const drawing::Figure& figure, double x, double y, double width, double height) {
  cairo_t* pen = pages_->pen;
  const double scale = std::min(width / figure.width, height / figure.height);
  cairo_save(pen);
  cairo_translate(pen, x + (width - figure.width * scale) / 2, y + (height - figure.height * scale) / 2);
  cairo_scale(pen, scale, scale);
  for (const auto& polygon : figure.polygons) {
    pages_->tone(polygon.fill);
    pages_->path(polygon.points);
    cairo_fill(pen);
  }
  for (const auto& line : figure.lines) {
    pages_->tone(line.tone);
    pages_->path(line.points);
    cairo_set_line_width(pen, line.width);
    cairo_stroke(pen);
  }
  for (const auto& text : figure.texts) pages_->text(text);
  cairo_restore(pen);
}

quantity::Result<void> Paper::close() {
  cairo_show_page(pages_->pen);
  const bool drawn = cairo_status(pages_->pen) == CAIRO_STATUS_SUCCESS;
  cairo_surface_finish(pages_->surface);
  const bool whole = cairo_surface_status(pages_->surface) == CAIRO_STATUS_SUCCESS;
  pages_->file.close();
  if (!drawn || !whole || !pages_->file) return not_written(pages_->name);
  return {};
}

} // namespace handover
