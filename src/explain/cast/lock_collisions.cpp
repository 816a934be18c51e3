#include "explain/cast/cast_film.h"
#include "explain/conflict/conflicts.h"
#include "model/sizes.h"
#include "time/clock.h"

#include <algorithm>
#include <optional>

namespace gp {
namespace {

/// The only moment a scene's shot can stand at; none: there are several, or none at all.
struct OnlyMoment {
  std::size_t day = 0;
  Span shot;
};

std::optional<OnlyMoment> only_moment(const Production& production,
                                      const CastDays& days,
                                      SceneId scene) {
  std::optional<OnlyMoment> found;
  for (std::size_t day = 0; day < days.frames.size(); ++day) {
    for (const Span& window : days.windows[day][scene]) {
      if (found || window.length() != production.scenes[scene].shoot_minutes) return std::nullopt;
      found = OnlyMoment{day, window};
    }
  }
  return found;
}

std::string moment_of(const Production& production, const CastDays& days, const OnlyMoment& it) {
  const DayFrame& frame = days.frames[it.day];
  return format(frame.clock.shown(it.shot.from)) + " on " + format(production.days[frame.id].date);
}

std::string plays(const Production& production, RoleId role) {
  return production.people[production.roles[role].person].shown() + " plays " +
         production.roles[role].shown();
}

/// A scene that can stand at no time: the smallest set of facts that says so.
void add_timeless(const Production& production,
                  const CastWishes& wishes,
                  SceneId scene,
                  Stop& stop,
                  std::vector<LockCollision>& list) {
  Wishes asked;
  asked.answers = wishes.answers;
  asked.only_day = wishes.only_day;
  Plan nothing;
  nothing.title = production.title;
  nothing.not_filmed.push_back({scene, "it can stand at no time"});
  std::string with = "its day, its times and its light leave no moment for it";
  const Conflicts conflicts = conflicts_of_scene(production, asked, nothing, scene, stop);
  if (!conflicts.all.empty() && !conflicts.all[0].text.empty()) with = conflicts.all[0].text;
  list.push_back({"the times of " + production.scenes[scene].shown(), with});
}

void add_parts(const Production& production,
               const CastWishes& wishes,
               const FilmCast& film,
               const CastSolution& solution,
               std::vector<LockCollision>& list) {
  for (const RoleId id : production.roles.ids()) {
    const Role& role = production.roles[id];
    if (role.crowd || !role.person.valid() || film.slots().scenes_of(id).empty()) continue;
    const Person& person = production.people[role.person];
    if (!wishes.answers.include(person.answer)) {
      list.push_back(
          {plays(production, id),
           person.shown() + " is not counted as coming (answer: " + name_of(person.answer) + ")"});
      continue;
    }
    for (const auto& [s, k] : film.problem().parts[id.index()].places) {
      const SceneId scene(static_cast<std::size_t>(s));
      const auto& filled =
          solution.filled[static_cast<std::size_t>(s)][static_cast<std::size_t>(k)];
      const auto& of = film.problem().scenes[static_cast<std::size_t>(s)];
      if (!filled.empty() || of.openings[0].day < 0) continue;
      std::string with;
      for (const int other : film.problem().parts[id.index()].apart) {
        const RoleId rival(static_cast<std::size_t>(other));
        if (production.roles[rival].person != role.person) continue;
        with = "the same person plays " + production.roles[rival].shown() +
               ", in this scene or in one at the same time";
      }
      if (with.empty()) {
        const auto some = [&](const CastProblem::Opening& it) {
          const auto& may = it.candidates[static_cast<std::size_t>(k)];
          return std::binary_search(may.begin(), may.end(), static_cast<int>(role.person.index()));
        };
        const bool ever = std::any_of(of.openings.begin(), of.openings.end(), some);
        with = ever ? "the others of the scene can only come when " + person.shown() + " cannot"
                    : person.shown() + " is not free long enough at any time the scene can stand";
      }
      list.push_back({plays(production, id) + " in " + production.scenes[scene].shown(), with});
    }
    Tags refused;
    for (const std::string& tag : person.no) {
      bool asked = std::find(role.tags.begin(), role.tags.end(), tag) != role.tags.end();
      if (role.look.valid()) {
        const Tags& look = production.looks[role.look].tags;
        asked = asked || std::find(look.begin(), look.end(), tag) != look.end();
      }
      if (asked) refused.push_back(tag);
    }
    if (role.look.valid()) {
      for (const ItemId worn : production.looks[role.look].items) {
        if (size_match_or_instead(production, worn, person) != SizeMatch::does_not) continue;
        const Item& item = production.items[worn];
        list.push_back({plays(production, id),
                        item.shown() + " does not fit " + person.shown() + " (it fits " +
                            ranges_of(item) + ")"});
      }
    }
    for (const std::string& tag : refused) {
      list.push_back({plays(production, id), person.shown() + " will not do \"" + tag + "\""});
    }
  }
}

void add_moments(const Production& production,
                 const CastDays& days,
                 std::vector<LockCollision>& list) {
  std::vector<std::optional<OnlyMoment>> only;
  for (const SceneId id : production.scenes.ids())
    only.push_back(only_moment(production, days, id));
  const auto told = [&](SceneId id) {
    return production.scenes[id].shown() + " at " + moment_of(production, days, *only[id.index()]);
  };
  for (const SceneId a : production.scenes.ids()) {
    if (!only[a.index()]) continue;
    for (const SceneId b : production.scenes.ids()) {
      if (!only[b.index()]) continue;
      const OnlyMoment& one = *only[a.index()];
      const OnlyMoment& two = *only[b.index()];
      const bool same_unit = production.scenes[a].unit == production.scenes[b].unit;
      if (a < b && same_unit && one.day == two.day && one.shot.overlaps(two.shot)) {
        list.push_back({told(a), told(b) + " is on the same unit"});
      }
      const auto& after = production.scenes[b].after;
      const bool wanted = std::find(after.begin(), after.end(), a) != after.end();
      const bool late = one.day > two.day || (one.day == two.day && one.shot.until > two.shot.from);
      if (wanted && late) list.push_back({told(b), "it comes after " + told(a)});
    }
  }
}

}  // namespace

std::vector<LockCollision> lock_collisions(const Production& production,
                                           const CastWishes& wishes,
                                           const CastDays& days,
                                           const FilmCast& film,
                                           const CastSolution& solution,
                                           Stop& stop) {
  std::vector<LockCollision> list;
  add_parts(production, wishes, film, solution, list);
  add_moments(production, days, list);
  if (wishes.only_day) return list;  // what stands on another day is no collision
  for (const SceneId scene : production.scenes.ids()) {
    if (film.problem().scenes[scene.index()].openings[0].day < 0) {
      add_timeless(production, wishes, scene, stop, list);
    }
  }
  return list;
}

}  // namespace gp
