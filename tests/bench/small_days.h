#pragma once

#include <cstdint>
#include <string>

namespace gp::bench {

/// A made-up small shooting day as a production file: five to eight scenes with fixed parts, looks
/// that are put on at a rail and painted by two friends, who may play too, and washed off; some
/// hours count double or threefold. Nothing in it that a small model of a day leaves out (meals,
/// ways, items, windows, changes of look). The same seed gives the same text everywhere.
std::string small_day(std::uint64_t seed);

}  // namespace gp::bench
