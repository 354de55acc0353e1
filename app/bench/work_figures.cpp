#include "bench/work_figures.h"

#include <algorithm>

namespace bench {

using calc::Exact;
using calc::Outcome;
using calc::Quantity;

namespace {

constexpr int digits_shown = 6;
constexpr int digits_of_u = 2;
constexpr int most_places = 24;

int places_in(const std::string& text) {
  const auto dot = text.find('.');
  return dot == std::string::npos ? 0 : static_cast<int>(text.size() - dot - 1);
}

// Places behind the dot so that a number has so many digits behind its leading zeros.
int places_for(const Exact& value, int digits) {
  const std::string text = value.abs().text();
  const auto dot = std::min(text.find('.'), text.size());
  const auto first = text.find_first_of("123456789");
  if (first == std::string::npos) return 0;
  const int before = first < dot ? static_cast<int>(dot - first) : 1 - static_cast<int>(first - dot);
  return std::clamp(digits - before, 0, most_places);
}

std::string without_last_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string number_text(const Exact& value, bool whole) {
  const std::string all = value.text();
  const int places = places_for(value, digits_shown);
  return whole || places_in(all) <= places ? all : without_last_zeros(value.fixed(places));
}

int places_of(const Exact& u) {
  return std::min(places_in(u.text()), places_for(u, digits_of_u));
}

bool is_stated(const Quantity& quantity) {
  return quantity.u && quantity.u->sign() > 0;
}

std::string value_text(const Quantity& quantity, bool whole) {
  if (whole || !is_stated(quantity)) return number_text(quantity.value, whole);
  return quantity.value.fixed(places_of(*quantity.u));
}

std::string u_text(const Quantity& quantity, bool whole) {
  if (!quantity.u) return "";
  const std::string u = whole || !is_stated(quantity) ? quantity.u->text() : quantity.u->fixed(places_of(*quantity.u));
  return "\u00B1 " + u;
}

std::string unit_text(const Quantity& quantity) {
  return quantity.unit->dimension == quantity::Dimension::number ? ""
                                                                 : std::string(" ") + std::string(quantity.unit->name);
}

std::string quantity_text(const Quantity& quantity, bool whole) {
  const std::string u = u_text(quantity, whole);
  return value_text(quantity, whole) + unit_text(quantity) + (u.empty() ? "" : " ") + u;
}

// Quantities of one unit say it once.
bool say_one_unit(const calc::Outcomes& list) {
  return std::ranges::all_of(list, [&](const Outcome& each) {
    const Quantity* first = list.front().quantity();
    const Quantity* quantity = each.quantity();
    return first && quantity && quantity->unit == first->unit && quantity->u == first->u;
  });
}

// All to the same place: 0.620, 0.633.
std::string values_text(const calc::Outcomes& list, bool whole) {
  int places = 0;
  for (const Outcome& each : list) places = std::max(places, places_in(value_text(*each.quantity(), whole)));
  std::string out;
  for (const Outcome& each : list)
    out += (out.empty() ? "" : ", ") + (whole ? each.quantity()->value.text() : each.quantity()->value.fixed(places));
  return out;
}

std::string list_text(const calc::Outcomes& list, bool whole) {
  if (list.empty()) return "none";
  if (say_one_unit(list)) {
    const Quantity& first = *list.front().quantity();
    const std::string u = u_text(first, whole);
    return values_text(list, whole) + unit_text(first) + (u.empty() ? "" : list.size() > 1 ? ", each " : " ") + u;
  }
  const auto is_list = [](const Outcome& each) { return std::holds_alternative<calc::Outcomes>(each); };
  const std::string between = std::ranges::any_of(list, is_list) ? "; " : ", ";
  std::string out;
  for (const Outcome& each : list) out += (out.empty() ? "" : between) + figure_of(each, whole);
  return out;
}

} // namespace

std::string figure_of(const Outcome& outcome, bool whole) {
  if (const auto* truth = std::get_if<bool>(&outcome)) return *truth ? "yes" : "no";
  if (const auto* number = std::get_if<Exact>(&outcome)) return number_text(*number, whole);
  if (const auto* text = std::get_if<std::string>(&outcome)) return *text;
  if (const auto* quantity = outcome.quantity()) return quantity_text(*quantity, whole);
  if (const auto* list = std::get_if<calc::Outcomes>(&outcome)) return list_text(*list, whole);
  return "none";
}

bool has_u(const Outcome& outcome) {
  if (const auto* quantity = outcome.quantity()) return quantity->u.has_value();
  const auto* list = std::get_if<calc::Outcomes>(&outcome);
  return list && std::ranges::any_of(*list, has_u);
}

} // namespace bench
