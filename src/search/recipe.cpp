#include "search/recipe.h"

#include "ordering/sequence.h"

#include <algorithm>
#include <tuple>

namespace gp {
namespace {

/// Scenes that must be early first: by the day and the end of their last chance, then by place and
/// set so that moves are few, then as listed.
std::vector<SceneId> first_order(const Problem& problem) {
  const Production& film = problem.production;
  struct Row {
    std::size_t day;
    Minute until;
    SceneId scene;
  };
  std::vector<Row> rows;
  for (SceneId scene : film.scenes.ids()) {
    Row row{problem.days.size(), kNever, scene};
    for (std::size_t d = problem.days.size(); d-- > 0;) {
      if (problem.open_on(scene, d)) row = {d, problem.windows[d][scene].back().until, scene};
    }
    rows.push_back(row);
  }
  std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) {
    return std::tie(a.day, a.until) < std::tie(b.day, b.until);
  });
  std::vector<SceneId> order;
  order.reserve(rows.size());
  for (const Row& row : rows) order.push_back(row.scene);
  return forerunners_first(film, order);
}

/// Who could be there for most of the part's scenes; among equals, who has fewest parts yet.
Table<RoleId, PersonId> first_parts(const Problem& problem) {
  const Production& film = problem.production;
  Table<RoleId, PersonId> parts(film.roles.size());
  Table<PersonId, int> taken(film.people.size(), 0);
  for (RoleId role : film.roles.ids()) {
    if (!film.roles[role].crowd && film.roles[role].person.valid())
      ++taken[film.roles[role].person];
  }
  for (RoleId role : film.roles.ids()) {
    if (film.roles[role].crowd) continue;
    std::int64_t best_score = 0;
    for (PersonId who : problem.slots.for_some_of_part(role)) {
      std::int64_t score = -taken[who];
      for (SceneId scene : problem.slots.scenes_of(role)) {
        if (problem.could_play(who, role, scene)) score += 100;
      }
      if (!parts[role].valid() || score > best_score) {
        parts[role] = who;
        best_score = score;
      }
    }
    if (parts[role].valid()) ++taken[parts[role]];
  }
  return parts;
}

bool same_picks(const Problem& problem, const Recipe& a, const Recipe& b, SceneId scene) {
  const std::size_t from = problem.first_head[scene];
  const std::size_t until = problem.first_head_of(scene, problem.slots.of(scene).size());
  return std::equal(a.picks.begin() + static_cast<std::ptrdiff_t>(from),
                    a.picks.begin() + static_cast<std::ptrdiff_t>(until),
                    b.picks.begin() + static_cast<std::ptrdiff_t>(from));
}

}  // namespace

std::size_t same_scenes(const Problem& problem, const Recipe& a, const Recipe& b) {
  const Production& film = problem.production;
  std::size_t same = 0;
  for (; same < a.order.size(); ++same) {
    const SceneId scene = a.order[same];
    if (scene != b.order[same] || a.day[scene] != b.day[scene] ||
        a.hold_back[scene] != b.hold_back[scene] || a.patient[scene] != b.patient[scene] ||
        a.stayers[scene] != b.stayers[scene] || a.heads_first[scene] != b.heads_first[scene] ||
        !same_picks(problem, a, b, scene)) {
      break;
    }
    const auto& cast = film.scenes[scene].cast;
    const bool other = std::any_of(cast.begin(), cast.end(), [&](const CastCall& call) {
      return a.part[call.role] != b.part[call.role] || a.turn[call.role] != b.turn[call.role];
    });
    if (other) break;
  }
  return same;
}

Recipe first_recipe(const Problem& problem) {
  const Production& film = problem.production;
  Recipe recipe;
  recipe.order = first_order(problem);
  recipe.day = Table<SceneId, int>(film.scenes.size(), -1);
  recipe.hold_back = Table<SceneId, Minutes>(film.scenes.size(), Minutes{0});
  recipe.patient = Table<SceneId, char>(film.scenes.size(), 1);
  recipe.part = first_parts(problem);
  // Whoever takes longest to prepare is prepared last, so that the long chains begin no earlier
  // than they must: their chairs are the first to be taken back from the shot.
  recipe.turn = Table<RoleId, int>(film.roles.size(), 0);
  for (RoleId role : film.roles.ids()) {
    if (film.roles[role].look_kind != LookKind::look) continue;
    for (const Step& step : film.looks[film.roles[role].look].steps) {
      recipe.turn[role] -= count(step.minutes + step.then_wait);
    }
  }
  recipe.reluctance.assign(problem.days.size(), Table<PersonId, int>(film.people.size(), 0));
  recipe.heads_first = Table<SceneId, int>(film.scenes.size(), 0);
  recipe.picks.assign(problem.heads, PersonId());
  recipe.stayers = Table<SceneId, int>(film.scenes.size(), 0);
  for (const DayFrame& frame : problem.days) {
    auto& times = recipe.meals.emplace_back();
    for (const MealFrame& meal : frame.meals) {
      if (!meal.together || meal.between.length() < meal.minutes) {
        times.emplace_back();
        continue;
      }
      const std::int32_t spare = count(meal.between.length() - meal.minutes);
      times.emplace_back(meal.between.from + Minutes{spare / 10 * 5});
    }
  }
  return recipe;
}

}  // namespace gp
