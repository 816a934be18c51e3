#pragma once

#include <cstdint>

namespace gp::test {

/// Planning is some fifty times slower with sanitizers: there the random tests that plan take fewer
/// productions and less work for each, and leave out what is counted over many.
#ifdef GP_SANITIZE
inline constexpr bool kSlowBuild = true;
#else
inline constexpr bool kSlowBuild = false;
#endif

constexpr double effort(double wanted) {
  return kSlowBuild ? wanted / 20 : wanted;
}
constexpr std::uint64_t cases(std::uint64_t wanted) {
  return kSlowBuild ? wanted / 8 + 1 : wanted;
}

}  // namespace gp::test
