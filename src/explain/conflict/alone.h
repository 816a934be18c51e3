#pragma once

#include "base/stop.h"
#include "model/check.h"
#include "model/plan.h"
#include "model/production.h"

#include <cstdint>
#include <optional>
#include <string>

// Inside of the reasons why something cannot be done: whether one scene could be filmed at all.

namespace gp::conflict {

enum class Verdict {
  possible,    ///< a plan was found, and check() finds nothing wrong with it
  impossible,  ///< proven: everything was tried, or a bound shows it
  unknown,     ///< the work that was allowed ended first
};

/// One scene, alone on its day; its parts must be played. Where `role` or `job` is given, all its
/// heads must be there too; other crowds and crew may be short.
struct Question {
  SceneId scene;
  RoleId role;
  std::string job;
};

struct Terms {
  Answers answers;                    ///< who counts as coming
  std::optional<DayId> only_day;      ///< none: any day of the production
  std::uint64_t most_work = 200'000;  ///< placements tried before the answer is `unknown`
};

struct Answered {
  Verdict verdict = Verdict::unknown;
  std::optional<Plan> plan;  ///< where possible: the plan that shows it
  std::uint64_t work = 0;    ///< placements tried
};

/// Whether the question's scene can be filmed by the rules of a right plan when it is the only one;
/// its set-up begins at `nobody_before` at the earliest, crew or not, as in the plans we make.
///
/// Complete search over the days, every minute the shot may begin, the people of every place, who
/// does which step and in which order. For a shot that stands, the steps before it need only be
/// tried as late as possible, those after it as early as possible: whatever can be done can be done
/// so (active schedules, serial generation: Kolisch 1996, doi:10.1016/0377-2217(95)00357-6, with
/// the steps in order of their ends). People that nothing tells apart are tried once. Chains,
/// hours, matchings of people to heads and the work of each station against its time prune before
/// that. Meals, ways that are no shorter round about, and hours that come twice are searched in a
/// loosened form; what is found is held against check(), and where that refuses everything found
/// the answer is `unknown`, never `impossible`.
/// \param production  must have that scene; others in it are left out
/// Cost: grows with `most_work` at most. Threads: pure.
Answered film_alone(const Production& production,
                    const Question& question,
                    const Terms& terms,
                    Stop& stop);

}  // namespace gp::conflict
