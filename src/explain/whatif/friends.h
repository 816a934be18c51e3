#pragma once

#include "model/production.h"

#include <string>
#include <vector>

namespace gp::whatif {

/// Every name that new friends may be for, once each: crowds, stations, skills in use, crew jobs,
/// skills that somebody has.
std::vector<std::string> friend_purposes(const Production& production);

/// The crew calls of the whole production, the units' first.
std::vector<const CrewCall*> all_crew(const Production& production);

}  // namespace gp::whatif
