// What the questions of the sheet share, in whatever file they are.
#pragma once

#include "bench/tightening.h"

#include <initializer_list>
#include <optional>
#include <utility>

namespace bench {

bool digit(int number); // struck by itself, on either block of keys
void leave(Ui& ui);     // the question, without what was typed

// Fields one under the other; Enter goes on to the next. True when Enter was pressed in the last.
bool fields(Ui& ui, std::initializer_list<std::pair<const char*, std::string*>> list);

// Sends it with the person and passphrase that were typed, and leaves the question.
void with_person(Ui& ui, json::Value line);

// "customer" of a concession, when one was named: who agreed today, and how they said so.
void add_customer(const Ui& ui, json::Value& line);

// The number of the one that was chosen: by number (the first nine), with Up, Down and Enter, or clicked.
std::optional<std::size_t> choose(Ui& ui, const std::vector<std::string>& labels);

// Each may be ticked or not: by number, or with Up, Down and Insert; `on` and `off` say in words which it is. True when
// Enter goes on with them.
bool tick(Ui& ui, std::vector<Ticked>& list, const char* on, const char* off);

// What was found on that part there, as after "which part?".
void ask_what_was_found(Ui& ui, const build::Build& build, const std::string& part, const std::string& position);

// Names with commas or blanks between them.
json::Value names_of(const std::string& typed);

} // namespace bench
