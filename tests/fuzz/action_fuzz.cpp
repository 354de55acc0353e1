// "EVENTS" and action lines below it, played on the kept build as it was after that many events: each is refused with a
// code and a sentence, or decided, and what is decided applies.
#include "build/apply.h"
#include "build/decide.h"
#include "fuzz/kept_shop.h"
#include "procedure/reader.h"
#include "json/read.h"
#include "json/write.h"

#include <cstdint>

namespace {

struct Begun {
  build::Shop shop;
  build::Build build;
};

// The kept shop as it was after each of its events, from the one that opened its build.
const std::vector<Begun>& all_along() {
  static const std::vector<Begun> standings = [] {
    std::vector<Begun> out;
    Begun now;
    const auto& kept = kept_shop();
    for (const auto& event : kept.events) {
      if (event.chain == build::shop_chain) {
        if (!build::apply(now.shop, event)) std::abort();
      } else if (event.seq == 1) {
        const auto& bytes = kept.blobs.at(event.body.at("procedure").at("sha256").as_text());
        auto started =
            build::begin(event, std::make_shared<const build::Plan>(procedure::read_procedure(bytes).procedure));
        if (!started) std::abort();
        now.build = std::move(*started);
      } else if (!build::apply(now.build, event)) {
        std::abort();
      }
      if (now.build.plan) out.push_back(now);
    }
    return out;
  }();
  return standings;
}

// The first line's number, taken off.
std::size_t number_before(std::string_view& rest) {
  std::size_t number = 0, at = 0;
  while (at < rest.size() && at < 4 && rest[at] >= '0' && rest[at] <= '9')
    number = number * 10 + static_cast<std::size_t>(rest[at++] - '0');
  rest.remove_prefix(std::min(rest.size(), at + 1));
  return number;
}

// Ivo is signed in; a passphrase in the line is always the right one.
void perform(Begun& now, const json::Value& action) {
  static const build::Actor ivo{"ivo", "Ivo Tarrant", "c", {build::Role::owner, build::Role::builder}};
  static const build::Actor maud{"maud", "Maud Fenwick", "d", {build::Role::owner, build::Role::inspector}};
  const bool proves = action.find("passphrase") != nullptr;
  const build::Actor& actor = proves && action.text_or_empty("person") == maud.person ? maud : ivo;
  build::Context context;
  context.now = now.build.last;
  context.now.utc_ms += 60'000;
  context.actor = &ivo;
  if (proves) context.authority = &actor;
  context.outside.plan = now.build.plan;
  const auto target = build::target_of(action.text_or_empty("do"));
  if (target == build::Target::none) return;
  const auto decided = target == build::Target::shop ? build::decide_shop(now.shop, action, context)
                                                     : build::decide_build(now.shop, &now.build, action, context);
  if (!decided) {
    if (decided.error().code.empty() || decided.error().message.empty()) std::abort();
    if (decided.error().code == "blocked" && action.text_or_empty("do") != "open-build" &&
        build::what_blocks(now.shop, now.build, action, context).empty())
      std::abort();
    return;
  }
  build::Event event;
  event.chain = target == build::Target::shop ? std::string(build::shop_chain) : build::chain_of_build(now.build.id);
  event.seq = (target == build::Target::shop ? now.shop.events : now.build.seq) + 1;
  event.time = context.now;
  event.person = actor.person;
  event.name = actor.name;
  event.kind = action.text_or_empty("do");
  event.body = decided->body;
  event.meaning = decided->meaning;
  const std::string written = json::canonical(event.body);
  const auto read = json::read_one(written);
  if (!read || json::canonical(*read) != written) std::abort();
  if (event.kind == "open-build") return;
  if (event.kind == "reopen" && !build::preview_reopen(now.shop, now.build, action, context)) std::abort();
  const auto applied = target == build::Target::shop ? build::apply(now.shop, event) : build::apply(now.build, event);
  if (!applied) std::abort();
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view rest(reinterpret_cast<const char*>(data), size);
  const auto& standings = all_along();
  Begun now = standings[number_before(rest) % standings.size()];
  for (int line = 0; line < 16 && !rest.empty(); ++line) {
    const auto end = rest.find('\n');
    const auto action = json::read_one(rest.substr(0, end));
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
    if (!action || !action->is(json::Kind::object)) continue;
    perform(now, *action);
  }
  return 0;
}
