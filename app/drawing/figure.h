// A figure as plain shapes, described once and drawn alike on screen and on paper. Lengths are in the figure's own
// units, y downwards; whoever draws it scales it to the room there is.
#pragma once

#include <string>
#include <vector>

namespace drawing {

struct Point {
  double x = 0;
  double y = 0;
};

// What a line or face stands for; the colour is chosen by whoever draws, and no meaning rests on it alone.
enum class Tone {
  ink,   // what is there
  faint, // what is not there yet
  metal, // the face of finished work
  paint, // the witness mark
  here,  // where the work is now
  paper  // nothing: what lies beneath is covered
};

// Filled. Closed and convex; or a band, its points going up one side and down the other, as many on each.
struct Polygon {
  std::vector<Point> points;
  Tone fill = Tone::metal;
};

struct Line {
  std::vector<Point> points;
  Tone tone = Tone::ink;
  double width = 1; // in the figure's units
};

struct Text {
  Point at; // middle of the text, or of its left edge
  std::string text;
  double size = 12;
  Tone tone = Tone::ink;
  bool strong = false; // in bold letters
  bool from_left = false;
};

struct Figure {
  double width = 0;
  double height = 0;
  std::vector<Polygon> polygons; // drawn first, in order
  std::vector<Line> lines;
  std::vector<Text> texts;
};

// The room a figure is laid out for, in its own units; `text` is how tall the smallest writing must be there to be
// read.
struct Room {
  double width = 0;
  double height = 0;
  double text = 0;
};

} // namespace drawing
