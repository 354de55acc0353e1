// What is being looked at and typed on the screen of the procedures.
#pragma once

#include "bench/lines.h"
#include "bench/shop_state.h"
#include "procedure/transcribed.h"

#include <memory>

namespace bench {

// One set of numbers of a procedure, in words.
struct NumberLine {
  procedure::NumberSet set;
  procedure::Transcribed standing = procedure::Transcribed::empty;
  std::string title, numbers, origin, hands;
  std::vector<std::string> differ;
  std::string entered_by;
};

// Numbers copied from the manual, while they are typed.
struct NumberForm {
  bool open = false;
  bool second = false; // the reading that checks
  procedure::NumberSet set;
  std::string title;
  Form form;
  std::vector<std::string> units;
  std::size_t unit = 0, basis = 0;
  std::string unit_typed, basis_typed;
  std::string low, high, service_low, service_high, target, source;
  std::string looked_at;          // what was typed when the slips were looked for
  std::vector<std::string> slips; // in words
  std::string meant;              // what was typed when F5 was struck and a slip, or that it is nothing, was told
};

// A procedure for another engine, while it is begun.
struct NewProcedure {
  bool open = false;
  Form form;
  std::filesystem::path from;
  std::string id, title, model;
};

struct ProceduresState {
  bool focus = true;
  std::string narrowed;
  LineList files_list;
  std::vector<ProcedureFile> files;
  std::vector<std::string> standing; // of the numbers of each
  std::size_t own = 0;               // so many of them, the first, are the shop's own
  NewProcedure fresh;

  std::filesystem::path file; // the one that is open; "" none
  bool may_fill = false;      // it is the shop's own
  std::string text;           // of it, as read
  std::shared_ptr<const procedure::Procedure> procedure;
  LineList numbers_list;
  std::vector<NumberLine> numbers;
  std::vector<std::size_t> shown; // of them, narrowed
  std::vector<std::string> of_old_engine;
  NumberForm form;
};

} // namespace bench
