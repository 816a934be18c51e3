#include "intake/lists.h"
#include "model/read_production.h"

#include <string>
#include <variant>

#include <doctest/doctest.h>

using namespace gp;

namespace {

Production kettle() {
  const auto read = read_production(R"({"greasepaint": 1, "title": "Kettle",
    "days": [{"date": "2027-04-17"}],
    "places": [{"id": "beach", "name": "The long beach"}],
    "people": [{"id": "noor", "name": "Noor Haddad"}],
    "roles": [{"id": "queen", "name": "The Queen"}, {"id": "guard", "crowd": true}],
    "scenes": [{"id": "tea", "name": "Tea at dawn", "shoot_minutes": 10}]})");
  REQUIRE(std::holds_alternative<Production>(read));
  return std::get<Production>(read);
}

ShotsMerge merge(const std::string& text, const std::string& name = "shots.txt") {
  const ShotsList list = read_shots_list(text, name, {});
  REQUIRE(list.faults.empty());
  const ShotsMerge merged = merge_shots(kettle(), list.read.shots, false);
  // whatever is made of a list is a right production
  const auto again = read_production(write_production(merged.production));
  REQUIRE(std::holds_alternative<Production>(again));
  CHECK(std::get<Production>(again) == merged.production);
  return merged;
}

}  // namespace

TEST_SUITE("intake/shots") {
  TEST_CASE("a line of a text is a scene with place, people and minutes where given") {
    const ShotsMerge merged = merge(
        "# Saturday\n"
        "12a. The march to the sea @ beach, with Queen, 8 guards and Noor Haddad, 30 min\n"
        "\n"
        "- The empty shore\n"
        "Tea with milk (45')\n");
    REQUIRE(merged.added.size() == 3);
    const Production& production = merged.production;
    const Scene& march = production.scenes[merged.added[0]];
    CHECK(march.id == "12a");
    CHECK(march.name == "The march to the sea");
    CHECK(production.places[march.place].id == "beach");
    CHECK(march.shoot_minutes == Minutes{30});
    REQUIRE(march.cast.size() == 3);
    CHECK(production.roles[march.cast[0].role].id == "queen");
    CHECK(production.roles[march.cast[1].role].id == "guard");
    CHECK(march.cast[1].people == 8);
    // a person who plays nobody yet: as themselves
    CHECK(production.roles[march.cast[2].role].person == PersonId(0));
    CHECK(production.scenes[merged.added[1]].name == "The empty shore");
    CHECK(production.scenes[merged.added[1]].shoot_minutes == Minutes{0});
    CHECK(merged.without_minutes == 1);
    const Scene& tea = production.scenes[merged.added[2]];
    CHECK(tea.shoot_minutes == Minutes{45});
    CHECK(tea.name == "Tea with milk");  // no comma before "with": part of the name
    CHECK(tea.cast.empty());
    CHECK(merged.new_roles.size() == 1);
    CHECK(merged.new_places.empty());
  }

  TEST_CASE("a table of shots may have its columns in any order; the rest goes into the notes") {
    const ShotsMerge merged = merge(
        "Minutes;Who;Shot;Where;Lens\n"
        "1 h 30;The queen, guards (6);The oath;The long beach;35 mm\n"
        "soon;;The chase;Old mill;\n",
        "shots.csv");
    REQUIRE(merged.added.size() == 2);
    const Production& production = merged.production;
    const Scene& oath = production.scenes[merged.added[0]];
    CHECK(oath.shoot_minutes == Minutes{90});
    CHECK(production.places[oath.place].id == "beach");
    REQUIRE(oath.cast.size() == 2);
    CHECK(oath.cast[1].people == 6);
    CHECK(oath.notes == "Lens: 35 mm");
    const Scene& chase = production.scenes[merged.added[1]];
    CHECK(chase.notes == "Minutes: soon");
    REQUIRE(merged.new_places.size() == 1);
    CHECK(production.places[merged.new_places[0]].id == "old-mill");
    CHECK(production.places[merged.new_places[0]].name == "Old mill");
  }

  TEST_CASE("a scene that is there by number or name is told and not added") {
    const ShotsMerge merged = merge("TEA AT DAWN, 5 min\nAnother one, 5 min\nanother one\n");
    CHECK(merged.added.size() == 1);
    REQUIRE(merged.held.size() == 2);
    CHECK(merged.held[0].line == 1);
    CHECK(merged.held[1].line == 3);
  }

  TEST_CASE("people are read with their numbers, before or behind") {
    const std::vector<ShotCast> cast =
        cast_of("Queen, 8 guards; 3x pages & monks x4 and nuns (2), 12");
    REQUIRE(cast.size() == 6);
    CHECK(cast[0].name == "Queen");
    CHECK_FALSE(cast[0].counted);
    CHECK(cast[1].name == "guards");
    CHECK(cast[1].people == 8);
    CHECK(cast[2].name == "pages");
    CHECK(cast[2].people == 3);
    CHECK(cast[3].name == "monks");
    CHECK(cast[3].people == 4);
    CHECK(cast[4].name == "nuns");
    CHECK(cast[4].people == 2);
    CHECK(cast[5].name.empty());
    CHECK(cast[5].people == 12);
  }

  TEST_CASE("what a scene cannot hold goes into its notes and is told") {
    const ShotsMerge merged =
        merge("name,people,light,day,minutes\nThe oath,3 queen,dusk,2027-05-01,10\n", "shots.csv");
    REQUIRE(merged.added.size() == 1);
    const Scene& oath = merged.production.scenes[merged.added[0]];
    // the queen is a part, there is no place on the map, and no such day
    CHECK(oath.notes == "People: 3 queen\nLight: dusk\nDay: 2027-05-01");
    CHECK(merged.remarks.size() == 3);
  }
}
