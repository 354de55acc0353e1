#include "build/neighbours.h"

#include <algorithm>

namespace build {

namespace {

constexpr std::size_t fewest = 4;

Exact median(std::vector<Exact> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

} // namespace

std::vector<std::size_t> far_from_neighbours(const std::vector<Cell>& cells, const std::vector<std::size_t>& named) {
  std::vector<Exact> values;
  for (const auto& cell : cells)
    if (cell.filled() && !cell.skipped) values.push_back(cell.value);
  if (values.size() < fewest) return {};
  const Exact middle = median(values);
  for (auto& value : values) value = (value - middle).abs();
  const Exact usual = median(values);
  std::vector<std::size_t> out;
  for (const std::size_t c : named) {
    if (c >= cells.size() || !cells[c].filled() || cells[c].skipped) continue;
    const Exact most = Exact(8) * std::max(usual, cells[c].u);
    if (most.sign() > 0 && (cells[c].value - middle).abs() > most) out.push_back(c);
  }
  return out;
}

} // namespace build
