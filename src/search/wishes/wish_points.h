#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace gp {

/// How far a plan meets what people like, in the points of casting (casting/cast_costs.h): more is
/// better.
class WishPoints {
 public:
  explicit WishPoints(const Production& production);

  /// Whether anybody likes anything.
  [[nodiscard]] bool any() const { return any_; }
  /// Whether somebody has a wish, or is one.
  [[nodiscard]] bool concerns(PersonId who) const { return concerns_[who] != 0; }

  using Stands = std::function<PersonId(PersonId)>;  ///< who stands where somebody stood
  [[nodiscard]] std::int64_t of(const PlannedScene& scene, const Stands& stands) const;

 private:
  const Production& production_;
  bool any_ = false;
  Table<PersonId, char> concerns_;
  Table<PersonId, std::vector<PersonId>> friends_;  ///< whom each would like to be with
};

}  // namespace gp
