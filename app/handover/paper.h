// Pages of A4, upright, in a PDF file: lines of text and figures, or only how much room they would take. What is drawn
// can be told apart when printed in grey. Lengths are in mm from the upper left corner of the page, y downwards.
#pragma once

#include "drawing/figure.h"
#include "quantity/result.h"

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace handover {

constexpr double page_width = 210;
constexpr double page_height = 297;

enum class Weight { plain, strong };

struct Area {
  double x = 0, y = 0, width = 0, height = 0;
};

// What a reader's program shows about the file. `written_at` (ISO 8601) stands for the clock, so that the same pages
// give the same bytes.
struct About {
  std::string title, author, subject;
  std::string written_at;
};

// A line of letters as it was written: where its baseline begins, and the size of the letters.
struct Written {
  int page = 1;
  double x = 0, y = 0, height = 0;
  Weight weight = Weight::plain;
  std::string text;
};

// While there is a list, every paper that is not for measuring adds to it what it writes. For measuring; null ends it.
void list_what_is_written(std::vector<Written>* list);

class Paper {
public:
  // Replaces a file that is there; the first page is open. Code "not-written".
  static quantity::Result<Paper> open(const std::filesystem::path& file);
  // The same without a file: the bytes are taken with `bytes` once it is closed.
  static Paper in_memory();
  // Draws nothing and has no bytes: says how wide and tall things come out, and remembers it for a paper `like` it.
  static Paper for_measuring();
  static Paper in_memory(const Paper& like);
  Paper(Paper&&) noexcept;
  Paper& operator=(Paper&&) noexcept;
  ~Paper(); // a file that was not closed may be without its end

  void about(const About& about);
  void next_page();
  // An entry of the reader's table of contents that leads to the page at work; level 0 or 1.
  void bookmark(const std::string& title, int level);
  // A line from its left end; `height` is that of the letters with what reaches below the line. Not wrapped.
  void text(double x, double y, std::string_view line, double height, Weight weight = Weight::plain);
  double width_of(std::string_view line, double height, Weight weight = Weight::plain) const;
  // Wrapped to the width, from the upper left corner; returns how tall it came out. `draw` false: only measured.
  double paragraph(double x, double y, double width, std::string_view text, double height,
                   Weight weight = Weight::plain, bool draw = true);
  // Lines and boxes are drawn when the page is full, so that many are one: those of a tone, boxes beneath, then lines
  // of one width after the other in the order in which they came up on the page.
  void line(double x1, double y1, double x2, double y2, double width, drawing::Tone tone = drawing::Tone::ink);
  void box(double x, double y, double width, double height, drawing::Tone fill);
  void boxes(const std::vector<Area>& areas, drawing::Tone fill); // without seams
  void frame(const Area& area, double width);
  // As large as it can be inside the rectangle, in its middle.
  void figure(const drawing::Figure& figure, double x, double y, double width, double height);

  // Writes the end of the file; nothing may be drawn afterwards. Code "not-written".
  quantity::Result<void> close();
  std::string bytes() const; // of a paper in memory that was closed

private:
  struct Pages;
  double baseline(double height, Weight weight) const; // of a line, below its top
  bool plainly_shorter(std::string_view text, double height, Weight weight, double width) const;
  explicit Paper(std::unique_ptr<Pages> pages);
  std::unique_ptr<Pages> pages_;
};

} // namespace handover
