#include "casting/asking.h"

#include "base/random.h"
#include "casting/slots.h"
#include "casting/who_can.h"
#include "support/builder.h"
#include "support/seed.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::NeedRow;

namespace {

constexpr double kExact = 1e-12;

std::vector<std::vector<std::string>> table(const std::string& path) {
  std::istringstream in(gp::test::data_text(path));
  std::vector<std::vector<std::string>> rows;
  std::string line;
  std::getline(in, line);  // the heading
  while (std::getline(in, line)) {
    std::istringstream cells(line);
    rows.emplace_back();
    for (std::string cell; std::getline(cells, cell, ',');) rows.back().push_back(cell);
  }
  return rows;
}

std::vector<std::string> names(const gp::Production& film, const std::vector<gp::PersonId>& who) {
  std::vector<std::string> list;
  for (const gp::PersonId id : who) list.push_back(film.people[id].id);
  return list;
}

const NeedRow& row_of(const gp::Production& film,
                      const gp::Asking& asking,
                      const std::string& what) {
  for (const NeedRow& row : asking.rows) {
    const std::string name = row.role.valid() ? film.roles[row.role].id : row.job;
    if (name == what) return row;
  }
  throw std::runtime_error("no row " + what);
}

/// One day, one crowd, everybody with the given chances.
gp::Production crowd_of(const std::string& chances, int wanted) {
  std::istringstream in(chances);
  std::string people;
  int number = 0;
  for (std::string chance; in >> chance;) {
    people += (number == 0 ? "" : ", ") + std::string(R"({"id": "p)") + std::to_string(number) +
              R"(", "turnout": )" + chance + "}";
    ++number;
  }
  return gp::test::production_of(
      R"({"greasepaint": 1, "title": "t", "days": [{"date": "2027-04-17"}],
    "people": [)" +
      people + R"(], "roles": [{"id": "guard", "crowd": true}],
    "scenes": [{"id": "march", "shoot_minutes": 5, "cast": [{"role": "guard", "people": )" +
      std::to_string(wanted) + "}]}]}");
}

/// Whether everybody needed can be seated, by trying every choice: written without the matcher.
class EveryChoice {
 public:
  EveryChoice(const gp::Production& film, const std::vector<char>& came)
      : film_(film),
        slots_(film, gp::Answers{true, true}),
        free_(film, gp::Answers{true, true}),
        came_(came),
        part_(film.roles.size()) {}

  bool all_filled() {
    for (const gp::HelperNeed& helper : gp::helpers_needed(film_, gp::Answers{true, true})) {
      bool one = false;
      for (const gp::PersonId id : helper.people) one = one || came_[id.index()] != 0;
      if (!one) return false;
    }
    std::vector<gp::RoleId> parts;
    for (const gp::RoleId role : film_.roles.ids()) {
      if (!film_.roles[role].crowd && !slots_.scenes_of(role).empty()) parts.push_back(role);
    }
    return choose(parts, 0);
  }

 private:
  bool choose(const std::vector<gp::RoleId>& parts, std::size_t at) {
    if (at == parts.size()) {
      for (const gp::SceneId scene : film_.scenes.ids()) {
        bool some_day = false;
        for (const gp::DayId day : free_.days_of(scene))
          some_day = some_day || scene_on(scene, day);
        if (!some_day) return false;
      }
      return true;
    }
    for (const gp::PersonId id : film_.people.ids()) {
      if (came_[id.index()] == 0) continue;
      part_[parts[at]] = id;
      if (choose(parts, at + 1)) return true;
    }
    return false;
  }
  bool scene_on(gp::SceneId scene, gp::DayId day) {
    std::vector<char> used(film_.people.size(), 0);
    std::vector<std::vector<gp::PersonId>> seats;
    for (const gp::Slot& slot : slots_.of(scene)) {
      for (int i = 0; i < slot.people; ++i) {
        std::vector<gp::PersonId> who;
        for (const gp::PersonId id : slot.candidates) {
          const bool theirs = slot.kind != gp::Slot::Kind::part || part_[slot.role] == id;
          if (came_[id.index()] != 0 && theirs && free_.on(scene, day, id)) who.push_back(id);
        }
        seats.push_back(who);
      }
    }
    return seat(seats, 0, used);
  }
  static bool seat(const std::vector<std::vector<gp::PersonId>>& seats,
                   std::size_t at,
                   std::vector<char>& used) {
    if (at == seats.size()) return true;
    for (const gp::PersonId id : seats[at]) {
      if (used[id.index()] != 0) continue;
      used[id.index()] = 1;
      const bool works = seat(seats, at + 1, used);
      used[id.index()] = 0;
      if (works) return true;
    }
    return false;
  }
  const gp::Production& film_;
  gp::Slots slots_;
  gp::FreeFor free_;
  const std::vector<char>& came_;
  gp::Table<gp::RoleId, gp::PersonId> part_;
};

/// The definition: the chances of all sets of people for which every scene can be filled.
double by_all_sets(const gp::Production& film) {
  double sum = 0;
  const std::size_t people = film.people.size();
  for (std::size_t set = 0; set < (std::size_t{1} << people); ++set) {
    std::vector<char> came(people, 0);
    double chance = 1;
    for (std::size_t i = 0; i < people; ++i) {
      came[i] = ((set >> i) & 1U) != 0 ? 1 : 0;
      const double comes = gp::chance_of_coming(film.people[gp::PersonId(i)]);
      chance *= came[i] != 0 ? comes : 1 - comes;
    }
    if (chance > 0 && EveryChoice(film, came).all_filled()) sum += chance;
  }
  return sum;
}

/// A small production by chance: parts, crowds, crew, skills, two days, refusals; no families.
gp::Production any_production(gp::Random& random) {
  const int people = random.between(3, 7);
  std::string text = R"({"greasepaint": 1, "title": "t",
    "days": [{"date": "2027-04-17"}, {"date": "2027-04-18"}], "people": [)";
  for (int i = 0; i < people; ++i) {
    static const char* const kAnswers[] = {"yes", "maybe", "asked", "no"};
    text += (i == 0 ? "" : ", ") + std::string(R"({"id": "p)") + std::to_string(i) +
            R"(", "answer": ")" + kAnswers[random.below(i == 0 ? 3 : 4)] + "\"";
    if (random.chance(1, 3))
      text += R"(, "free": ["2027-04-17"])";
    else if (random.chance(1, 3))
      text += R"(, "free": ["2027-04-18 09:00-12:00"])";
    // the reader refuses a part that nobody may play: the first may play all of them
    if (i == 0 || random.chance(1, 2)) text += R"(, "can": ["dance"])";
    if (random.chance(1, 4)) text += R"(, "no": ["water"])";
    if (random.chance(1, 3)) text += R"(, "turnout": 0.)" + std::to_string(random.between(1, 9));
    text += "}";
  }
  text += R"(], "roles": [{"id": "queen"}, {"id": "king", "needs": ["dance"]},
    {"id": "guard", "crowd": true}, {"id": "sailor", "crowd": true, "tags": ["water"]}],
    "scenes": [)";
  const int scenes = random.between(1, 3);
  for (int i = 0; i < scenes; ++i) {
    text += (i == 0 ? "" : ", ") + std::string(R"({"id": "s)") + std::to_string(i) +
            R"(", "shoot_minutes": 20, "cast": [)";
    std::string cast;
    const auto add = [&](const std::string& entry) { cast += (cast.empty() ? "" : ", ") + entry; };
    if (random.chance(1, 2)) add(R"({"role": "queen"})");
    if (random.chance(1, 2)) add(R"({"role": "king"})");
    if (random.chance(1, 2)) add(R"({"role": "guard", "people": 2})");
    if (random.chance(1, 3)) add(R"({"role": "sailor"})");
    text += cast + "]";
    if (random.chance(1, 2)) text += R"(, "crew": [{"job": "lamp", "needs": ["dance"]}])";
    if (random.chance(1, 3)) text += R"(, "day": "2027-04-18")";
    if (random.chance(1, 4)) text += R"(, "between": "13:00-15:00")";
    text += "}";
  }
  return gp::test::production_of(text + "]}");
}

}  // namespace

TEST_SUITE("casting/asking") {
  // tests/data/turnout/SOURCE.md: exact fractions and PARI/GP, the first table Boost.Math besides
  TEST_CASE("asking others agrees with exact arithmetic where nobody is in the file yet") {
    for (const auto& row : table("turnout/equal.csv")) {
      const int wanted = std::stoi(row[0]);
      const double each = std::stod(row[1]);
      const double sure = std::stod(row[2]);
      CAPTURE(row[0]);
      CAPTURE(row[1]);
      CHECK(gp::how_many_to_ask(wanted, each, sure) == std::stoi(row[3]));
      // one person who never comes, so that there is a crowd to count
      const gp::Production film = crowd_of("0", wanted);
      const gp::Asking asking = gp::how_to_ask(film, {sure}, each);
      REQUIRE(asking.rows.size() == 1);
      CHECK(asking.rows[0].asked[0].others_only == std::stoi(row[3]));
      REQUIRE(asking.whole.size() == 1);
      CHECK(asking.whole[0].others[0] == std::stoi(row[3]));
    }
  }

  TEST_CASE(
      "a crowd of different chances agrees with exact arithmetic, and so does its whole day") {
    for (const auto& row : table("turnout/unequal.csv")) {
      CAPTURE(row[0]);
      const gp::Production film = crowd_of(row[0], std::stoi(row[1]));
      const gp::Asking asking = gp::how_to_ask(film, {0.9}, 0.3);
      const double right = std::stod(row[2]);
      REQUIRE(asking.rows.size() == 1);
      CHECK(std::abs(asking.rows[0].chance - right) < kExact);
      const gp::Likelihood& day = asking.whole.at(0).chance;
      if (day.exact) {
        CHECK(std::abs(day.chance - right) < kExact);
      } else {
        CHECK(std::abs(day.chance - right) < 4 * day.error);
      }
    }
  }

  TEST_CASE("nobody is counted twice for the day: one of two who could do both") {
    // ana and bo both could play the queen and hold the lamp; each row alone needs one of them:
    // 1 - 0.1^2 = 0.99; both rows at once need both: 0.9^2 = 0.81
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "t",
      "days": [{"date": "2027-04-17"}], "people": [{"id": "ana"}, {"id": "bo"}],
      "roles": [{"id": "queen"}],
      "scenes": [{"id": "hall", "shoot_minutes": 5, "cast": [{"role": "queen"}],
                  "crew": [{"job": "lamp"}]}]})");
    const gp::Asking asking = gp::how_to_ask(film, {0.9}, 0.5);
    CHECK(std::abs(row_of(film, asking, "queen").chance - 0.99) < kExact);
    CHECK(std::abs(row_of(film, asking, "lamp").chance - 0.99) < kExact);
    CHECK(asking.whole[0].chance.exact);
    CHECK(std::abs(asking.whole[0].chance.chance - 0.81) < kExact);
    // others hold the lamp: with n of them at 0.5 it is 0.81 + 0.18 (1 - 0.5^n); 0.9 at n = 1
    CHECK(asking.whole[0].others[0] == 1);
  }

  TEST_CASE("a part has one person in all its scenes, though each scene alone could be filled") {
    // the queen must be in both scenes; ana is free in the morning, bo in the afternoon
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "t",
      "days": [{"date": "2027-04-17"}],
      "people": [{"id": "ana", "free": ["2027-04-17 09:00-12:00"]},
                 {"id": "bo", "free": ["2027-04-17 13:00-18:00"]}],
      "roles": [{"id": "queen"}],
      "scenes": [{"id": "dawn", "shoot_minutes": 5, "between": "10:00-11:00", "cast": [{"role": "queen"}]},
                 {"id": "dusk", "shoot_minutes": 5, "between": "16:00-17:00", "cast": [{"role": "queen"}]}]})");
    const gp::Asking asking = gp::how_to_ask(film, {0.9}, 0.3);
    CHECK(asking.whole[0].chance.chance == 0.0);
    CHECK(row_of(film, asking, "queen").people.empty());
    CHECK(row_of(film, asking, "queen").chance == 0.0);
  }

  TEST_CASE("whom first: who has not said yes, the likelier ones first; then others") {
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "t",
      "days": [{"date": "2027-04-17"}],
      "people": [{"id": "ana"}, {"id": "bo", "answer": "asked"}, {"id": "wen", "answer": "maybe"},
                 {"id": "sol", "answer": "maybe", "turnout": 0.2}, {"id": "li", "answer": "no"}],
      "roles": [{"id": "guard", "crowd": true}, {"id": "queen", "person": "ana"}],
      "scenes": [{"id": "march", "shoot_minutes": 5, "cast": [{"role": "guard", "people": 2}]},
                 {"id": "ball", "shoot_minutes": 5, "cast": [{"role": "queen"}]}]})");
    const gp::Asking asking = gp::how_to_ask(film, {0.9, 0.95, 0.99}, 0.5);
    const NeedRow& guard = row_of(film, asking, "guard");
    CHECK(names(film, guard.people) == std::vector<std::string>{"ana", "bo", "wen", "sol"});
    CHECK(names(film, guard.ask_first) == std::vector<std::string>{"wen", "bo"});
    CHECK(guard.expected == doctest::Approx(0.9 + 0.3 + 0.5 + 0.2));
    // with yes from both: .9 .9 .9 .2: none or one of four comes: 0.001*0.8 + 3*0.9*0.01*0.8 +
    // 0.001*0.2 = 0.0226; sure 0.9774 > 0.95. With wen's alone: .9 .3 .9 .2: none 0.1*0.7*0.1*0.8 =
    // 0.0056; one: 2*0.9*0.1*0.7*0.8 + 0.01*0.3*0.8 + 0.01*0.7*0.2 = 0.1008+0.0024+0.0014: 0.8898
    REQUIRE(guard.asked.size() == 3);
    CHECK(guard.asked[0].yeses == 2);
    CHECK(guard.asked[0].more == 0);
    CHECK(guard.asked[1].yeses == 2);
    CHECK(guard.asked[1].more == 0);
    // one more at 0.5: fails if none, or one and the other stays away: 0.0008*... =
    // none of four 0.0008 -> needs 2 of them; one of four 0.0218. With 1: 0.0008 + 0.0218*0.5 =
    // 0.0117; with 2: 0.0008*0.75 + 0.0218*0.25 = 0.00605: 0.99395
    CHECK(guard.asked[2].yeses == 2);
    CHECK(guard.asked[2].more == 2);
    const NeedRow& queen = row_of(film, asking, "queen");
    CHECK(queen.others == NeedRow::Others::named);
    CHECK_FALSE(queen.asked[1].more.has_value());
    CHECK(queen.asked[0].more == 0);  // 0.9 is 0.9
    // the day hangs on ana: no number of others makes it 95 % sure
    CHECK_FALSE(asking.whole[0].others[1].has_value());
    REQUIRE_FALSE(asking.whole[0].best_yes.empty());
    CHECK(film.people[asking.whole[0].best_yes[0].person].id == "bo");
  }

  TEST_CASE("a firm yes raises the chance by as much as is said") {
    const std::string before = R"({"greasepaint": 1, "title": "t",
      "days": [{"date": "2027-04-17"}],
      "people": [{"id": "ana", "answer": "maybe"}, {"id": "bo", "answer": "asked"}, {"id": "cleo"}],
      "roles": [{"id": "guard", "crowd": true}],
      "scenes": [{"id": "march", "shoot_minutes": 5, "cast": [{"role": "guard", "people": 2}]}]})";
    const gp::Production film = gp::test::production_of(before);
    const gp::Asking asking = gp::how_to_ask(film, {0.9}, 0.3);
    REQUIRE(asking.whole[0].best_yes.size() == 2);
    for (const gp::Yes& yes : asking.whole[0].best_yes) {
      gp::Production after = film;
      after.people[yes.person].answer = gp::Answer::yes;
      CHECK(std::abs(gp::how_to_ask(after, {0.9}, 0.3).whole[0].chance.chance -
                     asking.whole[0].chance.chance - yes.raises) < kExact);
    }
  }

  TEST_CASE(
      "[brute force] the whole production agrees with trying every set of people and every "
      "choice") {
    gp::Random random(gp::test::seed());
    int in_between = 0;
    for (int round = 0; round < 120; ++round) {
      CAPTURE(round);
      const gp::Production film = any_production(random);
      const gp::WholeChance whole = gp::how_to_ask(film, {0.9}, 0.3).whole.back();
      const double right = by_all_sets(film);
      CHECK(whole.chance.exact);
      CHECK(whole.cut_short == 0.0);
      CHECK(std::abs(whole.chance.chance - right) < 1e-9);
      if (right > 0.001 && right < 0.999) ++in_between;
    }
    CHECK(in_between > 20);  // else this says little
  }

  TEST_CASE(
      "random days agree with the exact chance within four standard errors, the same each time") {
    // 20 people at 0.9, 17 wanted; the row counts them exactly
    std::string chances;
    for (int i = 0; i < 20; ++i) chances += "0.9 ";
    const gp::Production film = crowd_of(chances, 17);
    const gp::Asking one = gp::how_to_ask(film, {0.9}, 0.3, gp::test::seed());
    CHECK_FALSE(one.whole[0].chance.exact);
    CHECK(one.whole[0].chance.error > 0);
    CHECK(std::abs(one.whole[0].chance.chance - one.rows[0].chance) <
          4 * one.whole[0].chance.error);
    CHECK(gp::how_to_ask(film, {0.9}, 0.3, gp::test::seed()).whole[0].chance ==
          one.whole[0].chance);
  }

  TEST_CASE("more people asked are never worse, and one fewer than said is too few") {
    gp::Random random(gp::test::seed() + 1);
    for (int round = 0; round < 60; ++round) {
      CAPTURE(round);
      const int wanted = random.between(1, 6);
      std::vector<gp::Party> who;
      std::string chances;
      for (int i = random.between(1, 7); i > 0; --i) {
        const int tenths = random.between(1, 9);
        chances += "0." + std::to_string(tenths) + " ";
        who.push_back({1, tenths / 10.0});
      }
      const gp::Asking asking = gp::how_to_ask(crowd_of(chances, wanted), {0.9}, 0.4);
      const auto others = asking.rows[0].asked[0].others_only;
      REQUIRE(others.has_value());
      if (*others > 0) {
        who.resize(who.size() + static_cast<std::size_t>(*others - 1), gp::Party{1, 0.4});
        CHECK(gp::chance_of_enough(who, wanted) < 0.9);
      }
      who.push_back({1, *others > 0 ? 0.4 : 0.0});
      CHECK(gp::chance_of_enough(who, wanted) >= 0.9);
      CHECK(asking.whole[0].others[0] == others);
    }
  }

  TEST_CASE("without a painter nothing that needs paint is filled") {
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "t",
      "days": [{"date": "2027-04-17"}],
      "people": [{"id": "ana", "turnout": 0.5, "can": ["paint"]}, {"id": "bo", "turnout": 1}],
      "roles": [{"id": "ghost", "person": "bo", "look": "chalk"}],
      "looks": [{"id": "chalk", "steps": [{"at": "mirror", "minutes": 9, "by": "paint"}]}],
      "stations": [{"id": "mirror", "staff": ["ana"]}],
      "scenes": [{"id": "attic", "shoot_minutes": 5, "cast": [{"role": "ghost"}]}]})");
    const gp::Asking asking = gp::how_to_ask(film, {0.9}, 0.3);
    CHECK(row_of(film, asking, "ghost").chance == 1.0);
    CHECK(row_of(film, asking, "paint").chance == 0.5);
    CHECK(asking.whole[0].chance.chance == 0.5);
  }
}
