#include "record/folded.h"

#include "build/apply.h"
#include "procedure/reader.h"

#include <fmt/format.h>

#include <algorithm>

namespace record {

using json::Value;

Error unknown_build(std::string_view id) {
  return Error{"unknown-build", fmt::format("There is no build \"{}\" in this shop.", id)};
}

namespace {

constexpr std::int64_t at_once = 1000; // events, between two looks at whether to go on

} // namespace

Result<void> Folded::see(const Store& store, const Event& event) {
  newest_ms = std::max(newest_ms, event.time.utc_ms);
  newest_rules = std::max(newest_rules, event.rules);
  if (event.chain == build::shop_chain) return build::apply(shop, event);
  if (event.seq == 1) {
    const auto* procedure = event.body.find("procedure");
    const bool named = procedure && procedure->is(json::Kind::object);
    const auto plan = plan_of(store, named ? procedure->text_or_empty("sha256") : std::string());
    if (!plan) return plan.error();
    auto begun = build::begin(event, *plan);
    if (!begun) return begun.error();
    builds.insert_or_assign(begun->id, std::move(*begun));
    return {};
  }
  const auto it = builds.find(build::build_of_chain(event.chain));
  if (it == builds.end()) return Error{"bad-event", fmt::format("{} has no beginning.", event.chain)};
  return build::apply(it->second, event);
}

Result<bool> Folded::read_chain(const Store& store, std::string_view chain, std::int64_t since,
                                const Progress& progress) {
  const auto head = store.head(chain);
  if (!head) return head.error();
  const bool any = head->seq > since;
  while (since < head->seq) {
    if (!progress.goes_on("reading the record", static_cast<std::size_t>(since), static_cast<std::size_t>(head->seq)))
      return stopped();
    const auto events = store.events_since(chain, since, at_once);
    if (!events) return events.error();
    if (events->empty()) break;
    for (const auto& event : *events)
      if (const auto seen = see(store, event); !seen) return seen.error();
    since = events->back().seq;
  }
  return any;
}

Result<bool> Folded::take_in(const Store& store) {
  const auto version = store.data_version();
  if (!version) return version.error();
  if (seen_version_ == *version) return false; // nobody else has written
  auto any = read_chain(store, build::shop_chain, shop.events);
  if (!any) return any.error();
  for (auto& [id, its] : builds) {
    const auto more = read_chain(store, build::chain_of_build(id), its.seq);
    if (!more) return more.error();
    any = *any || *more;
  }
  seen_version_ = *version;
  return any;
}

Result<std::shared_ptr<const build::Plan>> Folded::plan_from(const std::string& sha256, std::string_view bytes) {
  const auto it = plans_.find(sha256);
  if (it != plans_.end()) return it->second;
  const auto reading = procedure::read_procedure(bytes);
  if (!reading.procedure) {
    const auto first = std::find_if(reading.remarks.begin(), reading.remarks.end(),
                                    [](const auto& remark) { return remark.severity == procedure::Severity::error; });
    return Error{"bad-procedure",
                 fmt::format("The procedure has faults; the first is in {}.", procedure::line_of(*first, "line"))};
  }
  return plans_.emplace(sha256, std::make_shared<const build::Plan>(reading.procedure)).first->second;
}

Result<std::shared_ptr<const build::Plan>> Folded::plan_of(const Store& store, const std::string& sha256) {
  const auto it = plans_.find(sha256);
  if (it != plans_.end()) return it->second;
  const auto bytes = store.blob(sha256);
  if (!bytes) return bytes.error();
  if (!*bytes) return Error{"store-damaged", "The procedure of a build is missing from the shop file."};
  return plan_from(sha256, **bytes);
}

Result<build::Build*> Folded::build(const Store& store, std::string_view id, const Progress& progress) {
  const auto it = builds.find(id);
  if (it != builds.end()) return &it->second;
  if (!shop.builds.count(id)) return unknown_build(id);
  const auto read = read_chain(store, build::chain_of_build(id), 0, progress);
  if (!read) {
    if (const auto half = builds.find(id); half != builds.end()) builds.erase(half);
    return read.error();
  }
  const auto found = builds.find(id);
  if (found == builds.end()) return unknown_build(id);
  return &found->second;
}

Result<Value> find_touched(const Store& store, const build::Shop& shop, const Value& action) {
  const std::string& id = action.text_or_empty("gauge");
  const auto* gauge = shop.gauge(id);
  if (action.text_or_empty("do") != "update-gauge" || action.text_or_empty("found") != "out" || !gauge) return Value();
  std::optional<calc::Date> from = gauge->calibrated;
  if (const auto since = calc::parse_date(action.text_or_empty("since"))) from = *since;
  const auto chains = store.chains();
  if (!chains) return chains.error();
  std::vector<Value> touched;
  for (const auto& chain : *chains) {
    if (chain == build::shop_chain) continue;
    const auto events = store.events_since(chain, 0);
    if (!events) return events.error();
    for (const auto& event : *events) {
      const auto* its = event.body.find("gauge");
      const auto* setting = event.body.find("setting");
      const bool set_on = setting && setting->is(json::Kind::object) && setting->text_or_empty("with") == id;
      const bool used = set_on || (its && its->is(json::Kind::object) && its->text_or_empty("gauge") == id);
      if (!used || (from && calc::local_date(event.time) < *from)) continue;
      Value item = Value::object({{"build", Value::text(std::string(build::build_of_chain(chain)))},
                                  {"step", event.body.at("step")},
                                  {"entry", event.body.at("entry")}});
      if (std::find(touched.begin(), touched.end(), item) == touched.end()) touched.push_back(std::move(item));
    }
  }
  return Value::array(std::move(touched));
}

} // namespace record
