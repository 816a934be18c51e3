#include "support/recipes.h"

#include <algorithm>
#include <set>

#include <doctest/doctest.h>

namespace gp::test {

bool same(const Recipe& a, const Recipe& b) {
  return a.order == b.order && a.day == b.day && a.hold_back == b.hold_back &&
         a.patient == b.patient && a.part == b.part && a.turn == b.turn &&
         a.reluctance == b.reluctance && a.stayers == b.stayers && a.heads_first == b.heads_first &&
         a.meals == b.meals && a.picks == b.picks && a.helpers == b.helpers;
}

void check_sound(const Problem& problem, const Recipe& recipe) {
  const Production& film = problem.production;
  REQUIRE(recipe.order.size() == film.scenes.size());
  std::set<SceneId> seen;
  for (SceneId scene : recipe.order) {
    for (SceneId before : film.scenes[scene].after) CHECK(seen.contains(before));
    CHECK(seen.insert(scene).second);
  }
  for (SceneId scene : film.scenes.ids()) {
    const int day = recipe.day[scene];
    CHECK(day < static_cast<int>(problem.days.size()));
    if (day >= 0) CHECK(problem.open_on(scene, static_cast<std::size_t>(day)));
    CHECK(recipe.hold_back[scene] >= Minutes{0});
  }
  for (RoleId role : film.roles.ids()) {
    const auto& may = problem.slots.for_some_of_part(role);
    if (!recipe.part[role].valid()) continue;
    CHECK(std::find(may.begin(), may.end(), recipe.part[role]) != may.end());
  }
  REQUIRE(recipe.meals.size() == problem.days.size());
  for (std::size_t d = 0; d < problem.days.size(); ++d) {
    const DayFrame& frame = problem.days[d];
    REQUIRE(recipe.meals[d].size() == frame.meals.size());
    for (std::size_t m = 0; m < frame.meals.size(); ++m) {
      const auto& at = recipe.meals[d][m];
      if (!at) continue;
      CHECK(frame.meals[m].together);
      CHECK(frame.meals[m].between.covers({*at, *at + frame.meals[m].minutes}));
    }
  }
  REQUIRE(recipe.picks.size() == problem.heads);
  for (SceneId scene : film.scenes.ids()) {
    std::size_t head = problem.first_head[scene];
    for (const Slot& slot : problem.slots.of(scene)) {
      for (int k = 0; k < slot.people; ++k, ++head) {
        const PersonId pick = recipe.picks[head];
        if (pick.valid()) CHECK(slot.may(pick));
      }
    }
  }
}

}  // namespace gp::test
