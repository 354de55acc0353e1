// The code on the cover, for a camera: what is printed beside it for comparing, in one line of text.
//
//   WITNESSMARK 1 BUILD <id> KEY <fingerprint> HEAD <hash>
//
// 1 is the version of this line; <id> the build's; <fingerprint> the shop key's and <hash> the head of the build, 64
// lower-case hexadecimal digits each. One blank between words. As a QR code by ISO/IEC 18004, error correction M.
#pragma once

#include "handover/content.h"

#include <string>
#include <vector>

namespace handover {

std::string code_text(const Content& content);

// Rows from the top, true where it is dark, without the quiet zone; empty when the text is too long for a code.
std::vector<std::vector<bool>> code_of(const std::string& text);

// How many squares wide the zone around it stays empty (ISO/IEC 18004).
constexpr int quiet_zone = 4;

} // namespace handover
