// What is written beside the shop file: the handover of a released engine as a signed PDF, and the sheet that goes with
// parts to the machine shop.
#pragma once

#include "calc/calendar.h"
#include "record/progress.h"
#include "json/value.h"

#include <filesystem>
#include <string>

namespace bench {

// The line the desk takes beside the actions of the record; it writes no event.
// {"do": "handover", "build", "person", "passphrase", "file": name beside the shop file, or a whole path}
// Answered {"ok": true, "file", "signer"}, or refused with the code and message of handover/make.h.
// Stopped, nothing is written.
json::Value hand_over(const std::filesystem::path& shop_file, const json::Value& line, const calc::Moment& now,
                      const record::Progress& progress = {});

// {"do": "print-order", "build", "order"}; answered {"ok": true, "file"}, or refused likewise.
json::Value print_order(const std::filesystem::path& shop_file, const json::Value& line);

// "marigold.pdf", or "marigold-2.pdf" ... when that is there already.
std::string name_for_handover(const std::filesystem::path& shop_file, const std::string& build);

} // namespace bench
