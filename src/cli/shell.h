#pragma once

#include "base/files.h"

#include <cstddef>
#include <ostream>
#include <string>

namespace gp {

/// What a command sees of the world around it; a test gives its own.
struct Shell {
  Files& files;
  std::ostream& out;
  std::ostream& err;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  std::size_t columns = 80;   ///< of the terminal
  bool no_colour = false;     ///< NO_COLOR is set, or the terminal is a dumb one
  std::string templates_dir;  ///< where the data of the program lies
};

}  // namespace gp
