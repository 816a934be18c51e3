#pragma once

#include "search/retime/graph.h"

#include <compare>
#include <cstdint>
#include <functional>
#include <vector>

namespace gp {

/// What is wanted, the smaller the better, in this order.
struct RetimeCost {
  std::int64_t early = 0;  ///< minutes before 0 of the very first call, where that counts most
  /// Weight × minutes before 0, of calls as they are given; where the sum of stays is all that
  /// counts, less those of the last activities: weight × minutes there.
  std::int64_t rounded = 0;
  std::int64_t exact = 0;  ///< the same of first activities: which way is downhill
  auto operator<=>(const RetimeCost&) const = default;
};

/// Whose first activity is wanted late, and how that is counted.
struct RetimeAim {
  struct Person {
    std::int32_t queue = 0;
    std::int64_t weight = 0;  ///< of a minute
  };
  std::vector<Person> people;
  bool first_call_first = false;  ///< the very first call counts before the sum
  /// The call that the person's first activity asks for, from its start and place.
  std::function<std::int32_t(std::int32_t start, std::int32_t where)> call;

  [[nodiscard]] RetimeCost cost(const RetimeGraph& graph) const;
};

}  // namespace gp
