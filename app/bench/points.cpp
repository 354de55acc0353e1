#include "bench/points.h"

#include "bench/lengths.h"
#include "bench/widgets.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

int places_of(const quantity::Exact& value) {
  const std::string text = value.text();
  const auto dot = text.find('.');
  return dot == std::string::npos ? 0 : static_cast<int>(text.size() - dot - 1);
}

// All points of an entry are written to the same place, as the gauge shows them: 48.010 beside 48.011.
int places_of(const std::vector<build::Cell>& cells) {
  int most = 0;
  for (const auto& cell : cells)
    for (const auto& one : cell.tries) most = std::max(most, std::min(4, places_of(one.value)));
  return most;
}

// How the values of an entry are written.
struct Writing {
  const quantity::Unit& unit;
  int places;
};

std::string value_text(const build::Cell& cell, const Writing& writing) {
  if (cell.skipped) return "left out";
  return cell.tries.empty() ? "...." : shown_number(cell.value, writing.unit, writing.places);
}

std::string cell_text(const build::Cell& cell, const Writing& writing) {
  std::string out = value_text(cell, writing);
  if (cell.tries.size() > 1) out += fmt::format(" (mean of {})", cell.tries.size());
  if (needs_word(cell.judged.standing)) out += fmt::format(" {}", build::name_of(cell.judged.standing));
  if (cell.judged.conceded) out += ", conceded";
  if (cell.judged.accepted) out += ", accepted";
  if (cell.asked) out += " still true?";
  return out;
}

// What stands in a line, one behind the other.
struct Piece {
  std::string text;
  bool soft = false;
  bool strong = false;
  bool shouts = false;
  bool cursor = false;
};

ImFont* font_of(const Piece& piece) {
  return piece.strong ? fonts().strong : fonts().text;
}

float width_of(const Piece& piece) {
  return font_of(piece)->CalcTextSizeA(font_of(piece)->FontSize, 1e9f, 0, piece.text.c_str()).x;
}

Piece piece_of(const build::Cell& cell, const Writing& writing, bool cursor) {
  return {cell_text(cell, writing), false, needs_word(cell.judged.standing), cell.judged.blocks(), cursor};
}

using Line = std::vector<Piece>;

bool is_label(const Line& line, std::size_t i) {
  return line[i].soft && i + 1 < line.size();
}

void widen(std::vector<float>& widths, const Line& line, std::size_t from, std::size_t to) {
  for (std::size_t i = from; i < std::min(line.size(), to); ++i) {
    widths.resize(std::max(widths.size(), i + 1), 0);
    widths[i] = std::max(widths[i], width_of(line[i]));
  }
}

void show(const Line& line, const std::vector<float>& widths) {
  const float left = ImGui::GetCursorScreenPos().x;
  const float right = left + ImGui::GetContentRegionAvail().x - px(12);
  const float between = ImGui::GetStyle().ItemSpacing.x;
  float x = left;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const float needs = width_of(line[i]) + (is_label(line, i) ? between + width_of(line[i + 1]) : 0);
    const bool fits = i < 2 || x + needs <= right;
    if (i > 0 && fits) ImGui::SameLine();
    if (!fits) x = left + widths.front() + between;
    const ImVec2 low(x, ImGui::GetCursorScreenPos().y);
    ImGui::SetCursorScreenPos(low);
    const Piece& it = line[i];
    say(font_of(it), it.shouts ? theme().shout : it.soft ? theme().soft_ink : theme().ink, it.text);
    const ImVec2 high = ImGui::GetItemRectMax();
    if (it.cursor)
      ImGui::GetWindowDrawList()->AddRect(ImVec2(low.x - 4, low.y - 3), ImVec2(high.x + 4, high.y + 3), theme().ink, 0,
                                          0, 3);
    x += widths[i] + between;
  }
}

// The lines of each position. What stands at the left of them all is in columns, what follows is so for each position.
// What does not fit goes on below.
void show(const std::vector<std::vector<Line>>& positions, std::size_t at_the_left) {
  std::vector<float> all;
  for (const auto& lines : positions)
    for (const auto& line : lines) widen(all, line, 0, at_the_left);
  for (const auto& lines : positions) {
    std::vector<float> widths = all;
    for (const auto& line : lines) widen(widths, line, at_the_left, line.size());
    for (const auto& line : lines) show(line, widths);
  }
}

class Points {
public:
  Points(const build::Build& build, build::EntryAt at, const std::vector<build::Cell>& now,
         const std::vector<build::Cell>& found, std::optional<std::size_t> cursor)
      : step_(build.plan->step(at.step)), entry_(build.plan->entry(at)), shape_(procedure::cells_of(step_, entry_)),
        now_(now), found_(found), cursor_(cursor), writing_{*entry_.unit, std::max(places_of(now), places_of(found))} {}

  bool anything_found() const { return std::ranges::any_of(found_, filled); }

  std::vector<Line> lines(std::size_t position) const {
    const std::size_t first = position * shape_.per_position();
    const std::string head = step_.positions.empty() ? " " : step_.positions[position];
    if (!anything_found()) return {line(head, "", now_, first)};
    const bool found_here =
        std::any_of(found_.begin() + static_cast<std::ptrdiff_t>(first),
                    found_.begin() + static_cast<std::ptrdiff_t>(first + shape_.per_position()), filled);
    if (shape_.per_position() > 1) {
      if (!found_here) return {line(head, "now", now_, first)};
      return {line(head, "as found", found_, first), line(" ", "now", now_, first)};
    }
    return {{{head},
             {found_here ? value_text(found_[first], writing_) + " as found, now" : "now", true},
             piece_of(now_[first], writing_, cursor_ == first)}};
  }

private:
  static bool filled(const build::Cell& cell) { return cell.filled(); }

  Line line(const std::string& head, const char* when, const std::vector<build::Cell>& cells, std::size_t first) const {
    const bool of_old = &cells == &found_;
    Line out = {{head}};
    if (*when != '\0') out.push_back({when, true});
    for (std::size_t r = 0; r < shape_.rows; ++r) {
      if (!entry_.rows.empty()) out.push_back({entry_.rows[r], true});
      for (std::size_t c = 0; c < shape_.columns; ++c) {
        const std::size_t index = first + r * shape_.columns + c;
        out.push_back(piece_of(cells[index], writing_, !of_old && cursor_ == index));
        out.back().soft = of_old;
      }
    }
    return out;
  }

  const procedure::Step& step_;
  const procedure::Entry& entry_;
  procedure::CellShape shape_;
  const std::vector<build::Cell>& now_;
  const std::vector<build::Cell>& found_;
  std::optional<std::size_t> cursor_;
  Writing writing_;
};

} // namespace

bool needs_word(build::Standing standing) {
  return standing == build::Standing::outside || standing == build::Standing::undecided ||
         standing == build::Standing::worn;
}

void points_held(const build::Build& build, build::EntryAt at, const std::vector<build::Cell>& now,
                 const std::vector<build::Cell>& found, std::optional<std::size_t> cursor) {
  const Points points(build, at, now, found, cursor);
  const std::size_t positions = procedure::cells_of(build.plan->step(at.step), build.plan->entry(at)).positions;
  std::vector<std::vector<Line>> lines;
  for (std::size_t p = 0; p < positions; ++p) lines.push_back(points.lines(p));
  const auto& unit = *build.plan->entry(at).unit;
  if (in_inches(unit)) say(fonts().text, theme().soft_ink, "in " + unit_words(unit));
  show(lines, points.anything_found() ? 2 : 1);
}

} // namespace bench
