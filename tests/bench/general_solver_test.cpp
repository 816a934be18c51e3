#include "bench/general_solver.h"

#include "bench/sections.h"
#include "model/check.h"
#include "model/price.h"
#include "support/temporary_folder.h"

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("bench/general_solver");

using namespace gp::bench;

namespace {

/// Two people painted by a third before a scene at ten; the painter has one brush and two chairs.
const char* const kTwoFaces =
    R"({"greasepaint": 1, "title": "t", "sign_in_minutes": 5, "round_to": 5,
  "days": [{"date": "2027-06-05", "nobody_before": "06:00", "first_shot": "10:00"}],
  "people": [{"id": "a"}, {"id": "b", "weight": 2}, {"id": "p", "can": ["paint"]}],
  "looks": [{"id": "moth", "steps": [{"at": "paint", "minutes": 10, "by": "paint"}]}],
  "roles": [{"id": "ra", "person": "a", "look": "moth"}, {"id": "rb", "person": "b", "look": "moth"}],
  "stations": [{"id": "paint", "places": 2, "staff": ["p"]}],
  "scenes": [{"id": "one", "shoot_minutes": 20, "cast": [{"role": "ra"}, {"role": "rb"}]}]})";

}  // namespace

TEST_CASE("the last whole answer counts, and one cut off in the middle does not") {
  const auto answer = last_answer(
      "shot [600]\nbegin [580, 590]\nby [3, 3]\nvalue 1\n----------\n"
      "shot [601]\nbegin [581, 591]\nby [3, 3]\nvalue 1\n----------\nshot [602]\nbegin [5");
  REQUIRE(answer);
  CHECK(answer->shot == std::vector<int>{601});
  CHECK(answer->begin == std::vector<int>{581, 591});
  CHECK_FALSE(last_answer("=====UNKNOWN=====\n"));
}

TEST_CASE("an answer of the solver becomes a right plan with everyone's own calls") {
  const gp::Production film = production_of_text(kTwoFaces);
  REQUIRE(beyond_model(film).empty());
  const gp::Plan plan = plan_of_answer(film, {{600}, {580, 590}, {3, 3}});
  CHECK(gp::check(film, plan).empty());
  // a: 9:35 to 10:20, 45 min; b: 9:45 to 10:20, 35 min, counted twice; p: 9:35 to 10:00, 25 min
  CHECK(gp::price(film, plan).weighted_on_site == (45 + 2 * 35 + 25) * 1000);
}

TEST_CASE("an answer against the rules is seen by the checker") {
  const gp::Production film = production_of_text(kTwoFaces);
  // both faces at once by the one painter: rule 3
  const auto broken = gp::check(film, plan_of_answer(film, {{600}, {590, 590}, {3, 3}}));
  REQUIRE_FALSE(broken.empty());
  CHECK(broken[0].rule == 3);
}

TEST_CASE("the data name every scene, person and step once, numbered from 1") {
  const std::string data = model_data(production_of_text(kTwoFaces));
  CHECK(data.find("n_scenes = 1;\nn_people = 3;\nn_steps = 2;\nn_stations = 1;\n") == 0);
  CHECK(data.find("cast = [{1, 2}];\n") != std::string::npos);
  CHECK(data.find("staff = [{3}, {3}];\n") != std::string::npos);
  CHECK(data.find("weight = [1000, 2000, 1000];\n") != std::string::npos);
}

TEST_CASE("where the solver is installed, it finds the best of two faces by one brush") {
  if (!solver_name()) {
    MESSAGE("minizinc is not installed: left out");
    return;
  }
  const gp::Production film = production_of_text(kTwoFaces);
  const gp::test::TemporaryFolder folder;
  for (const bool restarts : {false, true}) {
    const Solved solved = solve_generally(film, folder.path().string(), 30, restarts);
    CHECK(solved.exhausted);
    REQUIRE(solved.plan);
    CHECK(gp::check(film, *solved.plan).empty());
    // the order worked out above; the other way round b's longer stay would count twice: 150
    CHECK(gp::price(film, *solved.plan).weighted_on_site == 140'000);
  }
}

TEST_SUITE_END();
