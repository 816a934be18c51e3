#include "search/retime_all.h"

#include "model/price.h"
#include "search/aim_bound.h"
#include "search/each_thread.h"
#include "search/retime/retime.h"
#include "search/shares.h"

#include <algorithm>
#include <utility>

namespace gp {
namespace {

/// Work for the steps at the stations of a finished plan where no time is given, in activities
/// timed.
constexpr double kRetimeWork = 10'000'000;

/// What the steps of a plan may be left at; none: not known.
std::optional<std::int64_t> enough_for(const Problem& problem, const Plan& plan, Stop glance) {
  if (problem.production.aim != Aim::latest_first_call || problem.days.size() != 1) {
    return std::nullopt;
  }
  const auto bound = bound_of(problem, plan, {}, kSpanGlance, glance);
  if (!bound) return std::nullopt;
  return *bound / 1000;
}

/// The best that the threads make of their plans, each with its own chances; of equals the first,
/// as in the search before.
/// \param plans  one for each thread
/// \param turn   another one takes other chances
Searched retime_steps(const Problem& problem,
                      std::vector<Searched> plans,
                      std::uint64_t turn,
                      Stop limited) {
  const Wishes& wishes = problem.wishes;
  const double work = wishes.seconds ? 1e15 : kRetimeWork * wishes.effort + 1;
  each_thread(plans.size(), limited, [&](std::size_t t, Stop& stop) {
    plans[t].plan = retimed(problem,
                            plans[t].plan,
                            problem.seed_of(t, turn),
                            static_cast<std::uint64_t>(work),
                            enough_for(problem, plans[t].plan, limited),
                            stop);
  });
  const Production& film = problem.production;
  return std::move(
      *std::min_element(plans.begin(), plans.end(), [&](const Searched& a, const Searched& b) {
        return better(price(film, a.plan), price(film, b.plan), film.aim);
      }));
}

}  // namespace

Retimed retime_all(const Problem& problem,
                   std::vector<Searched> plans,
                   std::chrono::steady_clock::time_point start,
                   Stop& stop) {
  const Production& film = problem.production;
  const Wishes& wishes = problem.wishes;
  const auto until = [&](double share) { return stop.within(share_of(wishes, share), start); };
  if (wishes.seconds && film.aim == Aim::latest_first_call && problem.days.size() == 1) {
    for (std::uint64_t turn = 0; turn < 3; ++turn) {
      const double share = std::min(first_share(film) + 0.05 * (1U << turn), second_share(film));
      Searched best = retime_steps(problem, plans, turn, until(share));
      Stop proof = until(second_share(film));
      const auto bound = bound_of(problem, best.plan, {}, kSpanProof, proof);
      if (bound == price(film, best.plan).span * 1000) return {std::move(best), bound};
      plans.assign(plans.size(), best);
    }
  }
  const std::uint64_t last = wishes.seconds ? 3 : 0;
  return {retime_steps(problem, std::move(plans), last, until(second_share(film))), std::nullopt};
}

}  // namespace gp
