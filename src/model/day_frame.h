#pragma once

#include "base/ids.h"
#include "base/minutes.h"
#include "base/spans.h"
#include "model/check.h"
#include "model/production.h"
#include "time/day_clock.h"

#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace gp {

/// A meal of one day, its span in elapsed minutes.
struct MealFrame {
  std::string name;
  Minutes minutes{};
  Span between;
  bool together = true;
  int seats = std::numeric_limits<int>::max();
};

/// No plan goes on longer than this after a day's midnight: an hour before the largest time the
/// file can write ("99:59"), for the clocks may have gone forward by an hour until then.
inline constexpr Minute kDayEnd = minute(98 * 60 + 59);

/// All that stands fixed on one day before anything is planned, in its elapsed minutes.
struct DayFrame {
  DayFrame(const Production& production, DayId day, Answers answers);

  DayId id;
  CalendarDay clock;
  PlaceId base;
  Minute nobody_before;
  Minute first_shot;  ///< nobody_before where none is given
  Minute wrap_by;     ///< kDayEnd where none is given
  std::vector<MealFrame> meals;
  Table<StationId, Span> open;
  Table<StationId, PlaceId> station_place;
  Table<SceneId, PlaceId> scene_place;
  /// From when a person may be called to when they must be released; empty: not that day, or not
  /// among the answers planned. Each begins at `nobody_before` at the earliest.
  Table<PersonId, std::vector<Span>> free;

  /// The call for a first engagement at `first` reached in `lead` (sign-in and way): the latest
  /// multiple of round_to on the wall that leaves that much. None where no such reading exists
  /// (an hour that comes twice).
  [[nodiscard]] std::optional<Minute> call_for(Minute first, Minutes lead) const;
  /// Whether the moment can be written as a clock reads it.
  [[nodiscard]] bool nameable(Minute moment) const {
    for (const Span& gap : clock.unnameable()) {
      if (gap.from <= moment && moment < gap.until) return false;
    }
    return true;
  }

 private:
  Minutes round_to_;
  bool plain_ = true;  ///< no clock change near this day: elapsed minutes are wall minutes
};

}  // namespace gp
