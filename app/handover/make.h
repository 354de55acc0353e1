// The handover of a build, made from a shop file: pages, record.json and record.csv in one signed PDF. An open build
// gives a draft: pages alone, marked, unsigned.
#pragma once

#include "calc/calendar.h"
#include "quantity/result.h"
#include "record/progress.h"

#include <filesystem>
#include <string>
#include <string_view>

namespace handover {

using quantity::Error;
using quantity::Result;

// The bytes of the PDF. Codes: those of opening the shop file, "unknown-build", "build-released".
Result<std::string> draft_of(const std::filesystem::path& shop_file, std::string_view build_id);

// The sheet of an order to the machine shop, as things stood when it was sent. Codes: those of opening the shop file,
// "unknown-build", "unknown-order".
Result<std::string> order_of(const std::filesystem::path& shop_file, std::string_view build_id, std::string_view order);

enum class Photographs { listed, attached }; // attached: scaled down

struct Handover {
  std::string pdf;
  std::string signer; // printed name
};

// Signed by a builder or an owner with their own passphrase (wrong ones are counted in the shop file), and checked as
// any reader of it would before it is given out. Codes: "build-open", "unknown-person", "wrong-passphrase",
// "role-needed", "no-photograph", "stopped", "not-intact" (the record itself has a fault), "not-written", and those of
// opening the shop file.
Result<Handover> handover_of(const std::filesystem::path& shop_file, std::string_view build_id, std::string_view person,
                             std::string_view passphrase, const calc::Moment& now,
                             Photographs photographs = Photographs::listed, const record::Progress& progress = {});

// To a file that is not there yet, whole or not at all. Codes "store-exists", "not-written".
Result<void> write_new(const std::filesystem::path& file, const std::string& bytes);

} // namespace handover
