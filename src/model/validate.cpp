#include "model/circles.h"
#include "model/reading.h"
#include "time/clock.h"
#include "time/day_clock.h"

#include <algorithm>
#include <iterator>

// What takes more than one entry to see: dates and people. Chains, parts and scenes have files of
// their own.

namespace gp {
namespace {

/// Dates of one zone, each asked of the zone database once.
class ZoneDates {
 public:
  explicit ZoneDates(const std::string& zone) : zone_(zone) {}
  bool exists(Date date) {
    const auto [entry, fresh] = known_.emplace(date, true);
    if (fresh) entry->second = date_exists(date, zone_);
    return entry->second;
  }

 private:
  const std::string& zone_;
  std::map<Date, bool> known_;
};

void tell_no_date(Reading& reading, const Json& json, const std::string& path, Date date) {
  reading.faults.add(
      json.at(),
      path,
      "the date " + format(date) + ", which " + reading.production.zone + " does not have",
      "a date on the calendar of that zone");
}

/// A window on a night when the clocks change may end before it begins, whatever its readings say.
class ChangeNights {
 public:
  ChangeNights(Reading& reading, ZoneDates& dates) : reading_(reading) {
    for (const Day& day : reading.production.days) {
      if (day.date.ok() && dates.exists(day.date)) {
        days_.emplace(day.date, CalendarDay(day.date, reading.production.zone));
      }
    }
  }
  void check(const std::optional<WallSpan>& span, Date date, const Json* json, std::string path) {
    if (!span || json == nullptr) return;
    const auto day = days_.find(date);
    if (day == days_.end()) return;
    const Span elapsed = day->second.elapsed(*span);
    if (elapsed.from < elapsed.until) return;
    reading_.faults.add(json->at(),
                        std::move(path),
                        "\"" + format(*span) + "\", which on " + format(date) +
                            " ends before it begins (the clocks change)",
                        "a span with more in it than the hour that is skipped");
  }
  /// On any of the days; told for the first.
  void check_all(const std::optional<WallSpan>& span, const Json* json, const std::string& path) {
    const std::size_t before = reading_.faults.count();
    for (const auto& day : days_) {
      check(span, day.first, json, path);
      if (reading_.faults.count() > before) return;
    }
  }

 private:
  Reading& reading_;
  std::map<Date, CalendarDay> days_;
};

void check_day(Reading& reading, ChangeNights& nights, DayId id) {
  const Day& day = reading.production.days[id];
  const Origin& origin = reading.origins.days[id];
  for (std::size_t i = 0; i < day.meals.size(); ++i) {
    const Meal& meal = day.meals[i];
    const Json& json = origin.json->find("meals")->items()[i];
    const std::string path = path_to_item(origin.path + ".meals", i);
    const std::size_t before = reading.faults.count();
    nights.check(meal.between, day.date, json.find("between"), path + ".between");
    if (reading.faults.count() > before) continue;
    const int room = meal.between.until.minutes - meal.between.from.minutes;
    if (meal.minutes.count() > room) {
      reading.faults.add(json.find("minutes")->at(),
                         path + ".minutes",
                         "a meal of " + std::to_string(meal.minutes.count()) + " minutes in " +
                             std::to_string(room) + " (" + format(meal.between) + ")",
                         "a meal that fits between its times");
    }
  }
}

void check_free(Reading& reading, ZoneDates& dates, ChangeNights& nights, PersonId id) {
  const Person& person = reading.production.people[id];
  const Origin& origin = reading.origins.people[id];
  if (!origin.clean || !person.free) return;
  const Json* const list = origin.json->find("free");
  for (std::size_t i = 0; i < person.free->size(); ++i) {
    const FreeTime& free = (*person.free)[i];
    const Json& json = list->items()[i];
    const std::string path = path_to_item(origin.path + ".free", i);
    if (!dates.exists(free.date)) {
      tell_no_date(reading, json, path, free.date);
    } else {
      nights.check(free.hours, free.date, &json, path);
    }
  }
}

}  // namespace

void validate_dates(Reading& reading) {
  if (!reading.zone_known) return;
  const Production& production = reading.production;
  ZoneDates dates(production.zone);
  for (const DayId id : production.days.ids()) {
    const Origin& origin = reading.origins.days[id];
    if (origin.clean && !dates.exists(production.days[id].date)) {
      tell_no_date(
          reading, *origin.json->find("date"), origin.path + ".date", production.days[id].date);
    }
  }
  ChangeNights nights(reading, dates);
  for (const DayId id : production.days.ids()) {
    if (reading.origins.days[id].clean) check_day(reading, nights, id);
  }
  for (const PersonId id : production.people.ids()) check_free(reading, dates, nights, id);
  for (const StationId id : production.stations.ids()) {
    const Origin& origin = reading.origins.stations[id];
    if (!origin.clean) continue;
    nights.check_all(
        production.stations[id].open, origin.json->find("open"), origin.path + ".open");
  }
  for (const SceneId id : production.scenes.ids()) {
    const Origin& origin = reading.origins.scenes[id];
    const Scene& scene = production.scenes[id];
    if (!origin.clean || !scene.between) continue;
    const Json* const json = origin.json->find("between");
    if (scene.day.valid()) {
      nights.check(scene.between, production.days[scene.day].date, json, origin.path + ".between");
    } else {
      nights.check_all(scene.between, json, origin.path + ".between");
    }
  }
}

void validate_people(Reading& reading) {
  const auto& people = reading.production.people;
  Date last_day{};
  for (const Day& day : reading.production.days) last_day = std::max(last_day, day.date);
  std::vector<std::vector<std::size_t>> arrows(people.size());
  for (const PersonId id : people.ids()) {
    const Person& person = people[id];
    const Origin& origin = reading.origins.people[id];
    if (!origin.clean) continue;
    if (person.guardian.valid()) arrows[id.index()].push_back(person.guardian.index());
    if (person.born && last_day.ok() && *person.born > last_day) {
      reading.faults.add(origin.json->find("born")->at(),
                         origin.path + ".born",
                         "a birthday after the last shooting day (" + format(*person.born) + ")",
                         "an earlier date");
    }
  }
  for (const std::vector<std::size_t>& circle : circles(arrows)) {
    const PersonId first(circle.front());
    const Origin& origin = reading.origins.people[first];
    std::string found = quoted(people[first].id) + " as their own guardian";
    if (circle.size() > 1) {
      found = "a circle of guardians: " + quoted(people[first].id);
      constexpr std::size_t kMostNamed = 8;
      for (std::size_t i = 1; i < std::min(circle.size(), kMostNamed); ++i) {
        found += " has " + quoted(people[PersonId(circle[i])].id) + ", who";
      }
      if (circle.size() > kMostNamed) found += " … who";
      found += " has " + quoted(people[first].id);
    }
    reading.faults.add(
        origin.json->find("guardian")->at(), origin.path + ".guardian", found, "somebody else");
  }
}

void validate(Reading& reading, PeopleListed people) {
  validate_dates(reading);
  validate_people(reading);
  validate_likes(reading);
  if (people == PeopleListed::all) {
    validate_chains(reading);
    validate_parts(reading);
  }
  validate_scenes(reading);
}

}  // namespace gp
