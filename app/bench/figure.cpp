#include "bench/figure.h"

#include "bench/fonts.h"
#include "bench/theme.h"
#include "bench/widgets.h"

#include <algorithm>

namespace bench {

namespace {

bool is_convex(const std::vector<ImVec2>& points) {
  bool left = false;
  bool right = false;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const ImVec2 a = points[i];
    const ImVec2 b = points[(i + 1) % points.size()];
    const ImVec2 c = points[(i + 2) % points.size()];
    const float turn = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    left = left || turn < 0;
    right = right || turn > 0;
  }
  return !(left && right);
}

void fill(ImDrawList& list, const std::vector<ImVec2>& points, ImU32 colour) {
  if (is_convex(points)) {
    list.AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), colour);
    return;
  }
  const ImDrawListFlags flags = list.Flags;
  list.Flags &= ~ImDrawListFlags_AntiAliasedFill; // else the slices show their seams
  const std::size_t n = points.size();
  for (std::size_t i = 0; i + 1 < n / 2; ++i)
    list.AddQuadFilled(points[i], points[i + 1], points[n - 2 - i], points[n - 1 - i], colour);
  list.Flags = flags;
}

// The font whose letters need to be stretched least.
ImFont* font_for(float size, bool strong) {
  if (!strong) return fonts().text;
  for (ImFont* font : {fonts().strong, fonts().large, fonts().huge})
    if (size <= font->FontSize) return font;
  return fonts().huge;
}

} // namespace

void draw(const drawing::Figure& figure, ImVec2 at, float scale) {
  auto& list = *ImGui::GetWindowDrawList();
  const auto place = [&](const drawing::Point& p) {
    return ImVec2(at.x + static_cast<float>(p.x) * scale, at.y + static_cast<float>(p.y) * scale);
  };
  std::vector<ImVec2> points;
  const auto take = [&](const std::vector<drawing::Point>& from) {
    points.clear();
    for (const auto& point : from) points.push_back(place(point));
  };
  for (const auto& polygon : figure.polygons) {
    take(polygon.points);
    fill(list, points, colour(polygon.fill));
  }
  for (const auto& line : figure.lines) {
    take(line.points);
    list.AddPolyline(points.data(), static_cast<int>(points.size()), colour(line.tone), 0,
                     std::max(1.0f, static_cast<float>(line.width) * scale));
  }
  for (const auto& text : figure.texts) {
    const float size = static_cast<float>(text.size) * scale;
    ImFont* font = font_for(size, text.strong);
    const char* end = text.text.data() + text.text.size();
    const ImVec2 room = font->CalcTextSizeA(size, 1e9f, 0, text.text.data(), end);
    const ImVec2 middle = place(text.at);
    const ImVec2 low(text.from_left ? middle.x : middle.x - room.x / 2, middle.y - room.y / 2);
    list.AddText(font, size, low, colour(text.tone), text.text.data(), end);
    list_text(text.text, low, ImVec2(low.x + room.x, low.y + room.y));
  }
}

void show(const drawing::Figure& figure) {
  draw(figure, ImGui::GetCursorScreenPos(), 1);
  ImGui::Dummy(ImVec2(static_cast<float>(figure.width), static_cast<float>(figure.height)));
}

} // namespace bench
