#pragma once

#include "base/stop.h"
#include "explain/whatif/apply.h"
#include "explain/whatif/best_help.h"
#include "explain/whatif/carry.h"
#include "explain/whatif/difference.h"
#include "search/planner.h"

#include <optional>
#include <string>
#include <vector>

namespace gp::whatif {

/// Two plans side by side.
struct Comparison {
  Plan before;   ///< what make_plan() gives for the production as it is
  Priced after;  ///< with the changes: see plan_again()
  Difference difference;
  /// The plan with the changes, where it is right without them too and better than `before`: its
  /// price there. So much of the difference is luck of the search.
  std::optional<Price> without_change;
};

/// Plans the production as it is and as it would be.
/// \param stop      when it says so, both plans are the best until then
/// \param progress  of both one after the other: `share` goes from 0 to 1 twice; may be empty
Comparison compare(const Production& production,
                   const Changed& changed,
                   const Wishes& wishes,
                   Stop& stop,
                   const ProgressSink& progress = {});

/// The comparison as JSON (docs/whatif.md). \param changes  as they were given, and in plain words
std::string write_comparison(const Production& before,
                             const std::vector<Change>& changes,
                             const Comparison& comparison);

/// The ranking as JSON (docs/whatif.md).
std::string write_ranking(const Production& production, const HelpRanking& ranking);

}  // namespace gp::whatif
