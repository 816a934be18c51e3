#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace gp::bench {

/// Why the model in solver/day.mzn does not know all of this production; empty: it does.
std::string beyond_model(const Production& production);

/// The production as the model's data (MiniZinc's own text form). Only where beyond_model() is
/// empty.
std::string model_data(const Production& production);

/// What the solver printed last, whole: when each scene shoots, when each step begins and who does
/// it, in the order of model_data().
struct SolverAnswer {
  std::vector<int> shot, begin, by;
};
/// None: it found nothing.
std::optional<SolverAnswer> last_answer(const std::string& printed);

/// The answer as a plan with everyone's calls: for check() to judge and price() to count.
Plan plan_of_answer(const Production& production, const SolverAnswer& answer);

/// Debian's minizinc with Gecode, as its first line says; none: it is not installed.
std::optional<std::string> solver_name();

struct Solved {
  std::optional<Plan> plan;  ///< its best; none: nothing found in time
  bool exhausted = false;    ///< it said that there is no better one
  double seconds = 0;        ///< with the model's translation, which does not count as its time
};

/// One thread, for so long a search.
/// \param restarts  begins anew again and again (geometric, with no-goods) instead of searching
/// through; which of the two is better depends on the production
/// \throws std::runtime_error  the solver did not understand the model, or says that there is no
/// plan
Solved solve_generally(const Production& production,
                       const std::string& folder,
                       double seconds,
                       bool restarts);

}  // namespace gp::bench
