#pragma once

#include "base/random.h"
#include "search/built_times.h"
#include "search/recipe.h"

#include <optional>
#include <span>

namespace gp {

/// One kind of change to a recipe, each in a file of its own under moves/. Returns false where it
/// would change nothing (there is nothing of its kind in this production).
struct Move {
  const char* name;
  bool (*apply)(const Problem& problem, Recipe& recipe, Random& random);
  std::uint32_t weight;   ///< how often it is drawn, against the others
  bool of_order = false;  ///< changes Recipe::order and nothing else
};

/// Every move there is, in a fixed order.
std::span<const Move> all_moves();

/// Holds scenes back so that they end when the unit goes on to its next: whoever is in both waits
/// less. Needs to know how the recipe came out, so it stands apart from the others.
bool close_gap(const Problem& problem, const BuiltTimes& times, Recipe& recipe, Random& random);

/// Drops a meal taken together, and lets the day begin so late that nobody is there when its span
/// begins, or as early as it can, so that some are gone when it ends.
bool miss_meal(const Problem& problem, const BuiltTimes& times, Recipe& recipe, Random& random);

/// Gives a unit's day another order with the times as they came out: what changes places is laid
/// anew from where it began, or to where it ended, or as early as it can be, so that a scene held
/// back does not hold back those now after it.
bool reorder_row(const Problem& problem, const BuiltTimes& times, Recipe& recipe, Random& random);

/// Another one is asked first for a head, or nobody is any more for those of a crowd or crew. Worth
/// it only where sketches pick, so it stands apart too.
bool change_pick(const Problem& problem, Recipe& recipe, Random& random);

/// \name The moves
/// @{
bool shift_scenes(const Problem& problem, Recipe& recipe, Random& random);
bool swap_scenes(const Problem& problem, Recipe& recipe, Random& random);
bool turn_scenes(const Problem& problem, Recipe& recipe, Random& random);
bool change_day(const Problem& problem, Recipe& recipe, Random& random);
bool change_part(const Problem& problem, Recipe& recipe, Random& random);
bool change_turn(const Problem& problem, Recipe& recipe, Random& random);
bool shift_meal(const Problem& problem, Recipe& recipe, Random& random);
bool hold_scene_back(const Problem& problem, Recipe& recipe, Random& random);
bool change_patience(const Problem& problem, Recipe& recipe, Random& random);
bool lean(const Problem& problem, Recipe& recipe, Random& random);
bool change_stayers(const Problem& problem, Recipe& recipe, Random& random);
bool turn_heads(const Problem& problem, Recipe& recipe, Random& random);
/// @}

}  // namespace gp
