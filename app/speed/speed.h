// The speed of the program on this machine, as one table: each figure beside the least it could be, measured in the
// same run and folder.
#pragma once

#include "speed/row.h"

#include <filesystem>
#include <functional>

namespace speed {

struct Wishes {
  std::filesystem::path folder;  // measured inside, in a folder that goes away
  std::filesystem::path program; // witnessmark itself
  bool quick = false;            // under a minute
  bool growth = false;           // how times grow with sizes, too
  bool again = false;            // what is far over is measured four times more before it counts
  std::string only;              // groups of rows whose name begins so; "" takes all
};

struct Figures {
  std::vector<Row> rows;
  std::vector<Growth> growths;
  bool far_over = false; // a row beyond twice what is wanted, or a growth that is too steep
};

// `tell` is told what is measured next. std::runtime_error when something that is measured does not work.
Figures measure(const Wishes& wishes, const std::function<void(std::string_view)>& tell);

} // namespace speed
