#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <cstdint>

namespace gp {

/// What a plan costs, recounted from the plan alone; compared in the order of the plan format's
/// "What is best" by better().
struct Price {
  Thousandths not_filmed = 0;           ///< worth of scenes lost, optional ones apart
  Thousandths optional_not_filmed = 0;  ///< worth of optional scenes lost
  int unfilled = 0;                     ///< heads
  std::int64_t on_site = 0;             ///< minutes
  Thousandths weighted_on_site = 0;     ///< minutes times weight
  std::int64_t waiting = 0;             ///< minutes
  std::int64_t first_calls = 0;  ///< sum over filmed days of the first call, minute of the day
  std::int64_t span = 0;  ///< sum over filmed days of the minutes from first call to first shot
  std::int64_t wrap = 0;  ///< sum over filmed days of the wrap, minute of the day
  int filmed_days = 0;    ///< days on which something is filmed
  bool operator==(const Price&) const = default;
};

/// Recounted from the plan's scenes, steps, meals and calls; its own sums are not looked at. Who
/// has no engagement or no call costs nothing (rule 11 says so to them). Cost: O(n log n) in the
/// plan's entries. Threads: pure.
Price price(const Production& production, const Plan& plan);

/// Whether `a` is better than `b` under the aim: less worth lost, then less optional worth lost,
/// then fewer unfilled, then the aim's own order, then the earliest wrap. Over several days, the
/// first calls and the wraps are summed; a day on which nothing is filmed counts as one whose first
/// call is at its end (24:00), so that filming on fewer days is never worse for that.
bool better(const Price& a, const Price& b, Aim aim);

}  // namespace gp
