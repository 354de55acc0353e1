// A bench with a procedure of joints: every kind of stage, bolts of which something is known.
#pragma once

#include "build/bench.h"

#include <fmt/format.h>

inline std::string_view joints() {
  return R"({
  "format": 1, "id": "joints", "title": "Joints", "revision": "1", "engine": {"model": "HX4-150"},
  "limits": {
    "snug": {"title": "Snug", "unit": "N.m", "target": 40, "basis": "invented example"},
    "more": {"title": "More", "unit": "N.m", "target": 60, "basis": "invented example"},
    "turn": {"title": "Turn", "unit": "deg", "standard": {"low": 85, "high": 95}, "target": 90, "basis": "invented example"},
    "after": {"title": "After the turn", "unit": "N.m", "standard": {"low": 60, "high": 120}, "basis": "invented example"},
    "slot": {"title": "To the slot", "unit": "N.m", "standard": {"low": 40, "high": 60}, "basis": "invented example"},
    "narrow": {"title": "Narrow", "unit": "N.m", "standard": {"low": 49, "high": 51}, "basis": "invented example"},
    "grown": {"title": "Growth", "unit": "mm", "standard": {"low": 0.130, "high": 0.170}, "basis": "invented example"},
    "length": {"title": "Bolt length", "unit": "mm", "service": {"high": 99.4}, "standard": {"high": 99.4}, "basis": "invented example"}
  },
  "sections": [{"id": "all", "title": "All", "steps": [
    {"id": "head", "title": "Head", "entries": [
      {"id": "bolts", "kind": "tightening", "title": "Head bolts", "order": "pattern",
       "fasteners": [{"id": "a", "at": [0, 0]}, {"id": "b", "at": [100, 0]}, {"id": "c", "at": [100, 80]}, {"id": "d", "at": [0, 80]}],
       "bolt": {"diameter": 10, "pitch": 1.25, "class": "10.9", "lubrication": "oiled", "uses": 2, "length": "length", "structural": true},
       "stages": [{"id": "snug", "torque": "snug"}, {"id": "line", "mark": "across head and face"},
                  {"id": "turn", "angle": "turn"}, {"id": "look", "check": "after"}]},
      {"id": "again", "kind": "tightening", "title": "Head bolts once more", "fasteners-of": "head/bolts",
       "stages": [{"id": "1", "torque": "snug"}]}]},
    {"id": "cover", "title": "Cover", "entries": [
      {"id": "screws", "kind": "tightening", "title": "Cover screws", "fasteners": ["1", "2", "3"],
       "stages": [{"id": "1", "torque": "snug"}, {"id": "off", "loosen": "half a turn"}, {"id": "2", "torque": "snug"},
                  {"id": "rest", "wait": {"value": 10, "unit": "min"}}, {"id": "3", "torque": "more"}]},
      {"id": "last", "kind": "tightening", "title": "Left to settle", "fasteners": ["x"],
       "stages": [{"id": "1", "torque": "snug"}, {"id": "rest", "wait": {"value": 2, "unit": "min"}}]}]},
    {"id": "nuts", "title": "Nuts", "entries": [
      {"id": "castle", "kind": "tightening", "title": "Castle nut", "fasteners": ["n"], "stages": [{"id": "1", "torque": "slot", "slot": true}]},
      {"id": "locking", "kind": "tightening", "title": "Locking nut", "fasteners": ["n"], "stages": [{"id": "1", "torque": "snug", "prevailing": true}]},
      {"id": "fine", "kind": "tightening", "title": "Fine", "fasteners": ["n"], "stages": [{"id": "1", "torque": "narrow"}]},
      {"id": "rod", "kind": "tightening", "title": "Rod bolt", "fasteners": ["r"],
       "bolt": {"diameter": 8, "pitch": 1, "lubrication": "oiled"}, "stages": [{"id": "1", "stretch": "grown"}]}]}
  ]}]
})";
}

struct Joints : Bench {
  Joints() : Bench(joints()) {
    ok(R"({"do":"add-gauge","gauge":"peak","kind":"torque wrench","unit":"N.m","resolution":0.1,"tool":"indicating","class_error":0.01,"range":[1,300]})");
  }

  static std::string pull(std::string_view step, std::string_view entry, std::string_view fastener,
                          std::string_view stage, std::string_view value, std::string_view gauge = "wrench") {
    std::string line = fmt::format(R"({{"do":"tighten","step":"{}","entry":"{}","fastener":"{}","stage":"{}")", step,
                                   entry, fastener, stage);
    if (!value.empty()) line += fmt::format(R"(,"value":{})", value);
    if (!gauge.empty()) line += fmt::format(R"(,"gauge":"{}")", gauge);
    return line + "}";
  }
  static std::string head(std::string_view fastener, std::string_view stage, std::string_view value,
                          std::string_view gauge = "wrench") {
    return pull("head", "bolts", fastener, stage, value, gauge);
  }
  static std::string cover(std::string_view fastener, std::string_view stage, std::string_view value,
                           std::string_view gauge = "wrench") {
    return pull("cover", "screws", fastener, stage, value, gauge);
  }

  void new_bolts() { ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","state":"new"})"); }
  void snug_and_marked() {
    new_bolts();
    ok(head("all", "snug", "40"));
    ok(head("all", "line", "", ""));
  }
  std::string next(const std::string& line) { // "fastener stage", "" when done
    const auto answer = perform(line);
    INFO(line << json::compact(answer));
    REQUIRE(answer.at("ok").as_boolean());
    const auto& its = answer.at("next");
    return its.is(json::Kind::null) ? "" : its.at("fastener").as_text() + " " + its.at("stage").as_text();
  }
};
