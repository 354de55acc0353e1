#include "record/digest.h"

#include "quantity/quoted.h"

#include <openssl/evp.h>

#include <array>
#include <cstdint>
#include <optional>
#include <stdexcept>

namespace record {

namespace {

constexpr std::string_view hex_digits = "0123456789abcdef";
constexpr std::string_view base64_digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

std::uint32_t byte_at(std::string_view bytes, std::size_t i) {
  return i < bytes.size() ? static_cast<unsigned char>(bytes[i]) : 0;
}

std::optional<std::uint32_t> place_in(std::string_view digits, char c) {
  const auto place = digits.find(c);
  if (place == std::string_view::npos) return std::nullopt;
  return static_cast<std::uint32_t>(place);
}

constexpr auto base64_values = [] {
  std::array<signed char, 256> values{};
  values.fill(-1);
  for (std::size_t i = 0; i < base64_digits.size(); ++i)
    values[static_cast<unsigned char>(base64_digits[i])] = static_cast<signed char>(i);
  return values;
}();

// Nothing when a character is no digit, the padding is not at the end, or bits of the last digit are left over.
std::optional<std::string> bytes_of_base64(std::string_view text) {
  if (text.size() % 4 != 0) return std::nullopt;
  std::string bytes;
  bytes.reserve(text.size() / 4 * 3);
  for (std::size_t i = 0; i < text.size(); i += 4) {
    const bool last = i + 4 == text.size();
    const std::size_t padding = !last || text[i + 3] != '=' ? 0 : text[i + 2] != '=' ? 1 : 2;
    std::uint32_t group = 0;
    for (std::size_t j = 0; j < 4; ++j) {
      const int digit = j >= 4 - padding ? 0 : base64_values[byte_at(text, i + j)];
      if (digit < 0) return std::nullopt;
      group = group << 6 | static_cast<std::uint32_t>(digit);
    }
    if ((group & ((1u << 8 * padding) - 1)) != 0) return std::nullopt;
    for (std::size_t j = 0; j < 3 - padding; ++j) bytes += static_cast<char>(group >> (16 - 8 * j) & 0xff);
  }
  return bytes;
}

} // namespace

std::string sha256_hex(std::string_view bytes) {
  static const EVP_MD* const sha256 = EVP_MD_fetch(nullptr, "SHA256", nullptr); // else looked up anew each time
  std::array<unsigned char, 32> digest{};
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), nullptr, sha256, nullptr) != 1)
    throw std::runtime_error("SHA-256 is not to be had from the cryptographic library");
  return hex({reinterpret_cast<const char*>(digest.data()), digest.size()});
}

std::string hex(std::string_view bytes) {
  std::string text;
  text.reserve(2 * bytes.size());
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    text += hex_digits[byte_at(bytes, i) >> 4];
    text += hex_digits[byte_at(bytes, i) & 15];
  }
  return text;
}

Result<std::string> from_hex(std::string_view text) {
  const Error error{"bad-value", quantity::quoted(text) + " is not hex: pairs of the digits 0 to 9 and a to f"};
  if (text.size() % 2 != 0) return error;
  std::string bytes;
  for (std::size_t i = 0; i < text.size(); i += 2) {
    const auto high = place_in(hex_digits, text[i]);
    const auto low = place_in(hex_digits, text[i + 1]);
    if (!high || !low) return error;
    bytes += static_cast<char>(*high << 4 | *low);
  }
  return bytes;
}

std::string base64(std::string_view bytes) {
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::uint32_t group = byte_at(bytes, i) << 16 | byte_at(bytes, i + 1) << 8 | byte_at(bytes, i + 2);
    for (std::size_t j = 0; j < 4; ++j) text += i + j > bytes.size() ? '=' : base64_digits[group >> (18 - 6 * j) & 63];
  }
  return text;
}

Result<std::string> from_base64(std::string_view text) {
  if (auto bytes = bytes_of_base64(text)) return *std::move(bytes);
  return Error{"bad-value", quantity::quoted(text) + " is not base64 in its one proper spelling"};
}

} // namespace record
