// A passphrase for one command: typed at the terminal without being shown, or the first line of stdin when that is
// none.
#pragma once

#include "command/command.h"

#include <string>
#include <string_view>

namespace command {

// `prompt` is shown at a terminal only. Empty when nothing came. Overwrite it after use.
std::string asked_passphrase(const Streams& streams, std::string_view prompt);

} // namespace command
