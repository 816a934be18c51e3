#include "model/day_frame.h"

#include <algorithm>

namespace gp {
namespace {

std::vector<Span> free_on(const Person& person, const CalendarDay& clock, Minute nobody_before) {
  const Span whole{nobody_before, kDayEnd};
  if (!person.free) return {whole};
  std::vector<Span> spans;
  for (const FreeTime& entry : *person.free) {
    if (entry.date != clock.date()) continue;
    if (!entry.hours) return {whole};
    Span span = clock.elapsed(*entry.hours);
    span.from = std::max(span.from, nobody_before);
    span.until = std::min(span.until, kDayEnd);
    if (span.from < span.until) spans.push_back(span);
  }
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) {
    return a.from != b.from ? a.from < b.from : a.until < b.until;
  });
  return spans;
}

std::int32_t floor_to(std::int32_t value, std::int32_t step) {
  const std::int32_t rest = value % step;
  return value - (rest < 0 ? rest + step : rest);
}

}  // namespace

DayFrame::DayFrame(const Production& production, DayId day, Answers answers)
    : id(day),
      clock(production.days[day].date, production.zone),
      base(production.days[day].base),
      open(production.stations.size()),
      station_place(production.stations.size()),
      scene_place(production.scenes.size()),
      free(production.people.size()),
      round_to_(production.round_to) {
  const Day& spec = production.days[day];
  nobody_before = clock.elapsed(spec.nobody_before);
  first_shot =
      spec.first_shot ? std::max(nobody_before, clock.elapsed(*spec.first_shot)) : nobody_before;
  wrap_by = spec.wrap_by ? clock.elapsed(*spec.wrap_by) : kDayEnd;
  for (const Meal& meal : spec.meals) {
    meals.push_back({meal.name,
                     meal.minutes,
                     clock.elapsed(meal.between),
                     meal.together,
                     meal.seats.value_or(std::numeric_limits<int>::max())});
  }
  for (StationId station : production.stations.ids()) {
    const auto& hours = production.stations[station].open;
    open[station] = hours ? clock.elapsed(*hours) : Span{kAlwaysBefore, kDayEnd};
    station_place[station] = production.place_of(station, day);
  }
  for (SceneId scene : production.scenes.ids())
    scene_place[scene] = production.place_of(scene, day);
  for (PersonId person : production.people.ids()) {
    if (!answers.include(production.people[person].answer)) continue;
    free[person] = free_on(production.people[person], clock, nobody_before);
  }
  // One look at both ends tells whether a change lies between: every zone changes by less than a
  // day.
  for (std::int32_t hour = 0; hour <= 100 && plain_; hour += 1) {
    plain_ = clock.elapsed(WallTime{hour * 60}) == minute(hour * 60);
  }
}

std::optional<Minute> DayFrame::call_for(Minute first, Minutes lead) const {
  const Minute latest = first - lead;
  if (plain_) return minute(floor_to(count(latest), count(round_to_)));
  WallTime wall{floor_to(clock.shown(latest).minutes, count(round_to_))};
  Minute call = clock.elapsed(wall);
  // A reading inside a skipped hour stands for a moment after it.
  while (call > latest) {
    wall.minutes -= count(round_to_);
    call = clock.elapsed(wall);
  }
  const auto read = clock.wall(call);
  if (!read || *read != wall || latest - call >= round_to_) return std::nullopt;
  return call;
}

}  // namespace gp
