#include "search/beginning.h"

#include "search/crowd_order.h"
#include "search/project_order.h"

#include <utility>

namespace gp {
namespace {

/// Work for the order of several units' scenes where no time is given, in schedules.
constexpr double kProjectSchedules = 30'000;

}  // namespace

Recipe best_beginning(const Problem& problem,
                      const std::vector<SolvedPart>& parts,
                      Builder& builder,
                      Cost& cost,
                      Stop& stop,
                      Stop& for_project) {
  const Wishes& wishes = problem.wishes;
  Recipe first = first_recipe(problem);
  cost = builder.build(first, stop);
  const auto try_order = [&](std::vector<SceneId> order, bool weighted_alike) {
    Recipe other = first;
    other.order = std::move(order);
    const Cost with = builder.build(other, stop);
    if (!(with < cost) || (weighted_alike && with.weighted != cost.weighted)) return;
    cost = with;
    first = std::move(other);
  };
  if (!parts.empty()) try_order(in_presence_order(problem, first.order, parts), false);
  const double schedules = wishes.seconds ? 1e15 : kProjectSchedules * wishes.effort + 1;
  if (auto order = project_order(problem, static_cast<std::uint64_t>(schedules), for_project)) {
    // where people wait, their order matters more than the day's end
    try_order(*std::move(order), true);
  }
  if (const CrowdPresence crowds(problem, first); crowds.known()) {
    try_order(crowds.good_order(stop), false);
  }
  builder.build(first, stop);  // the last one tried may still stand
  return first;
}

}  // namespace gp
