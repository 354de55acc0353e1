// Copying numbers from the manual into a procedure's file, twice: each function takes the file's text and gives it with
// one set of numbers filled in and everything else as it was, or says why not. Nothing is written to a disk here.
#pragma once

#include "procedure/reader.h"
#include "procedure/transcribed.h"

namespace procedure {

// As a person types them: "0.020", "0.020 mm"; "" where the manual gives none. All empty: it gives no number at all.
struct TypedNumbers {
  std::string unit; // "": the one typed behind a number, else the limit's
  std::string standard_low, standard_high, service_low, service_high, target;
  bool empty() const;
};

// Where the numbers come from; without a basis, as the limit says already.
struct Origin {
  std::optional<Basis> basis;
  std::string source;
};

// The first reading. It replaces numbers that are there; a second reading of them stays, and then agrees or differs.
// A unit other than the limit's becomes the limit's when no other of its sets holds numbers. Without any number the
// answer is "maker gives none", for the whole limit. Errors: "bad-procedure" (the text has faults of its own, or would
// have one with these numbers), "unknown-limit", "bad-value", "bad-unit".
Result<std::string> with_entered(std::string_view text, const NumberSet& set, const TypedNumbers& typed,
                                 const Origin& origin, const Hand& hand);

// The second reading, put beside the first whether they agree or not: `transcribed` and `differences` tell. It must not
// be shown the first. Error "not-entered": there is nothing to check yet.
Result<std::string> with_checked(std::string_view text, const NumberSet& set, const TypedNumbers& typed,
                                 const Hand& hand);

// What lint doubts, or refuses, because of these numbers alone, whatever stands in the file for this set now. An error
// when they cannot be read.
Result<std::vector<Remark>> slips_of(std::string_view text, const NumberSet& set, const TypedNumbers& typed);

} // namespace procedure
