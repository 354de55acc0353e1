// A handover from a stranger: each line of the input is one change of the handover that is kept for its format:
// "PLACE=BYTES" puts bytes over what is there, "PLACE+BYTES" in between, "PLACE-COUNT" takes some out. Nothing but the
// file as it was is ever called intact.
#include "handover/check.h"

#include <cstdint>
#include <cstdlib>
#include <fstream>
#include <iterator>

namespace {

const std::string& kept() {
  static const std::string pdf = [] {
    std::ifstream file(std::string(PROJECT_FOLDER) + "/tests/record/kept/format-1.pdf", std::ios::binary);
    std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    const auto report = handover::check_pdf(bytes, {});
    if (!report || !report->intact) std::abort();
    return bytes;
  }();
  return pdf;
}

std::size_t number_at(std::string_view line, std::size_t& at) {
  std::size_t number = 0;
  while (at < line.size() && at < 9 && line[at] >= '0' && line[at] <= '9')
    number = number * 10 + static_cast<std::size_t>(line[at++] - '0');
  return number;
}

void change(std::string& pdf, std::string_view line) {
  std::size_t at = 0;
  const std::size_t place = number_at(line, at) % (pdf.size() + 1);
  if (at >= line.size()) return;
  const char how = line[at++];
  if (how == '=') pdf.replace(place, line.size() - at, line.substr(at));
  if (how == '+') pdf.insert(place, line.substr(at));
  if (how == '-') {
    std::size_t digits = 0;
    pdf.erase(place, number_at(line.substr(at), digits));
  }
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view rest(reinterpret_cast<const char*>(data), size);
  std::string pdf = kept();
  for (int lines = 0; lines < 8 && !rest.empty(); ++lines) {
    const auto end = rest.find('\n');
    change(pdf, rest.substr(0, end));
    rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  }
  if (pdf == kept()) return 0;
  const auto report = handover::check_pdf(pdf, {});
  if (report && (report->intact || report->fault.empty())) std::abort();
  return 0;
}
