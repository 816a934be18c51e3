#pragma once

#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace gp::bench {

/// One run of the planner.
struct Run {
  Plan plan;
  Price price;
  std::string wrong;     ///< the first rule broken; empty: the plan is right
  double to_first = 0;   ///< [s] until the planner had its first right plan
  double to_best = 0;    ///< [s] until it had what it gave
  double seconds = 0;    ///< [s] from the call to the answer
  std::size_t told = 0;  ///< how often progress was told: times are as fine as that (20 ms)
};

/// Plans once and checks the plan.
Run run_once(const Production& production, double seconds, int threads, std::uint64_t seed);

/// What a task counts in a plan: less is better. None: the plan leaves something out that the
/// problem wants done.
using Counted = std::function<std::optional<std::int64_t>(const Production&, const Run&)>;

/// Wages: `weighted_on_site` in whole units.
std::optional<std::int64_t> weighted(const Production& production, const Run& run);
/// Minutes from the first call to the first shot.
std::optional<std::int64_t> span(const Production& production, const Run& run);
/// Minutes from the first shot to the wrap of the one day.
std::optional<std::int64_t> length(const Production& production, const Run& run);

/// A problem and what is known of it.
struct Task {
  std::string name;
  Production production;
  Counted counted;
  bool has_bound = true;  ///< whether the planner's bound is a bound of what is counted
  std::optional<std::int64_t> best_known;  ///< none: nobody knows
};

/// What ten seeds, say, found.
struct Outcome {
  std::string name;
  std::optional<std::int64_t> best_known, best, worst;
  double mean = 0;
  std::optional<std::int64_t> bound;  ///< the best of all runs
  double gap = 0;        ///< mean over the runs, of what was found to the best known [share]
  double worst_gap = 0;  ///< of the worst run
  double bound_gap = 0;  ///< mean over the runs, to the run's own bound [share]
  double worst_bound_gap = 0;
  int runs = 0;
  int optimal = 0;  ///< runs that found the best known
  int proven = 0;
  int bounded = 0;  ///< runs that gave a bound
  int failed = 0;   ///< runs that gave a wrong plan or left something out
  std::vector<double> to_first, to_best, seconds;
  std::string wrong;  ///< what was wrong in the first such run
};

/// Runs the seeds 1 .. `seeds` one after the other and says each on standard error.
Outcome measure(const Task& task, double seconds, int threads, int seeds);

double median(std::vector<double> values);
double most(const std::vector<double>& values);

}  // namespace gp::bench
