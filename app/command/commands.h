// The commands, each described once: the overview, --help, the reading of its arguments and its work come from here.
#pragma once

#include "command/options.h"
#include "command/output.h"

namespace command {

struct Command {
  std::string_view name;
  std::string_view purpose; // one line of the overview
  Usage usage;
  std::string_view details; // what --help says behind usage and purpose
  Exit (*work)(const Arguments& arguments, const Streams& streams);
};

Command drive_command();
Command lint_command();
Command calc_command();
Command verify_command();
Command backup_command();
Command handover_command();
Command order_command();
Command new_procedure_command();
Command limits_command();
Command speed_command();

// What --help says. For calc with a computation's name among the words behind the command: all about that one.
Exit tell_about(const Command& command, const Streams& streams);
Exit tell_about_calc(const Command& command, const std::vector<std::string>& words, const Streams& streams);

// Arguments that each are good but do not go together.
Exit refuse_use(const Streams& streams, std::string_view what, const Usage& usage);

} // namespace command
