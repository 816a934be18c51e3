#pragma once

#include <cstdint>
#include <string>

namespace gp::test {

/// How large a random production may be, and how fine its minutes are.
struct ProductionSize {
  int scenes = 6;  ///< at most; at least 1
  int people = 10;
  int days = 2;
  int roles = 5;
  int looks = 3;
  int stations = 3;
  int units = 2;
  int step = 1;  ///< every length is a multiple of it [minutes]

  /// Small enough to try every plan: one day, one unit, lengths in fives.
  static ProductionSize tiny() { return {3, 5, 1, 3, 2, 2, 1, 5}; }
  static ProductionSize small() { return {}; }
  static ProductionSize medium() { return {14, 26, 3, 10, 5, 4, 2, 1}; }
};

/// A random production as its JSON, the same for the same seed and size on every machine. Over
/// many seeds everything in the format comes up; read_production() accepts every one of them. Most
/// can be planned whole, some only in part.
std::string random_production(std::uint64_t seed, const ProductionSize& size);

}  // namespace gp::test
