#include "speed/yard.h"

#include "record/seal.h"
#include "json/read.h"

#include <fmt/format.h>

#include <fstream>
#include <memory>
#include <random>
#include <stdexcept>

namespace speed {

namespace fs = std::filesystem;
using json::Value;
using record::Event;

namespace {

constexpr std::int64_t began_ms = 1'767'600'000'000;

template <typename T>
T demand(quantity::Result<T> result) {
  if (!result) throw std::runtime_error(result.error().message);
  return std::move(*result);
}

void demand_done(const quantity::Result<void>& result) {
  if (!result) throw std::runtime_error(result.error().message);
}

// Every look at it is a millisecond later, so that a work period does not end while it is measured.
record::SessionOptions by_a_clock_of_its_own(std::int64_t from) {
  auto now = std::make_shared<std::int64_t>(from);
  return {.practice = true, .clock = [now] { return calc::Moment{++*now, 60}; }};
}

record::Session new_session(const fs::path& file) {
  return demand(record::Session::open(file, by_a_clock_of_its_own(began_ms)));
}

} // namespace

Folder::Folder(const fs::path& in) {
  fs::create_directories(in);
  path_ = in / fmt::format("witnessmark-speed-{:08x}", std::random_device()());
  fs::create_directory(path_);
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

fs::path folder_for_making(const fs::path& otherwise) {
  const fs::path memory = "/dev/shm";
  std::error_code ignored;
  return fs::is_directory(memory, ignored) ? memory : otherwise;
}

std::string procedure_of(int steps) {
  std::string out =
      R"({"format":1,"id":"long","title":"Long","revision":"1","engine":{"model":"HX4-150"},"limits":{"bore":)"
      R"({"title":"Bore","unit":"mm","standard":{"low":78.000,"high":78.020},"basis":"invented example"}},"sections":[)";
  for (int s = 0; s < steps; ++s) {
    const bool first = s % 100 == 0;
    if (first)
      out += fmt::format(R"({}{{"id":"section-{}","title":"Section {}","steps":[)", s > 0 ? "]}," : "", s / 100 + 1,
                         s / 100 + 1);
    out += fmt::format(
        R"({}{{"id":"step-{}","title":"Measure bore {} and look it over",{}"entries":[)"
        R"({{"id":"bore","kind":"reading","title":"Bore","unit":"mm","limit":"bore","gauges":["bore gauge"]}},)"
        R"({{"id":"mark","kind":"identity","title":"Mark"}},{{"id":"seen","kind":"confirm","title":"Looked over"}}]}})",
        first ? "" : ",", s, s + 1, s > 0 ? fmt::format(R"("after":["step-{}"],)", s - 1) : "");
  }
  return out + "]}]}";
}

std::vector<std::string> actions_of(std::string_view build, int step) {
  const auto line = [&](std::string_view action, std::string_view rest) {
    return fmt::format(R"({{"do":"{}","build":"{}","step":"step-{}"{}}})", action, build, step, rest);
  };
  return {line("record", fmt::format(R"(,"entry":"bore","value":78.{:03},"unit":"mm","gauge":"bore-1")", 6 + step % 9)),
          line("identify", fmt::format(R"(,"entry":"mark","text":"M{}")", step)), line("confirm", R"(,"entry":"seen")"),
          line("sign", "")};
}

Player::Player(const fs::path& file) : session(new_session(file)), folder_(file.parent_path()) {
  perform(fmt::format(
      R"({{"do":"enrol","person":"{}","name":"Ivo Tarrant","roles":["owner","builder"],"passphrase":"{}"}})", person,
      passphrase));
  perform(fmt::format(R"({{"do":"sign-in","person":"{}","passphrase":"{}"}})", person, passphrase));
  perform(R"({"do":"set-shop","name":"Heronsgate Engine Works"})");
  perform(R"({"do":"add-gauge","gauge":"bore-1","kind":"bore gauge","unit":"mm","resolution":0.001,"u":0.004})");
}

void Player::perform(const std::string& line) {
  const std::string answer = session.answer(line);
  if (!answer.starts_with(R"({"ok":true)")) throw std::runtime_error(fmt::format("{} was answered {}", line, answer));
}

void Player::open_build(std::string_view build, int steps) {
  const fs::path file = folder_ / fmt::format("{}-steps.json", steps);
  std::ofstream(file, std::ios::binary) << procedure_of(steps);
  perform(fmt::format(R"({{"do":"open-build","build":"{}","procedure":"{}","engine":{{"model":"HX4-150",)"
                      R"("serial":"HX4-150-0731","hours":1043}},"customer":"Narrowboat Marigold"}})",
                      build, file.string()));
}

void Player::do_steps(std::string_view build, int steps) {
  for (int step = 0; step < steps; ++step)
    for (const std::string& line : actions_of(build, step)) perform(line);
}

void Player::release(std::string_view build) {
  perform(fmt::format(R"({{"do":"release","build":"{}","person":"{}","passphrase":"{}"}})", build, person, passphrase));
}

record::Session session_on(const fs::path& file) {
  constexpr std::int64_t hours = 3600LL * 1000;
  return demand(record::Session::open(file, by_a_clock_of_its_own(began_ms + 48 * hours)));
}

void make_shop(const fs::path& file, const std::vector<Made>& builds) {
  const Folder making(folder_for_making(file.parent_path()));
  {
    Player player(making / "made.shop");
    for (const Made& it : builds) {
      player.open_build(it.build, it.steps);
      player.do_steps(it.build, it.done);
      if (it.released) player.release(it.build);
    }
  }
  fs::copy_file(making / "made.shop", file, fs::copy_options::overwrite_existing);
}

// --- many builds
// ------------------------------------------------------------------------------------------------------

namespace {

constexpr int builds_to_a_transaction = 20;
constexpr std::string_view boats[] = {"Marigold", "Teasel", "Curlew", "Sandpiper", "Bittern", "Yarrow", "Lapwing"};

// The events of one build, and the shop's notes of it, told of another.
class Another {
public:
  Another(record::Store& store, const record::PrivateKey& key, std::string like)
      : store_(store), key_(key), like_(std::move(like)) {
    for (Event& event : demand(store.events_in_order()))
      if (event.chain == build::chain_of_build(like_) ||
          (event.chain == build::shop_chain && event.body.text_or_empty("build") == like_))
        events_.push_back(std::move(event));
    if (events_.empty()) throw std::runtime_error(fmt::format("there is no build {} to go by", like_));
    span_ms_ = events_.back().time.utc_ms - events_.front().time.utc_ms + 1000;
  }

  void write(int number) {
    const std::string id = build_number(number);
    Event last;
    for (const Event& its : events_) {
      Event event = its;
      event.time.utc_ms += number * span_ms_;
      if (event.chain == build::shop_chain) {
        event.body.set("build", Value::text(id));
        event.body.set("head", Value::text(last.hash));
      } else {
        event.chain = build::chain_of_build(id);
        event.body.at("asked");
        event.body.find("asked")->set("build", Value::text(id));
      }
      if (event.kind == "open-build") tell_of_an_engine(event, id, number);
      const auto head = demand(store_.head(event.chain));
      const auto sealed = record::sealed(std::move(event), head, &key_);
      demand_done(store_.append(sealed));
      if (sealed.event().chain != build::shop_chain) last = sealed.event();
    }
  }

private:
  static void tell_of_an_engine(Event& event, const std::string& id, int number) {
    const Value serial = Value::text(fmt::format("HX4-150-{:05}", number));
    const Value customer = Value::text(
        fmt::format("Narrowboat {} {}", boats[static_cast<std::size_t>(number) % std::size(boats)], number));
    const auto tell = [&](Value& of) {
      of.find("engine")->set("serial", serial);
      of.set("customer", customer);
    };
    tell(event.body);
    if (Value* asked = event.body.find("asked")) tell(*asked);
    event.body.set("build", Value::text(id));
  }

  record::Store& store_;
  const record::PrivateKey& key_;
  std::string like_;
  std::vector<Event> events_;
  std::int64_t span_ms_ = 0;
};

} // namespace

std::string build_number(int number) {
  return fmt::format("b{:05}", number);
}

void fill_shop(const fs::path& file, std::string_view like, int from, int to) {
  auto store = demand(record::Store::open(file, record::Store::Mode::read_write));
  const auto locked = demand(store.key(person, "person"));
  if (!locked) throw std::runtime_error("there is no key to sign with");
  const auto key = demand(record::PrivateKey::unlock(locked->locked_pem, passphrase));
  Another another(store, key, std::string(like));
  for (int number = from; number < to;) {
    const int until = std::min(number + builds_to_a_transaction, to);
    demand_done(store.transaction([&]() -> quantity::Result<void> {
      for (; number < until; ++number) another.write(number);
      return {};
    }));
  }
}

double resident(const std::string& process) {
  std::ifstream in(fmt::format("/proc/{}/status", process));
  for (std::string line; std::getline(in, line);)
    if (line.starts_with("VmRSS:")) return 1024 * std::stod(line.substr(6));
  throw std::runtime_error("this system does not say how much memory a program holds");
}

} // namespace speed
