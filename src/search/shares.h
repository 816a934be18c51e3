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

/// How much of it they both get: a proof of the morning's length needs some time as well, and what
/// people like a little.
inline double second_share(const Production& film) {
  const bool likes = std::any_of(film.people.begin(), film.people.end(), [](const Person& person) {
    return !person.likes.empty();
  });
  return film.aim == Aim::latest_first_call ? 0.85 : likes ? 0.97 : 1;
}

}  // namespace gp
