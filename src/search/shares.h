#pragma once

#include "search/planner.h"

#include <algorithm>
#include <optional>

// What of a given time each stage of planning gets.

namespace gp {

/// That share of the time given, where one is.
inline std::optional<double> share_of(const Wishes& wishes, double share) {
  if (!wishes.seconds) return std::nullopt;
  return *wishes.seconds * share;
}

/// How much of a given time the search for order and people gets before the steps' turn: where
/// there is nothing to order, the steps are all there is.
inline double first_share(const Production& film) {
  return film.scenes.size() <= 1 ? 0.1 : 0.85;
}

/// How much of that is for the last small changes: as long as it takes to try them all once, some
/// 0.4 s for 26 people and 14 scenes, but no more than a sixth of the time.
inline double descent_share(const Production& film, const Wishes& wishes) {
  if (!wishes.seconds || film.scenes.size() <= 1) return 0;
  const auto size = static_cast<double>(film.scenes.size() * film.people.size());
  return std::min(0.17, size / 1000 / std::max(*wishes.seconds, 0.001));
}

/// How much of it they both get: a proof of the morning's length needs some time as well, and what
/// people like a little.
inline double second_share(const Production& film) {
  const bool likes = std::any_of(film.people.begin(), film.people.end(), [](const Person& person) {
    return !person.likes.empty();
  });
  return film.aim == Aim::latest_first_call ? 0.85 : likes ? 0.97 : 1;
}

}  // namespace gp
