// A photograph laid beside an entry or a finding. Its bytes were read and hashed outside; here it gets its place.
#include "build/decision.h"
#include "build/findings.h"

#include <fmt/format.h>

namespace build {

Result<Decision> attach(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "finding", "path"});
  asked.text("path");
  const std::string of = asked.text("finding", false);
  std::optional<EntryAt> at;
  if (of.empty()) {
    const auto entry = named_entry(it.build, asked);
    if (const auto wrong = asked.wrong()) return *wrong;
    if (!entry) return entry.error();
    if (const auto may = may_write(it.build, *entry); !may) return may.error();
    if (const auto turn = in_turn(it.build, *entry, true); !turn) return turn.error();
    if (const auto read = cautions_read(it.build, entry->step, it.context); !read) return read.error();
    at = *entry;
  } else {
    if (const auto wrong = asked.wrong()) return *wrong;
    if (asked.has("step") || asked.has("entry")) return bad_value("Say a step and entry, or a finding, not both.");
    if (!find_finding(it.build, of)) return bad_value(fmt::format("There is no finding \"{}\" on this engine.", of));
  }
  const Value& photograph = it.context.outside.photograph;
  for (const auto& there : it.build.photographs)
    if (there.at == at && there.finding == of && there.sha256 == photograph.text_or_empty("sha256"))
      return bad_value("This very photograph is there already.");
  Value body = at ? begun(it, *at) : begun(it);
  if (!of.empty()) body.set("finding", Value::text(of));
  body.set("photograph", photograph);
  Decision out;
  out.answer = Value::object({{"sha256", photograph.at("sha256")}});
  out.body = std::move(body);
  return out;
}

} // namespace build
