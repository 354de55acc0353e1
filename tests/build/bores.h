// A liner of two bores read at two heights and two ways, pistons of a metal that grows with warmth, and the room
// between them. The engine is made up.
#pragma once

#include "build/bench.h"

class Bores : public Bench {
public:
  Bores() : Bench(procedure()) {
    ok(R"({"do":"add-gauge","gauge":"bore-1","kind":"bore gauge","unit":"mm","resolution":0.001,"u":0.003,"repeat":0.002,"range":[50,150]})");
    ok(R"({"do":"add-gauge","gauge":"bore-2","kind":"bore gauge","unit":"mm","resolution":0.002,"u":0.004})");
    ok(R"({"do":"add-gauge","gauge":"ring-82","kind":"setting standard","unit":"mm","resolution":0.001,"u":0.020,"calibrated":"2025-06-01","due":"2026-06-01"})");
    ok(R"({"do":"add-gauge","gauge":"ring-old","kind":"setting standard","unit":"mm","resolution":0.001,"u":0.001,"due":"2025-06-01"})");
  }

  static std::string_view procedure() {
    return R"({"format":1,"id":"bores","title":"Bores","revision":"1","engine":{"model":"HX4-150"},
"notice":"Invented values.","rule":"simple",
"parts":[{"id":"block","title":"Block"},{"id":"piston","title":"Pistons","positions":["1","2"],"alpha":0.000021}],
"limits":{
 "bore":{"title":"Bore","unit":"mm","standard":{"low":82.000,"high":82.050},"basis":"invented example"},
 "skirt":{"title":"Skirt","unit":"mm","standard":{"low":81.900,"high":81.940},"basis":"invented example"},
 "room":{"title":"Room","unit":"mm","standard":{"low":0.060,"high":0.140},"basis":"invented example"}},
"sections":[{"id":"all","title":"All","steps":[
 {"id":"bores","title":"Measure the bores","positions":["1","2"],"hold":true,"entries":[
  {"id":"bore","kind":"readings","title":"Bore","unit":"mm","rows":["top","bottom"],"columns":["across","along"],"limit":"bore","parts":["block"],"may-skip":true},
  {"id":"shape","kind":"calculated","title":"Shape of the bore","computation":"form","inputs":{"readings":{"entry":"bore"}}},
  {"id":"level","kind":"reading","title":"Level","unit":"mm","by-eye":true,"optional":true}]},
 {"id":"pistons","title":"Measure the pistons","positions":["1","2"],"after":["bores"],"entries":[
  {"id":"skirt","kind":"readings","title":"Skirt","unit":"mm","rows":["skirt"],"limit":"skirt","parts":["block","piston"],"loose":true},
  {"id":"room","kind":"calculated","title":"Room","computation":"piston-clearance","inputs":{"bore":{"entry":"bores/bore"},"piston":{"entry":"skirt"}},
   "judge":{"min":"room","max":"room"}}]},
 {"id":"pull","title":"Turn it over","entries":[{"id":"torque","kind":"reading","title":"Torque","unit":"N.m"}]}]}]})";
  }

  // Points of one bore as the dial shows them; `more` goes into the line.
  static std::string shown(const std::string& position, const std::string& values, const std::string& more = "",
                           const std::string& name = "record") {
    return R"({"do":")" + name + R"(","step":"bores","entry":"bore","position":")" + position + R"(","values":)" +
           values + R"(,"gauge":"bore-1","set_at":82,"set_with":"ring-82")" + more + "}";
  }
  static std::string zero(const std::string& value) {
    return R"({"do":"zero","step":"bores","entry":"bore","value":)" + value + "}";
  }
  const build::Cell& bore(std::size_t cell) const { return entry("bores", "bore").cells.at(cell); }
};
