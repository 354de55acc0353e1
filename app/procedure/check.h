// What the objects of a procedure must be to one another, once each has been read for itself: references, conditions,
// limits, calculated entries and the order of the steps. Warnings tell what is allowed but likely a slip.
#pragma once

#include "procedure/reader.h"

#include <functional>
#include <set>
#include <unordered_map>

namespace procedure {

// Adds what it finds to `remarks`. `document` is what the procedure was read from; it may have faults of its own.
void check(const Procedure& procedure, const json::Value& document, std::vector<Remark>& remarks);

// --- for the files of the check alone ---

class Notes {
public:
  Notes(const json::Value& document, std::vector<Remark>& remarks) : document_(document), remarks_(remarks) {}
  // `pointer` says where; the place comes from the document (of the nearest object around it when it is not there).
  void error(const std::string& pointer, std::string message);
  // Told no more where the object it is about, or one around it, accepts it with a reason.
  void warning(std::string_view code, const std::string& pointer, std::string message);
  std::string written(const std::string& pointer) const; // a number as it stands in the file; "" when none is there
  // Each "accepted" that was needed for no warning is told, last.
  void needless();

private:
  // From the document down to what the pointer names, as far as it leads; each with its own pointer.
  std::vector<std::pair<const json::Value*, std::string>> way(std::string_view pointer) const;

  const json::Value& document_;
  std::vector<Remark>& remarks_;
  const json::Value* member(const json::Value& of, const std::string& key) const; // of an object
  // The members of objects that have many, so that a remark on each of them does not search them all.
  mutable std::unordered_map<const json::Value*, std::unordered_map<std::string, const json::Value*>> large_;
  std::set<std::string> used_; // pointers to reasons in "accepted"
};

struct EntryView {
  const Step& step;
  const Entry& entry;
  std::string pointer;
  std::string what() const; // for messages: `step "fit-crank", entry "oil"`
};

// The procedure with its entries by name, and where each thing stands in the file.
class Index {
public:
  explicit Index(const Procedure& procedure);
  const Procedure& procedure() const { return procedure_; }
  const Entry* entry(std::string_view step, std::string_view entry) const;
  void each_step(const std::function<void(const Section&, const Step&, const std::string& pointer)>& look) const;
  void each_entry(const std::function<void(const EntryView&)>& look) const;

private:
  struct StepView {
    const Section& section;
    const Step& step;
    std::string pointer;
  };
  const Procedure& procedure_;
  std::vector<StepView> steps_;
  std::vector<EntryView> views_;
  struct Name {
    std::string_view step, entry;
    bool operator==(const Name&) const = default;
  };
  struct Hash {
    std::size_t operator()(const Name& name) const {
      constexpr std::hash<std::string_view> hash;
      return hash(name.step) * 31 + hash(name.entry);
    }
  };
  std::unordered_map<Name, const Entry*, Hash> entries_;
};

// Of what the pointer names, or of the nearest object around it.
json::Place place_in(const json::Value& document, std::string_view pointer);
std::string pointer_of_limit(const Limit& limit);
// Each set of numbers of a limit with its pointer: the base, then the cases.
void each_values(const Limit& limit,
                 const std::function<void(const LimitValues& values, const std::string& pointer)>& look);

void check_names(const Index& index, Notes& notes);
void check_conditions(const Index& index, Notes& notes);
void check_references(const Index& index, Notes& notes);
void check_limits(const Index& index, Notes& notes);
void check_calculated(const Index& index, Notes& notes);
void check_order(const Index& index, Notes& notes);
void check_findings(const Index& index, Notes& notes);
void check_machine_work(const Index& index, Notes& notes);
void check_use(const Index& index, Notes& notes);
void check_ring_gaps(const Index& index, Notes& notes);
void check_fastening(const Index& index, Notes& notes);
void check_fits(const Index& index, Notes& notes);
void check_usual(const Index& index, Notes& notes);
void check_habits(const Index& index, Notes& notes);
void check_tightening(const Index& index, Notes& notes, const EntryView& at);

bool all_in(const std::vector<std::string>& some, const std::vector<std::string>& all);

// The tightening whose fasteners an entry takes over; null when it has its own, or when there is none of that name.
const Entry* taken_over_from(const Index& index, const Entry& entry);

// A limit that judges readings or a result: it exists, measures this (when known), and says between what.
// `pointer` is where it is named.
void check_judging_limit(const Index& index, Notes& notes, const EntryView& at, const std::string& pointer,
                         const std::string& name, std::optional<quantity::Dimension> dimension);

} // namespace procedure
