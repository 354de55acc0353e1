// The members each object of a procedure's file may have. The reader holds itself to this list whenever it reads an
// object, and a test compares it with the schema, so neither can know a member that the other does not.
#pragma once

#include <string_view>
#include <vector>

namespace procedure {

struct ObjectMembers {
  std::string_view object; // its name in the schema's $defs: "limit", "step", "readings", ...
  std::vector<std::string_view> members;
};

const std::vector<ObjectMembers>& known_members();

// std::logic_error when no object has this name.
const std::vector<std::string_view>& members_of(std::string_view object);

} // namespace procedure
