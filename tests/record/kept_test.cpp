// A shop file of every format there ever was opens and verifies, for ever. kept/format-1.shop: the short-block demo.
#include "record/example.h"
#include "record/session.h"
#include "record/verify.h"

#include <catch2/catch.hpp>
#include <filesystem>

TEST_CASE("a shop file of format 1 opens, verifies and goes on") {
  const example::Folder folder;
  const auto path = folder / "format-1.shop";
  std::filesystem::copy_file(std::string(PROJECT_FOLDER) + "/tests/record/kept/format-1.shop", path);
  const auto report = record::verify_shop(path, {});
  REQUIRE(report);
  CHECK(report->fault == "");
  CHECK(report->intact);
  CHECK(report->events == 134);
  CHECK(report->shop_key == "377f66f3681f03b5dedc42a290154e325e58a581dee3f91536fc38fb40fe68fb");
  auto session = record::Session::open(path, {});
  REQUIRE(session);
  const auto build = session->build("marigold");
  REQUIRE(build);
  CHECK((*build)->outcome == "released with concessions");
  CHECK((*build)->serial == "HX4-150-0731");
  CHECK(session->shop().gauges.size() == 11);
}
