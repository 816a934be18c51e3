#pragma once

#include "model/production.h"

#include <vector>

namespace gp {

/// The shortest ways between places, over others of them too: whatever somebody does in between,
/// they walk no less. Source: Floyd 1962, doi:10.1145/367766.368168. Cost: O(places³) once.
class ShortestWays {
 public:
  ShortestWays() = default;
  /// \param places  in any order, also more than once; no place at all may be among them, and is on
  ///                no way
  ShortestWays(const Production& production, std::vector<PlaceId> places);

  /// Requires both to be among the places.
  [[nodiscard]] Minutes between(PlaceId a, PlaceId b) const {
    return ways_[number(a) * places_.size() + number(b)];
  }
  /// Requires a place.
  [[nodiscard]] Minutes longest() const;

 private:
  [[nodiscard]] std::size_t number(PlaceId place) const;

  std::vector<PlaceId> places_;
  std::vector<Minutes> ways_;
};

}  // namespace gp
