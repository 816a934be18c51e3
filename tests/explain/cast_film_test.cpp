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

  TEST_CASE("what they like decides between equals, and nobody goes without for it") {
    // two parts in a scene each, two people. Each could have either; bo likes the fool: of the two
    // ways to give one to each, the one in which bo is the fool.
    const auto it = film(R"({"id": "ana"}, {"id": "bo", "likes": ["fool"]})",
                         R"({"id": "fool"}, {"id": "king"})",
                         R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "fool"}]},
                            {"id": "t", "shoot_minutes": 20, "cast": [{"role": "king"}]})");
    const FilmCasting casting = cast(it);
    CHECK(who(it, casting, 0) == "bo");
    CHECK(who(it, casting, 1) == "ana");
    CHECK(casting.points == 4 * 1 + 4 * 1 - 5);
    CHECK(casting.loads[1].liked == 1);
    // who likes both has one all the same: both would cost 4 * 2 * 2 - 2 * 5 = 6, one each 8 - 5 =
    // 3
    gp::Production both = it;
    both.people[gp::PersonId(1)].likes = {"fool", "king"};
    CHECK(cast(both).points == 3);
    CHECK(cast(both).loads.size() == 2);
  }

  TEST_CASE("a job somebody likes, and friends in one crowd") {
    // The lamp goes to dan, who likes it (4 - 5). Two of the other three are the mob: ana and cleo
    // both like to be with the other (4 + 4 - 2 * 3).
    const auto it = film(R"({"id": "ana", "likes": ["cleo"]}, {"id": "bo"},
                            {"id": "cleo", "likes": ["ana"]}, {"id": "dan", "likes": ["lamp"]})",
                         R"({"id": "mob", "crowd": true})",
                         R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "mob", "people": 2}],
                             "crew": [{"job": "lamp"}]})");
    const FilmCasting casting = cast(it);
    CHECK(casting.points == (4 - 5) + (4 + 4 - 6));
    const std::string text = gp::casting_as_text(it, casting);
    CHECK(text.find("mob: ana, cleo\n    lamp: dan\n") != std::string::npos);
    CHECK(text.find("  ana: 1 scene, 1 with somebody they like\n") != std::string::npos);
    CHECK(text.find("  dan: 1 scene, 1 in what they like\n") != std::string::npos);
    CHECK(gp::write_casting(it, casting)
              .find(R"({"person": "dan", "scenes": 1, "liked": 1, "with_friends": 0})") !=
          std::string::npos);
  }

  TEST_CASE("a like never takes somebody against a no, and never leaves a place empty") {
    const auto it = film(R"({"id": "ana", "no": ["wet"], "likes": ["king"]}, {"id": "bo"})",
                         R"({"id": "king", "tags": ["wet"]})",
                         R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "king"}]})");
    CHECK(who(it, cast(it), 0) == "bo");
  }

  const std::string kHelmet =
      R"(], "looks": [{"id": "armour", "items": ["helmet"]}],
            "items": [{"id": "helmet", "name": "the helmet", "fits": {"head_cm": "56-58"}})";

  TEST_CASE("nobody is cast in what is too small or too large for them") {
    const auto it = film(
        R"({"id": "ana", "sizes": {"head_cm": 60}}, {"id": "bo", "sizes": {"head_cm": 58}},
                            {"id": "cleo", "sizes": {"head_cm": 53}}, {"id": "dan"})",
        R"({"id": "guard", "crowd": true, "look": "armour"})",
        R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "guard", "people": 3}]})" + kHelmet);
    const FilmCasting casting = cast(it);
    REQUIRE(casting.scenes.size() == 1);
    CHECK(casting.scenes[0].places[0].people ==
          std::vector{gp::PersonId(1), gp::PersonId(3)});  // dan was not measured: may fit
    REQUIRE(casting.sizes_not_known.size() == 1);
    CHECK(casting.sizes_not_known[0].person == gp::PersonId(3));
    // one is missing: ana's head is 2 too large, cleo's 3 too small
    REQUIRE(casting.empty.size() == 1);
    CHECK(casting.empty[0].missing == 1);
    CHECK(casting.empty[0].why == "2 do not fit into the helmet (head_cm 56-58)");
    CHECK(casting.empty[0].nearest == gp::PersonId(0));
    CHECK(casting.empty[0].change == "if the helmet fitted head_cm 60 (it fits head_cm 56-58)");
    const std::string text = gp::casting_as_text(it, casting);
    CHECK(text.find("Thought to fit, for the size is not written down\n"
                    "  dan: head_cm (the helmet: head_cm 56-58)\n") != std::string::npos);
    CHECK(gp::write_casting(it, casting)
              .find(R"({"person": "dan", "item": "helmet", "sizes": ["head_cm"]})") !=
          std::string::npos);
    // and so it is: with that change, and not with less of it, ana is a guard
    for (const double most : {60.0, 59.9}) {
      gp::Production changed = it;
      changed.items[gp::ItemId(0)].fits["head_cm"].most = most;
      CHECK(cast(changed).empty.empty() == (most == 60.0));
    }
  }

  TEST_CASE("the only one who can paint is not cast in what must be painted, and it is told") {
    const std::string painted =
        R"(], "stations": [{"id": "chair"}], "looks": [{"id": "clown",
            "steps": [{"at": "chair", "minutes": 5, "by": "paint"}]})";
    const auto film_of = [&](const std::string& bo) {
      return film(R"({"id": "ana", "can": ["paint"]})" + bo,
                  R"({"id": "fool", "look": "clown"})",
                  R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "fool"}]})" + painted);
    };
    const auto alone = film_of("");
    const FilmCasting casting = cast(alone);
    REQUIRE(casting.empty.size() == 1);
    CHECK(casting.empty[0].why == "1 alone can \"paint\" for it, and nobody does their own");
    CHECK(casting.empty[0].change == "if somebody else could \"paint\" too");
    const auto two = film_of(R"(, {"id": "bo"})");
    CHECK(who(two, cast(two), 0) == "bo");
  }

  TEST_CASE("a part given to somebody whom its look does not fit stays theirs, and it is told") {
    const auto it =
        film(R"({"id": "ana", "sizes": {"head_cm": 60}}, {"id": "bo"})",
             R"({"id": "knight", "person": "ana", "look": "armour"})",
             R"({"id": "s", "shoot_minutes": 20, "cast": [{"role": "knight"}]})" + kHelmet);
    const FilmCasting casting = cast(it);
    CHECK(casting.empty.empty());
    CHECK(who(it, casting, 0) == "ana");
    REQUIRE(casting.collisions.size() == 1);
    CHECK(casting.collisions[0].with == "the helmet does not fit ana (it fits head_cm 56-58)");
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
