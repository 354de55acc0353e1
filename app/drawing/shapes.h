// The pieces figures are put together from.
#pragma once

#include "drawing/figure.h"

#include <string>
#include <string_view>

namespace drawing {

// Corners on a circle, the first at `turn` radians from the right, clockwise as y goes downwards.
std::vector<Point> around(Point middle, double radius, int corners, double turn = 0);

Line edge(std::vector<Point> points, Tone tone, double width); // closed
Line straight(Point from, Point to, Tone tone, double width);
void dashed(Figure& figure, Point from, Point to, Tone tone, double width, double dash);
// Shaft and head, the tip at `to`; `size` is the width of the head.
void arrow(Figure& figure, Point from, Point to, double size, Tone tone);
// A measure between two points: a line with a head at either end.
void measure(Figure& figure, Point from, Point to, double size, Tone tone);

// The same as a straight line, but as a polygon, so that other polygons can cover it.
Polygon strip(Point from, Point to, Tone tone, double width);
void cover_for(Figure& figure, const Text& text); // what lies beneath a text

// How wide a text may come out: a little more than the letters of DejaVu Sans take on average.
double width_of(std::string_view text, double size, bool strong = false);
// Made smaller where it would be wider than the room.
Text fitted(Point middle, std::string text, double size, double room, bool strong = false, Tone tone = Tone::ink);
// The same to the right of a point.
Text beside(Point left_end, std::string text, double size, bool strong = false, Tone tone = Tone::ink);

// Lines one below the other from a left edge and the middle of the first, all of one size: the text's, or smaller where
// one would be wider than the room.
struct Written {
  std::string text;
  bool strong = false;
  Tone tone = Tone::ink;
};
void list(Figure& figure, Point first, const std::vector<Written>& lines, double size, double line, double room);

// Numbers read off one scale, with as many places behind the dot as the longest of them has; "" stays "".
void same_places(const std::vector<std::string*>& numbers);

// "one" to "one hundred"; digits beyond.
std::string in_words(std::size_t number);

} // namespace drawing
