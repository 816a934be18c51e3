#include "prep/timeline.h"

#include <algorithm>

namespace gp {

Ground::Ground(const Production& film, const DayFrame& day)
    : production(&film), frame(&day), together(day.meals.size()), places_(film.places.size()) {
  for (PlaceId a : film.places.ids()) {
    for (PlaceId b : film.places.ids()) ways_.push_back(film.way(a, b));
  }
}

Minutes Ground::eaten(Minute from, Minute until) const {
  Minutes sum{0};
  for (const auto& meal : together) {
    if (!meal || meal->from >= until || meal->until <= from) continue;
    sum += std::min(meal->until, until) - std::max(meal->from, from);
  }
  return sum;
}

const Span* Ground::meal_in(Span span) const {
  for (const auto& meal : together) {
    if (meal && meal->overlaps(span)) return &*meal;
  }
  return nullptr;
}

namespace {

/// Why a start will not do, and the nearest one that might, in the direction of the search.
struct Verdict {
  bool fits = false;
  bool hopeless = false;
  Minute next{};
};

/// One question asked over and over: may [start, start + length) stand at `place`?
class Fitting {
 public:
  Fitting(const Ground& ground, const PersonDay& day, Span window, Minutes length, PlaceId place)
      : ground_(ground), day_(day), window_(window), length_(length), place_(place) {}

  [[nodiscard]] Verdict backwards(Minute start) const {
    const Span span{start, start + length_};
    if (!nameable(span)) return try_next(start - Minutes{1});
    if (span.until > window_.until) return try_next(window_.until - length_);
    if (const Span* meal = ground_.meal_in(span)) return try_next(meal->from - length_);
    const std::size_t at = first_ending_after(span);
    const auto& rows = day_.engagements;
    if (at < rows.size() && rows[at].when.from < span.until) {
      return try_next(rows[at].when.from - length_);
    }
    if (const Minutes short_by = missing_after(at, span); short_by > Minutes{0}) {
      return try_next(start - short_by);
    }
    if (at > 0) {
      if (missing_before(at, span) > Minutes{0}) {
        return try_next(rows[at - 1].when.from - length_);
      }
    } else {
      const auto call = ground_.frame->call_for(start, ground_.lead(place_));
      if (!call) return try_next(start - Minutes{1});
      if (*call < window_.from) return {false, true, {}};
    }
    return {true, false, {}};
  }

  [[nodiscard]] Verdict forwards(Minute start) const {
    const Span span{start, start + length_};
    if (!nameable(span)) return try_next(start + Minutes{1});
    if (span.until > window_.until) return {false, true, {}};
    if (const Span* meal = ground_.meal_in(span)) return try_next(meal->until);
    const std::size_t at = first_ending_after(span);
    const auto& rows = day_.engagements;
    if (at < rows.size() && rows[at].when.from < span.until) {
      return try_next(std::max(rows[at].when.until, start + Minutes{1}));
    }
    if (at > 0) {
      const Minutes short_by = missing_before(at, span);
      if (short_by > Minutes{0}) return try_next(start + short_by);
    } else {
      const auto call = ground_.frame->call_for(start, ground_.lead(place_));
      // Rounding moves in small steps, so the next minute is a fair next try.
      if (!call || *call < window_.from) {
        const Minute least = window_.from + ground_.lead(place_);
        return try_next(std::max(start + Minutes{1}, least));
      }
    }
    if (missing_after(at, span) > Minutes{0}) {
      return try_next(std::max(rows[at].when.until, start + Minutes{1}));
    }
    return {true, false, {}};
  }

 private:
  static Verdict try_next(Minute next) { return {false, false, next}; }

  [[nodiscard]] bool nameable(Span span) const {
    return ground_.frame->nameable(span.from) && ground_.frame->nameable(span.until);
  }

  /// The first engagement that is not over by the span's start.
  [[nodiscard]] std::size_t first_ending_after(Span span) const {
    const auto& rows = day_.engagements;
    const auto found = std::partition_point(rows.begin(), rows.end(), [&](const Engagement& row) {
      return row.when.until <= span.from && row.when.from <= span.from;
    });
    return static_cast<std::size_t>(found - rows.begin());
  }

  /// Minutes by which the way from the engagement before rows[at] is too long.
  [[nodiscard]] Minutes missing_before(std::size_t at, Span span) const {
    if (at == 0) return Minutes{0};
    if (!place_.valid()) return missing_across(at, span);
    Minutes nowhere{0};
    const auto before = placed_before(at, nowhere);
    if (!before) return Minutes{0};
    return missing_way(*before, span.from, place_, nowhere);
  }
  /// Minutes by which the way on to rows[at] is too long.
  [[nodiscard]] Minutes missing_after(std::size_t at, Span span) const {
    if (at == day_.engagements.size()) return Minutes{0};
    if (!place_.valid()) return missing_across(at, span);
    Minutes nowhere{0};
    const auto after = placed_after(at, nowhere);
    if (!after) return Minutes{0};
    return missing_way(
        {{span.from, span.until}, place_, Doing::cast, 0}, after->when.from, after->place, nowhere);
  }
  /// An engagement at no place (the day has no base) is no time to walk: those round it must still
  /// have their way.
  [[nodiscard]] Minutes missing_across(std::size_t at, Span span) const {
    Minutes nowhere = span.length();
    const auto before = placed_before(at, nowhere);
    const auto after = placed_after(at, nowhere);
    if (!before || !after) return Minutes{0};
    return missing_way(*before, after->when.from, after->place, nowhere);
  }
  [[nodiscard]] std::optional<Engagement> placed_before(std::size_t at, Minutes& nowhere) const {
    while (at > 0) {
      const Engagement& row = day_.engagements[--at];
      if (row.place.valid()) return row;
      nowhere += row.when.length();
    }
    return std::nullopt;
  }
  [[nodiscard]] std::optional<Engagement> placed_after(std::size_t at, Minutes& nowhere) const {
    for (; at < day_.engagements.size(); ++at) {
      const Engagement& row = day_.engagements[at];
      if (row.place.valid()) return row;
      nowhere += row.when.length();
    }
    return std::nullopt;
  }
  [[nodiscard]] Minutes missing_way(const Engagement& left,
                                    Minute reached,
                                    PlaceId to,
                                    Minutes nowhere) const {
    const Minutes way = ground_.way(left.place, to);
    if (way == Minutes{0}) return Minutes{0};
    const Minute gone = left.when.until;
    return way - ((reached - gone) - ground_.eaten(gone, reached) - nowhere);
  }

  const Ground& ground_;
  const PersonDay& day_;
  Span window_;
  Minutes length_;
  PlaceId place_;
};

}  // namespace

std::optional<Minute> latest_start(const Ground& ground,
                                   const PersonDay& day,
                                   const std::vector<Span>& free,
                                   Minutes length,
                                   PlaceId place,
                                   Minute not_before,
                                   Minute not_after,
                                   std::uint64_t& work) {
  // Who is not engaged yet may still take any of their free spans: the last one that will do.
  const bool settled = !day.engagements.empty();
  for (std::size_t w = free.size(); w-- > 0;) {
    if (settled && w != static_cast<std::size_t>(day.window)) continue;
    const Fitting fitting(ground, day, free[w], length, place);
    Minute start = std::min(not_after, kDayEnd) - length;
    while (start >= not_before) {
      ++work;
      const Verdict verdict = fitting.backwards(start);
      if (verdict.fits) return start;
      if (verdict.hopeless) break;
      start = std::min(verdict.next, start - Minutes{1});
    }
  }
  return std::nullopt;
}

std::optional<Minute> earliest_start(const Ground& ground,
                                     const PersonDay& day,
                                     const std::vector<Span>& free,
                                     Minutes length,
                                     PlaceId place,
                                     Minute not_before,
                                     Minute not_after,
                                     std::uint64_t& work) {
  const bool settled = !day.engagements.empty();
  for (std::size_t w = 0; w < free.size(); ++w) {
    if (settled && w != static_cast<std::size_t>(day.window)) continue;
    const Fitting fitting(ground, day, free[w], length, place);
    Minute start = std::max(not_before, free[w].from);
    while (start + length <= std::min(not_after, kDayEnd)) {
      ++work;
      const Verdict verdict = fitting.forwards(start);
      if (verdict.fits) return start;
      if (verdict.hopeless) break;
      start = std::max(verdict.next, start + Minutes{1});
    }
  }
  return std::nullopt;
}

Minutes spare_between(const Ground& ground, const PersonDay& day, std::size_t left) {
  const auto& rows = day.engagements;
  std::size_t before = left;
  std::size_t after = left + 1;
  while (before > 0 && !rows[before].place.valid()) --before;
  while (after + 1 < rows.size() && !rows[after].place.valid()) ++after;
  const Minute gone = rows[before].when.until;
  const Minute reached = rows[after].when.from;
  Minutes spare = (reached - gone) - ground.eaten(gone, reached) -
                  ground.way(rows[before].place, rows[after].place);
  for (std::size_t i = before + 1; i < after; ++i) spare -= rows[i].when.length();
  for (const MealSlot& slot : day.meals) {
    if (slot.when.from >= gone && slot.when.until <= reached) spare -= slot.when.length();
  }
  return spare;
}

std::optional<StayTimes> stay_of(const Ground& ground, const PersonDay& day) {
  const Engagement& front = day.engagements.front();
  const Minutes lead = ground.lead(front.place);
  StayTimes times;
  Minute first = front.when.from;
  Minute last = day.engagements.back().when.until;
  for (const Engagement& row : day.engagements) last = std::max(last, row.when.until);
  for (const MealSlot& slot : day.meals) {
    first = std::min(first, slot.when.from);
    last = std::max(last, slot.when.until);
  }
  std::vector<bool> eats(ground.together.size(), false);
  for (bool changed = true; changed;) {
    changed = false;
    const auto call = ground.frame->call_for(first, lead);
    if (!call) return std::nullopt;
    times.stay = {*call, last};
    for (std::size_t m = 0; m < ground.together.size(); ++m) {
      const auto& meal = ground.together[m];
      if (!meal || eats[m] || !times.stay.covers(*meal)) continue;
      eats[m] = true;
      changed = true;
      times.together.push_back(m);
      first = std::min(first, meal->from);
    }
  }
  return times;
}

}  // namespace gp
