#include "drawing/pattern.h"

#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace drawing {

namespace {

// What is wrong with a fastener, in a word or two: the worst stage speaks.
std::string trouble_of(const procedure::Entry& entry, const std::vector<build::Tightened>& done) {
  std::string out;
  for (std::size_t s = 0; s < done.size(); ++s) {
    const auto& judged = done[s].judged;
    if (judged.standing == build::Standing::outside && judged.conceded) out = "conceded";
    if (judged.standing == build::Standing::undecided) out = judged.accepted ? "accepted" : "undecided";
    if (judged.standing != build::Standing::outside || judged.conceded) continue;
    const bool check = entry.stages[s].kind == procedure::StageKind::check;
    return check ? "outside" : done[s].below ? "too little" : "too far";
  }
  return out;
}

Point point_of(const procedure::Place& place) {
  return {place.x.to_double(), place.y.to_double()};
}

struct Box {
  double left = std::numeric_limits<double>::max();
  double top = std::numeric_limits<double>::max();
  double right = std::numeric_limits<double>::lowest();
  double bottom = std::numeric_limits<double>::lowest();
  void take(Point p, double around = 0) {
    left = std::min(left, p.x - around);
    right = std::max(right, p.x + around);
    top = std::min(top, p.y - around);
    bottom = std::max(bottom, p.y + around);
  }
  double width() const { return right - left; }
  double height() const { return bottom - top; }
};

double distance(Point a, Point b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

// Of the two that are nearest to each other; 0 when there are no two.
double nearest(const std::vector<Point>& places) {
  double least = 0;
  for (std::size_t a = 0; a < places.size(); ++a)
    for (std::size_t b = a + 1; b < places.size(); ++b) {
      const double apart = distance(places[a], places[b]);
      if (apart > 0 && (least == 0 || apart < least)) least = apart;
    }
  return least;
}

// Where each stands, y downwards; in rows when no places are known, so that the rows fill the room.
std::vector<Point> places_of(const Joint& joint, double wide) {
  std::vector<Point> out;
  const std::size_t count = joint.spots.size();
  const double wanted = std::ceil(std::sqrt(static_cast<double>(count) * std::max(wide, 0.2)));
  const auto columns = std::clamp<std::size_t>(static_cast<std::size_t>(wanted), 1, count);
  for (std::size_t i = 0; i < count; ++i) {
    const auto& at = joint.spots[i].at;
    if (at)
      out.push_back({at->x, -at->y});
    else
      out.push_back(
          {static_cast<double>(i % columns), std::floor(static_cast<double>(i) / static_cast<double>(columns))});
  }
  return out;
}

// Everything about a spot is measured in cells: the distance of the nearest two.
constexpr double hexagon = 0.20;
constexpr double face = 0.27;
constexpr double around_spot = 0.80; // that much of a cell belongs to a spot in every direction
constexpr double number_size = 0.32;
constexpr double small_number_size = 0.29; // of two digits, so that they stay clear of the next spot
constexpr double name_size = 0.22;
constexpr double largest_cell = 7; // heights of text

class Drawer {
public:
  Drawer(const Joint& joint, Room room) : joint_(joint), room_(room) {}

  Figure draw() {
    const std::vector<std::string> under = captions();
    const double head_size = std::min(room_.text * 1.7, room_.width * 0.08);
    const double above = head_size * 1.5;
    const double below = static_cast<double>(under.size()) * room_.text * 1.3;
    figure_.width = room_.width;
    settle(above, std::max(room_.height - above - below, room_.text * 4));
    figure_.height = bottom_ + below;
    figure_.texts.push_back(
        fitted({room_.width / 2, head_size * 0.75}, headline(joint_), head_size, room_.width, true, Tone::here));
    for (std::size_t i = 0; i < outline_.size(); ++i)
      figure_.polygons.push_back(
          strip(outline_[i], outline_[(i + 1) % outline_.size()], Tone::faint, room_.text * 0.14));
    for (std::size_t i = 0; i < joint_.spots.size(); ++i) spot(i);
    if (joint_.next) point_at(*joint_.next);
    for (std::size_t i = 0; i < under.size(); ++i)
      figure_.texts.push_back(fitted({room_.width / 2, bottom_ + room_.text * 1.3 * (static_cast<double>(i) + 0.5)},
                                     under[i], room_.text, room_.width));
    return std::move(figure_);
  }

private:
  std::vector<std::string> captions() const {
    std::vector<std::string> out;
    const auto& spots = joint_.spots;
    if (joint_.worked_out) out.push_back("Order worked out from the pattern, not the maker's.");
    if (room_.height < room_.text * 14) return out;
    const auto has = [&](Done done) {
      return std::any_of(spots.begin(), spots.end(), [&](const auto& s) { return s.done == done; });
    };
    std::string legend;
    if (has(Done::this_stage)) legend = "filled: has this stage";
    if (has(Done::all_stages)) legend += fmt::format("{}striped: through all stages", legend.empty() ? "" : "; ");
    if (!legend.empty()) out.push_back(legend);
    if (!spots.empty() && !spots.front().at) out.push_back("Not to scale: the places are not given.");
    return out;
  }

  // Scales the places into the room and centres them.
  void settle(double above, double height) {
    places_ = places_of(joint_, room_.width / height);
    double apart = nearest(places_);
    if (apart == 0) apart = 1;
    Box box;
    for (const Point& place : places_) box.take(place, apart * around_spot);
    for (const Point& corner : joint_.outline) box.take({corner.x, -corner.y});
    const double scale = std::min({room_.width / box.width(), height / box.height(),
                                   joint_.outline.empty() ? largest_cell * room_.text / apart : 1e9});
    cell_ = std::min(apart * scale, largest_cell * room_.text);
    bottom_ = above + box.height() * scale;
    const double left = (room_.width - box.width() * scale) / 2;
    const auto moved = [&](Point p) { return Point{left + (p.x - box.left) * scale, above + (p.y - box.top) * scale}; };
    for (Point& place : places_) place = moved(place);
    for (const Point& corner : joint_.outline) outline_.push_back(moved({corner.x, -corner.y}));
  }

  void spot(std::size_t i) {
    const Spot& it = joint_.spots[i];
    const Point at = places_[i];
    const bool here = joint_.next == i || joint_.last_sure == i;
    const auto corners = around(at, cell_ * hexagon, 6);
    if (it.done != Done::not_yet)
      figure_.polygons.push_back({corners, it.done == Done::this_stage ? Tone::ink : Tone::metal});
    figure_.lines.push_back(edge(around(at, cell_ * face, 24), here ? Tone::here : Tone::ink, cell_ * 0.015));
    figure_.lines.push_back(edge(corners, here ? Tone::here : Tone::ink, cell_ * (here ? 0.06 : 0.03)));
    if (it.done == Done::all_stages) { // across hexagon and face, a little off the upright as a brush leaves it
      const double reach = cell_ * (face + 0.05);
      figure_.lines.push_back(straight({at.x - reach * 0.26, at.y + reach * 0.97},
                                       {at.x + reach * 0.26, at.y - reach * 0.97}, Tone::paint, cell_ * 0.085));
    }
    if (!it.trouble.empty()) // a second, heavy ring
      figure_.lines.push_back(edge(around(at, cell_ * (face + 0.055), 24), Tone::ink, cell_ * 0.05));
    if (joint_.last_sure == i)
      figure_.lines.push_back(
          edge(around(at, cell_ * (face + 0.12), 4, std::numbers::pi / 4), Tone::here, cell_ * 0.05));
    const double size = joint_.spots.size() < 10 ? number_size : small_number_size;
    const double clear = it.trouble.empty() ? 0.05 : 0.11;
    write(beside({at.x + cell_ * (face + clear), at.y}, std::to_string(i + 1), cell_ * size, true,
                 here ? Tone::here : Tone::ink));
    labels(it, at);
  }

  void labels(const Spot& it, Point at) {
    const bool named = named_otherwise();
    double y = at.y + cell_ * (face + 0.04 + name_size / 2);
    const auto line = [&](const std::string& text, bool strong) {
      write(fitted({at.x, y}, text, cell_ * name_size, cell_ * 0.95, strong));
      y += cell_ * name_size * 0.95;
    };
    if (named) line(it.name, false);
    if (!it.trouble.empty()) line(it.trouble, true);
  }

  // Over the joint's outline, not across it.
  void write(Text text) {
    cover_for(figure_, text);
    figure_.texts.push_back(std::move(text));
  }

  // Their names are not just their numbers in the order.
  bool named_otherwise() const {
    for (std::size_t i = 0; i < joint_.spots.size(); ++i)
      if (joint_.spots[i].name != std::to_string(i + 1)) return true;
    return false;
  }

  // How far a point is from all that is written or drawn of the other spots, and from the edge of the figure.
  double room_at(Point p, std::size_t spot_in_question) const {
    double least = std::min({p.x, figure_.width - p.x, p.y, bottom_ - p.y}) + cell_ * 0.15;
    for (std::size_t i = 0; i < places_.size(); ++i) {
      const Point at = places_[i];
      const bool own = i == spot_in_question;
      if (!own) least = std::min(least, distance(p, at) - cell_ * face);
      least = std::min(least, distance(p, {at.x + cell_ * (face + 0.25), at.y}) - cell_ * 0.2);
      least = std::min(least, distance(p, {at.x, at.y + cell_ * (face + 0.15)}) - cell_ * 0.2);
    }
    return least;
  }

  // The arrow comes from where there is most room.
  void point_at(std::size_t spot_in_question) {
    const Point at = places_[spot_in_question];
    const double near = cell_ * (face + 0.03);
    const double far = cell_ * (around_spot - 0.02);
    Point best{-std::numbers::sqrt2 / 2, -std::numbers::sqrt2 / 2};
    double most = std::numeric_limits<double>::lowest();
    for (int eighth : {5, 6, 4, 7, 3, 1}) { // of a turn, from the right; right and beneath stand number and name
      const double angle = eighth * std::numbers::pi / 4;
      const Point way{std::cos(angle), std::sin(angle)};
      double least = std::numeric_limits<double>::max();
      for (const double out : {near, (near + far) / 2, far})
        least = std::min(least, room_at({at.x + way.x * out, at.y + way.y * out}, spot_in_question));
      if (least <= most + cell_ * 0.02) continue;
      most = least;
      best = way;
    }
    arrow(figure_, {at.x + best.x * far, at.y + best.y * far}, {at.x + best.x * near, at.y + best.y * near},
          cell_ * 0.26, Tone::here);
  }

  const Joint& joint_;
  Room room_;
  Figure figure_;
  std::vector<Point> places_;
  std::vector<Point> outline_;
  double cell_ = 0;
  double bottom_ = 0; // of the pattern
};

} // namespace

Joint joint(const build::Build& build, build::EntryAt at, bool asks) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  const auto next = build::next_fastener(build, at);
  Joint out;
  for (std::size_t f = 0; f < entry.fasteners.size(); ++f) {
    const auto& its = entry.fasteners[f];
    const auto& done = state.fasteners[f];
    const auto has = [&](std::size_t stage) { return done.size() > stage && !done[stage].below; };
    Spot spot{its.id, its.at ? std::optional(point_of(*its.at)) : std::nullopt, Done::not_yet, trouble_of(entry, done)};
    if (has(entry.stages.size() - 1))
      spot.done = Done::all_stages;
    else if (next && has(next->stage))
      spot.done = Done::this_stage;
    out.spots.push_back(std::move(spot));
  }
  for (const auto& corner : entry.outline) out.outline.push_back(point_of(corner));
  out.worked_out = entry.worked_out_order;
  if (asks) {
    for (std::size_t f = 0; f < entry.fasteners.size(); ++f)
      if (&entry.fasteners[f] == build::last_sure(build, at)) out.last_sure = f;
  } else if (next) {
    out.next = next->fastener;
  }
  return out;
}

std::string headline(const Joint& joint) {
  const auto count = in_words(joint.spots.size());
  const auto which = joint.next ? joint.next : joint.last_sure;
  if (!which) return joint.spots.size() == 1 ? "Through all stages" : fmt::format("All {} through all stages", count);
  const std::string& name = joint.spots[*which].name;
  return fmt::format("{}: {} of {}{}", joint.next ? "Next" : "Last sure", in_words(*which + 1), count,
                     name == std::to_string(*which + 1) ? "" : ", " + name);
}

Figure pattern(const Joint& joint, Room room) {
  return Drawer(joint, room).draw();
}

} // namespace drawing
