#include "handover/flow.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

namespace {

constexpr double top = 22;
constexpr double bottom = page_height - 19;
constexpr double space = 1;
constexpr double banner_text = 4.2;
constexpr double of_a_page = 75; // a chapter begins below another one when so much is left

} // namespace

Flow::Flow(Paper& paper, const Content& content, Places known)
    : paper_(paper), content_(content), known_(std::move(known)) {
  head();
}

void Flow::head() {
  const std::string mark = banner(content_);
  const double wide = mark.empty() ? 0 : paper_.width_of(mark, banner_text, Weight::strong);
  if (!mark.empty()) paper_.text(page_width - margin - wide, 9.5, mark, banner_text, Weight::strong);
  const std::string customer = content_.customer.empty() ? "" : ", " + content_.customer;
  paper_.paragraph(margin, 10.5, text_width - wide - 4, content_.engine + customer, small_text);
  paper_.line(margin, 17, page_width - margin, 17, 0.2);
  y_ = top;
}

void Flow::foot() {
  const double y = page_height - 14;
  paper_.line(margin, y - 2, page_width - margin, y - 2, 0.2);
  paper_.paragraph(margin, y, text_width * 0.75, fmt::format("{} · build {}", content_.shop, content_.build),
                   small_text);
  const std::string page = fmt::format("page {} of {}", page_, known_.pages);
  paper_.text(page_width - margin - paper_.width_of(page, small_text), y, page, small_text);
}

double Flow::left_over() const {
  return bottom - y_;
}

int Flow::page_of(const std::string& chapter) const {
  const auto it = known_.chapters.find(chapter);
  return it == known_.chapters.end() ? 0 : it->second;
}

void Flow::new_page() {
  foot();
  paper_.next_page();
  ++page_;
  head();
}

void Flow::room_for(double height) {
  if (y_ > top && y_ + height > bottom) new_page();
}

void Flow::title(const std::string& text, Begin begin) {
  if (begin == Begin::here && y_ > top && left_over() > of_a_page)
    y_ += 8;
  else if (y_ > top)
    new_page();
  found_.chapters.emplace(text, page_);
  paper_.bookmark(text, 0);
  y_ += paper_.paragraph(margin, y_, text_width, text, 6, Weight::strong) + 3;
}

void Flow::section(const std::string& text) {
  room_for(30);
  paper_.bookmark(text, 1);
  if (y_ > top) y_ += 2;
  y_ += paper_.paragraph(margin, y_, text_width, text, 4.4, Weight::strong) + 1.5;
}

void Flow::heading(const std::string& text) {
  room_for(16);
  if (y_ > top) y_ += 2;
  y_ += paper_.paragraph(margin, y_, text_width, text, 3.5, Weight::strong) + space;
}

void Flow::text(const std::string& text, double indent, double height, Weight weight) {
  const double wide = text_width - indent;
  room_for(paper_.paragraph(0, 0, wide, text, height, weight, false));
  y_ += paper_.paragraph(margin + indent, y_, wide, text, height, weight) + space;
}

void Flow::bullet(const std::string& line, double height) {
  room_for(paper_.paragraph(0, 0, text_width - 4, line, height, Weight::plain, false));
  paper_.paragraph(margin, y_, 4, "–", height);
  y_ += paper_.paragraph(margin + 4, y_, text_width - 4, line, height) + space;
}

Places Flow::finish() {
  foot();
  found_.pages = page_;
  return found_;
}

Columns::Columns(Flow& flow, double left, double right, double gap)
    : flow_(flow), left_(left), width_((right - left - gap) / 2), gap_(gap), top_(flow.y()), y_(top_), lowest_(top_),
      first_ends_(bottom) {}

void Columns::balance(double all) {
  first_ends_ = std::min(bottom, top_ + all / 2);
}

void Columns::down(double by) {
  y_ += by;
  lowest_ = std::max(lowest_, y_);
}

void Columns::room_for(double height) {
  if (y_ + height > bottom || (!second_ && y_ >= first_ends_)) next();
}

void Columns::next() {
  if (y_ == top_) return;
  if (second_) {
    flow_.new_page();
    top_ = flow_.y();
    lowest_ = top_;
    first_ends_ = bottom;
  }
  second_ = !second_;
  y_ = top_;
}

void Columns::text(const std::string& text, double height, Weight weight, double indent) {
  const double wide = width_ - indent;
  room_for(flow_.paper().paragraph(0, 0, wide, text, height, weight, false));
  down(flow_.paper().paragraph(x() + indent, y_, wide, text, height, weight) + 0.6);
}

void Columns::bullet(const std::string& line, double height) {
  const double tall = flow_.paper().paragraph(0, 0, width_ - 3, line, height, Weight::plain, false);
  room_for(tall);
  flow_.paper().paragraph(x(), y_, 3, "–", height);
  flow_.paper().paragraph(x() + 3, y_, width_ - 3, line, height);
  down(tall + 0.6);
}

void Columns::end() {
  flow_.down(std::max(0.0, lowest_ - flow_.y()));
}

} // namespace handover
