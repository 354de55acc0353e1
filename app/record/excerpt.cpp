#include "record/excerpt.h"

#include <algorithm>

namespace record {

using json::Kind;
using json::Value;

namespace {

bool is_note(const Event& event) {
  return event.kind == "open-build" || event.kind == "anchor";
}

bool touches(const Event& event, std::string_view build_id) {
  const auto* touched = event.body.find("touched");
  if (!touched || !touched->is(Kind::array)) return false;
  return std::any_of(touched->items().begin(), touched->items().end(), [&](const Value& item) {
    return item.is(Kind::object) && item.text_or_empty("build") == build_id;
  });
}

bool certifies(const Event& event, std::string_view person) {
  if (event.kind == "statement") return event.person == person;
  const auto* asked = event.body.find("asked");
  return (event.kind == "enrol" || event.kind == "new-key") && asked && asked->is(Kind::object) &&
         asked->text_or_empty("person") == person;
}

bool speaks_of(const Event& event, std::string_view build_id) {
  if (event.chain != build::shop_chain) return build::build_of_chain(event.chain) == build_id;
  return is_note(event) ? event.body.text_or_empty("build") == build_id : touches(event, build_id);
}

} // namespace

std::vector<Line> excerpt_of(const std::vector<Event>& events, std::string_view build_id, std::string_view person) {
  const auto last = std::find_if(events.rbegin(), events.rend(), [&](const Event& event) {
    return speaks_of(event, build_id) || (event.chain == build::shop_chain && certifies(event, person));
  });
  std::vector<Line> out;
  for (auto it = events.begin(); it != last.base(); ++it) {
    if (it->chain == build::shop_chain && is_note(*it) && !speaks_of(*it, build_id)) {
      const auto* used = it->body.find("used");
      out.emplace_back(Withheld{it->seq, it->hash, used ? *used : Value()});
    } else if (it->chain == build::shop_chain || speaks_of(*it, build_id)) {
      out.emplace_back(*it);
    }
  }
  return out;
}

} // namespace record
