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

}  // namespace gp
