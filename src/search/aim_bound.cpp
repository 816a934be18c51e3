#include "search/aim_bound.h"

#include "model/price.h"
#include "search/bound.h"
#include "search/span_bound.h"

namespace gp {

namespace {

constexpr double kMoment = 0.1;  ///< [s]

}  // namespace

std::optional<Thousandths> bound_of(const Problem& problem,
                                    const Plan& plan,
                                    const std::vector<SolvedPart>& parts,
                                    double work,
                                    Stop& stop) {
  if (problem.production.aim == Aim::least_time) {
    // enough for all but crowds; where the time was over, it is not gone over by more
    Stop moment = stop.no_sooner(kMoment);
    return lower_bound(problem, plan, parts, moment);
  }
  const std::int64_t span = price(problem.production, plan).span;
  return span_bound(problem, plan, span, static_cast<std::int64_t>(work), stop);
}

}  // namespace gp
