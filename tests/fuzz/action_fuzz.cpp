// Action lines, one after the other, on a build in the middle of its work: each is refused with a code and a sentence,
// or decided, and what is decided applies.
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

// The kept build as it was half way.
const Begun& half_way() {
  static const Begun begun = [] {
    Begun out;
    const auto& kept = kept_shop();
    for (std::size_t e = 0; e < kept.events.size() * 2 / 3; ++e) {
      const auto& event = kept.events[e];
      if (event.chain == build::shop_chain) {
        if (!build::apply(out.shop, event)) std::abort();
      } else if (event.seq == 1) {
        const auto& bytes = kept.blobs.at(event.body.at("procedure").at("sha256").as_text());
        auto started =
            build::begin(event, std::make_shared<const build::Plan>(procedure::read_procedure(bytes).procedure));
        if (!started) std::abort();
        out.build = std::move(*started);
      } else if (!build::apply(out.build, event)) {
        std::abort();
      }
    }
    return out;
  }();
  return begun;
}

void perform(Begun& now, const json::Value& action, bool proves) {
  const build::Actor actor{"ivo", "Ivo Tarrant", "c", {build::Role::owner, build::Role::builder}};
  build::Context context;
  context.now = now.build.last;
  context.now.utc_ms += 60'000;
  context.actor = &actor;
  if (proves) context.authority = &actor;
  context.outside.plan = now.build.plan;
  const auto target = build::target_of(action.text_or_empty("do"));
  if (target == build::Target::none) return;
  const auto decided = target == build::Target::shop ? build::decide_shop(now.shop, action, context)
                                                     : build::decide_build(now.shop, &now.build, action, context);
  if (!decided) {
    if (decided.error().code.empty() || decided.error().message.empty()) std::abort();
    if (decided.error().code == "blocked") build::what_blocks(now.shop, now.build, action, context);
    return;
  }
  build::Event event;
  event.chain = target == build::Target::shop ? "shop" : now.build.id;
  event.seq = (target == build::Target::shop ? now.shop.events : now.build.seq) + 1;
  event.time = context.now;
  event.person = actor.person;
  event.name = actor.name;
  event.kind = action.text_or_empty("do");
  event.body = decided->body;
  event.meaning = decided->meaning;
  json::canonical(event.body);
  if (event.kind == "open-build") return;
  const auto applied = target == build::Target::shop ? build::apply(now.shop, event) : build::apply(now.build, event);
  if (!applied) std::abort();
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Begun now = half_way();
  std::string_view rest(reinterpret_cast<const char*>(data), size);
  for (int line = 0; line < 16 && !rest.empty(); ++line) {
    const auto end = rest.find('\n');
    const auto action = json::read_one(rest.substr(0, end));
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
    if (!action || !action->is(json::Kind::object)) continue;
    perform(now, *action, action->find("passphrase") != nullptr);
  }
  return 0;
}
