// The pieces that content_of puts together.
#pragma once

#include "handover/content.h"

namespace handover {

// Facts of the gauges as each event copied them, by the entry they were used in.
using GaugeFacts = std::map<std::pair<std::string, std::string>, json::Value>; // "step/entry", gauge
GaugeFacts gauge_facts(const std::vector<Event>& events);

std::vector<SectionDone> sections_of(const Build& build, const GaugeFacts& facts);

void tell_exceptions(const Build& build, const std::vector<Event>& events, Content& content);
std::vector<Happening> happenings_of(const Build& build, const std::vector<Event>& events);
std::vector<PartFitted> parts_of(const Build& build, const std::vector<Event>& events);
std::vector<GaugeUsed> gauges_of(const GaugeFacts& facts);
std::vector<FindingTold> findings_of(const Build& build, const Shop& shop);
// Concessions and repairs among them, for the cover.
void tell_findings(const Build& build, Content& content);
std::vector<MachineWork> machine_work_of(const Build& build);
void tell_machine_work(const Build& build, Content& content); // for the cover, among the repairs
std::vector<PhotographKept> photographs_of(const Build& build);
std::string of_photograph(const Build& build, const build::Photograph& photograph); // what it shows
std::vector<Notice> notices_of(const Build& build);
void worst_first(std::vector<Notice>& notices); // DANGER before WARNING before CAUTION before NOTICE
std::vector<std::string> bases_of(const Build& build);
std::size_t unchecked_of(const Build& build);
Sheet sheet_of(const Build& build);

} // namespace handover
