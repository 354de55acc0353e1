// The key of a released engine: its handover as a signed PDF beside the shop file.
#pragma once

#include "calc/calendar.h"
#include "json/value.h"

#include <filesystem>
#include <string>

namespace bench {

// The line the desk takes beside the actions of the record; it writes no event.
// {"do": "handover", "build", "person", "passphrase", "file": name beside the shop file, or a whole path}
// Answered {"ok": true, "file", "signer"}, or refused with the code and message of handover/make.h.
json::Value hand_over(const std::filesystem::path& shop_file, const json::Value& line, const calc::Moment& now);

// "marigold.pdf", or "marigold-2.pdf" ... when that is there already.
std::string name_for_handover(const std::filesystem::path& shop_file, const std::string& build);

} // namespace bench
