#include "record/session_state.h"

#include "build/apply.h"
#include "build/compare.h"
#include "build/status.h"
#include "procedure/reader.h"
#include "record/digest.h"
#include "record/photograph.h"
#include "record/seal.h"
#include "json/read.h"
#include "json/write.h"

#include <algorithm>
#include <chrono>
#include <ctime>
#include <fmt/format.h>

namespace record {

calc::Moment machine_clock() {
  const auto now = std::chrono::system_clock::now();
  const std::time_t seconds = std::chrono::system_clock::to_time_t(now);
  std::tm local{};
  localtime_r(&seconds, &local);
  return {std::chrono::duration_cast<std::chrono::milliseconds>(now.time_since_epoch()).count(),
          static_cast<int>(local.tm_gmtoff / 60)};
}

Value refused(const Error& error) {
  std::string sentence = error.message;
  if (!sentence.empty() && std::string_view(".!?").find(sentence.back()) == std::string_view::npos) sentence += '.';
  return Value::object(
      {{"ok", Value::boolean(false)}, {"error", Value::text(error.code)}, {"message", Value::text(sentence)}});
}

Value accepted(const Value& answer) {
  Value out = Value::object({{"ok", Value::boolean(true)}});
  for (const auto& member : answer.members()) out.set(member.key, member.value);
  return out;
}

namespace {

// What is new in the file it takes in while it holds the file to write, and asks nothing of it before.
bool reads_when_it_writes(const Value& action) {
  return build::target_of(action.text_or_empty("do")) == build::Target::build &&
         std::ranges::none_of(std::initializer_list<std::string_view>{"at", "passphrase", "preview"},
                              [&](std::string_view key) { return action.find(key) != nullptr; });
}

Value event_place(const Event& event) {
  return Value::object(
      {{"chain", Value::text(event.chain)}, {"seq", Value::integer(event.seq)}, {"hash", Value::text(event.hash)}});
}

} // namespace

Result<build::Build*> Session::State::find_build(std::string_view id, const Progress& progress) {
  if (!store) return unknown_build(id);
  return folded.build(*store, id, progress);
}

Result<Moment> Session::State::moment_of(Value& action) {
  const auto* at = action.find("at");
  if (!at) return options.clock ? options.clock() : machine_clock();
  if (!practice()) return Error{"bad-value", "\"at\" is only for practice shops; here the machine's clock counts."};
  const auto moment = at->is(json::Kind::text) ? calc::parse_moment(at->as_text())
                                               : Result<Moment>(Error{"bad-value", "it must be text"});
  if (!moment) return Error{"bad-value", fmt::format("\"at\": {}", moment.error().message)};
  if (moment->utc_ms < folded.newest_ms)
    return Error{"bad-value", fmt::format("\"at\" lies before the event before it ({}).",
                                          calc::local_text({folded.newest_ms, moment->offset_minutes}))};
  action.remove("at");
  return *moment;
}

void Session::State::end_idle(const Moment& now) {
  if (!signed_in) return;
  if (now.utc_ms - signed_in->since > work_period_ms || now.utc_ms - signed_in->last > idle_ms) signed_in.reset();
}

build::Context Session::State::context(const Doing& doing) const {
  build::Context out;
  out.now = doing.now;
  out.actor = signed_in ? &signed_in->holder.actor : nullptr;
  out.authority = doing.proved() ? &doing.proved()->actor : nullptr;
  out.practice = options.practice;
  out.outside = doing.outside;
  return out;
}

const PrivateKey* Session::State::signer(const Doing& doing) const {
  if (const Holder* holder = doing.proved()) return &holder->key;
  return signed_in ? &signed_in->holder.key : nullptr;
}

Event Session::State::event_of(const Doing& doing, std::string chain, const Decision& decision) const {
  const build::Context its = context(doing);
  Event event;
  event.chain = std::move(chain);
  event.time = doing.now;
  event.person = its.who()->person;
  event.name = its.who()->name;
  event.certificate = its.who()->certificate;
  event.kind = doing.action.text_or_empty("do");
  event.body = decision.body;
  event.meaning = decision.meaning;
  return event;
}

std::optional<Event> Session::State::anchor_of(const Event& event, std::string_view build_id) const {
  const bool opening = event.kind == "open-build";
  if (!opening && event.kind != "sign" && event.kind != "release") return std::nullopt;
  Event anchor = event;
  anchor.chain = build::shop_chain;
  anchor.kind = opening ? "open-build" : "anchor";
  anchor.body = Value::object({{"build", Value::text(std::string(build_id))},
                               {"seq", Value::integer(event.seq)},
                               {"head", Value::text(event.hash)}});
  if (opening) {
    anchor.body.set("procedure", event.body.at("procedure").at("sha256"));
    anchor.body.set("engine", event.body.at("engine"));
    anchor.body.set("customer", event.body.at("customer"));
    anchor.meaning = build::meaning_done;
  } else {
    anchor.body.set("why", Value::text(event.kind));
    if (const auto* used = event.body.find("used")) anchor.body.set("used", *used);
    if (event.body.text_or_empty("outcome") == build::Build::not_released)
      anchor.body.set("not_released", Value::boolean(true));
  }
  return anchor;
}

Result<Event> Session::State::append(Event event, const PrivateKey* key) {
  if (folded.newest_rules > build::rules_now)
    return Error{"store-newer", "A newer program has written in this shop file; go on with that one."};
  const auto head = store->head(event.chain);
  if (!head) return head.error();
  Sealed out = sealed(std::move(event), *head, key);
  if (const auto done = store->append(out); !done) return done.error();
  return std::move(out).event();
}

Value Session::State::answer_of(const Decision& decision, const Event& event) const {
  Value out = accepted(decision.answer);
  out.set("event", event_place(event));
  return out;
}

Value Session::State::act_on_shop(Doing& doing) {
  if (!store) return refused({"sign-in-needed", "There is no shop in this file yet; enrol its owner first."});
  std::optional<Decision> decision;
  std::vector<Event> written_now;
  const auto done = store->transaction([&]() -> Result<void> {
    if (const auto fresh = refresh(); !fresh) return fresh.error();
    if (const auto same = still_themselves(doing); !same) return same.error();
    for (const auto& key : doing.keys) {
      if (const auto kept = store->put_key(key); !kept) return kept.error();
      if (const auto fresh = store->put_tries(key.owner, {}); !fresh) return fresh.error();
    }
    auto decided = build::decide_shop(shop, doing.action, context(doing));
    if (!decided) return decided.error();
    auto written = append(event_of(doing, std::string(build::shop_chain), *decided), signer(doing));
    if (!written) return written.error();
    decision = std::move(*decided);
    written_now.push_back(std::move(*written));
    if (doing.states) {
      auto statement = stated(doing, written_now.front());
      if (!statement) return statement.error();
      written_now.push_back(std::move(*statement));
    }
    return {};
  });
  if (!done) return refused(done.error());
  for (const auto& event : written_now)
    if (const auto seen = folded.see(*store, event); !seen) return refused(seen.error());
  return answer_of(*decision, written_now.front());
}

Value Session::State::act_on_build(Doing& doing) {
  const std::string id = doing.action.text_or_empty("build");
  const bool opening = doing.action.text_or_empty("do") == "open-build";
  std::vector<build::Blocker> blocking;
  std::optional<Decision> decision;
  std::vector<Event> written;
  const auto done = store->transaction([&]() -> Result<void> {
    if (const auto fresh = refresh(); !fresh) return fresh.error();
    if (const auto same = still_themselves(doing); !same) return same.error();
    const auto its = opening ? Result<build::Build*>(nullptr) : find_build(id);
    if (!its) return its.error();
    const build::Context context_now = context(doing);
    auto decided = build::decide_build(shop, *its, doing.action, context_now);
    if (!decided) {
      if (decided.error().code == "blocked") blocking = build::what_blocks(shop, **its, doing.action, context_now);
      return decided.error();
    }
    auto event = append(event_of(doing, build::chain_of_build(id), *decided), signer(doing));
    if (!event) return event.error();
    if (!doing.kept_sha256.empty())
      if (const auto kept = store->put_blob(doing.kept_sha256, doing.kept); !kept) return kept.error();
    written.push_back(std::move(*event));
    if (auto anchor = anchor_of(written.front(), id)) {
      auto second = append(std::move(*anchor), signer(doing));
      if (!second) return second.error();
      written.push_back(std::move(*second));
    }
    decision = std::move(*decided);
    return {};
  });
  if (!done) {
    Value out = refused(done.error());
    if (!blocking.empty()) out.set("blockers", build::to_json(blocking, doing.action.text_or_empty("do") == "release"));
    return out;
  }
  for (const auto& event : written)
    if (const auto seen = folded.see(*store, event); !seen) return refused(seen.error());
  return answer_of(*decision, written.front());
}

Value Session::State::open_build(Doing& doing) {
  const auto bytes = json::read_file(doing.action.text_or_empty("procedure"));
  if (!bytes) return refused(bytes.error());
  doing.kept = *bytes;
  doing.kept_sha256 = doing.outside.procedure_sha256 = sha256_hex(*bytes);
  auto plan = folded.plan_from(doing.outside.procedure_sha256, *bytes);
  if (!plan) return refused(plan.error());
  doing.outside.plan = std::move(*plan);
  return act_on_build(doing);
}

Value Session::State::attach(Doing& doing) {
  auto photograph = read_photograph(doing.action.text_or_empty("path"));
  if (!photograph) return refused(photograph.error());
  doing.outside.photograph = photograph->facts;
  doing.kept = std::move(photograph->bytes);
  doing.kept_sha256 = photograph->facts.text_or_empty("sha256");
  return act_on_build(doing);
}

Value Session::State::compare(const Doing& doing) {
  const auto its = find_build(doing.action.text_or_empty("build"));
  if (!its) return refused(its.error());
  const std::string option = doing.action.text_or_empty("option");
  const auto all = build::compare(**its, option);
  if (all.empty()) return refused({"bad-value", fmt::format("There is no option \"{}\" in this procedure.", option)});
  return accepted(build::to_json(**its, option, all));
}

Value Session::State::status(const Doing& doing) {
  const auto its = find_build(doing.action.text_or_empty("build"));
  return its ? accepted(build::status(shop, **its, doing.now)) : refused(its.error());
}

Value Session::State::preview(const Doing& doing) {
  const auto its = find_build(doing.action.text_or_empty("build"));
  if (!its) return refused(its.error());
  const auto body = build::preview_reopen(shop, **its, doing.action, context(doing));
  return body ? accepted(*body) : refused(body.error());
}

Value Session::State::perform(Value action) {
  if (!action.is(json::Kind::object) || action.text_or_empty("do").empty())
    return refused({"unknown-action", "An action is an object with \"do\"."});
  if (!reads_when_it_writes(action))
    if (const auto fresh = refresh(); !fresh) return refused(fresh.error());
  const auto now = moment_of(action);
  if (!now) return refused(now.error());
  Doing doing;
  doing.action = std::move(action);
  doing.now = *now;
  end_idle(*now);
  Value answer = dispatch(doing);
  if (signed_in && answer.at("ok").as_boolean()) signed_in->last = now->utc_ms;
  return answer;
}

Value Session::State::dispatch(Doing& doing) {
  const std::string name = doing.action.text_or_empty("do");
  if (name == "sign-in") return sign_in(doing);
  if (name == "sign-out") {
    signed_in.reset();
    return accepted(Value::object());
  }
  if (name == "enrol" && !store) return enrol(doing);
  if (name == "status") return status(doing);
  if (name == "compare") return compare(doing);
  const auto target = build::target_of(name);
  if (target == build::Target::none)
    return refused({"unknown-action", fmt::format("There is no action \"{}\".", name)});
  if (!store) return refused({"sign-in-needed", "There is no shop in this file yet; enrol its owner first."});
  if (const auto proved = authenticate(doing); !proved) return refused(proved.error());
  if (name == "enrol") return enrol(doing);
  if (name == "new-key") return new_key(doing);
  if (name == "change-passphrase") return change_passphrase(doing);
  if (target == build::Target::shop) {
    const auto touched = find_touched(*store, shop, doing.action);
    if (!touched) return refused(touched.error());
    doing.outside.touched = *touched;
    return act_on_shop(doing);
  }
  const auto* preview_only = doing.action.find("preview");
  if (name == "reopen" && preview_only && preview_only->is(json::Kind::boolean) && preview_only->as_boolean())
    return preview(doing);
  if (name == "open-build") return open_build(doing);
  return name == "attach" ? attach(doing) : act_on_build(doing);
}

Session::Session(std::unique_ptr<State> state) : state_(std::move(state)) {}
Session::Session(Session&&) noexcept = default;
Session& Session::operator=(Session&&) noexcept = default;
Session::~Session() = default;

Result<Session> Session::open(std::filesystem::path path, SessionOptions options) {
  auto state = std::make_unique<State>();
  state->path = std::move(path);
  state->options = std::move(options);
  std::error_code failed;
  if (std::filesystem::exists(state->path, failed)) {
    auto store = Store::open(state->path, Store::Mode::read_write);
    if (!store) return store.error();
    state->store = std::move(*store);
    if (const auto read = state->refresh(); !read) return read.error();
    if (state->options.practice && state->shop.exists() && !state->shop.practice)
      return Error{"not-practice", "This is a real shop, not a practice one; open it without --practice."};
  }
  return Session(std::move(state));
}

Value Session::perform(const Value& action) {
  return state_->perform(action);
}

std::string Session::answer(std::string_view line) {
  const auto document = json::read(line);
  if (document.faults.empty()) return json::compact(perform(document.root));
  // Only where: a message that quotes the line could quote a passphrase.
  const auto column = document.faults.front().place.column;
  return json::compact(
      refused({"not-json", fmt::format("The line is not JSON; what is wrong is at column {}.", column)}));
}

Result<bool> Session::refresh() {
  return state_->refresh();
}
const std::filesystem::path& Session::path() const {
  return state_->path;
}

const SessionOptions& Session::options() const {
  return state_->options;
}

const build::Shop& Session::shop() const {
  return state_->shop;
}

Result<const build::Build*> Session::build(std::string_view id, const Progress& progress) {
  const auto found = state_->find_build(id, progress);
  if (!found) return found.error();
  return *found;
}

Result<build::Build> Session::look_at(std::string_view id) {
  const bool kept = state_->folded.builds.find(id) != state_->folded.builds.end();
  const auto found = state_->find_build(id);
  if (!found) return found.error();
  build::Build copy = **found;
  if (!kept) state_->folded.builds.erase(std::string(id));
  return copy;
}

Result<std::vector<std::string>> Session::newest_first() const {
  std::vector<std::string> out;
  if (!state_->store) return out;
  const auto chains = state_->store->newest_first();
  if (!chains) return chains.error();
  for (const auto& chain : *chains)
    if (chain != build::shop_chain) out.emplace_back(build::build_of_chain(chain));
  return out;
}

Result<std::vector<Event>> Session::events(std::string_view build_id, std::int64_t since) const {
  if (!state_->store) return unknown_build(build_id);
  return state_->store->events_since(build::chain_of_build(build_id), since);
}

Result<std::string> Session::photograph(const std::string& sha256) const {
  const auto bytes = state_->store ? state_->store->blob(sha256) : Result<std::optional<std::string>>(std::nullopt);
  if (!bytes) return bytes.error();
  if (*bytes && sha256_hex(**bytes) == sha256) return **bytes;
  return Error{"no-photograph", *bytes ? "This is not the photograph that was attached; have the file verified."
                                       : "The photograph is not in the shop file."};
}

Moment Session::now() const {
  return state_->options.clock ? state_->options.clock() : machine_clock();
}

const build::Actor* Session::signed_in() const {
  return state_->signed_in ? &state_->signed_in->holder.actor : nullptr;
}

} // namespace record
