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
  here   // where the work is now
};

struct Polygon {
  std::vector<Point> points; // closed
  Tone fill = Tone::metal;
  bool filled = true;
};

struct Line {
  std::vector<Point> points;
  Tone tone = Tone::ink;
  double width = 1; // in the figure's units
};

struct Text {
  Point at; // middle of the text
  std::string text;
  double size = 12;
  Tone tone = Tone::ink;
};

struct Figure {
  double width = 0;
  double height = 0;
  std::vector<Polygon> polygons; // drawn first, in order
  std::vector<Line> lines;
  std::vector<Text> texts;
};

} // namespace drawing
