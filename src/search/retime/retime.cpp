#include "search/retime/retime.h"

#include "base/random.h"
#include "model/check.h"
#include "model/price.h"
#include "search/retime/day_graph.h"
#include "search/retime/tabu.h"
#include "search/stays.h"

#include <limits>

namespace gp {
namespace {

/// The cost the day may not fall below, in the graph's terms.
std::int64_t least_early(const DayPlan& day, std::optional<std::int64_t> enough) {
  if (!enough || !day.first_shot) return std::numeric_limits<std::int64_t>::min();
  return *enough - count(*day.first_shot);
}

}  // namespace

Plan retimed(const Problem& problem,
             const Plan& plan,
             std::uint64_t seed,
             std::uint64_t most_work,
             std::optional<std::int64_t> enough,
             Stop& stop) {
  const Production& film = problem.production;
  Plan best = plan;
  Price best_price = price(film, best);
  Random random(seed);
  const std::uint64_t share = most_work / (2 * std::max<std::size_t>(1, problem.days.size()));
  for (std::size_t d = 0; d < problem.days.size() && d < plan.days.size(); ++d) {
    for (const ChainPart part : {ChainPart::on, ChainPart::off}) {
      if (stop.now()) return best;
      const DayPlan& day = best.days[d];
      const Ground ground = ground_of(film, problem.days[d], day);
      DayGraph loaded(problem, ground, day, part);
      if (loaded.movable() == 0 || !loaded.graph().time()) continue;
      improve(loaded.graph(), loaded.aim(), least_early(day, enough), random, share, stop);
      Plan next = best;
      next.days[d] = loaded.moved(day);
      if (!renew_stays(ground, next.days[d])) continue;
      renew_totals(film, next);
      const Price next_price = price(film, next);
      if (!better(next_price, best_price, film.aim)) continue;
      if (!check(film, next, problem.wishes.answers).empty()) continue;
      best = std::move(next);
      best_price = next_price;
    }
  }
  return best;
}

}  // namespace gp
