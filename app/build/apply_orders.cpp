// Copying what events say of parts: which is where, sent to the machine shop, and back.
#include "build/copying.h"

#include "build/event.h"

#include <algorithm>
#include <stdexcept>

namespace build {

using json::Value;

namespace {

Sent sent_from(const Value& item) {
  Sent out;
  out.part = item.at("part").as_text();
  out.position = optional_text(item, "position");
  out.work = item.at("work").as_text();
  out.finish = optional_text(item, "finish");
  out.text = optional_text(item, "text");
  if (const auto* sizes = item.find("sizes"))
    for (const auto& size : sizes->items())
      out.sizes.push_back({size.at("title").as_text(), size.at("text").as_text()});
  if (const auto* findings = item.find("findings"))
    for (const auto& id : findings->items()) out.findings.push_back(id.as_text());
  return out;
}

} // namespace

PartPlace part_place(const Value& item) {
  return {item.at("part").as_text(), optional_text(item, "position")};
}

void part(Build& build, const Event& event) {
  const Value& body = event.body;
  const PartPlace place = part_place(body);
  auto& it = build.parts[place];
  it = {};
  it.state = body.at("state").as_text();
  it.size = optional_text(body, "size");
  it.lot = optional_text(body, "lot");
  it.from = optional_text(body, "from");
  it.text = optional_text(body, "text");
  it.expires = optional_text(body, "expires");
  it.used_out_of_date = body.find("out_of_date") != nullptr;
  build.taken_out.erase(place);
}

void send(Build& build, const Event& event) {
  Order order;
  order.id = event.body.at("order").as_text();
  order.to = event.body.at("to").as_text();
  order.text = optional_text(event.body, "text");
  order.sent_name = event.name;
  order.sent = event.time;
  for (const auto& item : event.body.at("lines").items()) order.lines.push_back(sent_from(item));
  build.orders.push_back(std::move(order));
}

void come_back(Build& build, const Event& event) {
  const Value& body = event.body;
  const auto order = std::find_if(build.orders.begin(), build.orders.end(),
                                  [&](const Order& one) { return one.id == body.at("order").as_text(); });
  if (order == build.orders.end()) throw std::logic_error("no such order");
  const std::string state = body.at("state").as_text();
  for (const auto& item : body.at("lines").items()) {
    const std::string part = item.at("part").as_text();
    const std::string position = optional_text(item, "position");
    for (auto& line : order->lines) {
      if (line.part != part || line.position != position || !line.away()) continue;
      line.back_as = state;
      line.back_text = optional_text(body, "text");
      line.back = event.time;
    }
    if (state == "new") build.parts[{part, position}] = {};
    auto& its = build.parts[{part, position}];
    if (state != "reused" || its.state.empty()) its.state = state;
  }
}

} // namespace build
