#pragma once

#include "base/random.h"
#include "prep/day_draft.h"
#include "search/problem.h"

#include <algorithm>
#include <memory>
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
  Table<SceneId, int> heads_first;    ///< which of its crowds and crews is found and prepared first
  Table<SceneId, int> stayers;  ///< [min] how loath those there already are to be taken for it
  /// [min] how loath people are to be taken where there is a choice, by day as in Problem::days
  std::vector<Table<PersonId, int>> reluctance;
  /// Who is asked first for each head of a crowd or crew, by Problem::first_head; none: whoever
  /// comes cheapest.
  std::vector<PersonId> picks;
  /// Who is to help at the stations, by day; null: whoever it costs least.
  std::shared_ptr<const std::vector<HelpHints>> helpers;
  /// Start of each together meal, by day and meal; none: not held. Those in turns: none.
  std::vector<std::vector<std::optional<Minute>>> meals;
};

/// Recipe::hold_back for a shot no sooner than that.
inline Minutes held_until(const DayFrame& day, Minute shot) {
  return std::max(Minutes{0}, shot - day.first_shot);
}

/// How many scenes, from the first on, two recipes place alike, but for what they say of days as a
/// whole: meals and reluctance.
std::size_t same_scenes(const Problem& problem, const Recipe& a, const Recipe& b);

/// A sensible first recipe.
Recipe first_recipe(const Problem& problem);

}  // namespace gp
