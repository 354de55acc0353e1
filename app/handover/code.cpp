#include "handover/code.h"

#include <fmt/format.h>
#include <qrcodegen/qrcodegen.hpp>

namespace handover {

std::string code_text(const Content& content) {
  return fmt::format("WITNESSMARK 1 BUILD {} KEY {} HEAD {}", content.build, content.shop_key, content.head);
}

std::vector<std::vector<bool>> code_of(const std::string& text) {
  using qrcodegen::QrCode;
  std::vector<std::vector<bool>> out;
  try {
    const QrCode code = QrCode::encodeText(text.c_str(), QrCode::Ecc::MEDIUM);
    for (int y = 0; y < code.getSize(); ++y) {
      auto& row = out.emplace_back();
      for (int x = 0; x < code.getSize(); ++x) row.push_back(code.getModule(x, y));
    }
  } catch (const qrcodegen::data_too_long&) {
    out.clear();
  }
  return out;
}

} // namespace handover
