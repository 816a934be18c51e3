#pragma once

#include "base/spans.h"
#include "model/day_frame.h"

#include <algorithm>
#include <cstdint>
#include <vector>

namespace gp {

/// How much of something that may be shared by several at once (an item, the seats of a meal) is in
/// use at each minute of a day.
/// Cost: O(minutes) a question; a day has few minutes and memory reads them in a row.
class CountedUse {
 public:
  CountedUse() = default;
  explicit CountedUse(int capacity) : capacity_(capacity) {}

  /// Whether `more` can be used besides all through the span.
  [[nodiscard]] bool has_room(Span span, int more) const {
    if (used_.empty()) return more <= capacity_;
    const auto [from, until] = range(span);
    for (std::size_t i = from; i < until; ++i) {
      if (used_[i] + more > capacity_) return false;
    }
    return more <= capacity_;
  }
  /// The last minute of the span in which there is no room, or none (kAlwaysBefore).
  [[nodiscard]] Minute last_full(Span span, int more) const {
    const auto [from, until] = range(span);
    if (more > capacity_) return until > from ? span.until - Minutes{1} : kAlwaysBefore;
    if (used_.empty()) return kAlwaysBefore;
    for (std::size_t i = until; i-- > from;) {
      if (used_[i] + more > capacity_) return minute(static_cast<std::int32_t>(i) - kBefore);
    }
    return kAlwaysBefore;
  }
  void add(Span span, int more) {
    // Most things are never out on most days: their minutes cost nothing until they are.
    if (used_.empty()) used_.resize(kSize, 0);
    const auto [from, until] = range(span);
    for (std::size_t i = from; i < until; ++i) used_[i] += more;
  }

 private:
  static constexpr std::int32_t kBefore = 24 * 60;  ///< minutes kept before midnight
  static constexpr std::size_t kSize = 24 * 60 + 101 * 60;

  static std::pair<std::size_t, std::size_t> range(Span span) {
    const auto at = [](Minute m) {
      return static_cast<std::size_t>(
          std::clamp(count(m) + kBefore, 0, static_cast<std::int32_t>(kSize)));
    };
    return {at(span.from), at(span.until)};
  }

  int capacity_ = 0;
  std::vector<std::int32_t> used_;
};

}  // namespace gp
