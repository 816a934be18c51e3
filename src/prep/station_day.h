#pragma once

#include "base/spans.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace gp {

/// The places (chairs) of one station on one day.
class StationDay {
 public:
  StationDay() = default;
  explicit StationDay(int places) : places_(static_cast<std::size_t>(places)) {}

  struct Found {
    Minute start{};
    int place = 0;  ///< from 0
  };
  /// The latest start <= `start` at which some place is free for `length`; of several such places
  /// the one whose gap is tightest after it, so that long gaps stay whole. None below `not_before`.
  [[nodiscard]] std::optional<Found> latest(Minute start, Minutes length, Minute not_before) const;
  /// The earliest start >= `start`, ending by `not_after`.
  [[nodiscard]] std::optional<Found> earliest(Minute start, Minutes length, Minute not_after) const;

  void take(int place, Span span);
  void release(int place, Span span);
  void clear();

  std::uint64_t saved_at = 0;  ///< the journal's own

 private:
  std::vector<std::vector<Span>> places_;  ///< each in order, never overlapping
};

}  // namespace gp
