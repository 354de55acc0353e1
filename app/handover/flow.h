// Fills page after page from the top down, each with the head and foot that every page carries.
#pragma once

#include "handover/content.h"
#include "handover/paper.h"

#include <map>

namespace handover {

constexpr double margin = 18; // mm, left and right
constexpr double text_width = page_width - 2 * margin;
constexpr double plain_text = 3.1; // height of letters
constexpr double small_text = 2.6;

// Where things stand, known once all pages have been laid out: for "page 2 of 9" and "more on page 3".
struct Places {
  int pages = 0;
  std::map<std::string, int> chapters; // page by title
};

enum class Begin { page, here }; // here: below what is there, when that leaves room

class Flow {
public:
  // `known`: from laying out the same content before; empty when this is the first time.
  Flow(Paper& paper, const Content& content, Places known);

  Paper& paper() { return paper_; }
  double y() const { return y_; }
  double left_over() const; // down to the foot
  void down(double by) { y_ += by; }
  int page() const { return page_; }
  int page_of(const std::string& chapter) const; // 0: not known yet, or there is none

  // Begins another page unless there is so much room left.
  void room_for(double height);
  void new_page();

  // Each wrapped, and moves down behind it.
  void title(const std::string& text, Begin begin); // of a chapter, with its bookmark
  void section(const std::string& text);            // one below, with its bookmark
  void heading(const std::string& text);
  void text(const std::string& text, double indent = 0, double height = plain_text, Weight weight = Weight::plain);
  void bullet(const std::string& line, double height = plain_text);

  Places finish(); // the foot of the last page; where everything stands

private:
  void foot();
  void head();
  Paper& paper_;
  const Content& content_;
  Places known_;
  Places found_;
  int page_ = 1;
  double y_ = 0;
};

// Two columns from where the flow stands; the second is filled after the first, and then the next page.
class Columns {
public:
  Columns(Flow& flow, double left, double right, double gap); // from and to, mm across the page

  // Both come out about as tall as the other, for so much to come, as far as there is room on the page.
  void balance(double all);

  double x() const { return left_ + (second_ ? width_ + gap_ : 0); }
  double y() const { return y_; }
  double width() const { return width_; }
  void down(double by);
  void room_for(double height);
  void text(const std::string& text, double height, Weight weight = Weight::plain, double indent = 0);
  void bullet(const std::string& line, double height);
  void next(); // what comes begins a column
  void end();  // the flow goes on below both

private:
  Flow& flow_;
  double left_, width_, gap_;
  double top_, y_;
  double lowest_;
  double first_ends_; // how far down the first column goes on this page
  bool second_ = false;
};

} // namespace handover
