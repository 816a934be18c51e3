#include "intake/lists.h"
#include "intake/people_merge.h"
#include "intake/values.h"
#include "model/read_production.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <doctest/doctest.h>

using namespace gp;

namespace {

/// A fool, a king, lamps and sound; Noor is there.
Production theatre(const std::string& noor_likes = "[]") {
  return test::production_of(R"({"greasepaint": 1, "title": "Kettle",
    "days": [{"date": "2027-04-17"}],
    "people": [{"id": "noor", "name": "Noor Haddad", "likes": )" +
                             noor_likes + R"(}, {"id": "king-bo", "name": "The King"}],
    "roles": [{"id": "fool", "name": "The Fool"}, {"id": "king", "name": "The King"},
              {"id": "left", "name": "Guard"}, {"id": "right", "name": "Guard"}],
    "units": [{"id": "main", "crew": [{"job": "Lamps, high", "people": 1}]}],
    "scenes": [{"id": "hall", "crew": [{"job": "=sound", "people": 1}]}]})");
}

PeopleMerge merged(const Production& production, const std::string& csv, MergeWishes wishes = {}) {
  const PeopleList list = read_people_list(csv, "people.csv", {});
  REQUIRE(list.faults.empty());
  return merge_people(production, list.people.people, wishes);
}

const Person& last(const PeopleMerge& merge) {
  return merge.production.people[PersonId(merge.production.people.size() - 1)];
}

MergeWishes all(IfThere same) {
  MergeWishes wishes;
  wishes.same = same;
  return wishes;
}

}  // namespace

TEST_SUITE("intake/likes") {
  TEST_CASE("the column is known by its header, and two of them count together") {
    for (const std::string header :
         {"likes", "Would like", "WISHES", "Friends", "would like to do"}) {
      CAPTURE(header);
      const PeopleMerge found = merged(theatre(), "Name," + header + "\nBo,fool\n");
      CHECK(last(found).likes == Tags{"fool"});
    }
    const PeopleMerge both = merged(theatre(), "Name,Likes,Friends\nBo,fool,somebody else\n");
    REQUIRE(both.left_out.size() == 1);
    CHECK(both.left_out[0].text == "somebody else");
    CHECK(last(both).likes == Tags{"fool"});
    CHECK(last(merged(theatre(), "Name,Likes,Friends\nBo,fool,noor\n")).likes ==
          Tags{"fool", "noor"});
  }

  TEST_CASE("parts, jobs and friends by id or name, also those who come in below") {
    const PeopleMerge found = merged(theatre(),
                                     "Name,Likes\n"
                                     "Bo,the FOOL; lamps high;=sound; Ada Lee;fool\n"
                                     "Ada Lee,\"Haddad, Noor; king, fool\"\n");
    CHECK(found.left_out.empty());
    const auto& people = found.production.people;
    REQUIRE(people.size() == 4);
    CHECK(people[PersonId(2)].likes == Tags{"fool", "Lamps, high", "=sound", "ada-lee"});
    CHECK(people[PersonId(3)].likes == Tags{"noor", "king", "fool"});
  }

  TEST_CASE("what names nothing, or two things, is told with its line and the rest is taken") {
    const PeopleMerge found = merged(theatre(),
                                     "Name,Likes\n"
                                     "Ada,\n"
                                     "Bo,\"dragon; fool; The King, Bo; Guard\"\n");
    CHECK(last(found).likes == Tags{"fool"});
    std::vector<std::pair<std::string, std::string>> told;
    for (const LeftOut& one : found.left_out) {
      CHECK(one.line == 3);
      CHECK(one.who == "Bo");
      CHECK(one.field == "likes");
      told.emplace_back(one.text, one.why);
    }
    CHECK(told ==
          std::vector<std::pair<std::string, std::string>>{
              {"dragon", "no part, no job and nobody, or not one person alone, is called so"},
              {"The King", "it could be king, king-bo"},
              {"Bo", "they themselves are called so"},
              {"Guard", "it could be left, right"}});
  }

  TEST_CASE("of somebody who is there: fill adds, replace replaces, hold tells") {
    const std::string csv = "id,name,likes\nnoor,Noor Haddad,king; dragon\n";
    const Production there = theatre(R"(["fool"])");
    const PersonId noor(0);

    const PeopleMerge held = merged(there, csv);
    CHECK(held.production == there);
    REQUIRE(held.pairs.size() == 1);
    REQUIRE(held.pairs[0].fields.size() == 1);
    CHECK(held.pairs[0].fields[0].there == "fool");
    CHECK(held.pairs[0].fields[0].comes == "king; dragon");
    CHECK(held.left_out.back().text == "king; dragon");

    const PeopleMerge filled = merged(there, csv, all(IfThere::fill));
    CHECK(filled.production.people[noor].likes == Tags{"fool", "king"});
    CHECK(filled.changed == std::vector<PersonId>{noor});
    REQUIRE(filled.left_out.size() == 1);
    CHECK(filled.left_out[0].text == "dragon");

    const PeopleMerge replaced = merged(there, csv, all(IfThere::replace));
    CHECK(replaced.production.people[noor].likes == Tags{"king"});
    // words that name nothing replace nothing
    const PeopleMerge kept =
        merged(there, "id,name,likes\nnoor,Noor Haddad,dragon\n", all(IfThere::replace));
    CHECK(kept.production == there);
    CHECK(kept.left_out.size() == 1);
    // who is there with all of it needs no decision
    CHECK(merged(there, "id,name,likes\nnoor,Noor Haddad,The Fool\n").there_already == 1);
  }

  TEST_CASE("what is exported reads back the same, and no cell begins a formula") {
    for (std::uint64_t i = 0; i < 20; ++i) {
      const std::uint64_t seed = test::seed() + i;
      CAPTURE(seed);
      auto made = read_production(test::random_production(seed, test::ProductionSize::medium()));
      REQUIRE(std::holds_alternative<Production>(made));
      Production& production = std::get<Production>(made);
      for (const PersonId id : production.people.ids()) {  // each likes every third thing there is
        std::size_t count = id.index();
        for (const std::string& one : production.likeable()) {
          Person& person = production.people[id];
          if (one != person.id && ++count % 3 == 0) person.likes.push_back(one);
        }
      }
      const PeopleList list = read_people_list(people_csv(production), "people.csv", {});
      Production empty = production;
      empty.people = {};
      const PeopleMerge back = merge_people(empty, list.people.people, all(IfThere::add));
      CHECK(back.left_out.empty());
      CHECK(back.production.people == production.people);
      CHECK(merge_people(production, list.people.people, {}).production == production);
    }
    const Production hard = theatre(R"(["=sound", "Lamps, high", "king-bo"])");
    const std::string csv = people_csv(hard);
    for (const CsvRow& row : read_csv(csv).rows) {
      for (const std::string& cell : row.cells) {
        CHECK((cell.empty() || std::string("=+-@\t\r").find(cell[0]) == std::string::npos));
      }
    }
    Production empty = hard;
    empty.people = {};
    CHECK(merged(empty, csv).production.people == hard.people);
  }

  TEST_CASE("a list is parted by semicolons first, and a marked comma is one of the word") {
    const auto parts = list_parts("Haddad, Noor; a\\; b\\, c;;\n d \\\\");
    REQUIRE(parts.size() == 3);
    CHECK(parts[0].whole == "Haddad, Noor");
    CHECK(parts[0].words == std::vector<std::string>{"Haddad", "Noor"});
    CHECK(parts[1].whole == "a; b, c");
    CHECK(parts[1].words == std::vector<std::string>{"a; b, c"});
    CHECK(parts[2].whole == "d \\");
  }
}
