#include "bench/screen.h"

#include "bench/work_figures.h"
#include "bench/work_words.h"
#include "calculating.h"

namespace {

constexpr int f1 = bench::key::f1;
constexpr int f2 = f1 + 1;
constexpr int f5 = f1 + 4;
constexpr int f6 = f1 + 5;
constexpr int f8 = f1 + 7;
constexpr int f9 = bench::key::f9;
using bench::key::down;
using bench::key::enter;
using bench::key::escape;
using bench::key::up;

// By keys alone, as one who knows its name.
void open(Screen& screen, const std::string& name) {
  screen.press(f9);
  screen.enter(name);
}

// Alone and as large as results are; U may stand under its value.
bool shows_figure(const Screen& screen, const std::string& figure) {
  return std::ranges::any_of(screen.drawn, [&](const auto& one) {
    std::string text = one.text;
    std::ranges::replace(text, '\n', ' ');
    return text == figure;
  });
}

void check_answer(const Screen& screen, std::string_view name, std::string_view input) {
  const calc::Answer answer = calculating::answer(name, input);
  for (const auto& result : answer.results) {
    INFO(result.name);
    CHECK(screen.shows(bench::in_words(result.name)));
    CHECK(shows_figure(screen, bench::figure_of(result.outcome, true)));
  }
  for (const auto& note : answer.notes) CHECK(screen.shows(bench::sentence_of(note)));
}

} // namespace

TEST_CASE("in a shop without people and engines every computation is offered") {
  Screen screen(Screen::EmptyShop{});
  CHECK(screen.shows("Work it out   [F9]"));
  screen.press(f9);
  CHECK(screen.shows("What do you want to work out?"));
  for (const calc::Computation& each : calc::all_computations()) {
    CHECK(screen.shows(bench::title_of(each)));
    CHECK(screen.shows(std::string(each.purpose)));
  }
  screen.press(escape);
  CHECK(screen.shows("There is no shop here yet."));
}

TEST_CASE("the key is printed on every screen") {
  Screen screen;
  for (const char* name : {"builds", "sheet", "log", "shop", "keys", "work"}) {
    screen.window->show(name);
    screen.frame();
    CHECK((screen.shows("Work it out   [F9]") || screen.shows("Work it out [F9]")));
  }
}

TEST_CASE("a few letters and Enter open a computation, and it is worked out while the last input is typed") {
  Screen screen(Screen::EmptyShop{});
  open(screen, "ring g");
  CHECK(screen.shows("End gap of a piston ring"));
  CHECK(screen.shows("Still wanted: Gap, Gauge bore, Working bore."));
  screen.enter("0.30 mm");
  screen.enter("83.000 mm");
  CHECK(screen.shows("Still wanted: Working bore."));
  screen.type("83.062 mm");
  CHECK(screen.shows("0.494779 mm"));
  CHECK_FALSE(screen.shows("Still wanted"));
  screen.press(f8);
  check_answer(screen, "ring-gap", R"({"gap":"0.30 mm","gauge_bore":"83.000 mm","working_bore":"83.062 mm"})");
}

// Walks the whole list with Down, Enter, F5 and Escape.
TEST_CASE("every computation is reached by keys and shows its worked example with its answer") {
  Screen screen(Screen::EmptyShop{});
  screen.press(f9);
  const auto offers = bench::offered("");
  for (std::size_t i = 0; i < offers.size(); ++i) {
    const calc::Computation& each = *offers[i].computation;
    INFO(each.name);
    if (i > 0) screen.press(down);
    screen.press(enter);
    CHECK(screen.shows(std::string(each.purpose)));
    CHECK(screen.shows(std::string(each.source)));
    CHECK(screen.shows(bench::formula_of(each)));
    for (const calc::Field& field : each.inputs) {
      CHECK(screen.shows(bench::in_words(field.name) + (field.required ? "" : " (may be left out)")));
      CHECK(screen.shows(bench::meaning_of(field)));
    }
    CHECK_FALSE(screen.shows("WORKED EXAMPLE"));
    screen.press(f5);
    CHECK(screen.shows("WORKED EXAMPLE, not your numbers"));
    if (i == 0) screen.press(f8); // every digit, from here on
    check_answer(screen, each.name, each.example.input);
    screen.press(escape);
    CHECK(screen.shows("What do you want to work out?"));
  }
}

TEST_CASE("a slip is told under its field, and the answer is gone until it is mended") {
  Screen screen(Screen::EmptyShop{});
  open(screen, "ring gap");
  screen.enter("0.30 mm");
  screen.enter("83.000 mm");
  screen.type("83.062 mm");
  CHECK(screen.shows("0.494779 mm"));
  screen.press(bench::key::backspace); // "83.062 m", over a thousand times as wide
  CHECK(screen.shows("Gap at working"));
  screen.press(bench::key::backspace); // no unit
  CHECK(screen.shows("has no unit"));
  CHECK(screen.shows("No answer. See under: Working bore."));
  CHECK_FALSE(screen.shows("Gap at working"));
  screen.press(up);
  screen.type(",5");
  CHECK(screen.shows("No answer. See under: Gauge bore, Working bore."));
  const auto place = [&](const std::string& part) {
    return std::ranges::find_if(screen.drawn,
                                [&](const auto& one) { return one.text.find(part) != std::string::npos; });
  };
  const auto slip =
      std::ranges::find_if(screen.drawn, [](const auto& one) { return one.text.starts_with("\"83.062\" has"); });
  REQUIRE(slip != screen.drawn.end());
  CHECK(slip->low.y > place("Working bore")->low.y);
  screen.press(bench::key::backspace);
  screen.press(bench::key::backspace);
  screen.press(down);
  screen.type(" mm");
  CHECK(screen.shows("0.494779 mm"));
}

TEST_CASE("what the computation itself refuses stands under the field too") {
  Screen screen(Screen::EmptyShop{});
  open(screen, "spring");
  screen.enter("310 850 N");
  screen.enter("40 40 mm");
  screen.type("39 mm");
  CHECK(screen.shows("No answer. See under: Lengths."));
}

TEST_CASE("rows are typed a line each, and an empty line goes on") {
  Screen screen(Screen::EmptyShop{});
  open(screen, "oil clearance");
  screen.enter("50.036 50.031 mm u 0.004");
  screen.enter("50.034 50.030");
  screen.press(enter);
  screen.enter("49.982 49.976 mm u 0.003");
  screen.type("49.978 49.974");
  CHECK(screen.shows("0.049 mm \u00B1 0.005"));
  CHECK(screen.shows("expanded uncertainty U"));
  screen.press(f8);
  check_answer(screen, "oil-clearance",
               R"({"bore":{"values":[[50.036,50.031],[50.034,50.030]],"unit":"mm","u":0.004},)"
               R"("journal":{"values":[[49.982,49.976],[49.978,49.974]],"unit":"mm","u":0.003}})");
  screen.press(up);
  screen.press(up);
  screen.press(up); // the first line of the bore
  screen.type(",");
  CHECK(screen.shows("No answer. See under: Bore."));
}

TEST_CASE("a word is chosen by its number and can be taken away again") {
  Screen screen(Screen::EmptyShop{});
  open(screen, "verdict");
  screen.enter("0.060 mm u 0.004");
  screen.enter("0.020 mm");
  screen.enter("0.062 mm");
  CHECK(screen.shows("within"));
  screen.press(bench::key::digit_0 + 2);
  CHECK(shows_figure(screen, "guarded"));
  CHECK(shows_figure(screen, "undecided"));
  screen.press(bench::key::digit_0);
  CHECK(shows_figure(screen, "nothing chosen"));
  CHECK(shows_figure(screen, "within"));
}

TEST_CASE("the example leaves one's own numbers alone") {
  Screen screen(Screen::EmptyShop{});
  open(screen, "ring gap");
  screen.type("0.31 mm");
  screen.press(f5);
  CHECK(screen.shows("0.494779 mm"));
  CHECK_FALSE(screen.shows("0.31 mm"));
  screen.type("0"); // 0.30 mm0
  CHECK(screen.shows("BEGUN FROM THE WORKED EXAMPLE"));
  screen.press(f6);
  CHECK(screen.shows("WORKED EXAMPLE, not your numbers"));
  screen.press(f5);
  CHECK(screen.shows("0.31 mm"));
  CHECK(screen.shows("Still wanted: Gauge bore, Working bore."));
  screen.press(f6);
  CHECK_FALSE(screen.shows("0.31 mm"));
  CHECK(screen.shows("Still wanted: Gap, Gauge bore, Working bore."));
}

TEST_CASE("what was typed is still there after the list, another computation and the sheet") {
  Screen screen;
  open(screen, "ring gap");
  screen.enter("0.31 mm");
  screen.type("83");
  screen.press(escape);
  screen.press(up);
  screen.type("zz");
  CHECK(screen.shows("Nothing is called that."));
  screen.press(enter);
  screen.press(bench::key::backspace);
  screen.press(bench::key::backspace);
  CHECK(screen.shows("Ring gap"));
  screen.press(f2);
  CHECK(screen.shows("Who is working?"));
  screen.press(f9);
  screen.press(enter);
  CHECK(screen.shows("0.31 mm"));
  screen.type(".000 mm");
  CHECK(screen.shows("83.000 mm"));
}

TEST_CASE("a half typed reading is still being typed after something was worked out") {
  Screen screen;
  screen.sign_in();
  screen.press(f5);
  screen.press(f5);
  screen.press(bench::key::digit_0 + 2);
  screen.enter("C-2206");
  screen.press(f1 + 6);
  CHECK(screen.shows("Main bearing bore"));
  screen.type("48.0");
  screen.press(f9);
  screen.enter("ring gap");
  screen.type("0.3 mm");
  screen.press(escape);
  screen.press(escape);
  CHECK(screen.shows("48.0"));
  screen.type("12");
  CHECK_FALSE(screen.entry("mains", "main-bore").cells[0].filled());
  screen.press(enter);
  CHECK(screen.entry("mains", "main-bore").cells[0].value.text() == "48.012");
}

TEST_CASE("a question that was asked is still asked, and its half typed answer goes on") {
  Screen screen;
  screen.sign_in();
  screen.press(f5);
  screen.press(f5);
  screen.press(bench::key::digit_0 + 2);
  screen.enter("C-2206");
  screen.press(f1 + 6);
  screen.enter("48.112");
  screen.press(f8);
  screen.press(bench::key::digit_0 + 3);
  screen.type("other sh");
  screen.press(f9);
  screen.press(escape);
  CHECK(screen.shows("replace: what was done, and why"));
  screen.type("ells");
  screen.press(enter);
  CHECK(screen.entry("mains", "main-bore").pass == 2);
  CHECK(screen.desk->log().back().body.at("asked").text_or_empty("text") == "other shells");
}

TEST_CASE("a half typed name and the line of the builds are still there") {
  Screen screen;
  screen.type("iv");
  screen.press(f9);
  screen.press(escape);
  screen.enter("o");
  screen.enter("copper and brass");
  CHECK(screen.desk->signed_in());
}

TEST_CASE("an answer longer than its room is read to its end by keys") {
  Screen screen(1.5f, 1024, 600);
  screen.window->work_out("form");
  screen.frame();
  const auto top = [&](const std::string& text) {
    const auto found = std::ranges::find(screen.drawn, text, &bench::Drawn::text);
    return found == screen.drawn.end() ? -1.0f : found->low.y;
  };
  CHECK(screen.shows("There is more: Page Down"));
  CHECK(top("Source") > 600);
  for (int page = 0; page < 20 && !screen.shows("Page Up: back"); ++page) screen.press(bench::key::page_down);
  CHECK(top("Source") < 600);
  CHECK(top("Source") > 0);
}

TEST_CASE("the line that is typed in is in sight, however many there are") {
  Screen screen(1, 1024, 600);
  open(screen, "oil clearance");
  for (int row = 0; row < 12; ++row) {
    screen.type("50.036 50.031 mm");
    const auto here = std::ranges::find(screen.drawn, std::string("##line"), &bench::Drawn::id);
    REQUIRE(here != screen.drawn.end());
    float lowest = 0;
    for (const auto& one : screen.drawn)
      if (one.id == "##line" && !one.text.empty()) lowest = one.high.y;
    CHECK(lowest < 560);
    screen.press(enter);
  }
}

TEST_CASE("it works with the mouse too") {
  Screen screen(Screen::EmptyShop{});
  screen.click("work");
  screen.type("ring gap");
  screen.click("open-work");
  screen.click("example");
  CHECK(screen.shows("0.494779 mm"));
  screen.click("example");
  screen.type("0.30 mm");
  screen.click("next");
  screen.type("83 mm");
  CHECK(screen.shows("Still wanted: Working bore."));
  screen.click("line"); // the first there is
  screen.type("5");
  CHECK(screen.shows("0.30 mm5"));
  screen.click("back");
  screen.click("back");
  CHECK(screen.shows("There is no shop here yet"));
}

TEST_CASE("Escape on the sheet leaves what is typed as it stands") {
  Screen screen;
  screen.type("iv");
  screen.press(escape);
  screen.enter("o");
  screen.enter("copper and brass");
  CHECK(screen.desk->signed_in());
}
