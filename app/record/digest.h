// SHA-256 and the text forms of bytes (lower-case hex, base64 of RFC 4648 with padding, strictly read back).
#pragma once

#include "quantity/result.h"

#include <string>
#include <string_view>

namespace record {

using quantity::Error;
using quantity::Result;

std::string sha256_hex(std::string_view bytes);
std::string hex(std::string_view bytes);
Result<std::string> from_hex(std::string_view text); // code "bad-value"
std::string base64(std::string_view bytes);
Result<std::string> from_base64(std::string_view text); // only the one canonical spelling; code "bad-value"

} // namespace record
