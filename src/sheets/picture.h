#pragma once

#include "sheets/shape.h"

#include <cstdint>
#include <string>
#include <vector>

namespace gp {

/// A grey picture with soft edges, for sheets that are shown on screens. Lengths are in points from
/// the upper left corner, as in Pdf; `y` of a text is its base line.
class Picture {
 public:
  /// \param scale  dots to a point
  Picture(double width, double height, double scale);

  void fill(double x, double y, double width, double height, double grey);
  /// Draws the glyphs' own outlines, even where a face is to be thickened.
  void text(const SetLine& line, double x, double y, double size);
  /// The picture as PNG (ISO/IEC 15948), 8 bits of grey. \throws InternalError  libpng refused
  [[nodiscard]] std::string png() const;

 private:
  struct Point {
    double x = 0, y = 0;  ///< dots
  };
  class Outline;
  void fill(const std::vector<std::vector<Point>>& outlines, double grey);
  /// Adds one scan line's stretch to what is covered of each dot of a row.
  void cover(std::vector<double>& covered, double from, double until) const;

  std::size_t width_, height_;  ///< dots
  double scale_;
  std::vector<float> grey_;  ///< 0 black .. 1 white
};

}  // namespace gp
