#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace gp {

/// Chains of tasks that share resources: everybody's steps on the way to one shot, and the chairs
/// and helpers they need (a job shop with several machines of a kind). Minutes count from the first
/// call.
struct ChainProblem {
  struct Task {
    std::int32_t minutes = 0;         ///< >= 0
    std::int32_t then_wait = 0;       ///< >= 0: before the next of the chain, or the end of all
    std::int32_t not_before = 0;      ///< >= 0
    std::vector<std::size_t> uses{};  ///< a unit of each of these resources
  };
  std::vector<std::vector<Task>> chains;  ///< each in its order
  std::vector<std::int32_t> capacity;     ///< by resource, >= 1: tasks at once
};

}  // namespace gp
