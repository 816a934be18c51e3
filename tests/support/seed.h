#pragma once

#include <cstdint>

namespace gp::test {

/// The seed of every random test in this program; fixed unless --seed=N was given, so that CI is
/// the same every time and a developer can look further.
std::uint64_t seed();
void set_seed(std::uint64_t value);

}  // namespace gp::test
