#include "explain/cast/cast_film.h"

#include "ordering/windows.h"

namespace gp {

CastDays cast_days(const Production& production, Answers answers, std::optional<DayId> only_day) {
  CastDays days;
  for (const DayId day : production.days.ids()) {
    if (only_day && *only_day != day) continue;
    days.frames.emplace_back(production, day, answers);
    days.windows.push_back(shot_windows(production, days.frames.back()));
  }
  return days;
}

FilmCasting cast_film(const Production& production,
                      const CastWishes& wishes,
                      Stop& stop,
                      const CastProgress& progress) {
  const CastDays days = cast_days(production, wishes.answers, wishes.only_day);
  const FilmCast film(production, wishes.answers, days);
  const CastProblem& problem = film.problem();
  const CastSolution solution = solve_cast(problem, wishes.effort, stop, progress);

  FilmCasting casting;
  casting.points = solution.cost;
  for (const RoleId id : production.roles.ids()) {
    if (production.roles[id].crowd || film.slots().scenes_of(id).empty()) continue;
    PartChoice part;
    part.role = id;
    const int who = solution.part[id.index()];
    if (who >= 0) part.person = PersonId(static_cast<std::size_t>(who));
    part.given = production.roles[id].person.valid();
    part.scenes = film.slots().scenes_of(id);
    casting.parts.push_back(std::move(part));
  }
  Table<PersonId, CastLoad> loads(production.people.size());
  for (const SceneId id : production.scenes.ids()) {
    const auto& scene = problem.scenes[id.index()];
    const auto& opening = scene.openings[static_cast<std::size_t>(solution.opening[id.index()])];
    SceneChoice choice;
    choice.scene = id;
    if (opening.day >= 0) choice.day = days.frames[static_cast<std::size_t>(opening.day)].id;
    choice.shot = minute(opening.start);
    const auto crew = production.crew_of(id);
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      const Slot& slot = film.slots().of(id)[k];
      PlaceChoice place;
      place.part = slot.kind == Slot::Kind::part;
      place.wanted = slot.people;
      if (slot.kind == Slot::Kind::crew) {
        place.job = crew[slot.call].job;
      } else {
        place.role = slot.role;
      }
      for (const int who : solution.filled[id.index()][k]) {
        const PersonId person(static_cast<std::size_t>(who));
        place.people.push_back(person);
        loads[person].scenes += 1;
      }
      const int missing = slot.people - static_cast<int>(place.people.size());
      casting.points -= scene.places[k].missing * missing;
      choice.places.push_back(std::move(place));
    }
    casting.scenes.push_back(std::move(choice));
  }
  count_wishes(production, casting, loads);
  casting.sizes_not_known = sizes_not_known(production, casting);
  for (const PersonId person : production.people.ids()) {
    loads[person].person = person;
    if (loads[person].scenes > 0) casting.loads.push_back(loads[person]);
  }
  casting.empty = empty_places(production, wishes, days, film, solution);
  casting.collisions = lock_collisions(production, wishes, days, film, solution, stop);
  return casting;
}

Production with_parts_kept(const Production& production, const FilmCasting& casting) {
  Production kept = production;
  for (const PartChoice& part : casting.parts) {
    if (!part.person.valid()) continue;
    kept.roles[part.role].person = part.person;
  }
  return kept;
}

}  // namespace gp
