// Fills page after page from the top down, each with the head and foot that every page carries.
#pragma once

#include "handover/content.h"
#include "handover/paper.h"

namespace handover {

constexpr double margin = 18; // mm, left and right
constexpr double text_width = page_width - 2 * margin;
constexpr double plain_text = 3.1; // height of letters
constexpr double small_text = 2.6;

class Flow {
public:
  // `pages`: how many there will be, for "page 2 of 9"; 0 when they are only counted.
  Flow(Paper& paper, const Content& content, int pages);

  Paper& paper() { return paper_; }
  double y() const { return y_; }
  void down(double by) { y_ += by; }
  // Begins another page unless there is so much room left.
  void room_for(double height);
  void new_page();

  // Each wrapped, and moves down behind it.
  void title(const std::string& text);   // of a chapter, with its bookmark
  void section(const std::string& text); // one below, with its bookmark
  void heading(const std::string& text);
  void text(const std::string& text, double indent = 0, double height = plain_text, Weight weight = Weight::plain);
  void fact(const std::string& name, const std::string& value); // in two columns
  void bullets(const std::vector<std::string>& lines);          // one below the other, each with a dash

  int finish(); // the foot of the last page; how many pages there were

private:
  void foot();
  void head();
  Paper& paper_;
  const Content& content_;
  int pages_ = 0;
  int page_ = 1;
  double y_ = 0;
};

} // namespace handover
