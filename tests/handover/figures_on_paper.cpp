// Writes a PDF with every figure there is, and says what stands on it, for paper_test.py to look at: a line of JSON a
// page, {"title", "polygons", "lines", "texts"}.
#include "drawing/lever.h"
#include "drawing/series.h"
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
  drawing::Series out{"N.m", {}, std::nullopt, 6, "up to 6 N.m", 3, "Turns much harder after 1: look there."};
  for (const auto& [name, text, value] :
       {std::tuple{"3", "2.0", 2.0}, {"2", "2.6", 2.6}, {"4", "3.1", 3.1}, {"1", "6.4", 6.4}, {"5", "6.8", 6.8}})
    out.bars.push_back({name, text, value, value > 6 ? "outside" : ""});
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
  return paper->close() ? 0 : 1;
}
