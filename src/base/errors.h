#pragma once

#include <stdexcept>
#include <string>

namespace gp {

/// The world said no: a disk, a port, a font. What was tried, what to do about it, and the cause
/// last.
class WorldError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Our own mistake, where going on would be wrong. The text says what was believed to hold.
class InternalError : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

}  // namespace gp
