#include "build/numbers.h"

#include "build/decision.h"

#include <fmt/format.h>

namespace build {

using json::Kind;

namespace {

// The numbers of "value" or "values", nested as the entry asks: position by position, row by row.
class Numbers {
public:
  Numbers(const Build& build, EntryAt at, const Value& action)
      : step_(build.plan->step(at.step)), entry_(build.plan->entry(at)), shape_(procedure::cells_of(step_, entry_)),
        action_(action) {}

  Result<std::vector<Given>> read() {
    const Value* one = action_.find("value");
    const Value* many = action_.find("values");
    if ((one != nullptr) == (many != nullptr))
      return bad_value("Give either \"value\" or \"values\", not both and not neither.");
    std::size_t first = 0;
    if (const auto* position = action_.find("position")) {
      const auto found = named_position(step_, position->is(Kind::text) ? position->as_text() : std::string());
      if (!found) return found.error();
      first = *found * shape_.per_position();
    } else if (!step_.positions.empty()) {
      dimensions_.push_back({shape_.positions, "position"});
    }
    if (!entry_.rows.empty()) dimensions_.push_back({shape_.rows, "row"});
    if (!entry_.columns.empty()) dimensions_.push_back({shape_.columns, "column"});
    if (const auto unit = choose_unit(); !unit) return unit.error();
    if (one && !dimensions_.empty())
      return bad_value(fmt::format("{} asks for several numbers; give \"values\" nested {}.", entry_.title, nesting()));
    const auto done = take(one ? *one : *many, 0, first);
    if (!done) return done.error();
    if (out_.empty()) return bad_value(fmt::format("{}: there is no number in \"values\".", entry_.title));
    return std::move(out_);
  }

private:
  struct Level {
    std::size_t size;
    const char* name;
  };

  std::string nesting() const {
    std::string out;
    for (const auto& level : dimensions_)
      out += fmt::format("{}{} {}{}", out.empty() ? "" : " of ", level.size, level.name, level.size == 1 ? "" : "s");
    return out.empty() ? "as one number" : "as " + out;
  }

  Result<void> choose_unit() {
    unit_ = entry_.unit;
    const auto* named = action_.find("unit");
    if (!named) return {};
    const Unit* found = named->is(Kind::text) ? quantity::find_unit(named->as_text()) : nullptr;
    if (!found) return Error{"bad-unit", fmt::format("\"unit\" of {} is no unit that is known here.", entry_.title)};
    if (found->dimension != entry_.unit->dimension)
      return Error{"bad-unit", fmt::format("{} is measured in {}, and {} measures {}.", entry_.title, entry_.unit->name,
                                           found->name, quantity::name_of(found->dimension))};
    unit_ = found;
    return {};
  }

  Result<void> take(const Value& value, std::size_t depth, std::size_t first) {
    if (depth == dimensions_.size()) return take_number(value, first);
    const Level& level = dimensions_[depth];
    if (value.is(Kind::null)) return {};
    if (!value.is(Kind::array) || value.items().size() != level.size)
      return bad_value(fmt::format("{} asks for values nested {}; null stands for a point not measured yet.",
                                   entry_.title, nesting()));
    std::size_t stride = 1;
    for (std::size_t d = depth + 1; d < dimensions_.size(); ++d) stride *= dimensions_[d].size;
    for (std::size_t i = 0; i < level.size; ++i)
      if (const auto done = take(value.items()[i], depth + 1, first + i * stride); !done) return done.error();
    return {};
  }

  Result<void> take_number(const Value& value, std::size_t cell) {
    if (value.is(Kind::null)) return {};
    Given given{cell, as_recorded(value), false, {}};
    if (value.is(Kind::text) && value.as_text() == "-") {
      if (!entry_.may_skip)
        return bad_value(fmt::format("{}: no point may be left out here; measure {}.", entry_.title, name(cell)));
      given.skipped = true;
    } else {
      const auto number = typed_value(value, *unit_);
      if (!number)
        return Error{number.error().code, fmt::format("{}{}: {}", entry_.title, place(cell), number.error().message)};
      given.value = quantity::convert(number->value, *number->unit, *entry_.unit);
    }
    out_.push_back(std::move(given));
    return {};
  }

  std::string name(std::size_t cell) const { return procedure::name_of_cell(step_, entry_, cell); }
  std::string place(std::size_t cell) const { return shape_.count() > 1 ? fmt::format(" ({})", name(cell)) : ""; }

  const procedure::Step& step_;
  const procedure::Entry& entry_;
  procedure::CellShape shape_;
  const Value& action_;
  std::vector<Level> dimensions_;
  const Unit* unit_ = nullptr;
  std::vector<Given> out_;
};

} // namespace

Result<std::vector<Given>> given_numbers(const Build& build, EntryAt at, const Value& action) {
  return Numbers(build, at, action).read();
}

} // namespace build
