#include "handover/paper.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <unordered_map>

namespace handover {

namespace {

constexpr double points_in_a_mm = 72 / 25.4;

std::vector<Written>* listed = nullptr;

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
  auto& out = *static_cast<std::ostream*>(file);
  out.write(reinterpret_cast<const char*>(data), length);
  return out ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

// A text and how it is set, as one word to look up.
std::string key_of(double width, std::string_view text, double height, Weight weight) {
  const std::array<double, 3> how{width, height, weight == Weight::strong ? 1.0 : 0.0};
  std::string out(reinterpret_cast<const char*>(how.data()), sizeof how);
  return out.append(text);
}

} // namespace

// A height or width as it came out; and the layout there had to be for it, which is drawn as it is.
struct Length {
  double length = 0;
  std::unique_ptr<PangoLayout, decltype(&g_object_unref)> layout{nullptr, &g_object_unref};
};

using Measured = std::unordered_map<std::string, Length>; // by how they were asked for

// Lines of the same width and tone, drawn as one.
struct Lines {
  double width = 0;
  drawing::Tone tone = drawing::Tone::ink;
  std::vector<std::pair<drawing::Point, drawing::Point>> ends;
};

struct Paper::Pages {
  std::string name;
  std::ofstream file;
  std::ostringstream memory;
  bool measuring = false;
  int chapter = CAIRO_PDF_OUTLINE_ROOT; // the newest bookmark of level 0
  int page = 1;
  std::shared_ptr<Measured> measured = std::make_shared<Measured>();
  std::map<drawing::Tone, std::vector<Area>> boxes; // of the page at work
  std::vector<Lines> ruled;                         // over them
  PangoContext* context = nullptr;
  PangoFontDescription* font = nullptr;
  cairo_surface_t* surface = nullptr;
  cairo_t* pen = nullptr;

  Pages() = default;
  Pages(const Pages&) = delete;
  Pages& operator=(const Pages&) = delete;
  ~Pages() {
    if (context) g_object_unref(context);
    if (font) pango_font_description_free(font);
    cairo_destroy(pen);
    cairo_surface_destroy(surface);
  }

  void begin(std::ostream& out) {
    surface =
        cairo_pdf_surface_create_for_stream(take, &out, page_width * points_in_a_mm, page_height * points_in_a_mm);
    pen = cairo_create(surface);
    cairo_scale(pen, points_in_a_mm, points_in_a_mm);
    cairo_set_line_join(pen, CAIRO_LINE_JOIN_ROUND);
    context = pango_cairo_create_context(pen);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(context, FALSE);
    font = pango_font_description_new();
    pango_font_description_set_family(font, "DejaVu Sans");
  }

  // Laying out is most of the work: never twice for the same text.
  PangoLayout* wrapped(Length& its, double width, std::string_view text, double height, Weight weight) const {
    if (its.layout) return its.layout.get();
    PangoLayout* const layout = pango_layout_new(context);
    its.layout.reset(layout);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_font_description_set_weight(font, weight == Weight::strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, height * points_in_a_mm * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_layout_set_width(layout, static_cast<int>(width * points_in_a_mm * PANGO_SCALE));
    pango_layout_set_text(layout, text.data(), static_cast<int>(text.size()));
    return layout;
  }

  void draw_shapes() {
    for (const auto& [fill, areas] : boxes) {
      tone(fill);
      for (const auto& area : areas) cairo_rectangle(pen, area.x, area.y, area.width, area.height);
      cairo_fill(pen);
    }
    boxes.clear();
    for (const auto& those : ruled) {
      tone(those.tone);
      cairo_new_path(pen);
      for (const auto& [from, to] : those.ends) {
        cairo_move_to(pen, from.x, from.y);
        cairo_line_to(pen, to.x, to.y);
      }
      cairo_set_line_width(pen, those.width);
      cairo_stroke(pen);
    }
    ruled.clear();
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

  // `x`, `y` and `height` by the pen's scale.
  void list(double x, double y, double height, Weight weight, std::string text) const {
    if (!listed) return;
    double across = height;
    double down = 0;
    cairo_user_to_device_distance(pen, &across, &down);
    cairo_user_to_device(pen, &x, &y);
    listed->push_back({page, x / points_in_a_mm, y / points_in_a_mm, across / points_in_a_mm, weight, std::move(text)});
  }

  // The lines of a layout whose upper left corner is where the pen is, in points.
  void list(PangoLayout* lines, double height, Weight weight) const {
    if (!listed) return;
    double x = 0;
    double y = 0;
    cairo_get_current_point(pen, &x, &y);
    PangoLayoutIter* const at = pango_layout_get_iter(lines);
    do {
      const PangoLayoutLine* const line = pango_layout_iter_get_line_readonly(at);
      const char* const text = pango_layout_get_text(lines) + line->start_index;
      list(x, y + pango_layout_iter_get_baseline(at) / double{PANGO_SCALE}, height * points_in_a_mm, weight,
           std::string(text, static_cast<std::size_t>(line->length)));
    } while (pango_layout_iter_next_line(at) != FALSE);
    pango_layout_iter_free(at);
  }

  // `y` is where the letters stand.
  void line(double x, double y, double height, Weight weight, std::string_view text) const {
    letters(height, weight == Weight::strong);
    tone(drawing::Tone::ink);
    const std::string letters_of_it(text);
    list(x, y, height, weight, letters_of_it);
    cairo_move_to(pen, x, y);
    cairo_show_text(pen, letters_of_it.c_str());
  }

  // In the figure's units.
  void text(const drawing::Text& its) const {
    letters(its.size, its.strong);
    cairo_text_extents_t wide;
    cairo_text_extents(pen, its.text.c_str(), &wide);
    cairo_font_extents_t tall;
    cairo_font_extents(pen, &tall);
    tone(its.tone);
    const double x = its.from_left ? its.at.x : its.at.x - wide.x_advance / 2;
    const double y = its.at.y + (tall.ascent - tall.descent) / 2;
    list(x, y, its.size, its.strong ? Weight::strong : Weight::plain, its.text);
    cairo_move_to(pen, x, y);
    cairo_show_text(pen, its.text.c_str());
  }
};

void list_what_is_written(std::vector<Written>* list) {
  listed = list;
}

Paper::Paper(std::unique_ptr<Pages> pages) : pages_(std::move(pages)) {}
Paper::Paper(Paper&&) noexcept = default;
Paper& Paper::operator=(Paper&&) noexcept = default;
Paper::~Paper() = default;

quantity::Result<Paper> Paper::open(const std::filesystem::path& file) {
  auto pages = std::make_unique<Pages>();
  pages->name = file.string();
  pages->file.open(file, std::ios::binary | std::ios::trunc);
  if (!pages->file) return not_written(pages->name);
  pages->begin(pages->file);
  return Paper(std::move(pages));
}

Paper Paper::in_memory() {
  auto pages = std::make_unique<Pages>();
  pages->name = "in memory";
  pages->begin(pages->memory);
  return Paper(std::move(pages));
}

Paper Paper::for_measuring() {
  Paper out = in_memory();
  out.pages_->measuring = true;
  return out;
}

Paper Paper::in_memory(const Paper& like) {
  Paper out = in_memory();
  out.pages_->measured = like.pages_->measured;
  return out;
}

void Paper::about(const About& about) {
  const auto set = [&](cairo_pdf_metadata_t what, const std::string& text) {
    cairo_pdf_surface_set_metadata(pages_->surface, what, text.c_str());
  };
  set(CAIRO_PDF_METADATA_TITLE, about.title);
  set(CAIRO_PDF_METADATA_AUTHOR, about.author);
  set(CAIRO_PDF_METADATA_SUBJECT, about.subject);
  set(CAIRO_PDF_METADATA_CREATOR, "witnessmark");
  std::string date = about.written_at; // cairo reads no parts of a second
  if (const auto dot = date.find('.'); dot != std::string::npos)
    date.erase(dot, date.find_first_not_of("0123456789", dot + 1) - dot);
  set(CAIRO_PDF_METADATA_CREATE_DATE, date);
  set(CAIRO_PDF_METADATA_MOD_DATE, date);
}

void Paper::next_page() {
  pages_->draw_shapes();
  if (!pages_->measuring) cairo_show_page(pages_->pen);
  ++pages_->page;
}

void Paper::bookmark(const std::string& title, int level) {
  if (pages_->measuring) return;
  const std::string where = fmt::format("page={}", pages_->page);
  const int parent = level == 0 ? CAIRO_PDF_OUTLINE_ROOT : pages_->chapter;
  const int made = cairo_pdf_surface_add_outline(pages_->surface, parent, title.c_str(), where.c_str(),
                                                 static_cast<cairo_pdf_outline_flags_t>(0));
  if (level == 0) pages_->chapter = made;
}

// What any line of the font is as tall as.
constexpr std::string_view one_line = "x";

// Whether a text is one line of the font's own letters, found without laying it out: kerning moves it by less than
// there is room left.
bool Paper::plainly_shorter(std::string_view text, double height, Weight weight, double width) const {
  const auto plain = [](char c) { return c >= ' ' && c <= '~'; };
  return std::all_of(text.begin(), text.end(), plain) && width_of(text, height, weight) * 1.03 < width;
}

double Paper::baseline(double height, Weight weight) const {
  const auto [place, fresh] = pages_->measured->try_emplace(key_of(-2, one_line, height, weight));
  auto& its = place->second;
  if (!fresh) return its.length;
  constexpr double any_width = 100;
  const int units = pango_layout_get_baseline(pages_->wrapped(its, any_width, one_line, height, weight));
  return its.length = units / (points_in_a_mm * PANGO_SCALE);
}

double Paper::paragraph(double x, double y, double width, std::string_view text, double height, Weight weight,
                        bool draw) {
  const bool drawn = draw && !pages_->measuring;
  const auto [place, fresh] = pages_->measured->try_emplace(key_of(width, text, height, weight));
  double& tall = place->second.length;
  if (!drawn && !fresh) return tall;
  if (!drawn && text != one_line && plainly_shorter(text, height, weight, width))
    return tall = paragraph(0, 0, width, one_line, height, weight, false);
  if (drawn && !fresh && plainly_shorter(text, height, weight, width)) {
    pages_->line(x, y + baseline(height, weight), height, weight, text);
    return tall;
  }
  PangoLayout* layout = pages_->wrapped(place->second, width, text, height, weight);
  if (fresh) {
    int units = 0;
    pango_layout_get_size(layout, nullptr, &units);
    tall = units / (points_in_a_mm * PANGO_SCALE);
  }
  if (drawn) {
    pages_->tone(drawing::Tone::ink);
    cairo_save(pages_->pen);
    cairo_move_to(pages_->pen, x, y);
    cairo_scale(pages_->pen, 1 / points_in_a_mm, 1 / points_in_a_mm);
    pages_->list(layout, height, weight);
    pango_cairo_show_layout(pages_->pen, layout);
    cairo_restore(pages_->pen);
  }
  return tall;
}

void Paper::line(double x1, double y1, double x2, double y2, double width, drawing::Tone tone) {
  if (pages_->measuring) return;
  auto& ruled = pages_->ruled;
  const auto alike = [&](const Lines& one) { return one.width == width && one.tone == tone; };
  auto those = std::ranges::find_if(ruled, alike);
  if (those == ruled.end()) those = ruled.insert(those, {width, tone, {}});
  those->ends.push_back({{x1, y1}, {x2, y2}});
}

void Paper::box(double x, double y, double width, double height, drawing::Tone fill) {
  boxes({{x, y, width, height}}, fill);
}

void Paper::boxes(const std::vector<Area>& areas, drawing::Tone fill) {
  if (pages_->measuring) return;
  auto& all = pages_->boxes[fill];
  all.insert(all.end(), areas.begin(), areas.end());
}

void Paper::frame(const Area& area, double width) {
  if (pages_->measuring) return;
  pages_->tone(drawing::Tone::ink);
  cairo_rectangle(pages_->pen, area.x, area.y, area.width, area.height);
  cairo_set_line_width(pages_->pen, width);
  cairo_stroke(pages_->pen);
}

void Paper::text(double x, double y, std::string_view line, double height, Weight weight) {
  if (pages_->measuring) return;
  pages_->letters(height, weight == Weight::strong);
  cairo_font_extents_t tall;
  cairo_font_extents(pages_->pen, &tall);
  pages_->line(x, y + tall.ascent, height, weight, line);
}

double Paper::width_of(std::string_view line, double height, Weight weight) const {
  const auto [known, fresh] = pages_->measured->try_emplace(key_of(-1, line, height, weight));
  if (!fresh) return known->second.length;
  pages_->letters(height, weight == Weight::strong);
  cairo_text_extents_t wide;
  cairo_text_extents(pages_->pen, std::string(line).c_str(), &wide);
  return known->second.length = wide.x_advance;
}

void Paper::figure(const drawing::Figure& figure, double x, double y, double width, double height) {
  if (pages_->measuring) return;
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
  if (pages_->measuring) return {};
  pages_->draw_shapes();
  cairo_show_page(pages_->pen);
  const bool drawn = cairo_status(pages_->pen) == CAIRO_STATUS_SUCCESS;
  cairo_surface_finish(pages_->surface);
  const bool whole = cairo_surface_status(pages_->surface) == CAIRO_STATUS_SUCCESS;
  const bool on_disk = pages_->file.is_open();
  pages_->file.close();
  if (!drawn || !whole || (on_disk && !pages_->file)) return not_written(pages_->name);
  return {};
}

std::string Paper::bytes() const {
  return pages_->memory.str();
}

} // namespace handover
