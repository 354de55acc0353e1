// A photograph laid beside an entry. Its bytes were read and hashed outside; here it gets its place.
#include "build/decision.h"

#include <fmt/format.h>

namespace build {

Result<Decision> attach(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "path"});
  asked.text("path");
  const auto at = named_entry(it.build, asked);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (!at) return at.error();
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  if (const auto turn = in_turn(it.build, *at, true); !turn) return turn.error();
  if (const auto read = cautions_read(it.build, at->step, it.context); !read) return read.error();
  const Value& photograph = it.context.outside.photograph;
  for (const auto& there : it.build.photographs)
    if (there.at == *at && there.sha256 == photograph.text_or_empty("sha256"))
      return bad_value(fmt::format("{}: this very photograph is there already.", it.build.plan->entry(*at).title));
  Value body = begun(it, *at);
  body.set("photograph", photograph);
  Decision out;
  out.answer = Value::object({{"sha256", photograph.at("sha256")}});
  out.body = std::move(body);
  return out;
}

} // namespace build
