// The train of timing gears.
#include "procedure/reading.h"

#include "json/utf8.h"

#include <algorithm>

namespace procedure {

using json::Fields;
using json::Value;

namespace {

constexpr std::int64_t fewest = 5;
constexpr std::int64_t most = 400;

TrainGear read_gear(const Value& item, const std::string& pointer, const std::vector<TrainGear>& before,
                    Faults& faults) {
  Fields fields(item, pointer, named("gear", item), faults);
  TrainGear gear;
  gear.id = identifier(fields, "id");
  gear.title = text_or_empty(fields, "title", true);
  const auto teeth = fields.integer("teeth");
  if (teeth && (*teeth < fewest || *teeth > most)) fields.fault("teeth", fmt::format("must be {} to {}", fewest, most));
  gear.teeth = teeth ? static_cast<int>(std::clamp(*teeth, fewest, most)) : 0;
  gear.meshes = text_or_empty(fields, "meshes", !before.empty());
  if (const auto direction = fields.number("direction", false)) gear.direction = direction->to_double();
  const auto is = [](const std::string& id) { return [&id](const TrainGear& one) { return one.id == id; }; };
  if (before.empty() && fields.has("meshes"))
    fields.fault("meshes", "the first gear drives the others and meshes none");
  if (!before.empty() && !gear.meshes.empty() && std::none_of(before.begin(), before.end(), is(gear.meshes)))
    fields.fault("meshes", fmt::format("there is no gear {} before it", json::shown(gear.meshes)));
  if (std::any_of(before.begin(), before.end(), is(gear.id)))
    fields.fault("id", fmt::format("there is a gear {} already", json::shown(gear.id)));
  close(fields, "gear");
  return gear;
}

} // namespace

std::vector<TrainGear> read_gear_train(Fields& of, Faults& faults) {
  std::vector<TrainGear> train;
  each(of, "gear-train", false, [&](const Value& item, const std::string& pointer) {
    train.push_back(read_gear(item, pointer, train, faults));
  });
  return train;
}

} // namespace procedure
