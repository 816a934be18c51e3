#include "casting/turnout.h"

#include "base/random.h"
#include "support/builder.h"
#include "support/seed.h"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using doctest::Approx;
using gp::Party;

namespace {

std::vector<Party> each_alone(const std::vector<double>& chances) {
  std::vector<Party> list;
  for (const double chance : chances) list.push_back({1, chance});
  return list;
}

std::vector<Party> equal(int people, double chance) {
  return std::vector<Party>(static_cast<std::size_t>(people), Party{1, chance});
}

/// By going through all who might come: the definition itself.
double by_counting(const std::vector<Party>& parties, int wanted) {
  double sum = 0;
  for (std::size_t set = 0; set < (std::size_t{1} << parties.size()); ++set) {
    double chance = 1;
    int heads = 0;
    for (std::size_t i = 0; i < parties.size(); ++i) {
      const bool comes = ((set >> i) & 1U) != 0;
      chance *= comes ? parties[i].chance : 1 - parties[i].chance;
      if (comes) heads += parties[i].heads;
    }
    if (heads >= wanted) sum += chance;
  }
  return sum;
}

constexpr double kExact = 1e-12;

/// The rows of a table of tests/data without its heading; no cell there is quoted.
std::vector<std::vector<std::string>> table(const std::string& path) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream in(gp::test::data_text(path));
  for (std::string line; std::getline(in, line);) {
    auto& row = rows.emplace_back();
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(cell);
  }
  rows.erase(rows.begin());
  return rows;
}

gp::Production family() {
  return gp::test::production_of(R"({"greasepaint": 1, "title": "t",
    "days": [{"date": "2027-04-17"}],
    "people": [
      {"id": "sami"}, {"id": "kit", "guardian": "sami"}, {"id": "jo", "guardian": "sami"},
      {"id": "wen", "answer": "maybe"}, {"id": "bo", "answer": "asked"}, {"id": "li", "answer": "no"},
      {"id": "pip", "guardian": "li", "turnout": 0.7}, {"id": "ana", "turnout": 0.25},
      {"id": "no-show", "answer": "no", "turnout": 1}],
    "roles": [{"id": "guard", "crowd": true}, {"id": "queen"}, {"id": "king"}],
    "scenes": [{"id": "march", "shoot_minutes": 5, "cast": [{"role": "guard", "people": 3}]}]})");
}

gp::PersonId person(const gp::Production& film, const std::string& id) {
  for (const gp::PersonId who : film.people.ids()) {
    if (film.people[who].id == id) return who;
  }
  throw std::runtime_error("nobody is called " + id);
}

}  // namespace

TEST_SUITE("casting/turnout") {
  // Exact values, worked out twice: by exact rational arithmetic (Python's fractions) and by
  // PARI/GP 2.15.2; the first table by Boost.Math 1.74 besides. All agree to 15 decimals.
  TEST_CASE("how many to ask agrees with exact arithmetic, and one fewer is too few") {
    struct Row {
      int wanted;
      double each, sure;
      int asked;
      double chance, one_fewer;
    };
    const std::vector<Row> rows = {{1, 0.5, 0.90, 4, 0.937500000000000, 0.875000000000000},
                                   {3, 0.5, 0.95, 11, 0.967285156250000, 0.945312500000000},
                                   {5, 0.7, 0.90, 9, 0.901191340000000, 0.805895650000000},
                                   {5, 0.8, 0.95, 9, 0.980418560000000, 0.943718400000000},
                                   {6, 0.75, 0.80, 9, 0.834274291992188, 0.678543090820312},
                                   {8, 0.6, 0.90, 17, 0.908100745828762, 0.857730282061824},
                                   {10, 0.8, 0.95, 16, 0.973342668488704, 0.938948570382336},
                                   {10, 0.9, 0.99, 14, 0.990769787544150, 0.965839279077000},
                                   {12, 0.85, 0.90, 16, 0.920948701633057, 0.822655202397051},
                                   {15, 0.65, 0.95, 29, 0.952363277915656, 0.926422852822246},
                                   {20, 0.75, 0.90, 31, 0.935574259288171, 0.894271877307340},
                                   {20, 0.9, 0.95, 25, 0.966600055388505, 0.914925114121329},
                                   {25, 0.6, 0.80, 46, 0.824897467512613, 0.777712532979876},
                                   {30, 0.8, 0.99, 46, 0.994241510034853, 0.988995453246365},
                                   {50, 0.7, 0.95, 81, 0.957146939492052, 0.941251886408827}};
    for (const Row& row : rows) {
      CAPTURE(row.wanted);
      CAPTURE(row.each);
      CHECK(gp::how_many_to_ask(row.wanted, row.each, row.sure) == row.asked);
      CHECK(std::abs(gp::chance_of_enough(equal(row.asked, row.each), row.wanted) - row.chance) <
            kExact);
      CHECK(std::abs(gp::chance_of_enough(equal(row.asked - 1, row.each), row.wanted) -
                     row.one_fewer) < kExact);
    }
  }

  TEST_CASE("people of different chances agree with exact arithmetic") {
    const auto chance = [](const std::vector<double>& chances, int wanted) {
      return gp::chance_of_enough(each_alone(chances), wanted);
    };
    const auto off = [](double found, double right) { return std::abs(found - right); };
    CHECK(off(chance({.9, .9, .8, .5, .5}, 3), 1777.0 / 2000) < kExact);
    CHECK(off(chance({.95, .9, .9, .8, .7, .6, .5, .3}, 5), 105957.0 / 125000) < kExact);
    CHECK(off(chance({.9, .9, .9, .9, .5, .5, .5, .5, .5, .5}, 6), 253697.0 / 320000) < kExact);
    CHECK(off(chance({1, 1, .75, .75, .75, .25}, 4), 225.0 / 256) < kExact);
    std::vector<double> five(10, .99);
    five.insert(five.end(), 5, .6);
    CHECK(off(chance(five, 12), 0.889425565967511) < kExact);
    CHECK(off(chance({.1, .2, .3, .4, .5, .6, .7, .8, .9}, 5), 0.5) < kExact);
    std::vector<double> seven(12, 2.0 / 3);
    seven.insert(seven.end(), 6, 1.0 / 3);
    CHECK(off(chance(seven, 8), 346556888.0 / 387420489) < kExact);
    CHECK(off(chance({.85, .85, .7, .7, .55, .55, .4, .4, .25, .25}, 6),
              3216463561.0 / 6400000000) < kExact);
  }

  // tests/data/turnout/make_vectors.py: scipy 1.10.1, which finds them by other ways than ours.
  TEST_CASE("people of different chances agree with a general library, up to 200 of them") {
    int rows = 0;
    for (const auto& cells : table("turnout/poisson_binomial.csv")) {
      REQUIRE(cells.size() == 3);
      std::vector<double> chances;
      std::istringstream in(cells[0]);
      for (double chance = 0; in >> chance;) chances.push_back(chance);
      const int wanted = std::stoi(cells[1]);
      CAPTURE(chances.size());
      CAPTURE(wanted);
      CHECK(std::abs(gp::chance_of_enough(each_alone(chances), wanted) - std::stod(cells[2])) <
            kExact);
      ++rows;
    }
    CHECK(rows == 135);
  }

  TEST_CASE("people of one chance agree with a general library, up to 5000 of them") {
    int rows = 0;
    for (const auto& cells : table("turnout/binomial.csv")) {
      REQUIRE(cells.size() == 4);
      const int asked = std::stoi(cells[0]);
      const double each = std::stod(cells[1]);
      const int wanted = std::stoi(cells[2]);
      const double chance = std::stod(cells[3]);
      CAPTURE(asked);
      CAPTURE(each);
      CAPTURE(wanted);
      // 5000 sums of rounded numbers: 5000 * 1.1e-16 is below 1e-12
      CHECK(std::abs(gp::chance_of_enough(equal(asked, each), wanted) - chance) < kExact);
      // and the other way round: a little less sure than that takes no more people
      if (chance > 0.5 && chance < 1 - 1e-9) {
        const auto enough = gp::how_many_to_ask(wanted, each, chance - 1e-10);
        REQUIRE(enough.has_value());
        CHECK(*enough <= asked);
      }
      ++rows;
    }
    CHECK(rows == 253);
  }

  TEST_CASE("three in one car come together or not at all") {
    // 0.8, not 0.8^3 = 0.512
    CHECK(gp::chance_of_enough({{3, 0.8}}, 3) == Approx(0.8));
    CHECK(gp::chance_of_enough(each_alone({0.8, 0.8, 0.8}), 3) == Approx(0.512));
  }

  TEST_CASE("nobody wanted is always enough; somebody who never comes is never enough") {
    CHECK(gp::chance_of_enough({}, 0) == 1.0);
    CHECK(gp::chance_of_enough({}, 1) == 0.0);
    CHECK(gp::how_many_to_ask(0, 0.5, 0.9) == 0);
    CHECK(gp::how_many_to_ask(7, 1, 0.99) == 7);
    CHECK_FALSE(gp::how_many_to_ask(1, 0, 0.5).has_value());
    CHECK_FALSE(gp::how_many_to_ask(100, 0.001, 0.99).has_value());
  }

  TEST_CASE(
      "any parties agree with counting all who might come; order does not matter; more people "
      "are never worse") {
    gp::Random random(gp::test::seed());
    for (int round = 0; round < 200; ++round) {
      std::vector<Party> list;
      const int size = random.between(0, 9);
      for (int i = 0; i < size; ++i) list.push_back({random.between(1, 4), random.unit()});
      const int wanted = random.between(0, 14);
      const double chance = gp::chance_of_enough(list, wanted);
      CHECK(std::abs(chance - by_counting(list, wanted)) < kExact);
      random.shuffle(list);
      CHECK(std::abs(gp::chance_of_enough(list, wanted) - chance) < kExact);
      list.push_back({1, 0.0});
      CHECK(std::abs(gp::chance_of_enough(list, wanted) - chance) < kExact);
      list.back().chance = 1;  // who surely comes is one fewer to wait for
      CHECK(std::abs(gp::chance_of_enough(list, wanted + 1) - chance) < kExact);
      CHECK(gp::chance_of_enough(list, wanted) >= chance - kExact);
    }
  }

  TEST_CASE("the answer gives the chance, a person's own turnout goes before it, no is no") {
    const gp::Production film = family();
    CHECK(gp::chance_of_coming(film.people[person(film, "sami")]) == gp::kTurnoutYes);
    CHECK(gp::chance_of_coming(film.people[person(film, "wen")]) == gp::kTurnoutMaybe);
    CHECK(gp::chance_of_coming(film.people[person(film, "bo")]) == gp::kTurnoutAsked);
    CHECK(gp::chance_of_coming(film.people[person(film, "ana")]) == 0.25);
    CHECK(gp::chance_of_coming(film.people[person(film, "no-show")]) == 0.0);
  }

  TEST_CASE("children come with their guardian; with somebody else where the guardian stays away") {
    const gp::Production film = family();
    const std::vector<Party> list = gp::parties(
        film, {person(film, "wen"), person(film, "kit"), person(film, "jo"), person(film, "pip")});
    REQUIRE(list.size() == 3);
    CHECK(list[0].heads == 1);
    CHECK(list[1].heads == 2);  // sami is not asked about, but decides
    CHECK(list[1].chance == gp::kTurnoutYes);
    CHECK(list[2].chance == 0.7);
  }

  TEST_CASE("a scene's chance agrees with counting all days, where people can do only one thing") {
    const gp::Production film = family();
    const auto ids = [&](const std::vector<std::string>& names) {
      std::vector<gp::PersonId> list;
      for (const std::string& name : names) list.push_back(person(film, name));
      return list;
    };
    gp::Slot queen, king;
    queen.candidates = ids({"sami", "wen"});
    king.candidates = ids({"sami", "ana"});
    // Both can be filled if at least two of the three came and not (wen alone with nobody for
    // king): pairs sami+wen, sami+ana, wen+ana and all three: all pairs do. 0.9*0.5*0.75 +
    // 0.9*0.5*0.25 + 0.1*0.5*0.25 + 0.9*0.5*0.25 = 0.575
    const double chance = gp::chance_of_scene(film, {queen, king}, gp::test::seed());
    // four standard errors of 2,000 draws: 4 * sqrt(0.575 * 0.425 / 2000) = 0.0442
    CHECK(std::abs(chance - 0.575) < 0.0442);
    CHECK(gp::chance_of_scene(film, {queen, king}, 7) ==
          gp::chance_of_scene(film, {queen, king}, 7));
    CHECK(gp::chance_of_scene(film, {}, 1) == 1.0);
    king.candidates = {};
    CHECK(gp::chance_of_scene(film, {queen, king}, 1) == 0.0);
  }
}
