#include "search/aim_bound.h"

#include "model/price.h"
#include "search/bound.h"
#include "search/span_bound.h"

namespace gp {

std::optional<Thousandths> bound_of(const Problem& problem,
                                    const Plan& plan,
                                    const std::vector<SolvedPart>& parts,
                                    double work,
                                    Stop& stop) {
  if (problem.production.aim == Aim::least_time) return lower_bound(problem, plan, parts, stop);
  const std::int64_t span = price(problem.production, plan).span;
  return span_bound(problem, plan, span, static_cast<std::int64_t>(work), stop);
}

}  // namespace gp
