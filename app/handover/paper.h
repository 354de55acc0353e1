// Pages of A4, upright, in a PDF file: lines of text and figures. What is drawn can be told apart when printed in grey.
// Lengths are in mm from the upper left corner of the page, y downwards.
#pragma once

#include "drawing/figure.h"
#include "quantity/result.h"

#include <filesystem>
#include <memory>
#include <string_view>

namespace handover {

constexpr double page_width = 210;
constexpr double page_height = 297;

enum class Weight { plain, strong };

class Paper {
public:
  // Replaces a file that is there; the first page is open. Code "not-written".
  static quantity::Result<Paper> open(const std::filesystem::path& file);
  Paper(Paper&&) noexcept;
  Paper& operator=(Paper&&) noexcept;
  ~Paper(); // a file that was not closed may be without its end

  void next_page();
  // A line from its left end; `height` is that of the letters with what reaches below the line. Not wrapped.
  void text(double x, double y, std::string_view line, double height, Weight weight = Weight::plain);
  double width_of(std::string_view line, double height, Weight weight = Weight::plain) const;
  // As large as it can be inside the rectangle, in its middle.
  void figure(const drawing::Figure& figure, double x, double y, double width, double height);

  // Writes the end of the file; nothing may be drawn afterwards. Code "not-written".
  quantity::Result<void> close();

private:
  struct Pages;
  explicit Paper(std::unique_ptr<Pages> pages);
  std::unique_ptr<Pages> pages_;
};

} // namespace handover
