#pragma once

#include "base/minutes.h"

namespace gp {

/// Half-open: from `from` up to, not including, `until`.
struct Span {
  Minute from{};
  Minute until{};

  [[nodiscard]] constexpr Minutes length() const { return until - from; }
  [[nodiscard]] constexpr bool covers(Span other) const {
    return from <= other.from && other.until <= until;
  }
  /// Whether the two share time. A span of no length inside another does; at its edge it does not.
  [[nodiscard]] constexpr bool overlaps(Span other) const {
    return from < other.until && other.from < until;
  }
  constexpr bool operator==(const Span&) const = default;
};

/// A span as a clock on the wall reads it; both ends as written in the file.
struct WallSpan {
  WallTime from{};
  WallTime until{};
  constexpr bool operator==(const WallSpan&) const = default;
};

}  // namespace gp
