// The window: GLFW, OpenGL, the key queue and the frame loop. The only folder that names either library.
#pragma once

#include <string>
#include <vector>

namespace desktop {

// `witnessmark` and `witnessmark bench [--shop FILE]`: arguments after the program's name. Exit status 0 closed, 2
// could not open (no display, no OpenGL 3.3, unreadable shop file), with one error line on stderr.
int run(const std::vector<std::string>& arguments);

} // namespace desktop
