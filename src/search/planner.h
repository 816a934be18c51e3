#pragma once

#include "base/stop.h"
#include "model/check.h"
#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"

#include <cstdint>
#include <functional>
#include <optional>

namespace gp {

/// Threads that commands and pages search with unless told otherwise. A number, not how many cores
/// there are, so that the same file gives the same plan on every machine; where there is one core,
/// it takes twice as long. (Measured over 32 seeds: 1.3 % less time on site than with one, and far
/// fewer plans that are much dearer than the rest.)
constexpr int kUsualThreads = 2;

/// What the caller asks of the planner.
struct Wishes {
  Answers answers;                ///< who counts as coming
  std::optional<DayId> only_day;  ///< plan this day alone; scenes that do not fit on it are lost
  std::uint64_t seed = 1;
  int threads = 1;    ///< 1 .. 64; part of the answer: other threads, perhaps another plan
  double effort = 1;  ///< of the fixed amount of work, more or less of it; > 0
  /// Search this long [s]. None: a fixed amount of work, so that the same input, seed and threads
  /// give the same plan on every machine.
  std::optional<double> seconds;
};

/// Told now and then while the search goes on.
struct Progress {
  Price best;  ///< but for waiting and the numbers of days and calls
  /// What no plan that films and fills all can beat, as Totals::bound; none: not known, or the best
  /// so far leaves something out.
  std::optional<Thousandths> bound;
  double share = 0;    ///< of the work or the time used, 0 .. 1
  double seconds = 0;  ///< since the start
};
using ProgressSink = std::function<void(const Progress&)>;

/// The best right plan found. Always right (check() finds nothing): what cannot be done stands in
/// `not_filmed` and `unfilled` with its reason. Never throws for what people wrote.
/// \param stop      asked in every loop; when it says so, the best plan so far is given
/// \param progress  called from the calling thread, at most some twenty times a second; may be
/// empty Cost: see docs/benchmarks.md. Threads: starts `wishes.threads` of its own, joined before
/// return.
Plan make_plan(const Production& production,
               const Wishes& wishes,
               Stop& stop,
               const ProgressSink& progress = {});

}  // namespace gp
