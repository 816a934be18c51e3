#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <string>
#include <vector>

namespace gp {

/// One rule of a right plan (docs/plan-format.md, "The rules") that a plan breaks.
struct Broken {
  int rule = 0;       ///< 1 .. 11
  std::string where;  ///< a scene, person, station …
  std::string what;   ///< one plain phrase with the numbers
  bool operator==(const Broken&) const = default;
};

/// Which answers count as coming; `yes` always does.
struct Answers {
  bool maybe = false;
  bool asked = false;
  [[nodiscard]] bool include(Answer answer) const {
    return answer == Answer::yes || (answer == Answer::maybe && maybe) ||
           (answer == Answer::asked && asked);
  }
  bool operator==(const Answers&) const = default;
};

/// Every rule that the plan breaks, in order of rule; empty: the plan is right. Written from the
/// text of the rules alone, sharing no code with any planner.
/// A moment that no clock on the wall shows (the second pass of an hour that comes twice) is told
/// under the rule of what begins or ends there. An id that the production does not have is told,
/// and then nothing else. Days of the production that the plan does not list are as if nothing were
/// filmed on them. Cost: O(n log n) in the plan's entries. Threads: pure.
std::vector<Broken> check(const Production& production, const Plan& plan, Answers answers = {});

}  // namespace gp
