#include "explain/absence/stand_in_time.h"

#include "model/sizes.h"
#include "prep/timeline.h"

#include <algorithm>

namespace gp::absence {

StandInTime::StandInTime(const Production& production, const Plan& plan, Answers answers)
    : production_(production), plan_(plan) {
  frames_.reserve(plan.days.size());  // the grounds point at them
  for (const DayPlan& day : plan.days) {
    frames_.emplace_back(production, day.day, answers);
    busy_.push_back(engagements(production, day));
    grounds_.push_back(ground_of(production, frames_.back(), day));
    rows_.push_back(days_of_people(grounds_.back(), day));
  }
}

bool StandInTime::on_site(PersonId id) const {
  return std::any_of(busy_.begin(), busy_.end(), [&](const auto& day) { return day.contains(id); });
}

bool StandInTime::has(PersonId id, PersonId missing, const std::vector<Need>& needs) const {
  if (!std::all_of(needs.begin(), needs.end(), [&](const Need& need) { return fits(id, need); })) {
    return false;
  }
  for (std::size_t d = 0; d < plan_.days.size(); ++d) {
    std::vector<Span> times;
    for (const Need& need : needs) {
      if (need.day == d) times.push_back(need.time);
    }
    if (!times.empty() && !day_holds(id, missing, d, times)) return false;
  }
  return true;
}

/// Whether the whole day of the stand-in holds with what the missing one does in these times:
/// ways beside meals, one stay within their free hours, every meal that the longer stay covers.
bool StandInTime::day_holds(PersonId id,
                            PersonId missing,
                            std::size_t d,
                            const std::vector<Span>& times) const {
  const Ground& ground = grounds_[d];
  const DayFrame& frame = frames_[d];
  PersonDay day;
  if (const auto own = rows_[d].find(id); own != rows_[d].end()) day = own->second;
  const PersonDay& theirs = rows_[d].at(missing);
  for (const Engagement& row : theirs.engagements) {
    const bool part_of_it = std::any_of(
        times.begin(), times.end(), [&](const Span& time) { return time.covers(row.when); });
    if (part_of_it) day.engagements.push_back(row);
  }
  auto& rows = day.engagements;
  std::sort(rows.begin(), rows.end(), [](const Engagement& a, const Engagement& b) {
    return a.when.from < b.when.from;
  });
  const auto busy_in = [&](Span span) {
    return std::any_of(
        rows.begin(), rows.end(), [&](const Engagement& row) { return row.when.overlaps(span); });
  };
  auto stay = stay_of(ground, day);
  if (!stay) return false;
  for (std::size_t m = 0; m < frame.meals.size(); ++m) {
    const bool all_of_it = stay->stay.covers(frame.meals[m].between);
    if (frame.meals[m].together) {
      if (all_of_it && !ground.together[m]) return false;
      continue;
    }
    const auto eats = [m](const MealSlot& slot) { return slot.meal == m; };
    if (!all_of_it || std::any_of(day.meals.begin(), day.meals.end(), eats)) continue;
    const auto seat = std::find_if(theirs.meals.begin(), theirs.meals.end(), eats);
    if (seat == theirs.meals.end()) return false;  // nobody has kept a seat
    day.meals.push_back(*seat);
  }
  std::sort(day.meals.begin(), day.meals.end(), [](const MealSlot& a, const MealSlot& b) {
    return a.when.from < b.when.from;
  });
  stay = stay_of(ground, day);
  if (!stay) return false;
  for (const std::size_t m : stay->together) {
    if (busy_in(*ground.together[m])) return false;
  }
  for (const MealSlot& slot : day.meals) {
    if (busy_in(slot.when)) return false;
  }
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    if (rows[i + 1].when.from < rows[i].when.until || spare_between(ground, day, i) < Minutes{0}) {
      return false;
    }
  }
  const auto& free = frame.free[id];
  return std::any_of(
      free.begin(), free.end(), [&](const Span& span) { return span.covers(stay->stay); });
}

bool StandInTime::fits(PersonId id, const Need& need) const {
  const DayFrame& frame = frames_[need.day];
  const Minutes lead = production_.sign_in + production_.way(frame.base, need.from);
  const auto call = frame.call_for(need.time.from, lead);
  const auto& spans = frame.free[id];
  if (!call || std::none_of(spans.begin(), spans.end(), [&](const Span& free) {
        return free.covers({*call, need.time.until});
      })) {
    return false;
  }
  // What else fitted them may hang in the wardrobe or be worn by others: nothing moves.
  const bool too_small_or_large =
      std::any_of(need.things.begin(), need.things.end(), [&](ItemId thing) {
        return size_match(production_.items[thing], production_.people[id]) == SizeMatch::does_not;
      });
  if (too_small_or_large) return false;
  if (!need.any_look) {  // whoever has another look on then would have to be cleaned first
    for (const Wear& wear : plan_.days[need.day].wears) {
      if (wear.person == id && Span{wear.from, wear.until}.overlaps(need.time)) return false;
    }
  }
  const auto found = busy_[need.day].find(id);
  if (found == busy_[need.day].end()) return true;
  return std::all_of(found->second.begin(), found->second.end(), [&](const BusyRow& row) {
    return row.time.until + production_.way(row.place, need.from) <= need.time.from ||
           need.time.until + production_.way(need.to, row.place) <= row.time.from;
  });
}

}  // namespace gp::absence
