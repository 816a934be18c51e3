#include "search/bound.h"

#include "model/check.h"
#include "model/price.h"
#include "search/planner.h"
#include "search/problem.h"
#include "search/span_bound.h"
#include "support/builder.h"
#include "support/exhaustive.h"
#include "support/random_production.h"
#include "support/seed.h"
#include "support/slow_build.h"

#include <cstdint>
#include <optional>
#include <string>

#include <doctest/doctest.h>

using gp::test::ProductionSize;

// That no plan is below its bound is asked of every plan in planner_test and published_test; here
// bounds are worked out by hand.

namespace {

struct Bounded {
  gp::Production film;
  gp::Plan plan;
  gp::Price price;
  std::optional<gp::Thousandths> bound;
};

Bounded bounded(const std::string& text) {
  Bounded it;
  it.film = gp::test::production_of(text);
  gp::Wishes wishes;
  wishes.effort = 0.2;
  gp::Stop stop;
  it.plan = gp::make_plan(it.film, wishes, stop);
  CHECK(gp::check(it.film, it.plan).empty());
  it.price = gp::price(it.film, it.plan);
  const gp::Problem problem(it.film, wishes);
  it.bound = it.film.aim == gp::Aim::least_time
                 ? gp::lower_bound(problem, it.plan, {}, stop)
                 : gp::span_bound(problem, it.plan, it.price.span, 1'000'000, stop);
  return it;
}

/// No plan with every scene filmed and every head filled is dearer by one minute less.
void check_one_less_is_impossible(const Bounded& it) {
  gp::Price less = it.price;
  less.weighted_on_site -= 1;
  less.wrap = 1'000'000;
  const auto all = gp::test::best_of_all(it.film, less, 10'000'000);
  REQUIRE(all.whole);
  CHECK_FALSE(all.best.has_value());
}

/// The plan is the best there is, its bound says so, and it is.
void check_best_and_bound(const Bounded& it, gp::Thousandths value) {
  CHECK(it.bound == value);
  CHECK(it.price.weighted_on_site == value);
  CHECK(it.plan.totals.proven);
  check_one_less_is_impossible(it);
}

std::string film(const std::string& more, const std::string& aim = "least-time") {
  return R"({"greasepaint": 1, "title": "Bounds", "round_to": 1, "aim": ")" + aim + R"(",
    "days": [{"date": "2027-04-17", "nobody_before": "08:00", "wrap_by": "12:00"}], )" +
         more + "}";
}

}  // namespace

TEST_SUITE("search/bound") {
  TEST_CASE("nobody waits: the bound is the optimum, and one minute less is impossible") {
    // ana: 20 + 10 of scenes and 5 to sign in; bo: 20 and 5. Scenes of 20 x 2 + 10 = 50, sign-ins
    // of the two whose parts are theirs: 10.
    const Bounded it = bounded(film(R"("people": [{"id": "ana"}, {"id": "bo"}],
      "roles": [{"id": "cook", "person": "ana"}, {"id": "guest", "person": "bo"}],
      "scenes": [{"id": "supper", "shoot_minutes": 20,
                  "cast": [{"role": "cook"}, {"role": "guest"}]},
                 {"id": "dishes", "shoot_minutes": 10, "cast": [{"role": "cook"}]}])"));
    check_best_and_bound(it, 60'000);
  }

  TEST_CASE("of those who may, the least dear are counted") {
    // All three are wanted at once: whoever holds the light stays 5 + 10 + 30, the guests 5 + 30.
    const Bounded it = bounded(film(R"(
      "people": [{"id": "ana", "weight": 0.5}, {"id": "bo"}, {"id": "cy", "weight": 3}],
      "roles": [{"id": "guest", "crowd": true}],
      "scenes": [{"id": "supper", "set_minutes": 10, "shoot_minutes": 30,
                  "cast": [{"role": "guest", "people": 2}],
                  "crew": [{"job": "light"}]}])"));
    // Ana with the light 500 x 45 + (1000 + 3000) x 35 = 162500; bo with the light 1000 x 45 +
    // 3500 x 35 = 167500; cy with it 3000 x 45 + 1500 x 35 = 187500.
    check_best_and_bound(it, 162'500);
  }

  TEST_CASE("waiting that no order avoids is in the bound, and the plan is proven") {
    // a, b, c in pairs: ab, bc, ca. In any order somebody waits through the middle scene: 10.
    const Bounded it = bounded(film(R"("people": [{"id": "a"}, {"id": "b"}, {"id": "c"}],
      "roles": [{"id": "ra", "person": "a"}, {"id": "rb", "person": "b"},
                {"id": "rc", "person": "c"}],
      "scenes": [{"id": "ab", "shoot_minutes": 10, "cast": [{"role": "ra"}, {"role": "rb"}]},
                 {"id": "bc", "shoot_minutes": 10, "cast": [{"role": "rb"}, {"role": "rc"}]},
                 {"id": "ca", "shoot_minutes": 10, "cast": [{"role": "rc"}, {"role": "ra"}]}])"));
    CHECK(it.bound == 75'000);              // 3 x 20 and 3 x 5: without the order
    CHECK(it.plan.totals.bound == 85'000);  // and the 10
    CHECK(it.price.weighted_on_site == 85'000);
    CHECK(it.plan.totals.proven);
    check_one_less_is_impossible(it);
  }

  TEST_CASE("a look counts its chain, its staff and the station got ready, each once") {
    // ada: 5 to sign in, 6 + 15, 5 of drying, 30 of scene, 8: 69; bo: 5 to sign in, 15 of getting
    // ready, paints 15: 35.
    const Bounded it = bounded(film(R"("people": [{"id": "ada"}, {"id": "bo", "can": ["paint"]}],
      "stations": [{"id": "rail"}, {"id": "chair", "staff": ["bo"], "set_minutes": 15}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 6},
                   {"at": "chair", "minutes": 15, "by": "paint", "then_wait": 5}],
                 "off": [{"at": "rail", "minutes": 8}]}],
      "roles": [{"id": "guard", "person": "ada", "look": "guard"}],
      "scenes": [{"id": "march", "shoot_minutes": 30, "cast": [{"role": "guard"}]}])"));
    CHECK(it.bound == 104'000);
    CHECK(it.price.weighted_on_site == 104'000);
    CHECK(it.plan.totals.proven);
  }

  TEST_CASE("a crowd in two scenes: beginnings, what lies between, and ends") {
    // Each of two heads: 5 to sign in, 10 to dress, 20 of scene, 15 while the set is made ready (to
    // undress, leave and have somebody else dressed would be 5 + 15), 20 of scene, 5 to undress:
    // 75. Without what lies between: 4 x 20, 2 x 15 of chains, 2 x 5 = 120.
    const Bounded it = bounded(film(R"("people": [{"id": "ada"}, {"id": "bo"}, {"id": "cleo"}],
      "stations": [{"id": "rail", "places": 2}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 10}],
                 "off": [{"at": "rail", "minutes": 5}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard"}],
      "scenes": [{"id": "march", "set_minutes": 15, "shoot_minutes": 20,
                  "cast": [{"role": "guard", "people": 2}]},
                 {"id": "rest", "set_minutes": 15, "shoot_minutes": 20,
                  "cast": [{"role": "guard", "people": 2}]}])"));
    check_best_and_bound(it, 150'000);
  }

  TEST_CASE("a crowd waits through what must be filmed in between") {
    // Each of two heads: 5 to sign in, 40 to dress, 20 of the march, 30 of the speech that comes
    // after it, 20 of the rest that comes after the speech: 115, for whoever came anew for the rest
    // would dress for 40 and sign in for 5. The speaker 5 and 30. 265.
    const Bounded it = bounded(film(R"("people": [{"id": "ada"}, {"id": "bo"}, {"id": "cleo"},
        {"id": "dov"}],
      "stations": [{"id": "rail", "places": 2}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 40}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard", "from": ["ada", "cleo", "dov"]},
                {"id": "speaker", "person": "bo"}],
      "scenes": [{"id": "march", "shoot_minutes": 20, "cast": [{"role": "guard", "people": 2}]},
                 {"id": "speech", "shoot_minutes": 30, "cast": [{"role": "speaker"}],
                  "after": ["march"]},
                 {"id": "rest", "shoot_minutes": 20, "cast": [{"role": "guard", "people": 2}],
                  "after": ["speech"]}])"));
    check_best_and_bound(it, 265'000);
  }

  TEST_CASE("a crowd waits until the hour of what its unit films last") {
    // The speech is over at 10:00 at the earliest, when the march can no longer begin, and the
    // lights at 10:15, when the speech cannot: so it lies between them. The guard 5 + 40, 20 of
    // march, 30 of speech, 10 of lights, the speaker 5 and 30: 140.
    const Bounded it = bounded(film(R"("people": [{"id": "ada"}, {"id": "bo"}, {"id": "cleo"}],
      "stations": [{"id": "rail", "places": 2}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 40}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard", "from": ["ada", "cleo"]},
                {"id": "speaker", "person": "bo"}],
      "scenes": [{"id": "lights", "shoot_minutes": 10, "cast": [{"role": "guard"}],
                  "between": "10:05-11:00"},
                 {"id": "speech", "shoot_minutes": 30, "cast": [{"role": "speaker"}],
                  "between": "09:30-10:10"},
                 {"id": "march", "shoot_minutes": 20, "cast": [{"role": "guard"}],
                  "between": "08:50-09:50"}])"));
    check_best_and_bound(it, 140'000);
  }

  TEST_CASE("a crowd at one rail waits for one another, before the scene and after it") {
    // Three in turn, 10 each before the shot, 4 each after it, 2 to walk either way: 10 + 20 + 30,
    // 4 + 8 + 12, 3 x 4 of ways, 3 x 20 of the scene, 3 x 5 to sign in: 171.
    std::string text =
        film(R"("places": [{"id": "barn", "minutes_to": {"field": 2}}, {"id": "field"}],
      "people": [{"id": "ada"}, {"id": "bo"}, {"id": "cleo"}],
      "stations": [{"id": "rail"}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 10}],
                 "off": [{"at": "rail", "minutes": 4}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard"}],
      "scenes": [{"id": "march", "place": "field", "shoot_minutes": 20,
                  "cast": [{"role": "guard", "people": 3}]}])");
    text.replace(text.find(R"("date")"), 0, R"("base": "barn", )");
    const Bounded it = bounded(text);
    CHECK(it.plan.unfilled.empty());
    check_best_and_bound(it, 171'000);
  }

  TEST_CASE("who is not free then is not counted on") {
    // Ada weighs half, but must leave before the late scene can begin: (500 + 1000) x (5 + 20).
    const Bounded it = bounded(film(R"("people": [
        {"id": "ada", "weight": 0.5, "free": ["2027-04-17 08:00-10:00"]}, {"id": "bo"}],
      "roles": [{"id": "guest", "crowd": true}],
      "scenes": [{"id": "early", "shoot_minutes": 20, "cast": [{"role": "guest"}],
                  "between": "08:00-09:00"},
                 {"id": "late", "shoot_minutes": 20, "cast": [{"role": "guest"}],
                  "between": "10:00-12:00"}])"));
    check_best_and_bound(it, 37'500);
  }

  TEST_CASE("random productions with looks, chairs and staff: no plan is below its bound") {
    const std::uint64_t first = gp::test::seed();
    int near = 0;
    int compared = 0;
    for (std::uint64_t seed = first; seed < first + gp::test::cases(160); ++seed) {
      CAPTURE(seed);
      const auto size = seed % 2 == 0 ? ProductionSize::small() : ProductionSize::tiny();
      gp::Production film = gp::test::production_of(gp::test::random_production(seed, size));
      film.aim = gp::Aim::least_time;
      gp::Wishes wishes;
      wishes.seed = seed;
      wishes.effort = gp::test::effort(0.3);
      gp::Stop stop;
      const gp::Plan plan = gp::make_plan(film, wishes, stop);
      const auto value = gp::price(film, plan).weighted_on_site;
      const auto bound = gp::lower_bound(gp::Problem(film, wishes), plan, {}, stop);
      CHECK(bound <= value);
      if (value == 0) continue;
      ++compared;
      if (bound * 10 >= value * 8) ++near;
    }
    MESSAGE(near, " of ", compared, " bounds at eight tenths of the plan or more");
    if (gp::test::kSlowBuild) return;
    CHECK(near * 2 >= compared);
  }

  TEST_CASE("latest first call: four through one chair, the optimum and not a minute less") {
    // 4 x 15 in one chair, 6 at the rail before the first of them, 5 to dry after the last, 5 to
    // sign in: 76 minutes from the first call to the first shot.
    const Bounded it = bounded(film(R"("people": [{"id": "ada"}, {"id": "cleo"}, {"id": "dov"},
        {"id": "elif"}, {"id": "bo", "can": ["paint"]}, {"id": "finn", "can": ["paint"]}],
      "stations": [{"id": "rail", "places": 4}, {"id": "chair"}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 6},
                   {"at": "chair", "minutes": 15, "by": "paint", "then_wait": 5}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard",
                 "from": ["ada", "cleo", "dov", "elif"]}],
      "scenes": [{"id": "march", "shoot_minutes": 30,
                  "cast": [{"role": "guard", "people": 4}]}])",
                                    "latest-first-call"));
    CHECK(it.plan.unfilled.empty());
    CHECK(it.bound == 76'000);
    CHECK(it.price.span == 76);
    CHECK(it.plan.totals.proven);
  }

  TEST_CASE("latest first call: one chair, two who paint: the work shared among the narrower") {
    // Two chairs, but one painter: 3 x 20 = 60 for her; 5 to sign in. 65.
    const Bounded it = bounded(film(R"("people": [{"id": "ada"}, {"id": "cleo"}, {"id": "dov"},
        {"id": "bo", "can": ["paint"]}],
      "stations": [{"id": "chair", "places": 2, "staff": ["bo"]}],
      "looks": [{"id": "guard", "steps": [{"at": "chair", "minutes": 20, "by": "paint"}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard",
                 "from": ["ada", "cleo", "dov"]}],
      "scenes": [{"id": "march", "shoot_minutes": 30,
                  "cast": [{"role": "guard", "people": 3}]}])",
                                    "latest-first-call"));
    CHECK(it.plan.unfilled.empty());
    CHECK(it.bound == 65'000);
    CHECK(it.price.span == 65);
    CHECK(it.plan.totals.proven);
  }

  TEST_CASE("latest first call: a way on foot, and a helper who readies the chair first") {
    // Ways of 10 from the base to the chair, and 7 on to the field. Bo: 5 to sign in, 10 on foot,
    // 15 to get ready; then ada and cleo, 20 each, the second on to the field: 5 + 10 + 15 + 40 +
    // 7 = 77.
    std::string text = film(R"("places": [
        {"id": "barn", "minutes_to": {"loft": 10, "field": 12}},
        {"id": "loft", "minutes_to": {"field": 7}}, {"id": "field"}],
      "people": [{"id": "ada"}, {"id": "cleo"}, {"id": "bo", "can": ["paint"]}],
      "stations": [{"id": "chair", "place": "loft", "staff": ["bo"], "set_minutes": 15}],
      "looks": [{"id": "guard", "steps": [{"at": "chair", "minutes": 20, "by": "paint"}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard", "from": ["ada", "cleo"]}],
      "scenes": [{"id": "march", "place": "field", "shoot_minutes": 30,
                  "cast": [{"role": "guard", "people": 2}]}])",
                            "latest-first-call");
    text.replace(text.find(R"("date")"), 0, R"("base": "barn", )");
    const Bounded it = bounded(text);
    CHECK(it.plan.unfilled.empty());
    CHECK(it.bound == 77'000);
    CHECK(it.price.span == 77);
    CHECK(it.plan.totals.proven);
  }

  TEST_CASE("latest first call: of two scenes the later cannot be the first shot") {
    // "rest" has a single guest and would need 5; but it comes after "march": 5 + 20 of the chair.
    const Bounded it = bounded(film(R"("people": [{"id": "ada"}, {"id": "cleo"}],
      "stations": [{"id": "rail"}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 20}]}],
      "roles": [{"id": "guard", "person": "ada", "look": "guard"}, {"id": "guest", "person": "cleo"}],
      "scenes": [{"id": "march", "shoot_minutes": 30, "cast": [{"role": "guard"}]},
                 {"id": "rest", "shoot_minutes": 30, "cast": [{"role": "guest"}],
                  "after": ["march"]}])",
                                    "latest-first-call"));
    CHECK(it.bound == 25'000);
    CHECK(it.price.span == 25);
    CHECK(it.plan.totals.proven);
  }

  TEST_CASE("latest first call: a scene that needs nobody may come before any call: no bound") {
    const Bounded it = bounded(film(R"("people": [{"id": "ana"}],
      "roles": [{"id": "guest", "person": "ana"}],
      "scenes": [{"id": "sea", "shoot_minutes": 30},
                 {"id": "supper", "shoot_minutes": 30, "cast": [{"role": "guest"}]}])",
                                    "latest-first-call"));
    CHECK_FALSE(it.bound.has_value());
    CHECK_FALSE(it.plan.totals.bound.has_value());
    CHECK_FALSE(it.plan.totals.proven);
    // ana's scene at the very end: 11:30, called at 11:25.
    REQUIRE(it.plan.days[0].people.size() == 1);
    CHECK(it.plan.days[0].people[0].call == gp::test::at("11:25"));
  }

  TEST_CASE("what is missing is not counted") {
    // Three guests asked for, two there: 2 x 30 and 2 x 5; the scene that is lost counts nothing.
    const Bounded it = bounded(film(R"("people": [{"id": "ana"}, {"id": "bo"}],
      "items": [{"id": "hat"}],
      "roles": [{"id": "guest", "crowd": true}],
      "scenes": [{"id": "supper", "shoot_minutes": 30, "cast": [{"role": "guest", "people": 3}]},
                 {"id": "hats", "shoot_minutes": 30, "cast": [{"role": "guest"}],
                  "props": [{"item": "hat", "count": 2}]}])"));
    REQUIRE(it.plan.not_filmed.size() == 1);
    REQUIRE(it.plan.unfilled.size() == 1);
    CHECK(it.bound == 70'000);
    CHECK(it.price.weighted_on_site == 70'000);
    CHECK(it.plan.totals.proven);
  }
}
