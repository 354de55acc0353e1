#include "bench/handing_over.h"

#include "handover/make.h"

#include <fmt/format.h>

namespace bench {

using json::Value;

namespace {

Value refusal(const quantity::Error& error) {
  return Value::object(
      {{"ok", Value::boolean(false)}, {"error", Value::text(error.code)}, {"message", Value::text(error.message)}});
}

} // namespace

Value hand_over(const std::filesystem::path& shop_file, const Value& line, const calc::Moment& now,
                const record::Progress& progress) {
  const std::string& file = line.text_or_empty("file");
  if (file.empty()) return refusal({"bad-value", "Give the file a name, as marigold.pdf."});
  const auto made =
      handover::handover_of(shop_file, line.text_or_empty("build"), line.text_or_empty("person"),
                            line.text_or_empty("passphrase"), now, handover::Photographs::listed, progress);
  if (!made) return refusal(made.error());
  const auto path = std::filesystem::absolute(shop_file).parent_path() / file;
  if (const auto written = handover::write_new(path, made->pdf); !written) return refusal(written.error());
  return Value::object(
      {{"ok", Value::boolean(true)}, {"file", Value::text(path.string())}, {"signer", Value::text(made->signer)}});
}

Value print_order(const std::filesystem::path& shop_file, const Value& line) {
  const std::string& build = line.text_or_empty("build");
  const std::string& order = line.text_or_empty("order");
  const auto pdf = handover::order_of(shop_file, build, order);
  if (!pdf) return refusal(pdf.error());
  const auto path = std::filesystem::absolute(shop_file).parent_path() /
                    name_for_handover(shop_file, fmt::format("{}-{}", build, order));
  if (const auto written = handover::write_new(path, *pdf); !written) return refusal(written.error());
  return Value::object({{"ok", Value::boolean(true)}, {"file", Value::text(path.string())}});
}

std::string name_for_handover(const std::filesystem::path& shop_file, const std::string& build) {
  const auto folder = std::filesystem::absolute(shop_file).parent_path();
  std::string name = build + ".pdf";
  std::error_code ignored;
  for (int number = 2; std::filesystem::exists(folder / name, ignored); ++number)
    name = fmt::format("{}-{}.pdf", build, number);
  return name;
}

} // namespace bench
