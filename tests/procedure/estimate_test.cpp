// How far a torque loads a bolt, against tables printed elsewhere.
#include "procedure/estimate.h"

#include <catch2/catch.hpp>

using namespace procedure;

namespace {

Exact number(std::string_view text) {
  return Exact::decimal(text).value();
}

Bolt bolt(std::string_view diameter, std::string_view pitch, std::string_view strength, Lubrication lubrication,
          std::string_view head = "") {
  Bolt out;
  out.diameter = number(diameter);
  out.pitch = number(pitch);
  out.strength = strength;
  out.lubrication = lubrication;
  if (!head.empty()) out.head_diameter = number(head);
  return out;
}

Estimate estimated(const Bolt& of, std::string_view torque, std::string_view unit = "N.m") {
  const auto estimate = estimate_preload(of, {number(torque), quantity::find_unit(unit), {}});
  REQUIRE(estimate);
  return *estimate;
}

} // namespace

// A supplier's catalogue, p. 685, metric fine threads by VDI 2230, preload in kN and torque in N.m at 90 % of yield,
// for friction 0.10, 0.12 and 0.14. Mean head diameters from ISO 4014 and ISO 273, from memory.
TEST_CASE("preload by torque is what a printed table says for the friction assumed") {
  struct Row {
    const char *diameter, *pitch, *strength;
    Lubrication lubrication;
    const char *head, *torque;
    double preload;
  };
  const Row rows[] = {{"8", "1", "8.8", Lubrication::oiled, "10.315", "26.1", 20.2},
                      {"10", "1.25", "10.9", Lubrication::oiled, "12.815", "75", 46.4},
                      {"12", "1.25", "10.9", Lubrication::paste, "15.065", "116", 72.1},
                      {"12", "1.25", "10.9", Lubrication::sealant, "15.065", "149", 68.7},
                      {"16", "1.5", "12.9", Lubrication::oiled, "19.995", "374", 150.6}};
  for (const Row& row : rows) {
    CAPTURE(row.diameter, row.torque);
    const Estimate estimate =
        estimated(bolt(row.diameter, row.pitch, row.strength, row.lubrication, row.head), row.torque);
    CHECK(estimate.preload.value.to_double() / 1000 == Approx(row.preload).epsilon(0.01));
  }
}

// Proof loads in N: ISO 898-1, tables 5 and 7 (M10 x 1.25 and M12 x 1.25 from memory).
TEST_CASE("the share of proof is that of the printed proof load") {
  struct Row {
    const char *diameter, *pitch, *strength;
    double proof;
  };
  for (const Row& row :
       {Row{"8", "1.25", "8.8", 21'200}, Row{"10", "1.5", "10.9", 48'100}, Row{"18", "2.5", "8.8", 115'000},
        Row{"10", "1.25", "10.9", 50'800}, Row{"12", "1.25", "12.9", 89'300}}) {
    CAPTURE(row.diameter, row.pitch);
    const Estimate estimate = estimated(bolt(row.diameter, row.pitch, row.strength, Lubrication::oiled), "20");
    CHECK(estimate.percent_of_proof.value().to_double() ==
          Approx(100 * estimate.preload.value.to_double() / row.proof).epsilon(0.006));
  }
}

TEST_CASE("the more slippery the bolt, the more the same torque pulls it") {
  Exact last;
  for (const Lubrication one : {Lubrication::dry, Lubrication::sealant, Lubrication::oiled, Lubrication::paste}) {
    const Estimate estimate = estimated(bolt("10", "1.5", "8.8", one), "40");
    CHECK(estimate.preload.value > last);
    last = estimate.preload.value;
  }
}

TEST_CASE("the same torque in another unit is the same estimate") {
  const Bolt one = bolt("10", "1.25", "10.9", Lubrication::oiled, "13");
  // 1 lbf.ft = 1.3558179483314004 N.m and 1 kgf.m = 9.80665 N.m, exactly: NIST SP 811, appendix B.8.
  const double preload = estimated(one, "13.558179483314004").preload.value.to_double();
  CHECK(estimated(one, "10", "lbf.ft").preload.value.to_double() == Approx(preload).epsilon(1e-10));
  const double metric = estimated(one, "49.03325").preload.value.to_double();
  CHECK(estimated(one, "5", "kgf.m").preload.value.to_double() == Approx(metric).epsilon(1e-10));
}

TEST_CASE("an estimate says in words what it rests on") {
  CHECK(in_words(estimated(bolt("10", "1.25", "10.9", Lubrication::oiled, "13"), "50")) ==
        "about 61 % of proof, friction 0.12 assumed for oiled");
  CHECK(in_words(estimated(bolt("8", "1", "10.9", Lubrication::dry), "25")) ==
        "about 47 % of proof, friction 0.16 assumed for dry and a head face of 1.25 times the thread");
}

TEST_CASE("without a class the preload is said instead of its share") {
  const Estimate estimate = estimated(bolt("12", "1.25", "", Lubrication::paste, "15.065"), "116");
  CHECK_FALSE(estimate.percent_of_proof);
  CHECK(in_words(estimate) == "about 72.6 kN, friction 0.10 assumed for paste");
}

TEST_CASE("of a bolt that cannot be nothing is estimated") {
  const auto none = [](const Bolt& one) {
    return !estimate_preload(one, {number("40"), quantity::find_unit("N.m"), {}});
  };
  CHECK(none(bolt("0", "0", "", Lubrication::oiled)));
  CHECK(none(bolt("10", "9", "", Lubrication::oiled)));
  CHECK(none(bolt("42", "4.5", "8.8", Lubrication::oiled))); // ISO 898-1 ends at M39
  CHECK_FALSE(none(bolt("42", "4.5", "", Lubrication::oiled)));
}
