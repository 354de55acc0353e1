// The order's pages: the facts, then each work with a row for each place of the part, words at the left and boxes to
// write in at the right.
#include "handover/flow.h"
#include "handover/order.h"

#include <algorithm>
#include <fmt/format.h>

namespace handover {

namespace {

constexpr double tiny_text = 2.3; // single points, and names in the corner of a box
constexpr double box_tall = 11;   // room to write by hand, under the name
constexpr double initials_wide = 18;
constexpr double boxes_wide = 64;
constexpr double name_wide = 11;
constexpr double gap = 1.2;

bool same(const build::OrderedSize& a, const build::OrderedSize& b) {
  return a.title == b.title && a.text == b.text;
}

// All places are worked to the same sizes, which then stand once at the head.
bool alike(const WorkOrdered& work) {
  return std::all_of(work.places.begin(), work.places.end(), [&](const PlaceOrdered& place) {
    return std::equal(place.sizes.begin(), place.sizes.end(), work.places.front().sizes.begin(),
                      work.places.front().sizes.end(), same);
  });
}

// Lines of words one under the other in one column: drawn, or only how tall they come out.
class Words {
public:
  Words(Paper& paper, double x, double y, double width, bool draw)
      : paper_(paper), x_(x), y_(y), width_(width), draw_(draw) {}
  void add(const std::string& text, double height, Weight weight = Weight::plain, double indent = 0) {
    if (!text.empty()) y_ += paper_.paragraph(x_ + indent, y_, width_ - indent, text, height, weight, draw_) + 0.6;
  }
  double y() const { return y_; }

private:
  Paper& paper_;
  double x_, y_, width_;
  bool draw_;
};

class OrderPages {
public:
  OrderPages(Flow& flow, const OrderSheet& sheet) : flow_(flow), paper_(flow.paper()), sheet_(sheet) {}

  void run() {
    flow_.title(sheet_.title, Begin::page);
    facts();
    if (!sheet_.head.procedure_notice.empty()) flow_.text(sheet_.head.procedure_notice, 0, small_text, Weight::strong);
    for (const auto& one : sheet_.works) work(one);
    closing();
  }

private:
  void facts() {
    constexpr double names = 22;
    for (const auto& it : sheet_.facts) {
      const double tall =
          std::max(paper_.paragraph(margin, flow_.y(), names, it.name, plain_text, Weight::strong),
                   paper_.paragraph(margin + names, flow_.y(), text_width - names, it.value, plain_text));
      flow_.down(tall + 0.6);
    }
    flow_.down(2);
  }

  void work(const WorkOrdered& it) {
    const bool once = alike(it);
    flow_.room_for(20 + tall(it.places.front(), once));
    head(it, it.title, once);
    for (const auto& place : it.places) {
      if (flow_.left_over() < tall(place, once) && &place != &it.places.front()) {
        rule();
        flow_.new_page();
        head(it, it.title + ", continued", once);
      }
      row(place, once);
    }
    rule();
    flow_.down(3);
  }

  void rule() { paper_.line(margin, flow_.y(), page_width - margin, flow_.y(), 0.2); }

  void head(const WorkOrdered& it, const std::string& title, bool sizes) {
    flow_.heading(title);
    if (sizes)
      for (const auto& size : it.places.front().sizes) to_size(size);
    if (!it.finish.empty()) flow_.text("Finish: " + it.finish, 0, plain_text);
    flow_.down(0.5);
  }

  void to_size(const build::OrderedSize& size) {
    const std::string what = size.title + ":";
    flow_.room_for(6);
    const double wide = paper_.width_of(what, plain_text);
    paper_.paragraph(margin, flow_.y(), text_width, what, plain_text);
    flow_.down(paper_.paragraph(margin + wide + 1.5, flow_.y(), text_width - wide - 1.5, size.text, plain_text,
                                Weight::strong) +
               0.8);
  }

  double words(const PlaceOrdered& it, bool sizes_above, double y, bool draw) {
    const double left = margin + (it.name.empty() ? 0 : name_wide);
    Words out(paper_, left, y, page_width - margin - boxes_wide - 3 - left, draw);
    if (!sizes_above)
      for (const auto& size : it.sizes)
        out.add(fmt::format("{}: {}", size.title, size.text), plain_text, Weight::strong);
    out.add(it.remark, plain_text);
    for (const auto& found : it.found) out.add("Found: " + found, small_text);
    for (std::size_t m = 0; m < it.measured.size(); ++m) {
      out.add(it.measured[m], small_text);
      out.add(it.points[m], tiny_text, Weight::plain, 3);
    }
    return out.y() - y;
  }

  double boxes_tall(const PlaceOrdered& it) const {
    return box_tall * static_cast<double>(std::max<std::size_t>(1, it.sizes.size()));
  }

  double tall(const PlaceOrdered& it, bool sizes_above) {
    return std::max(words(it, sizes_above, 0, false), boxes_tall(it)) + 2 * gap;
  }

  void row(const PlaceOrdered& it, bool sizes_above) {
    const double high = tall(it, sizes_above);
    flow_.room_for(high);
    rule();
    const double y = flow_.y() + gap;
    if (!it.name.empty()) paper_.paragraph(margin, y, name_wide - 1, it.name, 3.5, Weight::strong);
    words(it, sizes_above, y, true);
    boxes(it, y);
    flow_.down(high);
  }

  void boxes(const PlaceOrdered& it, double y) {
    const double left = page_width - margin - boxes_wide;
    const auto named = [&](const Area& area, const std::string& name) {
      paper_.frame(area, 0.2);
      paper_.paragraph(area.x + 0.8, area.y + 0.4, area.width - 1.2, name, tiny_text);
    };
    const double rows = boxes_tall(it) / box_tall;
    for (std::size_t s = 0; s < static_cast<std::size_t>(rows); ++s)
      named({left, y + static_cast<double>(s) * box_tall, boxes_wide - initials_wide, box_tall},
            it.sizes.size() > 1 ? it.sizes[s].title + ", made" : "size made");
    named({left + boxes_wide - initials_wide, y, initials_wide, boxes_tall(it)}, "initials");
  }

  void signed_line(const std::string& what) {
    flow_.down(5);
    const double y = flow_.y();
    const double wide = paper_.width_of(what, plain_text) + 2;
    paper_.text(margin, y, what, plain_text);
    paper_.line(margin + wide, y + 3.6, margin + 122, y + 3.6, 0.2);
    paper_.text(margin + 126, y, "date", plain_text);
    paper_.line(margin + 136, y + 3.6, page_width - margin, y + 3.6, 0.2);
    flow_.down(5);
  }

  void closing() {
    flow_.room_for(46);
    flow_.text("The engine maker's manual and the machine shop's own judgement come first: where a size asked for here "
               "does not fit the part, ask before it is cut.",
               0, small_text, Weight::strong);
    flow_.text("Every part is measured again on its return, before it is fitted. The sizes written into the boxes are "
               "compared with what is measured then.",
               0, small_text);
    signed_line("Done at the machine shop by");
    signed_line("Received back by");
  }

  Flow& flow_;
  Paper& paper_;
  const OrderSheet& sheet_;
};

quantity::Result<Places> drawn(Paper& paper, const OrderSheet& sheet, const Places& known) {
  paper.about({sheet.title, sheet.head.shop, sheet.head.engine, sheet.head.written_at});
  Flow flow(paper, sheet.head, known);
  OrderPages(flow, sheet).run();
  Places found = flow.finish();
  if (const auto closed = paper.close(); !closed) return closed.error();
  return found;
}

} // namespace

quantity::Result<std::string> pages_of(const OrderSheet& sheet) {
  Paper measuring = Paper::for_measuring();
  const auto places = drawn(measuring, sheet, {});
  if (!places) return places.error();
  Paper paper = Paper::in_memory(measuring);
  if (const auto done = drawn(paper, sheet, *places); !done) return done.error();
  return paper.bytes();
}

} // namespace handover
