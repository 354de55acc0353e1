#include "handover/flow.h"

#include <fmt/format.h>

namespace handover {

namespace {

constexpr double top = 22;
constexpr double bottom = page_height - 20;
constexpr double space = 1;

} // namespace

Flow::Flow(Paper& paper, const Content& content, int pages) : paper_(paper), content_(content), pages_(pages) {
  head();
}

void Flow::head() {
  const std::string left = fmt::format("{}, {}", content_.engine, content_.customer);
  paper_.paragraph(margin, 9, text_width * 0.62, left, small_text);
  const std::string mark = banner(content_);
  if (!mark.empty()) {
    const double wide = paper_.width_of(mark, plain_text, Weight::strong);
    paper_.text(page_width - margin - wide, 9, mark, plain_text, Weight::strong);
  }
  paper_.line(margin, 17, page_width - margin, 17, 0.2);
  y_ = top;
}

void Flow::foot() {
  const double y = page_height - 14;
  paper_.line(margin, y - 2, page_width - margin, y - 2, 0.2);
  paper_.paragraph(margin, y, text_width * 0.75, fmt::format("{} · build {}", content_.shop, content_.build),
                   small_text);
  const std::string page = fmt::format("page {} of {}", page_, pages_);
  paper_.text(page_width - margin - paper_.width_of(page, small_text), y, page, small_text);
}

void Flow::new_page() {
  foot();
  paper_.next_page();
  ++page_;
  head();
}

void Flow::room_for(double height) {
  if (y_ + height > bottom) new_page();
}

void Flow::title(const std::string& text) {
  if (y_ > top) new_page();
  paper_.bookmark(text, 0);
  y_ += paper_.paragraph(margin, y_, text_width, text, 6, Weight::strong) + 3;
}

void Flow::section(const std::string& text) {
  room_for(30);
  paper_.bookmark(text, 1);
  y_ += 2;
  y_ += paper_.paragraph(margin, y_, text_width, text, 4.4, Weight::strong) + 1.5;
}

void Flow::heading(const std::string& text) {
  room_for(16);
  y_ += 2;
  y_ += paper_.paragraph(margin, y_, text_width, text, 3.5, Weight::strong) + space;
}

void Flow::text(const std::string& text, double indent, double height, Weight weight) {
  const double wide = text_width - indent;
  room_for(paper_.paragraph(0, 0, wide, text, height, weight, false));
  y_ += paper_.paragraph(margin + indent, y_, wide, text, height, weight) + space;
}

void Flow::fact(const std::string& name, const std::string& value) {
  constexpr double names = 42;
  room_for(paper_.paragraph(0, 0, text_width - names, value, plain_text, Weight::plain, false));
  paper_.paragraph(margin, y_, names - 2, name, plain_text, Weight::strong);
  y_ += paper_.paragraph(margin + names, y_, text_width - names, value, plain_text) + space;
}

void Flow::bullets(const std::vector<std::string>& lines) {
  for (const auto& line : lines) {
    room_for(paper_.paragraph(0, 0, text_width - 4, line, plain_text, Weight::plain, false));
    paper_.paragraph(margin, y_, 4, "–", plain_text);
    text(line, 4);
  }
}

int Flow::finish() {
  foot();
  return page_;
}

} // namespace handover
