// How commands end and how they say something to a person.
#pragma once

#include "command/command.h"

#include <cstddef>
#include <string>
#include <string_view>

namespace command {

enum class Exit { done = 0, answer_is_no = 1, could_not_try = 2 };

// "error: " and the message as one line on stderr. Gives could_not_try, so that a command can return it.
Exit refuse(const Streams& streams, std::string_view message);

// Text from elsewhere for one line: names of files and fields come from strangers, so characters that cannot be seen
// are escaped and a very long text is cut.
std::string one_line(std::string_view text);

// Lines of at most 100 columns, each behind the indent and with a line end.
std::string wrapped(std::string_view text, std::size_t indent);

} // namespace command
