// Writes a PDF with every figure there is, and says what stands on it, for paper_test.py to look at: a line of JSON a
// page, {"title", "polygons", "lines", "texts"}.
#include "drawing/between.h"
#include "drawing/depths.h"
#include "drawing/diameters.h"
#include "drawing/face.h"
#include "drawing/heights.h"
#include "drawing/lever.h"
#include "drawing/profile.h"
#include "drawing/rings.h"
#include "drawing/series.h"
#include "drawing/stack.h"
#include "drawing/train.h"
#include "handover/fontconfig_keeps.h"
#include "handover/paper.h"

#include "drawing/joints.h"
#include "json/value.h"
#include "json/write.h"

#include <cstdio>

namespace {

using json::Value;

void put(handover::Paper& paper, bool& first, const std::string& title, const drawing::Figure& figure) {
  if (!first) paper.next_page();
  first = false;
  paper.text(20, 20, title, 8, handover::Weight::strong);
  paper.figure(figure, 20, 40, 170, 120);
  Value texts = Value::array();
  texts.push(Value::text(title));
  for (const auto& text : figure.texts) texts.push(Value::text(text.text));
  const Value line = Value::object({{"title", Value::text(title)},
                                    {"polygons", Value::integer(static_cast<std::int64_t>(figure.polygons.size()))},
                                    {"lines", Value::integer(static_cast<std::int64_t>(figure.lines.size()))},
                                    {"texts", std::move(texts)}});
  std::puts(json::compact(line).c_str());
}

drawing::Series turning() {
  drawing::Series out{"N.m", {}, std::nullopt, 6, "at most 6 N.m", 3, "Turns much harder after 1: look there."};
  for (const auto& [name, text, value] :
       {std::tuple{"3", "2.0", 2.0}, {"2", "2.6", 2.6}, {"4", "3.1", 3.1}, {"1", "6.4", 6.4}, {"5", "6.8", 6.8}})
    out.bars.push_back({name, text, value, value > 6 ? "outside" : ""});
  return out;
}

drawing::Crown crown(bool found) {
  drawing::Crown out{"arrow, to the front",
                     0,
                     90,
                     "camshaft side",
                     {{"1", "Top ring", 1, 40, std::nullopt, ""},
                      {"2", "Second ring", 2, 280, std::nullopt, ""},
                      {"3a", "Oil ring", 3, 160, std::nullopt, ""},
                      {"3b", "Joint of its spring", 3, 340, std::nullopt, ""}},
                     std::nullopt};
  if (!found) return out;
  for (std::size_t i = 0; i < out.rings.size(); ++i) {
    out.rings[i].found = i == 1 ? 50 : out.rings[i].angle + 5;
    out.rings[i].found_text = i == 1 ? "50" : std::to_string(static_cast<int>(*out.rings[i].found));
  }
  return out;
}

// The head of tests/calc/flatness_test.cpp: flat within 41.5 um.
drawing::Heights head() {
  drawing::Heights out;
  out.unit = "um";
  std::vector<quantity::Exact> measured;
  const std::vector<int> heights = {0, -18, -22, 3, 5, -25, -31, 8, 12, -9, -14, 20};
  for (std::size_t i = 0; i < heights.size(); ++i) {
    out.points.push_back({"", {100.0 * static_cast<double>(i % 4), 60.0 * static_cast<double>(i / 4)}, true, 0, ""});
    measured.emplace_back(heights[i]);
  }
  drawing::map_of(out, measured, 1);
  return out;
}

} // namespace

int main(int count, char** arguments) {
  if (count != 2) return 2;
  auto paper = handover::Paper::open(arguments[1]);
  if (!paper) {
    std::fprintf(stderr, "%s\n", paper.error().message.c_str());
    return 1;
  }
  constexpr drawing::Room room{170, 120, 4};
  bool first = true;
  for (const auto& [name, joint] : drawn::all()) put(*paper, first, name, drawing::pattern(joint, room));
  put(*paper, first, "turning", drawing::bars(turning(), room));
  for (const int angle : {0, 45, 90, 150})
    put(*paper, first, "adapter at " + std::to_string(angle),
        drawing::lever({400, 120, angle, quantity::Exact(1)}, room));
  drawing::Diameters bore{true,
                          {"front", "rear"},
                          drawing::directions_of({"square to the split", "30 degrees left", "30 degrees right"}),
                          1,
                          1};
  put(*paper, first, "where to measure a bore", drawing::places(bore, {170, 70, 5}));
  drawing::Diameters journal{false, {"top", "middle", "bottom"}, drawing::directions_of({"along", "across"}), 0, 0};
  put(*paper, first, "where to measure a journal", drawing::places(journal, {170, 70, 5}));
  drawing::Profile profile{{"top", "middle", "bottom"},
                           {{"along", {82.51, 82.515, 82.512}, {"82.510", "82.515", "82.512"}},
                            {"across", {82.514, 82.53, 82.513}, {"82.514", "82.530", "82.513"}}},
                           82.5,
                           82.52,
                           "82.500 to 82.520 mm",
                           "0.02 mm from smallest to largest"};
  put(*paper, first, "profile", drawing::profile_of(profile, {170, 70, 5}));
  drawing::Face face{{{"left edge", {0.08, 0.05}, {0.08, 0.95}, "0.02", ""},
                      {"diagonal one way", {0.06, 0.94}, {0.94, 0.06}, "0.07", "outside"},
                      {"diagonal other way", {0.94, 0.94}, {0.06, 0.06}, "", ""}},
                     2,
                     std::nullopt};
  put(*paper, first, "face", drawing::lines_on(face, {170, 90, 5}));
  drawing::Depths depths{{{"top", "1.10", 1.1}, {"right", "1.20", 1.2}, {"bottom", "1.10", 1.1}, {"left", "1.00", 1.0}},
                         "mm",
                         std::nullopt,
                         90,
                         "leans by 0.20 mm"};
  put(*paper, first, "seal", drawing::depths_round(depths, {170, 110, 5}));
  const drawing::Train train{{{"Crankshaft", 26, 0, 90, 0},
                              {"Idler", 39, 0, 80, 0},
                              {"Camshaft", 52, 1, 170, 1},
                              {"Injection pump", 52, 1, 15, 0}}};
  put(*paper, first, "gear train", drawing::gears(train, 0, {170, 120, 5}));
  put(*paper, first, "between limits",
      drawing::band({20.0, 62.0, "0.020", "0.062 mm", 55.0, 6, 80.0, true}, {170, 20, 5}));
  put(*paper, first, "below a limit",
      drawing::band({std::nullopt, 0.05, "", "at most 0.05 mm", 0.07, 0.01, std::nullopt, false}, {170, 20, 5}));
  put(*paper, first, "ring gaps", drawing::gaps_on(crown(false), {80, 36, 2.4}));
  put(*paper, first, "ring gaps as found", drawing::gaps_on(crown(true), {80, 40, 2.4}));
  put(*paper, first, "flatness", drawing::map(head(), {80, 44, 2.4}));
  put(*paper, first, "a shim too thin",
      drawing::layers({{{"shim fitted", "1.35 mm"}},
                       "1.35 mm: 108 bar",
                       "wanted 1.42 mm: 115 bar",
                       "good: 112 to 120 bar",
                       0.07,
                       "0.07 mm missing",
                       "Take 1.4 mm: 113 bar"},
                      {80, 18, 2.4}));
  put(*paper, first, "a shim too many",
      drawing::layers({{{"washer, side 1", "2.36 mm"}, {"washer, side 2", "2.36 mm"}},
                       "together 4.72 mm: play 0.04 mm",
                       "wanted 4.61 mm: play 0.15 mm",
                       "good: 0.05 to 0.25 mm",
                       -0.11,
                       "0.11 mm too much",
                       "Take 2.31 mm on each side: play 0.14 mm"},
                      {80, 18, 2.4}));
  return paper->close() ? 0 : 1;
}
