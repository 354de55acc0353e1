// The sheet that goes with parts to the machine shop, for a machinist who has nothing but paper: what is to be done, to
// which size, what was measured and found there, and boxes to write the size made into. Not signed; the order itself
// stands in the record.
#pragma once

#include "handover/content.h"
#include "quantity/result.h"

namespace handover {

// One part, or one of its positions, under a work.
struct PlaceOrdered {
  std::string name; // of the position, or ""
  std::vector<build::OrderedSize> sizes;
  std::string remark;                // or ""
  std::vector<std::string> measured; // "Cylinder bore, as found: 78.061 to 78.098 mm, mean 78.080"
  std::vector<std::string> points;   // behind each of those, one by one; "" where it is one point
  std::vector<std::string> found;    // faults by their words
};

struct WorkOrdered {
  std::string title;  // "Cylinder: Bored and honed over size"
  std::string finish; // or ""
  std::vector<PlaceOrdered> places;
};

struct OrderSheet {
  Content head; // what every page carries: shop, engine, PRACTICE
  std::string title;
  std::vector<Fact> facts; // from, to, date, engine
  std::vector<WorkOrdered> works;
};

// `build` as it stood when the parts were sent; it has the order. The customer is not named.
OrderSheet order_sheet_of(const Build& build, const Shop& shop, const build::Order& order);

// The bytes of the PDF. Code "not-written" when there is no memory for it.
quantity::Result<std::string> pages_of(const OrderSheet& sheet);

} // namespace handover
