#include "record/photograph.h"

#include "record/digest.h"
#include "json/read.h"

#include <fmt/format.h>

#include <cstdint>
#include <optional>

namespace record {

using json::Value;

namespace {

struct Size {
  std::uint32_t width = 0, height = 0;
};

std::uint32_t big_endian(std::string_view bytes, std::size_t at, std::size_t count) {
  std::uint32_t out = 0;
  for (std::size_t i = 0; i < count; ++i) out = out << 8 | static_cast<unsigned char>(bytes[at + i]);
  return out;
}

// ISO/IEC 15948 (PNG): signature, then the chunk IHDR with width and height.
std::optional<Size> size_of_png(std::string_view bytes) {
  constexpr std::string_view start("\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16);
  if (bytes.size() < 24 || bytes.substr(0, start.size()) != start) return std::nullopt;
  return Size{big_endian(bytes, 16, 4), big_endian(bytes, 20, 4)};
}

// ISO/IEC 10918-1 (JPEG): markers FF xx with a length each; a frame header (SOF0 to SOF15 but for DHT, JPG and DAC)
// holds height and width.
std::optional<Size> size_of_jpeg(std::string_view bytes) {
  if (bytes.substr(0, 3) != "\xff\xd8\xff") return std::nullopt;
  std::size_t at = 2;
  while (at + 9 <= bytes.size() && bytes[at] == '\xff') {
    const auto marker = static_cast<unsigned char>(bytes[at + 1]);
    if (marker == 0xff) { // filled up
      ++at;
      continue;
    }
    const bool frame = marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
    if (frame) return Size{big_endian(bytes, at + 7, 2), big_endian(bytes, at + 5, 2)};
    if (marker == 0xd9 || marker == 0xda) return std::nullopt;
    at += 2 + big_endian(bytes, at + 2, 2);
  }
  return std::nullopt;
}

} // namespace

Result<Value> photograph_facts(std::string_view bytes) {
  const auto png = size_of_png(bytes);
  const auto size = png ? png : size_of_jpeg(bytes);
  if (!size || size->width == 0 || size->height == 0)
    return Error{"no-photograph", "This is no photograph: a JPEG or PNG file is wanted."};
  return Value::object({{"sha256", Value::text(sha256_hex(bytes))},
                        {"size", Value::integer(static_cast<std::int64_t>(bytes.size()))},
                        {"media", Value::text(png ? "image/png" : "image/jpeg")},
                        {"width", Value::integer(size->width)},
                        {"height", Value::integer(size->height)}});
}

Result<Photograph> read_photograph(const std::filesystem::path& path) {
  auto bytes = json::read_file(path, largest_photograph);
  if (!bytes) return bytes.error();
  auto facts = photograph_facts(*bytes);
  if (!facts) return facts.error();
  return Photograph{std::move(*bytes), std::move(*facts)};
}

} // namespace record
