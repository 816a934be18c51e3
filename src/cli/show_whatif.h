#pragma once

#include "cli/show_plan.h"
#include "explain/whatif/what_if.h"
#include "model/production.h"

#include <string>
#include <vector>

// What-if answers as text for a terminal.

namespace gp {

/// Two plans side by side. \param changes  in plain words
std::string show_comparison(const Production& before,
                            const std::vector<std::string>& changes,
                            const whatif::Comparison& comparison,
                            const View& view);

/// Which help is worth most, and how far that can be trusted.
std::string show_ranking(const Production& production,
                         const whatif::HelpRanking& ranking,
                         const View& view);

}  // namespace gp
