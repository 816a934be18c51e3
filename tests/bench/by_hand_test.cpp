#include "bench/by_hand.h"

#include "bench/sections.h"
#include "model/check.h"

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("bench/by_hand");

using namespace gp::bench;

namespace {

/// Two moths in the first and the third scene of the list, a fisher in the second.
const char* const kThreeScenes =
    R"({"greasepaint": 1, "title": "t", "sign_in_minutes": 0, "round_to": 1,
  "days": [{"date": "2027-06-05", "nobody_before": "06:00", "first_shot": "10:00"}],
  "people": [{"id": "a"}, {"id": "b", "weight": 2}, {"id": "c"}],
  "looks": [{"id": "moth", "steps": [{"at": "mirror", "minutes": 10}]}],
  "roles": [{"id": "ra", "person": "a", "look": "moth"}, {"id": "rb", "person": "b", "look": "moth"},
            {"id": "rc", "person": "c"}],
  "stations": [{"id": "mirror"}],
  "scenes": [{"id": "one", "shoot_minutes": 20, "cast": [{"role": "ra"}]},
             {"id": "two", "shoot_minutes": 30, "cast": [{"role": "rc"}]},
             {"id": "three", "shoot_minutes": 40, "cast": [{"role": "ra"}, {"role": "rb"}]}]})";

}  // namespace

TEST_CASE("by hand the scenes stay in the list's order and a look is called together") {
  const gp::Production film = production_of_text(kThreeScenes);
  const ByHand made = by_hand(film);
  CHECK(made.out_of_turn.empty());
  REQUIRE(made.plan.days.size() == 1);
  const auto& scenes = made.plan.days[0].scenes;
  REQUIRE(scenes.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) CHECK(scenes[i].scene == gp::SceneId(i));
  CHECK(gp::check(film, made.plan).empty());
  // shots 10:00, 10:20, 10:50, wrap 11:30. a comes at 9:50 and so does b, who is painted after
  // that: 100 minutes each, b's twice; c from 10:20 to 10:50
  CHECK(made.weighted_on_site == (100 + 2 * 100 + 30) * 1000);
  CHECK(made.on_site == 230);
}

TEST_CASE("a scene that the list would lose is taken out of turn") {
  gp::Production film = production_of_text(kThreeScenes);
  // the second can be filmed before half past ten only, the first not before noon
  film.scenes[gp::SceneId(0)].between = gp::WallSpan{gp::WallTime{720}, gp::WallTime{900}};
  film.scenes[gp::SceneId(1)].between = gp::WallSpan{gp::WallTime{600}, gp::WallTime{630}};
  const ByHand made = by_hand(film);
  CHECK(made.plan.not_filmed.empty());
  CHECK(made.out_of_turn == std::vector<gp::SceneId>{gp::SceneId(1)});
}

TEST_CASE("whoever is not free yet is not called with the others") {
  gp::Production film = production_of_text(kThreeScenes);
  film.people[gp::PersonId(1)].free = std::vector<gp::FreeTime>{
      {film.days[gp::DayId(0)].date, gp::WallSpan{gp::WallTime{630}, gp::WallTime{900}}}};
  const ByHand made = by_hand(film);
  // b is free from half past ten: an hour to the wrap at 11:30, counted twice
  CHECK(made.weighted_on_site == (100 + 2 * 60 + 30) * 1000);
}

TEST_SUITE_END();
