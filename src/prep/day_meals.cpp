// Meals in turns, and whether a whole stay keeps to a person's free span.
#include "prep/day_draft.h"

#include <algorithm>

namespace gp {

/// Settles everybody whose day has changed since the mark.
bool DayDraft::settle_since(Mark since) {
  const std::size_t end = journal_.size();
  std::vector<std::size_t> seen;
  for (std::size_t i = since; i < end; ++i) {
    if (journal_[i].kind != Kind::person) continue;
    const std::size_t who = journal_[i].index;
    if (std::find(seen.begin(), seen.end(), who) != seen.end()) continue;
    seen.push_back(who);
    if (!settle(PersonId(who))) return false;
  }
  return true;
}

bool DayDraft::settle(PersonId who) {
  if (!people_[who].meals.empty()) {
    PersonDay& day = touch(who);
    for (const MealSlot& slot : day.meals) use_seats(slot.meal, slot.when, -1);
    day.meals.clear();
  }
  if (people_[who].engagements.empty()) return true;
  const auto times = stay_of(ground_, people_[who]);
  if (!times) return say(Snag::busy);
  const Span window = frame_.free[who][static_cast<std::size_t>(people_[who].window)];
  if (!window.covers(times->stay)) return say(Snag::busy);
  for (std::size_t m = 0; m < frame_.meals.size(); ++m) {
    const MealFrame& meal = frame_.meals[m];
    if (!times->stay.covers(meal.between)) continue;
    if (meal.together) {
      // Somebody who is there all through the span must eat: a meal that is not held is no answer.
      if (!ground_.together[m]) return say(Snag::meal);
    } else if (!seat(who, m)) {
      return say(Snag::meal);
    }
  }
  return true;
}

/// Finds a time of their own in the meal for a person, the earliest there is.
bool DayDraft::seat(PersonId who, std::size_t meal) {
  const MealFrame& spec = frame_.meals[meal];
  const auto& rows = people_[who].engagements;
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    const Minute left = rows[i].when.until;
    const Minute reached = rows[i + 1].when.from;
    Minute at = std::max(left, spec.between.from);
    const Minute end = std::min(reached, spec.between.until);
    if (end - at < spec.minutes) continue;
    const Minutes spare = spare_between(ground_, people_[who], i);
    if (spare < spec.minutes) continue;
    while (at + spec.minutes <= end) {
      const Span span{at, at + spec.minutes};
      ++work_;
      if (const Span* together = ground_.meal_in(span)) {
        at = together->until;
        continue;
      }
      const auto& mine = people_[who].meals;
      const auto other = std::find_if(
          mine.begin(), mine.end(), [&](const MealSlot& slot) { return slot.when.overlaps(span); });
      if (other != mine.end()) {
        at = other->when.until;
        continue;
      }
      if (!frame_.nameable(span.from) || !frame_.nameable(span.until)) {
        at += Minutes{1};
        continue;
      }
      const Minute full = seats_[meal].last_full(span, 1);
      if (full != kAlwaysBefore) {
        at = full + Minutes{1};
        continue;
      }
      use_seats(meal, span, 1);
      PersonDay& day = touch(who);
      const auto place = std::upper_bound(
          day.meals.begin(), day.meals.end(), span, [](const Span& a, const MealSlot& b) {
            return a.from < b.when.from;
          });
      day.meals.insert(place, {meal, span});
      return true;
    }
  }
  return false;
}

}  // namespace gp
