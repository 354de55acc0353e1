// A walk through every combination of choices of the options that some conditions depend on, so that what a procedure
// says can be looked at for each kind of engine it is for.
#pragma once

#include "procedure/procedure.h"

namespace procedure {

class Combinations {
public:
  // Begins at the first combination; without any condition there is one, of nothing.
  Combinations(const Procedure& procedure, const std::vector<const When*>& conditions);

  bool known() const { return known_; }        // every option and choice that the conditions name exists
  std::size_t count() const { return count_; } // stops at too_many
  static constexpr std::size_t too_many = 2000;

  bool next();                                            // to the next combination; false after the last
  bool holds(const When& when) const;                     // its options must be among those of the conditions
  const LimitValues& values_of(const Limit& limit) const; // those of the first case that holds
  std::string text() const;                               // `bore is "0.25", crank is "standard"`

private:
  std::vector<const Option*> options_;
  std::vector<std::size_t> chosen_;
  std::size_t count_ = 1;
  bool known_ = true;
};

std::vector<const When*> conditions_of(const Limit& limit); // of its cases

} // namespace procedure
