#include "build/bench.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using build::Event;
using json::Value;

std::string_view Bench::small_engine() {
  return R"({"format":1,"id":"small","title":"A small engine","revision":"1","engine":{"model":"HX4-150"},
"notice":"Invented values.","rule":"simple",
"options":[{"id":"undersize","title":"Journal undersize","choices":["standard","0.25"],"given":"standard"},
           {"id":"pump","title":"Pump fitted","choices":["gear","rotor"]}],
"parts":[{"id":"shell","title":"Shells","positions":["1","2","3"]},{"id":"crank","title":"Crankshaft"},
         {"id":"cap","title":"Caps","positions":["1","2","3"]}],
"limits":{
 "clearance":{"title":"Oil clearance","unit":"mm","standard":{"low":0.020,"high":0.062},"service":{"high":0.100},"basis":"invented example"},
 "journal":{"title":"Journal","unit":"mm","standard":{"low":47.964,"high":47.980},"service":{"low":47.940},"basis":"invented example",
   "when":[{"option":"undersize","is":"0.25","standard":{"low":47.714,"high":47.730}}]},
 "end-play":{"title":"End play","unit":"mm","standard":{"low":0.10,"high":0.28},"basis":"invented example","rule":"guarded"},
 "turning":{"title":"Turning torque","unit":"N.m","standard":{"high":6},"basis":"invented example"},
 "first":{"title":"First stage","unit":"N.m","target":30,"basis":"invented example"},
 "final":{"title":"Final torque","unit":"N.m","target":68,"basis":"invented example"},
 "lift":{"title":"Relief valve lift","unit":"mm","basis":"maker","source":"to be filled in"},
 "face":{"title":"Face","unit":"mm","standard":{"high":0.05},"basis":"invented example"}},
"sections":[
 {"id":"block","title":"Block","steps":[
  {"id":"clean","title":"Clean the block","cautions":[{"word":"WARNING","hazard":"Compressed air","consequence":"blinds","avoid":"Below 2 bar."}],
   "entries":[{"id":"galleries","kind":"confirm","title":"Galleries brushed"}]},
  {"id":"mains","title":"Measure the mains","after":["clean"],"part":"shell","entries":[
   {"id":"bore","kind":"readings","title":"Bore","unit":"mm","rows":["front","rear"]},
   {"id":"journal","kind":"readings","title":"Journal","unit":"mm","rows":["front","rear"],"limit":"journal","parts":["crank"],"loose":true,"may-skip":true},
   {"id":"oil","kind":"calculated","title":"Oil clearance","computation":"clearance","inputs":{"outer":{"entry":"bore"},"inner":{"entry":"journal"}},
    "judge":{"min":"clearance","max":"clearance"},"parts":["shell","crank"]}]},
  {"id":"caps","title":"Fit the caps","after":["mains"],"part":"cap","entries":[
   {"id":"bolts","kind":"tightening","title":"Cap bolts","fasteners":[{"id":"2L","position":"2"},{"id":"2R","position":"2"},
     {"id":"1L","position":"1"},{"id":"1R","position":"1"},{"id":"3L","position":"3"},{"id":"3R","position":"3"}],
    "stages":[{"id":"1","torque":"first"},{"id":"2","torque":"final"}]},
   {"id":"strip","kind":"readings","title":"Strip","unit":"mm","rows":["width"],"by-eye":true,"taken-apart":"lost"}]},
  {"id":"float","title":"Measure the end play","after":["caps"],"hold":true,"entries":[
   {"id":"turning","kind":"reading","title":"Turning torque","unit":"N.m","limit":"turning","taken-apart":"lost"},
   {"id":"dial","kind":"readings","title":"Dial","unit":"mm","rows":["first","second"],"columns":["back","forward"]},
   {"id":"play","kind":"calculated","title":"End play","computation":"end-play","inputs":{"readings":{"entry":"dial"}},"judge":{"play":"end-play"}}]}]},
 {"id":"rest","title":"Rest","steps":[
  {"id":"cover","title":"Fit the cover","after":["clean"],"entries":[
   {"id":"number","kind":"identity","title":"Casting number"},
   {"id":"faces","kind":"choice","title":"Faces","choices":["sound","cracked"],"good":["sound"]},
   {"id":"flat","kind":"reading","title":"Face flat","unit":"mm","limit":"face"},
   {"id":"skin","kind":"wait","title":"Sealant skins","least":{"value":20,"unit":"min"},"most":{"value":60,"unit":"min"}}]},
  {"id":"rotor-pump","title":"Rotor pump","when":[{"option":"pump","is":"rotor"}],"entries":[{"id":"tips","kind":"confirm","title":"Tips"}]},
  {"id":"relief","title":"Relief valve","entries":[{"id":"lift","kind":"reading","title":"Lift","unit":"mm","limit":"lift"}]}]},
 {"id":"start","title":"First start","deferrable":true,"steps":[
  {"id":"run","title":"Run it","after":["float","cover"],"entries":[{"id":"runs","kind":"confirm","title":"It runs"}]}]}]})";
}

std::string Bench::small_engine_unchecked(std::initializer_list<std::string_view> limits) {
  std::string procedure(small_engine());
  const std::string example = R"("basis":"invented example")";
  for (const std::string_view limit : limits) {
    const auto at = procedure.find(example, procedure.find('"' + std::string(limit) + "\":"));
    REQUIRE(at != std::string::npos);
    procedure.replace(at, example.size(), R"("basis":"maker","source":"p. 4")");
  }
  return procedure;
}

Bench::Bench(std::string_view text) {
  const auto reading = procedure::read_procedure(text);
  for (const auto& remark : reading.remarks) UNSCOPED_INFO(procedure::line_of(remark, "bench"));
  REQUIRE(reading.procedure);
  plan = std::make_shared<const build::Plan>(reading.procedure);
  person_ = "anna";
  ok(R"({"do":"enrol","person":"anna","name":"Anna Reed","roles":["builder","owner"],"passphrase":"right"})");
  ok(R"({"do":"enrol","person":"ben","name":"Ben Holt","roles":["builder"],"passphrase":"right"})");
  ok(R"({"do":"enrol","person":"carl","name":"Carl Dunn","roles":["inspector"],"passphrase":"right"})");
  ok(R"({"do":"enrol","person":"olga","name":"Olga Marsh","roles":["owner"],"passphrase":"right"})");
  ok(R"({"do":"add-gauge","gauge":"mic","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.003,"repeat":0.002,"range":[0,100],"calibrated":"2025-06-01","due":"2026-06-01"})");
  ok(R"({"do":"add-gauge","gauge":"dial","kind":"dial indicator","unit":"mm","resolution":0.01,"u":0.02})");
  ok(R"({"do":"add-gauge","gauge":"wrench","kind":"torque wrench","unit":"N.m","resolution":1,"tool":"setting","class_error":0.04,"range":[1,100]})");
  ok(R"({"do":"add-gauge","gauge":"ring","kind":"setting standard","unit":"mm","resolution":0.001,"u":0.002})");
  ok(R"({"do":"open-build","build":"b","procedure":"small.json","engine":{"model":"HX4-150","serial":"1","hours":"unknown"},"customer":"Marigold"})");
}

build::Actor Bench::actor(const std::string& person) const {
  const auto* known = shop.person(person);
  if (!known) return {person, person, "c-" + person, {build::Role::owner}};
  return {known->id, known->name, known->certificate, known->roles};
}

Value Bench::act(const Value& action) {
  const std::string name = action.text_or_empty("do");
  build::Context context;
  context.now = now;
  const build::Actor anybody = actor(person_);
  context.actor = person_.empty() ? nullptr : &anybody;
  std::optional<build::Actor> authority;
  if (name != "enrol" && action.text_or_empty("passphrase") == "right")
    authority = actor(action.text_or_empty("person"));
  if (authority) context.authority = &*authority;
  context.outside.plan = plan;
  context.outside.person_certificate = "c-" + action.text_or_empty("person");
  context.outside.person_certificate_pem = "pem";
  context.outside.shop_certificate = "shop";
  context.outside.shop_certificate_pem = "pem";
  const auto target = build::target_of(name);
  const auto decided = target == build::Target::shop ? build::decide_shop(shop, action, context)
                                                     : build::decide_build(shop, &build, action, context);
  if (!decided)
    return Value::object({{"ok", Value::boolean(false)},
                          {"error", Value::text(decided.error().code)},
                          {"message", Value::text(decided.error().message)}});
  Event event;
  event.chain = target == build::Target::shop ? "shop" : "build:b";
  event.seq = target == build::Target::shop ? shop.events + 1 : static_cast<std::int64_t>(events.size()) + 1;
  event.hash = fmt::format("{}-{}", event.chain, event.seq);
  event.time = now;
  event.person = context.who()->person;
  event.name = context.who()->name;
  event.kind = name;
  event.body = decided->body;
  event.meaning = decided->meaning;
  json::canonical(event.body); // every event must have a canonical form
  if (target == build::Target::shop) {
    REQUIRE(build::apply(shop, event));
  } else {
    if (name == "open-build") {
      auto begun = build::begin(event, plan);
      REQUIRE(begun);
      build = std::move(*begun);
      shop.builds[build.id].id = build.id;
    } else {
      const auto applied = build::apply(build, event);
      INFO((applied ? std::string() : applied.error().message));
      REQUIRE(applied);
    }
    events.push_back(event);
    if (name == "sign" || name == "release") note_in_shop(event);
  }
  Value out = Value::object({{"ok", Value::boolean(true)}});
  for (const auto& member : decided->answer.members()) out.set(member.key, member.value);
  return out;
}

// What the record's session writes into the shop's chain at a signature.
void Bench::note_in_shop(const Event& event) {
  Event anchor = event;
  anchor.chain = "shop";
  anchor.kind = "anchor";
  anchor.seq = shop.events + 1;
  anchor.body = Value::object({{"build", Value::text(build.id)},
                               {"seq", Value::integer(event.seq)},
                               {"head", Value::text(event.hash)},
                               {"why", Value::text(event.kind)}});
  if (const auto* used = event.body.find("used")) anchor.body.set("used", *used);
  if (event.body.text_or_empty("outcome") == build::Build::not_released)
    anchor.body.set("not_released", Value::boolean(true));
  REQUIRE(build::apply(shop, anchor));
}

Value Bench::perform(const std::string& line) {
  auto action = json::read_one(line);
  INFO(line);
  REQUIRE(action);
  const bool of_build = build::target_of(action->text_or_empty("do")) != build::Target::shop;
  if (of_build && !action->find("build")) action->set("build", Value::text("b"));
  return act(*action);
}

bool Bench::ok(const std::string& line) {
  const Value answer = perform(line);
  message = answer.text_or_empty("message");
  INFO(line << " -> " << message);
  CHECK(answer.at("ok").as_boolean());
  return answer.at("ok").as_boolean();
}

std::string Bench::refused(const std::string& line) {
  const auto before = everything(build);
  const Value answer = perform(line);
  if (answer.at("ok").as_boolean()) return "";
  CHECK(everything(build) == before);
  message = answer.at("message").as_text();
  return answer.at("error").as_text();
}

std::string Bench::state(const std::string& step) const {
  return std::string(build::name_of(build::standing_of(build, *plan->find_step(step))));
}

std::vector<std::string> Bench::blocking(const std::string& step) const {
  std::vector<std::string> out;
  for (const auto& blocker : build::blockers(shop, build, *plan->find_step(step), now)) out.push_back(blocker.code);
  return out;
}

const build::EntryState& Bench::entry(const std::string& step, const std::string& id) const {
  const auto s = *plan->find_step(step);
  return build.entry({s, *plan->find_entry(s, id)});
}

void Bench::clean() {
  ok(R"({"do":"acknowledge","step":"clean"})");
  ok(R"({"do":"confirm","step":"clean","entry":"galleries"})");
  ok(R"({"do":"sign","step":"clean"})");
}

void Bench::mains() {
  ok(R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.010,48.012],[48.011,48.012],[48.012,48.013]]})");
  ok(R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.970,47.972],[47.971,47.971],[47.972,47.973]]})");
  ok(R"({"do":"sign","step":"mains"})");
}

void Bench::caps() {
  ok(R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"all","stage":"1","value":30,"gauge":"wrench"})");
  ok(R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"all","stage":"2","value":68,"gauge":"wrench"})");
  ok(R"({"do":"record","step":"caps","entry":"strip","values":[[1],[1],[1]]})");
  ok(R"({"do":"sign","step":"caps"})");
}

std::string everything(const build::Build& build) {
  if (!build.plan) return "";
  std::string out = json::canonical(build::status({}, build, build::Moment{}));
  const auto judged = [](const build::Judged& j) {
    return fmt::format("{}{}{}{}", build::name_of(j.standing), j.conceded, j.accepted, j.used_again);
  };
  for (std::size_t s = 0; s < build.plan->size(); ++s) {
    const auto& step = build.step(s);
    out += fmt::format("\n{} {} {} {}", s, step.pass, step.signed_off, step.reopened);
    for (const auto& person : step.acknowledged) out += " " + person;
    for (const auto& [part, position] : step.fitted) out += fmt::format(" {}/{} in", part, position);
    for (const auto& signature : step.signatures) out += fmt::format(" {}@{}", signature.person, signature.seq);
    for (const auto& entry : step.entries) {
      out += fmt::format("\n  {} {} {} {} {} {}", entry.pass, entry.done, entry.asked, entry.text, judged(entry.judged),
                         entry.until.utc_ms);
      for (const auto& cell : entry.cells) {
        out += fmt::format(" [{} {} {} {} {}", cell.skipped, cell.asked, cell.value.text(), cell.u.text(),
                           judged(cell.judged));
        for (const auto& one : cell.tries) out += fmt::format(" {} of {}", one.value.text(), one.set);
        out += "]";
      }
      for (const auto& set : entry.sets)
        out += fmt::format(" <{} {} {} {}>", set.at.text(), set.gauge, set.with, set.drift ? set.drift->text() : "");
      for (const auto& it : entry.calculated)
        out += fmt::format(" {{{} {} {} {}}}", json::canonical(it.results), it.refusal, it.asked, judged(it.judged));
      for (const auto& fastener : entry.fasteners)
        for (const auto& done : fastener)
          out += fmt::format(" {}:{}:{}{}", done.stage, done.value.text(), judged(done.judged), done.below);
      out += fmt::format(" {} {} {} {}", entry.disordered, entry.sure_by, entry.sure_at.utc_ms,
                         entry.lever ? entry.lever->ratio.text() : "");
      for (const auto& [wrench, pulls] : entry.pulls) out += fmt::format(" {}x{}", wrench, pulls);
    }
  }
  for (const auto& [option, value] : build.options) out += fmt::format("\n{}={}", option, value);
  for (const auto& order : build.orders)
    for (const auto& line : order.lines)
      out += fmt::format("\n{} {} {}/{} {} {}", order.id, order.to, line.part, line.position, line.work, line.back_as);
  for (const auto& [part, it] : build.parts)
    out += fmt::format("\n{}/{}={} {} {} {} {} {} {}", part.first, part.second, it.state, it.size, it.lot, it.from,
                       it.text, it.expires, it.used_out_of_date);
  for (const auto& [part, position] : build.taken_out) out += fmt::format("\n{}/{} out", part, position);
  for (const auto& [place, bolt] : build.bolts)
    out += fmt::format("\n{} {}: {} {} {} {} {} {}", place.first, place.second, bolt.state, bolt.identity, bolt.uses,
                       bolt.replace, bolt.measure, bolt.length ? bolt.length->text() : "");
  return out + build.outcome;
}
