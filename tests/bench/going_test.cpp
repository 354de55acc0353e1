// Long work off the frame loop: a slow job that the test made up, on a desk with its own thread.
#include "bench/going.h"
#include "bench/screen.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <thread>

namespace {

using namespace std::chrono_literals;

json::Value fine() {
  return json::Value::object({{"ok", json::Value::boolean(true)}});
}
json::Value named(const char* name) {
  return json::Value::object({{"do", json::Value::text(name)}});
}

// A slow job: tells how far it is up to where it may get, and goes on telling that until it is over or asked to stop.
struct Slow {
  std::atomic<int> may_reach = 320;
  std::atomic<int> told = 0;
  std::atomic<bool> over = false;
  std::atomic<bool> was_stopped = false;
  std::atomic<bool> answers_late = false; // stopped, it still waits until it is over

  bench::Desk::Work work() {
    return [this](const record::Progress& progress) {
      for (int at = 0; !over; at = std::min(at + 1, may_reach.load())) {
        if (!progress.goes_on("grinding slowly", static_cast<std::size_t>(at), 5000)) {
          was_stopped = true;
          while (answers_late && !over) std::this_thread::sleep_for(1ms);
          return json::Value::object({{"ok", json::Value::boolean(false)},
                                      {"error", json::Value::text("stopped")},
                                      {"message", json::Value::text(record::stopped().message)}});
        }
        told = at;
        if (at == may_reach) std::this_thread::sleep_for(1ms);
      }
      return fine();
    };
  }
};

template <typename Is>
bool soon(Is is) {
  const auto until = std::chrono::steady_clock::now() + 10s;
  while (!is()) {
    if (std::chrono::steady_clock::now() > until) return false;
    std::this_thread::sleep_for(2ms);
  }
  return true;
}

// The screens on a desk that has its thread, and something slow that ends before they do.
struct Threaded : Screen {
  Threaded() : Screen(1, 1280, 800, "", [] {}) {}
  ~Threaded() {
    slow.over = true;
    window.reset();
    desk.reset();
  }
  Slow slow;
};

} // namespace

TEST_CASE("while something long goes on frames are drawn, and how far it is stands along the lower edge") {
  Threaded screen;
  Slow& slow = screen.slow;
  screen.desk->post(named("slow"), "a slow thing", true, slow.work());
  REQUIRE(soon([&] {
    screen.frame(); // would never come back if it waited for the end
    return screen.shows("grinding slowly: 320");
  }));
  CHECK(screen.desk->busy());
  CHECK(screen.shows("of 5,000"));
  CHECK(screen.shows("Stop   [Escape]"));
  slow.over = true;
  REQUIRE(soon([&] { return !screen.desk->busy(); }));
  screen.frame();
  CHECK_FALSE(screen.shows("grinding slowly"));
}

TEST_CASE("Escape stops what leaves nothing behind, and the answer says so") {
  Threaded screen;
  Slow& slow = screen.slow;
  slow.answers_late = true;
  screen.desk->post(named("slow"), "a slow thing", true, slow.work());
  REQUIRE(soon([&] { return slow.told == 320; }));
  screen.press(bench::key::escape);
  CHECK(soon([&] { return slow.was_stopped.load(); }));
  slow.over = true;
  REQUIRE(soon([&] { return !screen.desk->busy(); }));
  CHECK_FALSE(screen.desk->settled()); // the screens have not moved on yet: keys wait
  const auto answer = screen.desk->take_answer();
  REQUIRE(answer);
  CHECK(screen.desk->settled());
  CHECK(answer->message() == "Stopped; nothing was written.");
}

TEST_CASE("what is durable is never stopped halfway") {
  Threaded screen;
  Slow& slow = screen.slow;
  screen.desk->post(named("slow"), "recording", false, slow.work());
  REQUIRE(soon([&] { return slow.told == 320; }));
  screen.press(bench::key::escape);
  screen.desk->stop();
  CHECK_FALSE(screen.shows("Escape]"));
  slow.may_reach = 400;
  CHECK(soon([&] { return slow.told == 400; }));
  slow.over = true;
  REQUIRE(soon([&] { return !screen.desk->busy(); }));
  CHECK_FALSE(slow.was_stopped);
  CHECK(screen.desk->take_answer()->ok());
}

TEST_CASE("what is posted behind something long is done in its turn, and its state is shown with its answer") {
  Threaded screen;
  Slow& slow = screen.slow;
  screen.desk->post(named("slow"), "a slow thing", true, slow.work());
  json::Value line = named("sign-in");
  line.set("person", json::Value::text("ivo"));
  line.set("passphrase", json::Value::text("copper and brass"));
  screen.desk->post(line);
  CHECK_FALSE(screen.desk->signed_in());
  slow.over = true;
  REQUIRE(soon([&] { return !screen.desk->busy(); }));
  screen.frame();
  REQUIRE(screen.desk->signed_in());
  CHECK(screen.desk->signed_in()->person == "ivo");
}

TEST_CASE("a build that is being opened shows nothing of another one") {
  Threaded screen;
  REQUIRE(soon([&] {
    screen.frame();
    return screen.desk->build() != nullptr;
  }));
  const auto events = screen.desk->log().size();
  CHECK(events > 0);
  Slow& slow = screen.slow;
  screen.desk->post(named("slow"), "a slow thing", true, slow.work());
  screen.desk->open("marigold");
  CHECK(screen.desk->build() == nullptr);
  screen.frame();
  CHECK(screen.shows("Opening marigold"));
  slow.over = true;
  REQUIRE(soon([&] { return !screen.desk->busy(); }));
  screen.frame();
  REQUIRE(screen.desk->build());
  CHECK(screen.desk->log().size() == events);
}

TEST_CASE("the desk goes while something long is under way, without waiting for it when that may be stopped") {
  Slow slow;
  {
    Threaded screen;
    screen.desk->post(named("slow"), "a slow thing", true, slow.work());
    REQUIRE(soon([&] { return slow.told == 320; }));
  }
  CHECK(slow.was_stopped);
}

TEST_CASE("how far something is, in words") {
  CHECK(bench::going_words({.what = "signing"}) == "signing");
  CHECK(bench::going_words({.what = "reading the record", .done = 1200, .of = 15000}) ==
        "reading the record: 1,200 of 15,000");
  CHECK(bench::going_words({.what = "signing", .is_stopping = true}) == "stopping: signing");
}

TEST_CASE("a reading that is recorded late leaves its field empty for the next one") {
  Threaded screen;
  REQUIRE(soon([&] {
    screen.frame();
    return screen.desk->build() != nullptr;
  }));
  screen.frame(); // in which the first field takes the keys
  const auto done = [&] {
    const bool settled = soon([&] {
      screen.frame();
      return screen.desk->settled();
    });
    screen.frame(); // in which the next field takes the keys
    return settled;
  };
  screen.enter("ivo");
  screen.enter("copper and brass");
  REQUIRE(done());
  REQUIRE(screen.desk->signed_in());
  for (const int key : {bench::key::f1 + 4, bench::key::f1 + 4, bench::key::digit_0 + 2}) {
    screen.press(key);
    REQUIRE(done());
  }
  screen.enter("C-2206");
  REQUIRE(done());
  screen.press(bench::key::f1 + 6);
  REQUIRE(done());
  for (const char* typed : {"48.012", "48.013", "48.014"}) {
    Slow slow;
    screen.desk->post(named("slow"), "a slow thing", true, slow.work());
    screen.enter(typed);
    for (int i = 0; i < 5; ++i) screen.frame();
    slow.over = true;
    REQUIRE(done());
  }
  const auto& cells = screen.entry("mains", "main-bore").cells;
  CHECK(cells[0].value.text() == "48.012");
  CHECK(cells[1].value.text() == "48.013");
  CHECK(cells[2].value.text() == "48.014");
}
