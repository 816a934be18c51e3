#include "ordering/chain_span.h"

#include "ordering/chain_windows.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

namespace gp {
namespace {

/// Some tasks that overlap at their earliest where only fewer may.
std::optional<std::size_t> crowded_task(const ChainProblem& problem, const ChainWindows& windows) {
  for (std::size_t r = 0; r < problem.capacity.size(); ++r) {
    const auto& users = windows.users()[r];
    for (const std::size_t at : users) {
      std::int32_t at_once = 0;
      std::optional<std::size_t> movable;
      for (const std::size_t task : users) {
        if (windows.from(task) > windows.from(at) ||
            windows.from(task) + windows.minutes(task) <= windows.from(at)) {
          continue;
        }
        ++at_once;
        const bool free = windows.from(task) < windows.last_start(task);
        if (free && (!movable || windows.last_start(task) - windows.from(task) <
                                     windows.last_start(*movable) - windows.from(*movable))) {
          movable = task;
        }
      }
      if (at_once > problem.capacity[r]) return movable;
    }
  }
  return std::nullopt;
}

class Refuting {
 public:
  Refuting(const ChainProblem& problem, std::int64_t& work, Stop& stop)
      : problem_(problem), work_(work), stop_(stop) {}

  /// True: it cannot be done by `end`. False: it can, or there was no work left to tell.
  bool refuted(std::int32_t end) {
    std::vector<ChainWindows> open{ChainWindows(problem_, end)};
    while (!open.empty()) {
      ChainWindows windows = std::move(open.back());
      open.pop_back();
      const bool possible = windows.narrow(work_, stop_);
      if (work_ < 0 || stop_.now()) return false;
      if (possible && !branch(windows, open)) return false;
    }
    return true;
  }

 private:
  struct Pair {
    std::size_t a = 0, b = 0;
    double slack = 0;
  };

  /// Both ways in which it could go on; false: the earliest times are a schedule.
  bool branch(const ChainWindows& windows, std::vector<ChainWindows>& open) const {
    if (const auto pair = tightest(windows)) {
      for (const auto& [first, then] : {std::pair(pair->a, pair->b), std::pair(pair->b, pair->a)}) {
        open.emplace_back(windows).put_before(first, then);
      }
      return true;
    }
    const auto crowded = crowded_task(problem_, windows);
    if (!crowded) return false;
    const std::int32_t from = windows.from(*crowded);
    const std::int32_t half = from + (windows.last_start(*crowded) - from) / 2;
    open.emplace_back(windows).not_before(*crowded, half + 1);
    open.emplace_back(windows).not_after(*crowded, half + windows.minutes(*crowded));
    return true;
  }

  /// Of all two tasks on one chair that could go either way, those with the least room (Smith and
  /// Cheng 1993, slack-based heuristics for constraint satisfaction scheduling; from memory).
  std::optional<Pair> tightest(const ChainWindows& windows) const {
    std::optional<Pair> best;
    for (std::size_t r = 0; r < problem_.capacity.size(); ++r) {
      if (problem_.capacity[r] != 1) continue;
      const auto& users = windows.users()[r];
      for (std::size_t i = 0; i < users.size(); ++i) {
        for (std::size_t j = i + 1; j < users.size(); ++j) {
          const std::size_t a = users[i], b = users[j];
          const std::int32_t a_first = windows.last_start(b) - windows.from(a) - windows.minutes(a);
          const std::int32_t b_first = windows.last_start(a) - windows.from(b) - windows.minutes(b);
          if (a_first < 0 || b_first < 0) continue;
          if (windows.is_put_before(a, b) || windows.is_put_before(b, a)) continue;
          const double least = std::min(a_first, b_first) + 1;
          const double most = std::max(a_first, b_first) + 1;
          const double slack = least / std::sqrt(least / most);
          if (!best || slack < best->slack) best = Pair{a, b, slack};
        }
      }
    }
    return best;
  }

  const ChainProblem& problem_;
  std::int64_t& work_;
  Stop& stop_;
};

}  // namespace

std::int32_t chain_span_bound(const ChainProblem& problem,
                              std::int32_t at_most,
                              std::int64_t work,
                              Stop& stop) {
  // without branching: what is refuted below a number is refuted for each smaller one
  std::int32_t refuted = -1, possible = at_most;
  while (possible - refuted > 1) {
    const std::int32_t middle = refuted + (possible - refuted) / 2;
    const bool not_refuted = ChainWindows(problem, middle).narrow(work, stop);
    (not_refuted ? possible : refuted) = middle;
    if (work < 0 || stop.now()) break;
  }
  if (refuted + 1 < at_most && Refuting(problem, work, stop).refuted(at_most - 1)) return at_most;
  return refuted + 1;
}

}  // namespace gp
