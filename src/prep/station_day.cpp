#include "prep/station_day.h"

#include <algorithm>
#include <cassert>

namespace gp {
namespace {

/// The first row that is not over when something starts at `start`.
std::size_t first_not_over(const std::vector<Span>& rows, Minute start) {
  const auto found = std::partition_point(rows.begin(), rows.end(), [&](const Span& row) {
    return row.until <= start && row.from <= start;
  });
  return static_cast<std::size_t>(found - rows.begin());
}

}  // namespace

std::optional<StationDay::Found> StationDay::latest(Minute start,
                                                    Minutes length,
                                                    Minute not_before) const {
  std::optional<Found> best;
  Minute best_next = kNever;
  for (std::size_t p = 0; p < places_.size(); ++p) {
    const auto& rows = places_[p];
    Minute at = start;
    std::size_t next = first_not_over(rows, at);
    while (at >= not_before && next < rows.size() && rows[next].from < at + length) {
      at = std::min(rows[next].from - length, at - Minutes{1});
      next = first_not_over(rows, at);
    }
    if (at < not_before) continue;
    const Minute after = next < rows.size() ? rows[next].from : kNever;
    if (!best || at > best->start || (at == best->start && after < best_next)) {
      best = Found{at, static_cast<int>(p)};
      best_next = after;
    }
  }
  return best;
}

std::optional<StationDay::Found> StationDay::earliest(Minute start,
                                                      Minutes length,
                                                      Minute not_after) const {
  std::optional<Found> best;
  Minute best_before = kAlwaysBefore;
  for (std::size_t p = 0; p < places_.size(); ++p) {
    const auto& rows = places_[p];
    Minute at = start;
    std::size_t next = first_not_over(rows, at);
    while (at + length <= not_after && next < rows.size() && rows[next].from < at + length) {
      at = std::max(rows[next].until, at + Minutes{1});
      next = first_not_over(rows, at);
    }
    if (at + length > not_after) continue;
    const Minute before = next > 0 ? rows[next - 1].until : kAlwaysBefore;
    if (!best || at < best->start || (at == best->start && before > best_before)) {
      best = Found{at, static_cast<int>(p)};
      best_before = before;
    }
  }
  return best;
}

void StationDay::take(int place, Span span) {
  auto& rows = places_[static_cast<std::size_t>(place)];
  const auto at =
      std::upper_bound(rows.begin(), rows.end(), span, [](const Span& a, const Span& b) {
        return a.from != b.from ? a.from < b.from : a.until < b.until;
      });
  rows.insert(at, span);
}

void StationDay::release(int place, Span span) {
  auto& rows = places_[static_cast<std::size_t>(place)];
  const auto at = std::find(rows.begin(), rows.end(), span);
  assert(at != rows.end());
  rows.erase(at);
}

void StationDay::clear() {
  for (auto& rows : places_) rows.clear();
}

}  // namespace gp
