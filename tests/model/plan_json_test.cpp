#include "model/plan_json.h"

#include "model/price.h"
#include "support/builder.h"

#include <fstream>
#include <sstream>
#include <string>
#include <variant>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using gp::Fault;
using gp::Minutes;
using gp::read_plan;
using gp::write_plan;
using gp::test::data_text;
using gp::test::kettle;
using gp::test::lamp;
using gp::test::Planned;

namespace {

std::vector<Fault> faults(const std::string& text, const gp::Production& production) {
  const auto read = read_plan(text, production);
  const auto* found = std::get_if<std::vector<Fault>>(&read);
  return found == nullptr ? std::vector<Fault>{} : *found;
}

/// The lamp's plan with one piece of its text replaced by another.
std::string lamp_with(const std::string& piece, const std::string& by) {
  std::string text = data_text("plans/lamp.plan.json");
  const std::size_t place = text.find(piece);
  REQUIRE(place != std::string::npos);
  return text.replace(place, piece.size(), by);
}

}  // namespace

TEST_SUITE("model/plan_json") {
  TEST_CASE("a plan written is the plan read, byte for byte") {
    const Planned it = lamp();
    // The file was laid out by hand as docs/plan-format.md says.
    CHECK(write_plan(it.production, it.plan) == data_text("plans/lamp.plan.json"));
    CHECK(gp::test::plan_of(write_plan(it.production, it.plan), it.production) == it.plan);
  }

  TEST_CASE("the example in the documentation can be read") {
    std::ifstream file(GP_SOURCE_DIR "/docs/plan-format.md");
    std::ostringstream whole;
    whole << file.rdbuf();
    const std::string text = whole.str();
    const std::size_t begin = text.find("```json\n");
    const std::size_t end = text.find("```\n", begin + 1);
    REQUIRE(begin != std::string::npos);
    REQUIRE(end != std::string::npos);
    const std::string example = text.substr(begin + 8, end - begin - 8);
    const Planned it = lamp();
    REQUIRE(faults(example, it.production).empty());
    // and it is laid out as it would be written
    CHECK(write_plan(it.production, gp::test::plan_of(example, it.production)) == example);
  }

  TEST_CASE("the example of the format says the same after reading and writing") {
    // A general-purpose library (nlohmann/json) compares the two files by meaning.
    const Planned it = kettle();
    const auto before = nlohmann::json::parse(data_text("plans/kettle.plan.json"));
    const auto after = nlohmann::json::parse(write_plan(it.production, it.plan));
    CHECK(before == after);
  }

  TEST_CASE("times on the nights when the clocks change are what the wall shows") {
    // Europe/London (zone database): 2027-03-28 01:00 becomes 02:00, so 240 minutes after midnight
    // is 05:00; 2027-10-31 02:00 becomes 01:00, so 240 minutes after midnight is 03:00.
    const std::string text = R"({"greasepaint": 1, "title": "Nights", "zone": "Europe/London",
      "days": [{"date": "2027-03-27"}, {"date": "2027-03-28"}, {"date": "2027-10-31"}],
      "people": [{"id": "ana"}], "roles": [{"id": "owl", "person": "ana"}],
      "scenes": [{"id": "hoot", "shoot_minutes": 30, "cast": [{"role": "owl"}]}]})";
    const gp::Production production = gp::test::production_of(text);
    gp::Plan plan;
    const auto add = [&](std::size_t day, int from) {
      gp::DayPlan row;
      row.day = gp::DayId(day);
      row.first_shot = gp::minute(from);
      row.wrap = gp::minute(from + 30);
      gp::PlannedScene hoot;
      hoot.scene = gp::SceneId(0);
      hoot.unit = gp::UnitId(0);
      hoot.set_at = hoot.shoot_at = gp::minute(from);
      hoot.until = gp::minute(from + 30);
      row.scenes.push_back(hoot);
      plan.days.push_back(row);
    };
    add(0, 26 * 60);  // the night after the 27th: 26 hours after midnight the clock shows 27:00
    add(1, 240);
    add(2, 240);
    const std::string written = write_plan(production, plan);
    const auto json = nlohmann::json::parse(written);
    CHECK(json["days"][0]["first_shot"] == "27:00");
    CHECK(json["days"][1]["first_shot"] == "05:00");
    CHECK(json["days"][2]["first_shot"] == "03:00");
    CHECK(gp::test::plan_of(written, production).days == plan.days);
    // and the second pass of the doubled hour cannot be written at all
    plan.days[2].wrap = gp::minute(150);
    CHECK_THROWS(write_plan(production, plan));
  }

  TEST_CASE("what the file leaves out: sums are counted, a unit is the scene's own") {
    const Planned it = lamp();
    auto json = nlohmann::ordered_json::parse(data_text("plans/lamp.plan.json"));
    json.erase("totals");
    json.erase("notes");
    for (auto& scene : json["days"][0]["scenes"]) scene.erase("unit");
    const gp::Plan plan = gp::test::plan_of(json.dump(), it.production);
    CHECK(plan.totals.on_site == 523);
    CHECK(plan.totals.weighted_on_site == 672'000);
    CHECK(plan.totals.waiting == 122);
    CHECK_FALSE(plan.totals.bound.has_value());
    CHECK(plan.days == it.plan.days);
    CHECK(gp::check(it.production, plan).empty());
  }

  TEST_CASE("every fault is told, with its place, its path and the nearest name") {
    const Planned it = lamp();
    struct Slip {
      const char* piece;
      const char* by;
      Fault expected;
    };
    const std::vector<Slip> slips = {
        {R"("scene": "wick", "unit")",
         R"("scene": "wikc", "unit")",
         {11, 19, "days[0].scenes[1].scene", "\"wikc\"", "a scene of the production", "wick"}},
        {R"("station": "sinks", "place": 1, "from": "10:36")",
         R"("station": "sink", "place": 1, "from": "10:36")",
         {26, 80, "days[0].steps[4].station", "\"sink\"", "a station of the production", "sinks"}},
        {R"("part": "off", "step": 0, "station": "sinks", "place": 1, "from": "10:36")",
         R"("part": "of", "step": 0, "station": "sinks", "place": 1, "from": "10:36")",
         {26, 51, "days[0].steps[4].part", "\"of\"", "on or off", "off"}},
        {R"("released": "09:54")",
         R"("released": "9:54")",
         {37,
          57,
          "days[0].people[0].released",
          "\"9:54\"",
          "a time, \"HH:MM\" from 00:00 to 99:59",
          ""}},
        {R"("missing": 1)",
         R"("missing": 1.5)",
         {48, 52, "unfilled[0].missing", "1.5", "a whole number, 0 to 5000", ""}},
        {R"("date": "2027-04-17")",
         R"("date": "2027-04-19")",
         {6, 15, "days[0].date", "\"2027-04-19\"", "a day of the production", "2027-04-17"}},
        {R"("greasepaint_plan": 1)",
         R"("greasepaint_plan": 2)",
         {2, 23, "greasepaint_plan", "2", "a whole number, 1 to 1", ""}},
    };
    for (const Slip& slip : slips) {
      CAPTURE(slip.by);
      const auto found = faults(lamp_with(slip.piece, slip.by), it.production);
      REQUIRE(found.size() == 1);
      CHECK(found[0].line == slip.expected.line);
      CHECK(found[0].column == slip.expected.column);
      CHECK(found[0].path == slip.expected.path);
      CHECK(found[0].found == slip.expected.found);
      CHECK(found[0].expected == slip.expected.expected);
      CHECK(found[0].nearest == slip.expected.nearest);
    }
  }

  TEST_CASE("unknown keys, what is missing, what has the wrong kind: all in one go") {
    const Planned it = lamp();
    auto json = nlohmann::ordered_json::parse(data_text("plans/lamp.plan.json"));
    json["wrap"] = "10:00";                             // belongs into a day
    json["days"][0]["scenes"][0]["shootat"] = "10:00";  // no such key
    json["days"][0]["scenes"][0].erase("shoot_at");     // and the right one is gone
    json["days"][0]["meals"] = "none";                  // not a list
    json["days"][0]["people"][0] = 7;                   // not an object
    json["unfilled"][0]["job"] = "light";               // a role and a job
    json["not_filmed"][0]["why"] = false;               // not a text
    json["totals"]["weighted_on_site"] = 672.0001;      // not in thousandths
    json["totals"]["proven"] = 1;                       // not a truth
    const auto found = faults(json.dump(1), it.production);
    std::vector<std::string> paths;
    for (const Fault& fault : found) paths.push_back(fault.path);
    const std::vector<std::string> expected = {"days[0].scenes[0]",
                                               "days[0].scenes[0].shootat",
                                               "days[0].meals",
                                               "days[0].people[0]",
                                               "unfilled[0]",
                                               "not_filmed[0].why",
                                               "totals.weighted_on_site",
                                               "totals.proven",
                                               "wrap"};
    CHECK(paths == expected);
    CHECK(found.at(1).nearest == "shoot_at");
  }

  TEST_CASE("text that is no plan at all") {
    const Planned it = lamp();
    for (const char* text : {"",
                             "[]",
                             "7",
                             "{",
                             "{}",
                             "\xff",
                             R"({"greasepaint_plan": 1})",
                             R"({"greasepaint_plan": 1, "days": [[]]})",
                             R"({"greasepaint_plan": 1, "days": [{}]})"}) {
      CAPTURE(text);
      CHECK_FALSE(faults(text, it.production).empty());
    }
    // nothing planned at all is a plan
    CHECK(faults(R"({"greasepaint_plan": 1, "days": []})", it.production).empty());
  }

  TEST_CASE("a day listed twice is told at the second") {
    const Planned it = lamp();
    const auto found = faults(
        R"({"greasepaint_plan": 1, "days": [{"date": "2027-04-18"}, {"date": "2027-04-18"}]})",
        it.production);
    REQUIRE(found.size() == 1);
    CHECK(found[0].path == "days[1].date");
  }
}
