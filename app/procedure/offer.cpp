#include "procedure/offer.h"

#include "json/utf8.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

namespace procedure {

using calc::Field;
using calc::Shape;

namespace {

bool is_one(const Offer& offer) {
  const bool one_cell = offer.rows * offer.columns == 1 && !offer.gaps;
  return offer.what == Offer::What::quantity || (offer.what == Offer::What::readings && one_cell);
}

std::string shape_of(const Offer& offer) {
  switch (offer.what) {
  case Offer::What::readings:
    return fmt::format("{} by {} readings{}", offer.rows, offer.columns,
                       offer.gaps ? ", of which some may be left out" : "");
  case Offer::What::quantity: return "a single size";
  case Offer::What::quantities: return "a list of sizes";
  case Offer::What::number: return "a bare number";
  case Offer::What::text: return "a word";
  case Offer::What::nothing: break;
  }
  return "nothing that can be calculated with";
}

bool takes_count(const Field& field, std::size_t count) {
  return count >= field.least && (field.most == 0 || count <= field.most);
}

bool takes(const Field& field, const Offer& offer) {
  const bool readings = offer.what == Offer::What::readings;
  switch (field.shape) {
  case Shape::one: return is_one(offer);
  case Shape::list:
    if (readings) return !offer.gaps && takes_count(field, offer.rows * offer.columns);
    return offer.what == Offer::What::quantities || (is_one(offer) && takes_count(field, 1));
  case Shape::grid: return readings && takes_count(field, offer.rows);
  case Shape::pairs: return readings && !offer.gaps && offer.columns == 2 && takes_count(field, offer.rows);
  case Shape::readings:
    return offer.what == Offer::What::quantities || is_one(offer) || (readings && takes_count(field, offer.rows));
  case Shape::number:
  case Shape::count: return offer.what == Offer::What::number;
  case Shape::text: return offer.what == Offer::What::text;
  case Shape::points:
    return readings && offer.placed && !offer.gaps && field.columns == 3 && takes_count(field, offer.rows);
  default: return false; // what only a constant can be: records, several numbers
  }
}

std::string wanted_by(const Field& field) {
  std::string wanted(calc::name_of(field.shape));
  if (field.least > 1) wanted += fmt::format(", {} or more", field.least);
  if (field.most > 0) wanted += fmt::format(", {} at most", field.most);
  return wanted;
}

} // namespace

bool measures(const Field& field) {
  static constexpr std::array measured = {Shape::one,   Shape::list,     Shape::grid,
                                          Shape::pairs, Shape::readings, Shape::points};
  return std::find(measured.begin(), measured.end(), field.shape) != measured.end();
}

std::string misfit(const Field& field, const Offer& offer) {
  if (field.shape == Shape::points && offer.what == Offer::What::readings && !offer.placed)
    return "needs heights at points; say with \"places\" where each of the readings was taken";
  if (!takes(field, offer)) return fmt::format("needs {}, not {}", wanted_by(field), shape_of(offer));
  if (field.shape != Shape::text || field.words.empty()) return "";
  for (const std::string& word : offer.words)
    if (std::find(field.words.begin(), field.words.end(), word) == field.words.end())
      return fmt::format("can be {}, but must be one of: {}", json::shown(word), fmt::join(field.words, ", "));
  return "";
}

} // namespace procedure
