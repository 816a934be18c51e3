#pragma once

#include "base/random.h"
#include "search/problem.h"

#include <optional>
#include <vector>

namespace gp {

/// Everything the search decides; the builder turns it into a right draft, always the same one.
/// (The mutable form of a plan: made for change, complete without being detailed.)
struct Recipe {
  std::vector<SceneId> order;         ///< keeps every `after`
  Table<SceneId, int> day;            ///< preferred day (index into Problem::days); -1: first
  Table<SceneId, Minutes> hold_back;  ///< not before so long after the day's first_shot
  Table<SceneId, char> patient;       ///< wait for a full crowd rather than shoot short
  Table<RoleId, PersonId> part;       ///< who plays it; none: whoever comes cheapest
  Table<RoleId, int> turn;            ///< the parts of a scene are prepared in this order
  Table<PersonId, int> reluctance;    ///< [min] where there is a choice
  Table<SceneId, int> stayers;  ///< [min] how loath those there already are to be taken for it
  /// Start of each together meal, by day and meal; none: not held. Those in turns: none.
  std::vector<std::vector<std::optional<Minute>>> meals;
};

/// A sensible first recipe.
Recipe first_recipe(const Problem& problem);

}  // namespace gp
