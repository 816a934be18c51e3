#include "explain/cast/cast_film.h"

#include "support/builder.h"

#include <cstdint>
#include <sstream>
#include <string>

#include <doctest/doctest.h>

using gp::CastWishes;
using gp::FilmCasting;
using gp::test::production_of;

namespace {

/// One day from ten to twelve; what differs stands in the people, roles and scenes.
gp::Production film(const std::string& people,
                    const std::string& roles,
                    const std::string& scenes) {
  return production_of(
      R"({"greasepaint": 1, "title": "T", "sign_in_minutes": 0, "round_to": 5,
          "days": [{"date": "2027-04-17", "first_shot": "10:00", "wrap_by": "12:00"}],
          "people": [)" +
      people + R"(], "roles": [)" + roles + R"(], "scenes": [)" + scenes + "]}");
}

FilmCasting cast(const gp::Production& production) {
  gp::Stop stop;
  return gp::cast_film(production, CastWishes{{}, {}, {1, 0.01}}, stop);
}

std::string who(const gp::Production& production, const FilmCasting& casting, std::size_t part) {
  const gp::PersonId person = casting.parts.at(part).person;
  return person.valid() ? production.people[person].id : "";
}

}  // namespace

TEST_SUITE("explain/cast_film") {
  TEST_CASE("two parts of one scene are two people, and who will not is never taken") {
    const auto it =
        film(R"({"id": "ana", "no": ["wet"]}, {"id": "bo"}, {"id": "cleo"})",
             R"({"id": "king", "tags": ["wet"]}, {"id": "fool", "from": ["bo", "ana"]})",
             R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "king"}, {"role": "fool"}]})");
    const FilmCasting casting = cast(it);
    CHECK(casting.empty.empty());
    CHECK(who(it, casting, 0) != "ana");
    CHECK(who(it, casting, 0) != who(it, casting, 1));
    // parts that are kept are the same when cast again
    const gp::Production kept = gp::with_parts_kept(it, casting);
    CHECK(who(kept, cast(kept), 0) == who(it, casting, 0));
    CHECK(cast(kept).parts[0].given);
  }

  TEST_CASE("one person has two parts in different scenes where nobody else is left") {
    const auto it = film(R"({"id": "ana"})",
                         R"({"id": "king"}, {"id": "fool"})",
                         R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "king"}]},
                            {"id": "t", "shoot_minutes": 20, "cast": [{"role": "fool"}]})");
    const FilmCasting casting = cast(it);
    CHECK(casting.empty.empty());
    CHECK(who(it, casting, 0) == "ana");
    CHECK(who(it, casting, 1) == "ana");
  }

  TEST_CASE("but not in two scenes at the same time, and it is told") {
    const auto it =
        film(R"({"id": "ana"})",
             R"({"id": "king"}, {"id": "fool"})",
             R"({"id": "s", "at": "10:30", "shoot_minutes": 20, "cast": [{"role": "king"}]},
                            {"id": "t", "at": "10:40", "unit": "b", "shoot_minutes": 20, "cast": [{"role": "fool"}]})"
             R"(], "units": [{"id": "a"}, {"id": "b"})");
    const FilmCasting casting = cast(it);
    REQUIRE(casting.empty.size() == 1);
    CHECK(casting.empty[0].why == "1 are in it already or in another at the same time");
  }

  TEST_CASE("where nobody is left: who lacks what, and who comes nearest with the least change") {
    // the shot takes 20 minutes from 11:00 on; ana is free until 11:05 (15 short), bo until 10:40
    const auto it =
        film(R"({"id": "ana", "free": ["2027-04-17 10:00-11:05"]},
                            {"id": "bo", "free": ["2027-04-17 10:00-10:40"]},
                            {"id": "cleo", "answer": "no"}, {"id": "dan", "no": ["wet"]})",
             R"({"id": "king", "tags": ["wet"]})",
             R"({"id": "s", "at": "11:00", "shoot_minutes": 20, "cast": [{"role": "king"}]})");
    const FilmCasting casting = cast(it);
    REQUIRE(casting.empty.size() == 1);
    CHECK(casting.empty[0].why ==
          "1 answered no, 2 are not free then, 1 will not do what it asks for");
    CHECK(it.people[casting.empty[0].nearest].id == "ana");
    CHECK(casting.empty[0].change ==
          "if ana could stay until 11:20 instead of 11:05 on 2027-04-17");
    // and so it is: with that change, and no minute less, she has the part
    for (const int minutes : {11 * 60 + 20, 11 * 60 + 19}) {
      gp::Production changed = it;
      changed.people[gp::PersonId(0)].free->front().hours->until = gp::WallTime{minutes};
      CHECK(cast(changed).empty.empty() == (minutes == 11 * 60 + 20));
    }
  }

  TEST_CASE("fixed parts stay, and two for one person in one scene are told as colliding") {
    const auto it =
        film(R"({"id": "ana"}, {"id": "bo"})",
             R"({"id": "king", "person": "ana"}, {"id": "fool", "person": "ana"})",
             R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "king"}, {"role": "fool"}]})");
    const FilmCasting casting = cast(it);
    CHECK(who(it, casting, 0) == "ana");
    CHECK(who(it, casting, 1) == "ana");
    REQUIRE(casting.collisions.size() == 1);
    CHECK(casting.collisions[0].lock == "ana plays fool in s");
    CHECK(casting.collisions[0].with ==
          "the same person plays king, in this scene or in one at the same time");
  }

  TEST_CASE("a fixed part whose person is not free is told, with the fixed time it collides with") {
    const auto it =
        film(R"({"id": "ana", "free": ["2027-04-17 10:00-11:00"]})",
             R"({"id": "king", "person": "ana"})",
             R"({"id": "s", "at": "11:30", "shoot_minutes": 20, "cast": [{"role": "king"}]})");
    const FilmCasting casting = cast(it);
    REQUIRE(casting.collisions.size() == 1);
    CHECK(casting.collisions[0].with ==
          "ana is not free long enough at any time the scene can stand");
    REQUIRE(casting.empty.size() == 1);
    CHECK(casting.empty[0].change ==
          "if ana could stay until 11:50 instead of 11:00 on 2027-04-17");
  }

  TEST_CASE("crew are never those on camera") {
    const auto it = film(R"({"id": "ana"}, {"id": "bo"}, {"id": "cleo"})",
                         R"({"id": "mob", "crowd": true})",
                         R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "mob", "people": 2}],
                             "crew": [{"job": "light"}]})");
    const FilmCasting casting = cast(it);
    CHECK(casting.empty.empty());
    CHECK(casting.loads.size() == 3);
    for (const gp::CastLoad& load : casting.loads) CHECK(load.scenes == 1);
  }

  // tests/data/casting/make_casting.py: a model written from docs/who.md, solved to the end by a
  // general constraint solver (MiniZinc with Gecode, of Debian 12)
  TEST_CASE("made-up castings cost what an exact general solver says is the least") {
    std::istringstream lines(gp::test::data_text("casting/optimum.txt"));
    int cases = 0;
    std::string name;
    for (std::int64_t least = 0; lines >> name >> least; ++cases) {
      CAPTURE(name);
      const auto it = production_of(gp::test::data_text("casting/" + name + ".json"));
      const FilmCasting casting = cast(it);
      CHECK(casting.empty.empty());
      CHECK(casting.points == least);
    }
    CHECK(cases == 6);
  }
}
