#pragma once

#include <compare>
#include <cstdint>

namespace gp {

/// What the search minimises, compared in this order: "What is best" of the plan format.
struct Cost {
  std::int64_t lost = 0;           ///< worth of scenes not filmed, in thousandths
  std::int64_t lost_optional = 0;  ///< the same of optional ones
  std::int64_t unfilled = 0;       ///< heads
  std::int64_t early = 0;     ///< latest-first-call only: from first calls to first shots [min]
  std::int64_t weighted = 0;  ///< weight in thousandths × minutes on site
  std::int64_t wrap = 0;      ///< sum of the wraps [min]
  std::int64_t on_site = 0;   ///< [min]

  auto operator<=>(const Cost&) const = default;
};

}  // namespace gp
