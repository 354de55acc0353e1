#include "speed/yard.h"

#include "procedure/reader.h"
#include "record/verify.h"

#include <catch2/catch.hpp>

using namespace speed;

TEST_CASE("the made-up procedures are read without a fault, whatever their length") {
  for (const int steps : {1, 2, 100, 101, 250}) {
    const auto reading = procedure::read_procedure(procedure_of(steps));
    REQUIRE(reading.procedure);
    std::size_t count = 0;
    for (const auto& section : reading.procedure->sections) count += section.steps.size();
    CHECK(count == static_cast<std::size_t>(steps));
  }
}

TEST_CASE("a shop filled with many builds at a time is intact, each of them released with a signature of its own") {
  const Folder folder(std::filesystem::temp_directory_path());
  const auto file = folder / "filled.shop";
  make_shop(file, {{build_number(0), 3, 3, true}});
  fill_shop(file, build_number(0), 1, 45);
  const auto report = record::verify_shop(file, {});
  REQUIRE(report);
  CHECK(report->fault == "");
  CHECK(report->intact);
  CHECK(report->released.size() == 45);
  CHECK(report->notes.empty());
  // An enrolment with its statement, the shop's name and a gauge; of each build its events and what the shop notes.
  CHECK(report->events == 4 + 45 * (1 + 3 * 4 + 1 + 1 + 3 + 1));
  CHECK(report->signatures >= 45 * 2 * 4);
  auto session = session_on(file);
  CHECK(session.shop().builds.size() == 45);
  CHECK(session.shop().builds.at(build_number(44)).serial == "HX4-150-00044");
  CHECK((*session.build(build_number(44)))->released());
}

TEST_CASE("what is measured on goes away with its folder") {
  std::filesystem::path place;
  {
    const Folder folder(std::filesystem::temp_directory_path());
    place = folder.path();
    make_shop(folder / "a.shop", {{"long", 2, 1}});
    CHECK(std::filesystem::exists(place / "a.shop"));
  }
  CHECK_FALSE(std::filesystem::exists(place));
}
