// Rule 10: everyone must eat.
#include "model/check_day.h"
#include "time/clock.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <tuple>

namespace gp::checking {
namespace {

using Entries = std::vector<const PlannedMeal*>;

/// At how many of the times each person eats.
std::map<PersonId, int> times_eaten(const Entries& entries) {
  std::map<PersonId, int> times;
  for (const PlannedMeal* entry : entries) {
    for (const PersonId who : std::set<PersonId>(entry->people.begin(), entry->people.end())) {
      ++times[who];
    }
  }
  return times;
}

Entries entries_of(const JudgedDay& day, const Meal& meal) {
  Entries entries;
  for (const PlannedMeal& entry : day.plan->meals) {
    if (entry.meal == meal.name) entries.push_back(&entry);
  }
  return entries;
}

void check_times(const JudgedDay& day,
                 const Meal& meal,
                 const Entries& entries,
                 Findings& findings) {
  const Span between = day.elapsed(meal.between);
  for (const PlannedMeal* entry : entries) {
    const Span time{entry->from, entry->until};
    if (!between.covers(time)) {
      findings.add(10, meal.name, phrase(day.clock(time), " is outside of ", format(meal.between)));
    }
    if (time.length() != meal.minutes) {
      findings.add(10, meal.name, phrase("takes ", time.length(), " minutes, not ", meal.minutes));
    }
  }
}

/// One time for all, and nothing is filmed meanwhile.
void check_together(const Judged& judged,
                    const JudgedDay& day,
                    const Meal& meal,
                    const Entries& entries,
                    Findings& findings) {
  for (const PlannedMeal* entry : entries) {
    if (entry->from != entries.front()->from || entry->until != entries.front()->until) {
      findings.add(10, meal.name, "is eaten together and has more than one time");
      break;
    }
  }
  // By start, each with the latest end so far: so that one look tells whether a meal reaches into a
  // scene, whatever the numbers of both.
  std::vector<Span> meals;
  for (const PlannedMeal* entry : entries) meals.push_back({entry->from, entry->until});
  std::sort(meals.begin(), meals.end(), [](const Span& a, const Span& b) {
    return std::tie(a.from, a.until) < std::tie(b.from, b.until);
  });
  for (std::size_t i = 1; i < meals.size(); ++i) {
    meals[i].until = std::max(meals[i].until, meals[i - 1].until);
  }
  for (const PlannedScene& scene : day.plan->scenes) {
    const auto after =
        std::lower_bound(meals.begin(), meals.end(), scene.until, [](const Span& held, Minute end) {
          return held.from < end;
        });
    if (after != meals.begin() && std::prev(after)->until > scene.set_at) {
      findings.add(
          10, judged.production->scenes[scene.scene].id, phrase("goes on through ", meal.name));
    }
  }
}

void check_seats(const JudgedDay& day,
                 const Meal& meal,
                 const Entries& entries,
                 Findings& findings) {
  if (!meal.seats) return;
  struct Change {
    Minute at;
    bool sits_down;
    int by;
  };
  std::vector<Change> changes;
  for (const PlannedMeal* entry : entries) {
    const int people = static_cast<int>(entry->people.size());
    changes.push_back({entry->from, true, people});
    changes.push_back({entry->until, false, -people});
  }
  // A seat left at a moment can be taken at that moment.
  std::sort(changes.begin(), changes.end(), [](const Change& a, const Change& b) {
    return std::tie(a.at, a.sits_down, a.by) < std::tie(b.at, b.sits_down, b.by);
  });
  int seated = 0;
  for (const Change& change : changes) {
    seated += change.by;
    if (seated > *meal.seats) {
      findings.add(
          10,
          meal.name,
          phrase(
              seated, " at once at ", day.clock(change.at), ", there are ", *meal.seats, " seats"));
      return;
    }
  }
}

/// Whether someone whose stay is that eats as often as they should.
void check_eater(const Judged& judged,
                 const JudgedDay& day,
                 const Meal& meal,
                 const Entries& entries,
                 const Stay& stay,
                 int times,
                 Findings& findings) {
  const std::string& id = judged.production->people[stay.person].id;
  const Span here{stay.call, stay.released};
  const bool covers_span = here.covers(day.elapsed(meal.between));
  if (!meal.together) {
    if (covers_span && times != 1) findings.add(10, id, phrase(meal.name, ": ", times, " times"));
  } else if (entries.empty()) {
    if (covers_span) findings.add(10, id, phrase(meal.name, " is not eaten at all"));
  } else if (times == 0 && here.covers({entries.front()->from, entries.front()->until})) {
    findings.add(10, id, phrase("misses ", meal.name));
  }
}

}  // namespace

void rule_10_meals(const Judged& judged, Findings& findings) {
  for (const JudgedDay& day : judged.days) {
    for (const PlannedMeal& entry : day.plan->meals) {
      if (written_meal(*judged.production, day.plan->day, entry.meal) == nullptr) {
        findings.add(10, entry.meal, "the day has no such meal");
      }
    }
    std::map<PersonId, const Stay*> stays;
    for (const Stay& stay : day.plan->people) stays[stay.person] = &stay;
    for (const Meal& meal : day.day->meals) {
      const Entries entries = entries_of(day, meal);
      check_times(day, meal, entries, findings);
      if (meal.together) {
        check_together(judged, day, meal, entries, findings);
      } else {
        check_seats(day, meal, entries, findings);
      }
      const auto eaten = times_eaten(entries);
      for (const auto& [who, stay] : stays) {
        if (!day.engagements.contains(who)) continue;
        const auto found = eaten.find(who);
        const int times = found == eaten.end() ? 0 : found->second;
        check_eater(judged, day, meal, entries, *stay, times, findings);
      }
    }
  }
}

}  // namespace gp::checking
