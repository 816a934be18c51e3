#pragma once

#include "base/random.h"
#include "base/stop.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace gp {

/// Tasks that want things of which there are so many at once, some before others: the
/// resource-constrained project scheduling problem. Here: scenes of several units at a time, with
/// their people and props.
struct ProjectProblem {
  struct Use {
    std::size_t resource = 0;
    std::int32_t amount = 1;
  };
  std::vector<std::int32_t> minutes;             ///< by task, >= 0
  std::vector<std::vector<Use>> uses;            ///< by task; none above its capacity
  std::vector<std::vector<std::size_t>> before;  ///< by task: those that end before it starts
  std::vector<std::int32_t> capacity;            ///< by resource

  [[nodiscard]] std::size_t tasks() const { return minutes.size(); }
};

struct ProjectSchedule {
  std::vector<std::int32_t> start;  ///< by task [min from 0]
  std::int32_t until = 0;           ///< the end of the last
};

/// No schedule ends earlier: the longest chain, and the work of each resource shared evenly.
std::int32_t project_bound(const ProjectProblem& problem);

/// The earliest schedule that takes the tasks in this order, each as early as it can be then
/// (serial generation, Kolisch 1996, doi:10.1016/0377-2217(95)00357-6). \param order  every task
/// once, those before others first Cost: O(tasks × minutes).
ProjectSchedule in_turn(const ProjectProblem& problem, const std::vector<std::size_t>& order);

/// A schedule that ends early: a population of orders crossed and changed, each pushed to the right
/// and back to the left. Sources: Hartmann 1998,
/// doi:10.1002/(SICI)1520-6750(199810)45:7<733::AID-NAV5>3.0.CO;2-C (orders crossed at two points);
/// Valls, Ballestín and Quintanilla 2005, doi:10.1016/j.ejor.2004.04.008 (justification). \param
/// most_schedules  generated before it stops; it also stops where the bound is reached Same
/// arguments, same result, unless `stop` ends it.
ProjectSchedule search_project(const ProjectProblem& problem,
                               Random& random,
                               std::uint64_t most_schedules,
                               Stop& stop);

}  // namespace gp
