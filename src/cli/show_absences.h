#pragma once

#include "cli/show_plan.h"
#include "explain/absence/sturdy_plan.h"
#include "model/production.h"

#include <string>

namespace gp {

/// For people: how likely every scene is filmed, what fails first, who could stand in.
std::string show_absences(const Production& production,
                          const absence::SturdyPlan& sturdy,
                          const View& view);
/// Everything, for programs: docs/who.md names the keys.
std::string write_absences(const Production& production, const absence::SturdyPlan& sturdy);

}  // namespace gp
