#include "base/random.h"
#include "explain/conflict/conflicts.h"
#include "explain/conflict/facts.h"
#include "explain/conflict/smallest.h"
#include "support/builder.h"
#include "support/exhaustive.h"
#include "support/seed.h"

#include <bit>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <doctest/doctest.h>

// Small productions of one scene, all times multiples of five, against trying every plan.

using gp::conflict::Fact;
using gp::conflict::FactGround;
using gp::conflict::facts_of;
using gp::conflict::film_alone;
using gp::conflict::InForce;
using gp::conflict::Question;
using gp::conflict::SmallestFinder;
using gp::conflict::SmallestSet;
using gp::conflict::Terms;
using gp::conflict::Verdict;

namespace {

std::string clock(int minutes) {
  const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
  return two(minutes / 60) + ":" + two(minutes % 60);
}

/// One scene with parts and crowds, nobody with a look on; often just out of reach.
std::string one_scene(gp::Random& random) {
  const auto fives = [&](int least, int most) { return random.between(least / 5, most / 5) * 5; };
  const int wrap = 480 + fives(60, 120);
  std::string text = R"({"greasepaint": 1, "title": "One", "days": [{"date": "2027-04-17",
    "base": "hall", "nobody_before": "08:00", "first_shot": ")" +
                     clock(480 + fives(0, 40)) + R"(", "wrap_by": ")" + clock(wrap) + "\"";
  if (random.chance(1, 3)) {
    const int from = 480 + fives(10, 40);
    const int length = fives(5, 20);
    text += R"(, "meals": [{"name": "soup", "minutes": )" + std::to_string(length) +
            R"(, "between": ")" + clock(from) + "-" + clock(from + length + fives(0, 15)) + "\"}]";
  }
  text += R"(}], "places": [{"id": "hall", "minutes_to": {"beach": )" +
          std::to_string(fives(5, 20)) + R"(}}, {"id": "beach"}], "people": [)";
  const int people = random.between(1, 4);
  for (int i = 0; i < people; ++i) {
    text += std::string(i > 0 ? ", " : "") + R"({"id": "p)" + std::to_string(i) + "\"";
    if (random.chance(2, 3)) {
      const int from = 480 + fives(0, 60);
      text +=
          R"(, "free": ["2027-04-17 )" + clock(from) + "-" + clock(from + fives(20, 70)) + "\"]";
    }
    if (random.chance(1, 4)) text += R"(, "no": ["fog"])";
    text += "}";
  }
  text += R"(], "roles": [{"id": "king", "from": ["p0"]},
    {"id": "guard", "crowd": true, "tags": ["fog"]}], "scenes": [{"id": "march",
    "shoot_minutes": )" +
          std::to_string(fives(10, 45)) + R"(, "set_minutes": )" + std::to_string(fives(0, 20));
  if (random.chance(1, 2)) text += R"(, "place": "beach")";
  text += R"(, "cast": [{"role": "king"}, {"role": "guard", "people": )" +
          std::to_string(random.between(1, 3)) + "}]";
  if (random.chance(1, 3)) {
    const int from = 480 + fives(0, 60);
    text += R"(, "between": ")" + clock(from) + "-" + clock(from + fives(20, 60)) + "\"";
  }
  return text + "}]}";
}

/// Every plan tried: whether one films the scene, and with how few heads short.
struct Tried {
  bool whole = false;
  bool filmed = false;
  int missing = 0;
};

Tried try_all(const gp::Production& film) {
  gp::Price limit;
  limit.unfilled = 100;
  limit.weighted_on_site = std::numeric_limits<std::int64_t>::max() / 4;
  limit.wrap = 100'000;
  limit.filmed_days = 1;
  const gp::test::Exhausted all = gp::test::best_of_all(film, limit, 400'000);
  return {all.whole, all.best.has_value(), all.best ? all.price.unfilled : 0};
}

}  // namespace

TEST_SUITE("explain/conflict_random") {
  TEST_CASE("possible and impossible, against every plan there is") {
    gp::Random random(gp::test::seed());
    int possible = 0;
    int impossible = 0;
    int short_of = 0;
    int unknown = 0;
    for (int round = 0; round < 300; ++round) {
      const std::string text = one_scene(random);
      CAPTURE(text);
      const gp::Production film = gp::test::production_of(text);
      const Tried tried = try_all(film);
      if (!tried.whole) continue;
      gp::Stop never;
      const Verdict alone = film_alone(film, {gp::SceneId(0), {}, {}}, Terms{}, never).verdict;
      const Verdict full =
          film_alone(film, {gp::SceneId(0), gp::RoleId(1), {}}, Terms{}, never).verdict;
      if (alone == Verdict::unknown || full == Verdict::unknown) {
        ++unknown;
        continue;
      }
      CHECK((alone == Verdict::possible) == tried.filmed);
      CHECK((full == Verdict::possible) == (tried.filmed && tried.missing == 0));
      ++(tried.filmed ? possible : impossible);
      if (tried.filmed && tried.missing > 0) ++short_of;
    }
    MESSAGE(possible,
            " possible, ",
            impossible,
            " impossible, ",
            short_of,
            " short, ",
            unknown,
            " unknown");
    CHECK(possible > 50);
    CHECK(impossible > 50);
    CHECK(short_of > 20);
    CHECK(unknown <= 6);
  }

  TEST_CASE("the smallest sets and the least changes, against every subset of the facts") {
    gp::Random random(gp::test::seed() + 7);
    int sets = 0;
    int least = 0;
    for (int round = 0; round < 400 && sets < 40; ++round) {
      const std::string text = one_scene(random);
      CAPTURE(text);
      const gp::Production film = gp::test::production_of(text);
      const FactGround ground{&film, {gp::SceneId(0), gp::RoleId(1), {}}, Terms{}, 0};
      gp::Stop never;
      const auto ask = [&](const gp::Production& loose) {
        return film_alone(loose, ground.question, ground.terms, never).verdict;
      };
      if (ask(film) != Verdict::impossible) continue;
      const std::vector<Fact> facts = facts_of(ground);
      if (facts.size() > 13) continue;
      const auto loosened = [&](std::uint32_t in_force) {
        gp::Production loose = film;
        for (std::size_t f = 0; f < facts.size(); ++f) {
          if ((in_force >> f & 1U) == 0) facts[f].relax(loose);
        }
        return ask(loose);
      };
      if (loosened(0) != Verdict::possible) continue;
      SmallestFinder finder(
          facts.size(),
          [&](const InForce& in_force) {
            std::uint32_t bits = 0;
            for (std::size_t f = 0; f < facts.size(); ++f) {
              if (in_force[f] != 0) bits |= 1U << f;
            }
            return loosened(bits);
          },
          100'000,
          never);
      const SmallestSet set = finder.find();
      ++sets;
      std::uint32_t found = 0;
      for (const std::size_t fact : set.facts) found |= 1U << fact;
      CHECK(loosened(found) == Verdict::impossible);
      for (const std::size_t fact : set.facts) {
        CHECK(loosened(found & ~(1U << fact)) == Verdict::possible);
      }
      if (set.smallest) {
        ++least;
        for (std::uint32_t bits = 0; bits < 1U << facts.size(); ++bits) {
          if (std::popcount(bits) >= static_cast<int>(set.facts.size())) continue;
          if (loosened(bits) == Verdict::impossible) {
            CAPTURE(bits);
            FAIL_CHECK("a smaller set is impossible too");
          }
        }
      }
    }
    MESSAGE(sets, " sets, of which ", least, " are told smallest");
    CHECK(sets == 40);
    CHECK(least > 30);
  }

  TEST_CASE("each least change is held on both sides by trying every plan") {
    gp::Random random(gp::test::seed() + 11);
    int held = 0;
    for (int round = 0; round < 200 && held < 80; ++round) {
      const std::string text = one_scene(random);
      CAPTURE(text);
      const gp::Production film = gp::test::production_of(text);
      const FactGround ground{&film, {gp::SceneId(0), gp::RoleId(1), {}}, Terms{}, 0};
      const Tried before = try_all(film);
      if (!before.whole || (before.filmed && before.missing == 0)) continue;
      gp::Plan plan;
      if (before.filmed) {
        plan.unfilled.push_back({gp::SceneId(0), gp::RoleId(1), {}, before.missing, "short"});
      } else {
        plan.not_filmed.push_back({gp::SceneId(0), "lost"});
      }
      gp::Stop never;
      const gp::Conflicts conflicts = gp::conflicts_of(film, {}, plan, never);
      REQUIRE(conflicts.all.size() == 1);
      const gp::Conflict& conflict = conflicts.all[0];
      const FactGround asked{&film, {gp::SceneId(0), conflict.role, {}}, Terms{}, 0};
      for (const gp::ConflictFact& told : conflict.facts) {
        // Every plan lies on the grid of five minutes: only such changes can be tried so.
        if (!told.enough || !told.least || told.by == 0) continue;
        for (const Fact& fact : facts_of(asked)) {
          if (fact.words != told.words || fact.most == 0) continue;
          const bool heads = fact.path.ends_with("people");
          if (!heads && told.by % 5 != 0) continue;
          const auto possible = [&](int by) {
            gp::Production loose = film;
            fact.loosen(loose, by);
            const Tried tried = try_all(loose);
            CHECK(tried.whole);
            return tried.filmed && (!conflict.role.valid() || tried.missing == 0);
          };
          CHECK(possible(told.by));
          const int less = told.by - (heads ? 1 : 5);
          if (less > 0) CHECK(!possible(less));
          ++held;
        }
      }
    }
    MESSAGE(held, " changes held");
    CHECK(held > 40);
  }
}
