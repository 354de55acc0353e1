// Fields one under the other that make one action: Enter and Tab go on to the next, Up back to the one before, F5 sends
// from anywhere, Escape leaves. Only the field at work takes the keys. What the gate refuses stands under the field it
// concerns.
#pragma once

#include "bench/ui.h"

namespace bench {

struct Field {
  enum class Kind { line, secret, choice, ticks };
  std::string id; // the action's own word, by which a refusal is laid beside it
  std::string label;
  std::string* text = nullptr;                         // of a choice: what narrows it; of ticks: none
  std::string hint = {};                               // said while the field has the keys
  Kind kind = Kind::line;                              // a secret is shown as stars and never listed
  std::vector<std::string> choices = {};               // of which `picked` is one
  std::size_t* picked = nullptr;                       // its number
  std::vector<Ticked>* ticks = nullptr;                // by number: each on or off
  const char *on = "yes", *off = "no", *none = "none"; // in words: each, and when not one is on
};

enum class Filled { going_on, sent, left };
Filled fill_in(Ui& ui, Form& form, std::vector<Field> fields, const std::string& send);

// While nobody is signed in: asks who is working, in place of the form. Nothing once somebody is.
std::optional<Filled> nobody_yet(Ui& ui, Form& form);

// Lays the sentence under the field that it names, or whose text it repeats, else beneath them all.
void refuse(Form& form, const std::vector<Field>& fields, const std::string& message);
// Under the field of that id, which then has the keys.
void refuse_at(Form& form, const std::vector<Field>& fields, const std::string& id, const std::string& message);

void wipe(std::string& secret);

// `text` as the member, when something was typed.
void set_if_typed(json::Value& line, std::string_view key, const std::string& text);

} // namespace bench
