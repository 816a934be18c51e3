#include "search/problem.h"

#include "ordering/windows.h"

namespace gp {
namespace {

std::vector<PlaceId> every_place(const Production& film) {
  std::vector<PlaceId> places{PlaceId()};
  for (const PlaceId place : film.places.ids()) places.push_back(place);
  return places;
}

}  // namespace

Problem::Problem(const Production& film, const Wishes& asked)
    : production(film),
      wishes(asked),
      slots(film, asked.answers),
      staff(film, asked.answers),
      ways(film, every_place(film)) {
  for (DayId day : film.days.ids()) {
    if (asked.only_day && *asked.only_day != day) continue;
    days.emplace_back(film, day, asked.answers);
  }
  for (const SceneId scene : film.scenes.ids()) {
    first_head.add(heads);
    for (const Slot& slot : slots.of(scene)) heads += static_cast<std::size_t>(slot.people);
  }
  for (const DayFrame& frame : days) windows.push_back(shot_windows(film, frame));
}

std::optional<std::size_t> Problem::only_day(SceneId scene) const {
  std::optional<std::size_t> only;
  for (std::size_t day = 0; day < days.size(); ++day) {
    if (!open_on(scene, day)) continue;
    if (only) return std::nullopt;
    only = day;
  }
  return only;
}

bool Problem::could_play(PersonId who, RoleId part, SceneId scene) const {
  const auto& all = slots.of(scene);
  const bool may = std::any_of(all.begin(), all.end(), [&](const Slot& slot) {
    return slot.kind == Slot::Kind::part && slot.role == part && slot.may(who);
  });
  if (!may) return false;
  for (std::size_t day = 0; day < days.size(); ++day) {
    for (const Span& free : days[day].free[who]) {
      for (const Span& window : windows[day][scene]) {
        const Minutes both = std::min(free.until, window.until) - std::max(free.from, window.from);
        if (both >= production.scenes[scene].shoot_minutes) return true;
      }
    }
  }
  return false;
}

}  // namespace gp
