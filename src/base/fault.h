#pragma once

#include <cstddef>
#include <string>

namespace gp {

/// One fault in a file that someone wrote. Collected, never thrown: a file is read whole and every
/// fault is told.
struct Fault {
  std::size_t line = 0;    ///< from 1; 0: the file as a whole
  std::size_t column = 0;  ///< from 1, counted in characters (code points), not bytes
  std::string path;        ///< of the value, e.g. `scenes[3].cast[0].role`; empty: the file
  std::string found;       ///< what stands there
  std::string expected;    ///< what should stand there
  std::string nearest;     ///< the nearest valid name; empty: none is near

  bool operator==(const Fault&) const = default;
};

}  // namespace gp
