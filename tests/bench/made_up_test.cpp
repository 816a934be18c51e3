#include "base/sha256.h"
#include "bench/casting_bound.h"
#include "bench/general_solver.h"
#include "bench/made_up_casting.h"
#include "bench/made_up_talent.h"
#include "bench/sections.h"
#include "bench/small_days.h"
#include "bench/thousand_day.h"
#include "explain/cast/cast_film.h"

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("bench/made_up");

using namespace gp::bench;

TEST_CASE("made-up productions are the same on every machine and every day") {
  // numbers of two benchmarks can be compared only where the same was measured; whoever changes a
  // generator changes these on purpose, and measures anew
  CHECK(gp::sha256(made_up_talent(30, 8, 1)).substr(0, 12) == "59e6e4b353c9");
  CHECK(gp::sha256(small_day(1)).substr(0, 12) == "c7ca6c06f9c3");
  CHECK(gp::sha256(thousand_day()).substr(0, 12) == "4e346bb7cc29");
}

TEST_CASE("a made-up talent problem has everybody in two scenes at least and scenes of 1 to 5") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const gp::Production film = production_of_text(made_up_talent(12, 6, seed));
    REQUIRE(film.scenes.size() == 12);
    REQUIRE(film.people.size() == 6);
    std::vector<int> plays(film.people.size(), 0);
    for (const gp::Scene& scene : film.scenes) {
      CHECK(scene.shoot_minutes.count() >= 1);
      CHECK(scene.shoot_minutes.count() <= 5);
      for (const gp::CastCall& call : scene.cast) ++plays[film.roles[call.role].person.index()];
    }
    for (const int scenes : plays) CHECK(scenes >= 2);
    for (const gp::Person& person : film.people) {
      CHECK(person.weight >= 1000);
      CHECK(person.weight <= 100'000);
    }
  }
}

TEST_CASE("the day of a thousand has a thousand people, forty chairs and somebody for each") {
  const gp::Production film = production_of_text(thousand_day());
  CHECK(film.people.size() == 1000);
  int chairs = 0;
  for (const gp::Station& station : film.stations) {
    if (station.id == "paint") chairs = station.places;
  }
  CHECK(chairs == 40);
  int painters = 0;
  for (const gp::Person& person : film.people) {
    if (!person.can.empty() && person.can[0] == "paint") ++painters;
  }
  CHECK(painters == 50);
}

TEST_CASE("every small day is one that the general solver's model knows whole") {
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    CHECK(beyond_model(production_of_text(small_day(seed))).empty());
  }
  CHECK_FALSE(beyond_model(production_of_text(thousand_day(200))).empty());
}

TEST_CASE("a made-up casting has everybody in view, and its bound is below what is found") {
  const gp::Production film = made_up_casting({40, 8, 6, 9}, 1, false);
  CHECK(film.people.size() == 40);
  CHECK(film.scenes.size() == 8);
  const gp::CastDays days = gp::cast_days(film, {}, std::nullopt);
  const gp::FilmCast cast(film, {}, days);
  gp::Stop stop;
  const gp::CastSolution found = gp::solve_cast(cast.problem(), {1, 0.05}, stop);
  CHECK(casting_bound(cast.problem()) <= found.cost);
  // and where there is nothing to relax it is the cost itself: two heads of 4 points each
  gp::CastProblem problem;
  problem.people = 3;
  problem.groups = 1;
  problem.burden.assign(3, 4);
  problem.friends.resize(3);
  problem.scenes.resize(1);
  problem.scenes[0].places.push_back({-1, 2, 1'000'000'000, {0, -1, 0}});
  problem.scenes[0].openings.push_back({0, 0, {{0, 1, 2}}});
  CHECK(casting_bound(problem) == 4 + 4 - 1);
}

TEST_CASE("the bound of a casting heeds that a part is one person's in all of its scenes") {
  gp::CastProblem problem;
  problem.people = 2;
  problem.groups = 3;
  problem.burden.assign(2, 4);
  problem.friends.resize(2);
  problem.parts.push_back({-1, {0, 1}, {{0, 0}, {1, 0}, {2, 0}}, {}});
  for (int s = 0; s < 3; ++s) {
    gp::CastProblem::Scene scene;
    scene.group = s;
    scene.places.push_back({0, 1, 20'000'000'000, {1, 0}});
    scene.openings.push_back({0, 0, {{0, 1}}});
    problem.scenes.push_back(scene);
  }
  CHECK(casting_bound(problem) == 4 * 3 * 3);
  // one scene that only the first can be in: they have the part, and like it less by a point each
  problem.scenes[1].openings[0].candidates[0] = {0};
  CHECK(casting_bound(problem) == 4 * 3 * 3 + 3);
  // a head besides is somebody else's, who is in nothing: 4 more
  problem.scenes[2].places.push_back({-1, 1, 1'000'000'000, {0, 0}});
  problem.scenes[2].openings[0].candidates.push_back({0, 1});
  CHECK(casting_bound(problem) == 4 * 3 * 3 + 3 + 4);
}

TEST_CASE("made-up castings cost little more than what a general-purpose solver has proven") {
  // HiGHS, tests/bench/solver/casting.py; before casting was annealed the first cost 603
  const auto within = [](bool friends, std::int64_t most) {
    const gp::Production film = made_up_casting({40, 8, 6, 9}, 1, friends);
    const gp::CastDays days = gp::cast_days(film, {}, std::nullopt);
    const gp::FilmCast cast(film, {}, days);
    const auto solved = solved_casting(cast.problem());
    REQUIRE(solved.has_value());
    gp::Stop stop;
    const gp::CastSolution found = gp::solve_cast(cast.problem(), {1, 1}, stop);
    CHECK(solved->bound == solved->found);  // proven
    CHECK(found.cost >= solved->bound);
    CHECK(found.cost <= most);
    if (!friends) CHECK(casting_bound(cast.problem()) <= solved->bound);
  };
  within(false, 500);  // the least: 486
  within(true, 465);   // 443
}

TEST_CASE("a short or disturbed measurement says so, with seconds a run or without") {
  Options options;
  const Section casting{"casting", "", "", 0, {}};
  CHECK(how_long(casting, options, 0) == "10 seeds; ");
  CHECK(disturbed(casting, options, 0, 1.0).empty());
  CHECK_FALSE(disturbed(casting, options, 0, 5.0).empty());
  options.seeds = 3;
  CHECK(disturbed(casting, options, 0, 1.0).find("wanted: ten seeds, all") != std::string::npos);
  const Section shop{"jobshop", "", "", 10, {}};
  CHECK(how_long(shop, options, 10) == "3 seeds, 10.0 s a run, 2 threads; ");
  options.seeds = 10;
  CHECK(disturbed(shop, options, 10, 1.0).empty());
  CHECK_FALSE(disturbed(shop, options, 2, 1.0).empty());
  // pages know no seeds
  CHECK(disturbed({"pages", "", "", 0, {}, false}, options, 0, 9.0).empty());
}

TEST_SUITE_END();
