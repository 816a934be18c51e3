#include "search/planner.h"

#include "search/aim_bound.h"
#include "search/beginning.h"
#include "search/builder.h"
#include "search/descent.h"
#include "search/filled_slots.h"
#include "search/local_search.h"
#include "search/loss_reasons.h"
#include "search/notes.h"
#include "search/presence_parts.h"
#include "search/problem.h"
#include "search/recipe.h"
#include "search/retime_all.h"
#include "search/shares.h"
#include "search/unload.h"
#include "search/wishes/meet_wishes.h"

#include <algorithm>
#include <chrono>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

namespace gp {
namespace {

using Clock = std::chrono::steady_clock;

/// The fixed amount of work of one thread when no time is given, in engagements looked at: some
/// half a second on a small computer. Small productions need less to be as good as they get.
std::uint64_t fixed_work(const Production& film) {
  const std::uint64_t size = film.scenes.size() * (film.people.size() + 4);
  return std::min<std::uint64_t>(6'000'000, 400'000 + size * 20'000);
}

/// The same for the order of the scenes alone, in gaps looked at: a few tenths of a second.
constexpr double kOrderNodes = 60'000;

/// Changes of people tried for what they like: a tenth of a second on a small production.
constexpr double kWishTries = 300;

/// The order of scenes that keeps people least, where that can be asked by itself.
std::vector<SolvedPart> solve_order(const Problem& problem,
                                    const std::vector<SceneId>& scenes,
                                    bool all_filled,
                                    Stop& stop) {
  const Wishes& wishes = problem.wishes;
  // of a given time at most a third is for the proof: the plan comes first, unless the order is all
  // there is to plan
  const double share = problem.production.looks.empty() ? 0.8 : 1.0 / 3;
  Stop limited = stop.within(share_of(wishes, share));
  const double nodes = wishes.seconds ? 1e12 : kOrderNodes * wishes.effort + 1;
  return solve_presence(problem, scenes, all_filled, static_cast<std::uint64_t>(nodes), limited);
}

/// The best so far of all threads, for whoever watches. Never steers the search: that would make
/// the plan depend on which thread was faster.
class Watched {
 public:
  Watched(Clock::time_point start, std::optional<double> seconds)
      : start_(start), seconds_(seconds) {}

  void tell(const Cost& cost, double share) {
    const std::scoped_lock lock(mutex_);
    if (!known_ || cost < best_) best_ = cost;
    known_ = true;
    share_ = std::max(share_, share);
  }

  void know(std::optional<Thousandths> bound) {
    const std::scoped_lock lock(mutex_);
    bound_ = bound;
  }

  std::optional<Progress> read() {
    const std::scoped_lock lock(mutex_);
    if (!known_) return std::nullopt;
    Progress progress;
    progress.seconds = std::chrono::duration<double>(Clock::now() - start_).count();
    progress.share = seconds_ ? progress.seconds / std::max(*seconds_, 0.001) : share_;
    progress.share = std::clamp(progress.share, 0.0, 1.0);
    progress.best.not_filmed = best_.lost;
    progress.best.optional_not_filmed = best_.lost_optional;
    progress.best.unfilled = static_cast<int>(best_.unfilled);
    progress.best.weighted_on_site = best_.weighted;
    progress.best.wrap = best_.wrap;
    progress.best.on_site = best_.on_site;
    progress.best.span = best_.early;
    if (best_.lost == 0 && best_.lost_optional == 0 && best_.unfilled == 0) progress.bound = bound_;
    return progress;
  }

 private:
  Clock::time_point start_;
  std::optional<double> seconds_;
  std::mutex mutex_;
  bool known_ = false;
  Cost best_;
  double share_ = 0;
  std::optional<Thousandths> bound_;
};

/// What one thread's search found.
struct Found {
  Best best;
  std::unique_ptr<Builder> builder;
};

struct SearchedAll {
  std::vector<Found> threads;
  std::optional<Thousandths> whole_bound;  ///< of plans that film and fill everything
};

/// Runs one search a thread.
/// \param ending  later than `stop`: when what was found must be in its last shape
SearchedAll search_all(const Problem& problem,
                       const std::vector<SolvedPart>& parts,
                       Stop& stop,
                       const Stop& ending,
                       Watched& watched,
                       const ProgressSink& sink) {
  const Wishes& wishes = problem.wishes;
  const std::uint64_t work =
      wishes.seconds ? 0
                     : static_cast<std::uint64_t>(
                           wishes.effort * static_cast<double>(fixed_work(problem.production))) +
                           1;
  Recipe first;
  std::optional<Thousandths> enough;
  {
    Builder builder(problem);
    Stop patient = stop.without_deadline();
    // where nobody waits, when the day ends is all there is to look for
    const double for_order = problem.production.people.empty() ? 0.85 : 0.6;
    Stop for_project = stop.within(share_of(wishes, for_order));
    Cost cost;
    first = best_beginning(problem, parts, builder, cost, patient, for_project);
    watched.tell(cost, 0);
    if (const auto progress = watched.read(); progress && sink) sink(*progress);
    if (cost.lost == 0 && cost.lost_optional == 0 && cost.unfilled == 0) {
      const auto bound = bound_of(problem, unload(problem, builder), parts, kSpanGlance, patient);
      // with an end to keep, the first call itself counts, not its distance from the shot
      const auto& days = problem.production.days;
      const bool ends = std::any_of(
          days.begin(), days.end(), [](const Day& day) { return day.wrap_by.has_value(); });
      if (problem.production.aim == Aim::least_time || !ends) watched.know(bound);
      if (problem.production.aim == Aim::least_time) enough = bound;
    }
  }
  std::vector<Found> found(problem.threads());
  std::vector<Stop> stops(found.size(), stop);
  const SearchSink tell = [&](const Cost& cost, double share) { watched.tell(cost, share); };
  const auto run = [&](std::size_t t) {
    found[t].builder = std::make_unique<Builder>(problem);
    found[t].best = search_from(
        problem, *found[t].builder, first, problem.seed_of(t), work, enough, stops[t], tell);
    Stop last = ending;
    descend(problem, *found[t].builder, found[t].best, last, tell);
  };
  std::atomic<std::size_t> running = found.size();
  {
    std::vector<std::jthread> others;
    for (std::size_t t = 0; t < found.size(); ++t) {
      // With nobody watching, the first search needs no thread of its own.
      if (t == 0 && !sink) continue;
      others.emplace_back([&, t] {
        run(t);
        --running;
      });
    }
    if (!sink) {
      run(0);
      --running;
    }
    while (sink && running > 0) {
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
      if (const auto progress = watched.read()) sink(*progress);
    }
  }
  return {std::move(found), enough};
}

/// What the threads go on from: the first from its own plan, so that two are never worse than one
/// alone, the others from the best. Each recipe is built once more, whole even where the time is
/// over: it was built whole before. Where the very first was cut short, what there is of it still
/// stands in its builder.
std::vector<Searched> plans_of(const Problem& problem, std::vector<Found>& found) {
  const auto best =
      std::min_element(found.begin(), found.end(), [](const Found& a, const Found& b) {
        return a.best.cost < b.best.cost;
      });
  const auto plan_of = [&](Found& from) {
    Stop never;
    if (from.best.whole) from.builder->build(from.best.recipe, never);
    return unload(problem, *from.builder);
  };
  std::vector<Searched> plans{{plan_of(found.front()), 0}};
  if (found.size() == 1) return plans;
  const auto thread = static_cast<std::size_t>(best - found.begin());
  const Searched other{thread == 0 ? plans.front().plan : plan_of(*best), thread};
  plans.resize(found.size(), other);
  return plans;
}

}  // namespace

Plan make_plan(const Production& production,
               const Wishes& wishes,
               Stop& stop,
               const ProgressSink& progress) {
  const auto start = Clock::now();
  const Problem problem(production, wishes);
  const double share = first_share(production);
  Stop limited = stop.within(share_of(wishes, share - descent_share(production, wishes)), start);
  const Stop ending = stop.within(share_of(wishes, share), start);
  Watched watched(start, wishes.seconds);
  std::vector<SceneId> scenes;
  for (const SceneId scene : production.scenes.ids()) scenes.push_back(scene);
  std::vector<SolvedPart> parts;
  if (production.aim == Aim::least_time) parts = solve_order(problem, scenes, true, limited);
  SearchedAll all = search_all(problem, parts, limited, ending, watched, progress);
  Retimed retimed = retime_all(problem, plans_of(problem, all.threads), start, stop);
  Builder& builder = *all.threads[retimed.found.thread].builder;
  Plan plan = std::move(retimed.found.plan);
  const double tries = (wishes.seconds ? 1.0 : wishes.effort) * kWishTries + 1;
  Stop wish_stop = stop.within(wishes.seconds, start);
  plan = with_wishes_met(problem, plan, static_cast<std::uint64_t>(tries), wish_stop);
  Stop reasons_stop = stop.without_deadline();
  give_reasons(problem, builder, plan, reasons_stop);
  give_notes(problem, plan);
  if (production.aim == Aim::least_time && (!plan.not_filmed.empty() || !plan.unfilled.empty())) {
    // of what is filmed, not of what was asked for
    Stop again = stop;
    parts = solve_order(problem, filmed_scenes(plan), plan.unfilled.empty(), again);
  }
  const double proof = wishes.seconds ? 1e15 : kSpanProof * wishes.effort + 1;
  Stop proof_stop = stop.within(wishes.seconds, start);
  const bool whole = plan.not_filmed.empty() && plan.unfilled.empty();
  auto bound = whole ? all.whole_bound : std::nullopt;
  if (retimed.bound) bound = retimed.bound;
  if (!bound) bound = bound_of(problem, plan, parts, proof, proof_stop);
  const Price price = gp::price(production, plan);
  const Thousandths value =
      production.aim == Aim::least_time ? price.weighted_on_site : price.span * 1000;
  // A bound above the plan would be our mistake; better none than a false proof.
  if (bound && *bound <= value) plan.totals.bound = bound;
  plan.totals.proven = bound == value;
  plan.totals.seconds = std::chrono::duration<double>(Clock::now() - start).count();
  return plan;
}

}  // namespace gp
