#include "procedure/members.h"

#include <stdexcept>
#include <string>

namespace procedure {

namespace {

using Names = std::vector<std::string_view>;

Names and_of_every_entry(Names names) {
  names.insert(names.end(), {"id", "kind", "title", "text", "when", "optional", "taken-apart", "accepted"});
  return names;
}

} // namespace

const std::vector<ObjectMembers>& known_members() {
  static const std::vector<ObjectMembers> all = {
      {"procedure",
       {"format", "id", "title", "revision", "engine", "notice", "rule", "options", "parts", "limits", "findings",
        "machine-work", "gear-train", "sections", "accepted"}},
      {"engine", {"model"}},
      {"option", {"id", "title", "text", "choices", "given"}},
      {"condition", {"option", "is"}},
      {"part", {"id", "title", "positions", "once", "dated", "alpha"}},
      {"limit",
       {"title", "unit", "standard", "service", "target", "basis", "source", "entered", "checked", "rule", "when",
        "accepted", "beside"}},
      {"limit-case", {"option", "is", "and", "standard", "service", "target", "entered", "checked", "beside"}},
      {"entered", {"by", "on"}},
      {"checked", {"by", "on", "unit", "standard", "service", "target"}},
      {"beside", {"unit", "standard", "service", "target"}},
      {"bounds", {"low", "high"}},
      {"finding", {"id", "parts", "text", "usually", "severity", "cause", "proof"}},
      {"machine-work", {"id", "parts", "text", "limits", "sizes", "finish"}},
      {"gear", {"id", "title", "teeth", "meshes", "direction"}},
      {"sizes", {"entry", "low", "high"}},
      {"ring-gaps", {"mark", "pin", "thrust", "thrust-side", "rings"}},
      {"ring", {"groove", "title", "angle"}},
      {"section", {"id", "title", "deferrable", "steps", "accepted"}},
      {"step",
       {"id", "title", "text", "after", "when", "hold", "part", "positions", "fits", "cautions", "figure", "entries",
        "accepted"}},
      {"caution", {"word", "hazard", "consequence", "avoid"}},
      {"reading", and_of_every_entry({"loose", "as-found", "parts", "judged-by", "unit", "limit", "by-eye", "gauges"})},
      {"readings", and_of_every_entry({"loose", "as-found", "parts", "judged-by", "unit", "limit", "by-eye", "gauges",
                                       "rows", "columns", "places", "may-skip", "ring-gaps"})},
      {"confirm", and_of_every_entry({"ring-gaps"})},
      {"choice", and_of_every_entry({"loose", "parts", "choices", "good", "option", "proposed-by", "ring-gaps"})},
      {"tightening",
       and_of_every_entry({"fasteners", "fasteners-of", "retorque", "order", "outline", "bolt", "stages"})},
      {"identity", and_of_every_entry({"loose"})},
      {"wait", and_of_every_entry({"least", "most"})},
      {"photograph", and_of_every_entry({"loose"})},
      {"calculated", and_of_every_entry({"parts", "judged-by", "computation", "inputs", "judge", "over"})},
      {"fastener", {"id", "position", "at"}},
      {"bolt", {"diameter", "pitch", "class", "lubrication", "head-diameter", "uses", "length", "structural"}},
      {"torque-stage", {"id", "torque", "by", "prevailing", "slot"}},
      {"angle-stage", {"id", "angle", "by", "beyond"}},
      {"stretch-stage", {"id", "stretch", "beyond"}},
      {"check-stage", {"id", "check"}},
      {"loosen-stage", {"id", "loosen"}},
      {"mark-stage", {"id", "mark"}},
      {"wait-stage", {"id", "wait"}},
      {"time", {"value", "unit"}},
      {"from-entry", {"entry", "result", "as-found"}},
      {"from-limit", {"limit", "bound"}},
      {"from-option", {"option"}},
      {"constant", {"constant"}},
  };
  return all;
}

const Names& members_of(std::string_view object) {
  for (const ObjectMembers& one : known_members())
    if (one.object == object) return one.members;
  throw std::logic_error("no object of a procedure is named " + std::string(object));
}

} // namespace procedure
