#pragma once

#include <cstddef>
#include <vector>

namespace gp {

/// A square picture of black and white squares, such as a QR code; row by row from the top.
struct Squares {
  std::size_t side = 0;
  std::vector<bool> black;

  /// Outside it is white.
  [[nodiscard]] bool at(std::ptrdiff_t row, std::ptrdiff_t column) const {
    const auto end = static_cast<std::ptrdiff_t>(side);
    if (row < 0 || column < 0 || row >= end || column >= end) return false;
    return black[static_cast<std::size_t>(row) * side + static_cast<std::size_t>(column)];
  }
};

}  // namespace gp
