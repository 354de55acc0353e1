// The command line: everything the program does, without a window. Exit status 0 done, 1 the answer is no, 2 could not
// try. Errors are one line on stderr that starts "error: ".
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace command {

struct Streams {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
};

// `arguments` without the program's name.
int run(const std::vector<std::string>& arguments, const Streams& streams);
int run(int argc, char** argv); // on the process's own streams, which are taken as bytes

} // namespace command
