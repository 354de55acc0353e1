// Comparing with something outside the project. Each comparison is a check of Catch2 and a line in a ledger; when the
// whole program of tests has run, the ledger is written as a table (see README.md of this folder, which it must equal).
//
// How to use it: one `const Source` a document, then in the tests
//   INFO("table 5, M10");
//   agrees(iso_898, "preload", got, 48100, 0.006 * 48100);
#pragma once

#include <string>
#include <string_view>

namespace outside {

enum class Standing {
  read,      // the page, or a public copy of it, was read
  recalled,  // from memory; recomputed where a formula allows
  reference, // another program or library worked it out
  worked,    // geometry or arithmetic, worked out here another way
  custom     // common practice, no source
};

struct Source {
  std::string_view document; // with edition; table, clause or page stand beside each check
  Standing standing = Standing::read;
};

// CHECKs |got - printed| <= slack, in whatever unit both are. `slack` is what rounding of the printed number, or the
// document's own tolerance, allows. Enters the difference as a part of the printed value (of `slack` when 0 is
// printed).
void agrees(const Source& source, std::string_view computation, double got, double printed, double slack);

// CHECKs a choice, a verdict, a whole table: something that is the same or is not.
void agrees(const Source& source, std::string_view computation, bool same);

// Known disagreement: the document prints `printed` where `got` comes out, and it is the document that is wrong, or
// another rule. CHECKs that they differ by more than `slack`; listed by itself with `why`, one sentence.
void disagrees(const Source& source, std::string_view computation, double got, double printed, double slack,
               const std::string& why);

} // namespace outside
