#pragma once

#include "base/ids.h"
#include "base/minutes.h"
#include "base/spans.h"
#include "model/day_frame.h"
#include "model/production.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace gp {

/// What occupies a person at a place. Meals are kept apart: they have no place, and those in turns
/// may still be moved while a day is being planned.
enum class Doing : std::uint8_t { cast, crew, step, staffing, ready };

struct Engagement {
  Span when;
  PlaceId place;
  Doing doing = Doing::cast;
  std::size_t what = 0;  ///< the scene (cast, crew) or the station (step, staffing, ready)

  bool operator==(const Engagement&) const = default;
};

/// One step of a chain as placed.
struct PlacedStep {
  Span when;
  StationId station;
  int place = 0;  ///< from 0
  PersonId by;    ///< none: needs nobody
};

/// One stretch of a person in one look: the chain that puts it on, its scenes, the chain that takes
/// it off. While a day is being planned the block of a person's last scene always has its off chain
/// laid already, so that a draft can be stopped at any time and is right.
struct Block {
  LookId look;
  std::vector<PlacedStep> on, off;  ///< in the order of the chains
  std::vector<Span> scenes;         ///< shots, in order of time
  std::vector<ItemId> items;        ///< one for each of the look's
  Span items_held;                  ///< when; equal to when() once the items are taken

  [[nodiscard]] Minute from() const {
    return on.empty() ? scenes.front().from : on.front().when.from;
  }
  [[nodiscard]] Minute last_scene_until() const { return scenes.back().until; }
  [[nodiscard]] Minute until() const {
    return off.empty() ? scenes.back().until : off.back().when.until;
  }
};

struct MealSlot {
  std::size_t meal = 0;  ///< in DayFrame::meals
  Span when;
};

/// One person's day while it is being planned.
struct PersonDay {
  std::vector<Engagement> engagements;  ///< in order, never overlapping
  std::vector<Block> blocks;            ///< in order, never overlapping
  std::vector<Span> as_self;            ///< shots played with no look on, in order
  std::vector<MealSlot> meals;          ///< those in turns, in order
  int window = 0;                       ///< which of the person's free spans; meant once engaged
  std::uint64_t saved_at = 0;           ///< the journal's own
};

/// What every placement on a day needs to know: the production, the day, and when the meals taken
/// together are (none: that meal is not held).
struct Ground {
  Ground(const Production& film, const DayFrame& day);

  const Production* production;
  const DayFrame* frame;
  std::vector<std::optional<Span>> together;  ///< by meal; empty for those in turns

  [[nodiscard]] Minutes way(PlaceId a, PlaceId b) const {
    if (!a.valid() || !b.valid() || a == b) return Minutes{0};
    return ways_[a.index() * places_ + b.index()];
  }
  /// Minutes from the base's door to the first engagement's place, sign-in included.
  [[nodiscard]] Minutes lead(PlaceId place) const {
    return production->sign_in + way(frame->base, place);
  }
  /// Minutes of together meals that lie between two moments.
  [[nodiscard]] Minutes eaten(Minute from, Minute until) const;
  /// The first together meal that shares time with the span, if any.
  [[nodiscard]] const Span* meal_in(Span span) const;

 private:
  std::size_t places_;
  std::vector<Minutes> ways_;  ///< between every two places: asked more often than anything else
};

/// The latest start of an engagement of `length` at `place` that begins at `not_before` at the
/// earliest, ends by `not_after`, and leaves every way before and after it; none: there is none.
/// \param free   the person's free spans of the day
/// \param work   raised by the number of engagements looked at
/// Cost: O(log n) for a free place, O(n) where the day is full.
std::optional<Minute> latest_start(const Ground& ground,
                                   const PersonDay& day,
                                   const std::vector<Span>& free,
                                   Minutes length,
                                   PlaceId place,
                                   Minute not_before,
                                   Minute not_after,
                                   std::uint64_t& work);

/// The same, as early as possible.
std::optional<Minute> earliest_start(const Ground& ground,
                                     const PersonDay& day,
                                     const std::vector<Span>& free,
                                     Minutes length,
                                     PlaceId place,
                                     Minute not_before,
                                     Minute not_after,
                                     std::uint64_t& work);

/// Minutes between two engagements that neither meals nor the way need; an engagement at no place
/// does not part those round it. \param left  the engagement before the gap; not the last
Minutes spare_between(const Ground& ground, const PersonDay& day, std::size_t left);

/// A person's call and release with every meal that their stay covers.
struct StayTimes {
  Span stay;                          ///< call to release
  std::vector<std::size_t> together;  ///< the together meals eaten
};

/// Worked from the engagements and the meal slots: the first engagement (or meal) fixes the call,
/// and a call that covers a meal may bring it forward. None: nobody could be called so (a doubled
/// hour). Requires at least one engagement.
std::optional<StayTimes> stay_of(const Ground& ground, const PersonDay& day);

}  // namespace gp
