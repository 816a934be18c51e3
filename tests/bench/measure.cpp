#include "bench/measure.h"

#include "base/stop.h"
#include "model/check.h"
#include "search/planner.h"

#include <algorithm>
#include <chrono>
#include <cstdio>

namespace gp::bench {
namespace {

using Clock = std::chrono::steady_clock;

double since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

bool all_done(const Run& run) {
  return run.wrong.empty() && run.plan.not_filmed.empty() && run.plan.unfilled.empty();
}

double share(std::int64_t over, std::int64_t base) {
  if (base == 0) return over == 0 ? 0.0 : 1.0;
  return static_cast<double>(over - base) / static_cast<double>(base);
}

/// The bound in what the problem counts, rounded up: it counts in whole units.
std::int64_t whole(Thousandths bound) {
  return (bound + 999) / 1000;
}

}  // namespace

Run run_once(const Production& production, double seconds, int threads, std::uint64_t seed) {
  Wishes wishes;
  wishes.seed = seed;
  wishes.threads = threads;
  wishes.seconds = seconds;
  Run run;
  std::optional<Price> last;
  const auto start = Clock::now();
  Stop stop = Stop::after(
      std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(seconds)));
  run.plan = make_plan(production, wishes, stop, [&](const Progress& progress) {
    ++run.told;
    if (!last) run.to_first = progress.seconds;
    if (!last || !(progress.best == *last)) run.to_best = progress.seconds;
    last = progress.best;
  });
  run.seconds = since(start);
  if (!last) run.to_first = run.to_best = run.seconds;  // so quick that nothing was told
  run.price = price(production, run.plan);
  const auto broken = check(production, run.plan);
  if (!broken.empty()) {
    run.wrong =
        "rule " + std::to_string(broken[0].rule) + ": " + broken[0].where + ": " + broken[0].what;
  }
  return run;
}

std::optional<std::int64_t> weighted(const Production& /*production*/, const Run& run) {
  if (!all_done(run)) return std::nullopt;
  return run.price.weighted_on_site / 1000;
}

std::optional<std::int64_t> span(const Production& /*production*/, const Run& run) {
  if (!all_done(run)) return std::nullopt;
  return run.price.span;
}

std::optional<std::int64_t> length(const Production& /*production*/, const Run& run) {
  if (!all_done(run) || run.plan.days.size() != 1) return std::nullopt;
  const DayPlan& day = run.plan.days[0];
  if (!day.first_shot || !day.wrap) return std::nullopt;
  return (*day.wrap - *day.first_shot).count();
}

Outcome measure(const Task& task, double seconds, int threads, int seeds) {
  Outcome outcome;
  outcome.name = task.name;
  outcome.best_known = task.best_known;
  double sum = 0;
  int counted = 0;
  for (int seed = 1; seed <= seeds; ++seed) {
    const Run run = run_once(task.production, seconds, threads, static_cast<std::uint64_t>(seed));
    ++outcome.runs;
    outcome.to_first.push_back(run.to_first);
    outcome.to_best.push_back(run.to_best);
    outcome.seconds.push_back(run.seconds);
    const auto value = task.counted(task.production, run);
    if (!value) {
      ++outcome.failed;
      if (outcome.wrong.empty())
        outcome.wrong = run.wrong.empty() ? "something left out" : run.wrong;
      continue;
    }
    ++counted;
    sum += static_cast<double>(*value);
    outcome.best = outcome.best ? std::min(*outcome.best, *value) : *value;
    outcome.worst = outcome.worst ? std::max(*outcome.worst, *value) : *value;
    if (outcome.best_known) {
      const double gap = share(*value, *outcome.best_known);
      outcome.gap += gap;
      outcome.worst_gap = std::max(outcome.worst_gap, gap);
      if (*value <= *outcome.best_known) ++outcome.optimal;
    }
    if (!task.has_bound) continue;
    if (run.plan.totals.proven) ++outcome.proven;
    if (!run.plan.totals.bound) continue;
    const std::int64_t bound = whole(*run.plan.totals.bound);
    outcome.bound = outcome.bound ? std::max(*outcome.bound, bound) : bound;
    const double gap = share(*value, bound);
    ++outcome.bounded;
    outcome.bound_gap += gap;
    outcome.worst_bound_gap = std::max(outcome.worst_bound_gap, gap);
  }
  if (counted > 0) {
    outcome.mean = sum / counted;
    outcome.gap /= counted;
    if (outcome.bounded > 0) outcome.bound_gap /= outcome.bounded;
  }
  std::fprintf(stderr,
               "  %-28s best known %s, found %s to %s, proven %d of %d, %.2f s\n",
               task.name.c_str(),
               outcome.best_known ? std::to_string(*outcome.best_known).c_str() : "-",
               outcome.best ? std::to_string(*outcome.best).c_str() : "-",
               outcome.worst ? std::to_string(*outcome.worst).c_str() : "-",
               outcome.proven,
               outcome.runs,
               median(outcome.seconds));
  return outcome;
}

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

double most(const std::vector<double>& values) {
  return values.empty() ? 0 : *std::max_element(values.begin(), values.end());
}

}  // namespace gp::bench
