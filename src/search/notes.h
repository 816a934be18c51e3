#pragma once

#include "model/plan.h"
#include "search/problem.h"

namespace gp {

/// Adds what breaks no rule and yet should be known before the plan is told to anybody: parts given
/// to people who have said no to something in them, and children on site without their guardian.
void give_notes(const Problem& problem, Plan& plan);

}  // namespace gp
