#include "explain/absence/survival.h"
#include "model/check.h"
#include "prep/timeline.h"
#include "search/planner.h"
#include "search/stays.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include <doctest/doctest.h>

// Every stand-in named is put into the plan, and the plan judged by the rules.

namespace {

void put(std::vector<gp::PersonId>& people, gp::PersonId away, gp::PersonId instead) {
  std::replace(people.begin(), people.end(), away, instead);
}

/// The plan with one person in another's place in everything; calls and meals worked out anew. A
/// meal in turns that the stand-in would miss is eaten in the other's seat.
gp::Plan swapped(const gp::Production& film,
                 const gp::Plan& plan,
                 gp::PersonId away,
                 gp::PersonId instead) {
  gp::Plan made = plan;
  for (gp::DayPlan& day : made.days) {
    const gp::DayFrame frame(film, day.day, {});
    gp::Ground ground(film, frame);
    for (std::size_t m = 0; m < frame.meals.size(); ++m) {
      for (const gp::PlannedMeal& meal : day.meals) {
        if (frame.meals[m].together && meal.meal == frame.meals[m].name) {
          ground.together[m] = gp::Span{meal.from, meal.until};
        }
      }
    }
    for (gp::PlannedScene& scene : day.scenes) {
      for (gp::CastEntry& entry : scene.cast) put(entry.people, away, instead);
      for (gp::CrewEntry& entry : scene.crew) put(entry.people, away, instead);
    }
    for (gp::Wear& wear : day.wears) {
      if (wear.person == away) wear.person = instead;
    }
    for (gp::PlannedStep& step : day.steps) {
      if (step.person == away) step.person = instead;
      if (step.by == away) step.by = instead;
    }
    const auto before = day.ready;
    std::erase_if(day.ready, [&](const gp::Ready& theirs) {  // nobody gets it ready twice
      return theirs.person == away &&
             std::any_of(before.begin(), before.end(), [&](const gp::Ready& own) {
               return own.person == instead && own.station == theirs.station;
             });
    });
    for (gp::Ready& ready : day.ready) {
      if (ready.person == away) ready.person = instead;
    }
    std::map<std::string, gp::PlannedMeal> seats;
    for (gp::PlannedMeal& meal : day.meals) {
      if (std::erase(meal.people, away) > 0) seats[meal.meal] = meal;
    }
    REQUIRE(gp::renew_stays(ground, day));
    const auto stay = std::find_if(day.people.begin(), day.people.end(), [&](const gp::Stay& s) {
      return s.person == instead;
    });
    if (stay != day.people.end()) {
      for (const gp::MealFrame& meal : frame.meals) {
        const bool eats = std::any_of(day.meals.begin(), day.meals.end(), [&](const auto& row) {
          return row.meal == meal.name &&
                 std::find(row.people.begin(), row.people.end(), instead) != row.people.end();
        });
        if (meal.together || eats || !seats.contains(meal.name) ||
            !gp::Span{stay->call, stay->released}.covers(meal.between)) {
          continue;
        }
        gp::PlannedMeal seat = seats[meal.name];
        seat.people = {instead};
        day.meals.push_back(seat);
      }
      REQUIRE(gp::renew_stays(ground, day));
    }
  }
  gp::renew_totals(film, made);
  made.totals.bound.reset();
  made.totals.proven = false;
  return made;
}

}  // namespace

TEST_SUITE("explain/absence_swap") {
  // Of people with one duty in the whole plan, for only these can be swapped alone; whoever helps
  // crowds alone at a station does so besides and has no duty for it.
  TEST_CASE("whoever is named as a stand-in can do it: the plan stays right") {
    int swaps = 0;
    for (std::uint64_t i = 0; i < 60; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      gp::Wishes wishes;
      wishes.effort = 0.02;
      gp::Stop stop;
      const gp::Plan plan = gp::make_plan(film, wishes, stop);
      const auto survival = gp::absence::survival_of(film, plan, wishes.answers);
      std::map<gp::PersonId, int> duties;
      for (const auto& duty : survival.duties) ++duties[duty.person];
      for (const gp::DayPlan& day : plan.days) {
        for (const gp::PlannedStep& step : day.steps) {
          const bool listed =
              std::any_of(survival.duties.begin(), survival.duties.end(), [&](const auto& duty) {
                return duty.person == step.by && duty.station == step.station;
              });
          if (step.by.valid() && !listed) duties[step.by] = 2;
        }
      }
      for (const auto& duty : survival.duties) {
        if (duties[duty.person] != 1) continue;
        for (const gp::PersonId instead : duty.stand_ins) {
          CAPTURE(film.people[duty.person].id);
          CAPTURE(film.people[instead].id);
          const auto broken = gp::check(film, swapped(film, plan, duty.person, instead));
          std::string what;
          for (const auto& one : broken) {
            what += std::to_string(one.rule) + " " + one.where + ": " + one.what + "; ";
          }
          CHECK(what == "");
          ++swaps;
        }
      }
    }
    MESSAGE(swaps << " stand-ins put in");
    CHECK(swaps > 40);
  }
}
