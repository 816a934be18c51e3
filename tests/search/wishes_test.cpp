#include "base/random.h"
#include "model/check.h"
#include "model/price.h"
#include "search/planner.h"
#include "search/problem.h"
#include "search/wishes/meet_wishes.h"
#include "search/wishes/wish_points.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace {

gp::Production film(const std::string& more) {
  return gp::test::production_of(R"({"greasepaint": 1, "title": "Wishes", "round_to": 1,
    "days": [{"date": "2027-04-17", "nobody_before": "08:00", "wrap_by": "12:00"}], )" +
                                 more + "}");
}

gp::Plan planned(const gp::Production& production) {
  gp::Wishes wishes;
  wishes.effort = 0.1;
  gp::Stop stop;
  gp::Plan plan = gp::make_plan(production, wishes, stop);
  CHECK(gp::check(production, plan).empty());
  return plan;
}

/// Who plays the role in its first scene, by id.
std::string player(const gp::Production& production,
                   const gp::Plan& plan,
                   const std::string& role) {
  for (const gp::PlannedScene& scene : plan.days[0].scenes) {
    for (const gp::CastEntry& entry : scene.cast) {
      if (production.roles[entry.role].id == role) return production.people[entry.people[0]].id;
    }
  }
  return "";
}

std::int64_t points(const gp::Production& production, const gp::Plan& plan) {
  const gp::WishPoints wishes(production);
  std::int64_t sum = 0;
  for (const gp::DayPlan& day : plan.days) {
    for (const gp::PlannedScene& scene : day.scenes) {
      sum += wishes.of(scene, [](gp::PersonId who) { return who; });
    }
  }
  return sum;
}

/// Two parts in looks of the same make, one scene of both; `likes` and more are of bo.
gp::Production fool_and_king(const std::string& ana, const std::string& bo) {
  return film(R"("people": [{"id": "ana")" + ana + R"(}, {"id": "bo")" + bo + R"(}],
      "stations": [{"id": "rail", "places": 2}],
      "items": [{"id": "cap", "fits": {"head_cm": "54-57"}}],
      "looks": [{"id": "motley", "steps": [{"at": "rail", "minutes": 10}], "items": ["cap"]},
                {"id": "robe", "steps": [{"at": "rail", "minutes": 10}]}],
      "roles": [{"id": "fool", "look": "motley"}, {"id": "king", "look": "robe"}],
      "scenes": [{"id": "court", "shoot_minutes": 20,
                  "cast": [{"role": "fool"}, {"role": "king"}]}])");
}

}  // namespace

TEST_SUITE("search/wishes") {
  TEST_CASE("who likes a part has it where that costs nobody anything") {
    for (const std::string part : {"fool", "king"}) {
      CAPTURE(part);
      const gp::Production one = fool_and_king("", R"(, "likes": [")" + part + R"("])");
      CHECK(player(one, planned(one), part) == "bo");
      const gp::Production other = fool_and_king(R"(, "likes": [")" + part + R"("])", "");
      CHECK(player(other, planned(other), part) == "ana");
    }
  }

  TEST_CASE("no wish is met against a size, an answer, or a fixed part") {
    const gp::Production small =
        fool_and_king("", R"(, "likes": ["fool"], "sizes": {"head_cm": 60})");
    CHECK(player(small, planned(small), "fool") == "ana");
    gp::Production refuses = fool_and_king("", R"(, "likes": ["fool"], "no": ["bells"])");
    refuses.roles[gp::RoleId(0)].tags.push_back("bells");
    CHECK(player(refuses, planned(refuses), "fool") == "ana");
    gp::Production fixed = fool_and_king("", R"(, "likes": ["fool"])");
    fixed.roles[gp::RoleId(0)].person = gp::PersonId(0);
    CHECK(player(fixed, planned(fixed), "fool") == "ana");
  }

  TEST_CASE("no wish is met at anybody's cost") {
    // Whoever is dear stays in the short scene: with bo (weight 3) as the guest of 60 minutes it
    // would cost 2 x 40 minutes more.
    const gp::Production dear = film(R"("people": [{"id": "ana"},
        {"id": "bo", "weight": 3, "likes": ["guest"]}],
      "roles": [{"id": "guest"}, {"id": "clerk"}],
      "scenes": [{"id": "supper", "shoot_minutes": 60, "cast": [{"role": "guest"}]},
                 {"id": "bill", "shoot_minutes": 20, "cast": [{"role": "clerk"}]}])");
    const gp::Plan plan = planned(dear);
    gp::Production without = dear;
    without.people[gp::PersonId(1)].likes.clear();
    CHECK(gp::price(dear, plan) == gp::price(without, planned(without)));
    CHECK(player(dear, plan, "guest") == "ana");
  }

  TEST_CASE("a job in one scene, and a friend in the same scene") {
    // Two scenes with a light each; ana and bo in turn. Bo likes the light of neither more than of
    // the other, but to be with cy, who plays in the first.
    const gp::Production friends = film(R"("people": [{"id": "ana"},
        {"id": "bo", "likes": ["cy"]}, {"id": "cy"}, {"id": "di"}],
      "roles": [{"id": "guest", "person": "cy"}, {"id": "clerk", "person": "di"}],
      "scenes": [{"id": "supper", "shoot_minutes": 20, "at": "09:00", "cast": [{"role": "guest"}],
                  "crew": [{"job": "light", "from": ["ana", "bo"]}]},
                 {"id": "bill", "shoot_minutes": 20, "at": "11:00", "cast": [{"role": "clerk"}],
                  "crew": [{"job": "light", "from": ["ana", "bo"]}]}])");
    const gp::Plan plan = planned(friends);
    REQUIRE(plan.days[0].scenes.size() == 2);
    REQUIRE(plan.days[0].scenes[0].crew.size() == 1);
    CHECK(friends.people[plan.days[0].scenes[0].crew[0].people[0]].id == "bo");
    const gp::Production jobs = film(R"("people": [{"id": "ana", "likes": ["sound"]},
        {"id": "bo", "likes": ["light"]}, {"id": "cy"}],
      "roles": [{"id": "guest", "person": "cy"}],
      "scenes": [{"id": "supper", "shoot_minutes": 20, "cast": [{"role": "guest"}],
                  "crew": [{"job": "light", "from": ["ana", "bo"]},
                           {"job": "sound", "from": ["ana", "bo"]}]}])");
    CHECK(points(jobs, planned(jobs)) == 2 * 5);
  }

  TEST_CASE("whoever has a guardian, and the guardian, stay where they are") {
    const gp::Production child = film(R"("people": [{"id": "ana"},
        {"id": "bo", "guardian": "ana", "likes": ["clerk"]}, {"id": "cy", "likes": ["guest"]}],
      "roles": [{"id": "guest", "crowd": true}, {"id": "clerk", "crowd": true}],
      "scenes": [{"id": "supper", "shoot_minutes": 20,
                  "cast": [{"role": "guest"}, {"role": "clerk"}]}])");
    gp::Stop stop;
    const gp::Problem problem(child, {});
    gp::Production silent = child;
    for (gp::Person& person : silent.people) person.likes.clear();
    const gp::Plan before = planned(silent);
    const gp::Plan after = gp::with_wishes_met(problem, before, 1000, stop);
    for (const std::string who : {"ana", "bo"}) {
      const auto plays = [&](const gp::Plan& plan) {
        std::vector<std::string> roles;
        for (const gp::CastEntry& entry : plan.days[0].scenes[0].cast) {
          for (const gp::PersonId person : entry.people) {
            if (child.people[person].id == who) roles.push_back(child.roles[entry.role].id);
          }
        }
        return roles;
      };
      CHECK(plays(before) == plays(after));
    }
  }

  TEST_CASE("any production: right, not dearer, and never less of what people like") {
    const std::uint64_t first = gp::test::seed();
    CAPTURE(first);
    std::int64_t gained = 0;
    for (std::uint64_t seed = first; seed < first + 40; ++seed) {
      CAPTURE(seed);
      gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      const gp::Plan plan = planned(film);
      gp::Random random(seed);
      const std::set<std::string> words = film.likeable();
      const std::vector<std::string> all(words.begin(), words.end());
      if (all.empty()) continue;
      for (gp::Person& person : film.people) {
        person.likes = {
            all[static_cast<std::size_t>(random.between(0, static_cast<int>(all.size()) - 1))]};
      }
      gp::Stop stop;
      const gp::Problem problem(film, {});
      const gp::Plan after = gp::with_wishes_met(problem, plan, 2000, stop);
      CHECK(gp::check(film, after).empty());
      CHECK_FALSE(gp::better(gp::price(film, plan), gp::price(film, after), film.aim));
      CHECK(points(film, after) >= points(film, plan));
      CHECK(after == gp::with_wishes_met(problem, plan, 2000, stop));
      gained += points(film, after) - points(film, plan);
      CHECK(gp::with_wishes_met(problem, plan, 0, stop) == plan);
    }
    CHECK(gained > 0);
  }
}
