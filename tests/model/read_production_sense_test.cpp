#include "model/read_production.h"
#include "support/changed_production.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

// Each kind of fault of sense: what takes more than one value of the file to see. One thing is
// changed in tests/data/productions/lighthouse.json, and the whole text is asserted.

namespace {

using gp::test::changed;
using gp::test::changed_again;
using gp::test::told;
using Told = std::vector<std::string>;

Told with(std::string_view pointer, std::string_view value) {
  return told(changed(pointer, value));
}

/// A production of one line: these keys besides the least there must be.
Told small(const std::string& keys) {
  return told(R"({"greasepaint": 1, "title": "x", "days": [{"date": "2027-04-17"}], )" + keys +
              "}");
}

/// A production in a zone, with a second day.
std::string in_zone(const std::string& zone,
                    const std::string& date,
                    const std::string& keys = "") {
  return R"({"greasepaint": 1, "title": "x", "zone": ")" + zone +
         R"(", "days": [{"date": "2027-04-17"}, {"date": ")" + date + "\"}]" + keys + "}";
}

}  // namespace

TEST_SUITE("model/read_production_sense") {
  TEST_CASE("a day ends after it begins") {
    const std::string end =
        " / an end after the beginning (past midnight the hours go on: \"26:00\")";
    CHECK(with("/days/0/wrap_by", "\"09:30\"") ==
          Told{"days[0].wrap_by: \"09:30\", when the day has not begun (09:30)" + end});
    CHECK(with("/days/0/wrap_by", "\"02:00\"") ==
          Told{"days[0].wrap_by: \"02:00\", when the day has not begun (09:30)" + end});
    CHECK(with("/days/1/nobody_before", "\"26:00\"") ==
          Told{"days[1].wrap_by: \"25:30\", when the day has not begun (26:00)" + end});
    CHECK(with("/days/0/wrap_by", "\"09:31\"") == Told{});
  }

  TEST_CASE("a meal fits between its times") {
    CHECK(
        with("/days/0/meals/0/between", "\"12:00-12:30\"") ==
        Told{
            "days[0].meals[0].minutes: a meal of 40 minutes in 30 (12:00-12:30) / a meal that fits "
            "between its times"});
    CHECK(with("/days/0/meals/0/between", "\"12:00-12:40\"") == Told{});
  }

  TEST_CASE("a date that the zone does not have is told, for days and for free times") {
    // IANA time zone database, Pacific/Apia: the line of 2011-12-30, when Samoa crossed the date
    // line
    const std::string apia = " / a date on the calendar of that zone";
    CHECK(told(in_zone("Pacific/Apia", "2011-12-30")) ==
          Told{"days[1].date: the date 2011-12-30, which Pacific/Apia does not have" + apia});
    CHECK(told(in_zone("Pacific/Apia", "2011-12-31")) == Told{});
    CHECK(told(in_zone("Pacific/Auckland", "2011-12-30")) == Told{});
    CHECK(told(in_zone("Pacific/Apia",
                       "2011-12-29",
                       R"(, "people": [{"id": "a", "free": ["2011-12-29", "2011-12-30"]}])")) ==
          Told{"people[0].free[1]: the date 2011-12-30, which Pacific/Apia does not have" + apia});
  }

  TEST_CASE("a window that the change of clocks turns round is told") {
    // Europe/Dublin, 2027-03-28: 01:00 becomes 02:00 (Directive 2000/84/EC: the last Sunday of
    // March, 01:00 UTC). 01:30 is read with the offset before the gap: 90 minutes after midnight;
    // 02:00 is 60 minutes after it.
    const std::string turned =
        ", which on 2027-03-28 ends before it begins (the clocks change) / a span with more in it "
        "than the hour that is skipped";
    const auto night = [](const std::string& keys) {
      return told(in_zone("Europe/Dublin", "2027-03-28", keys));
    };
    CHECK(night(R"(, "people": [{"id": "a", "free": ["2027-03-28 01:30-02:00"]}])") ==
          Told{"people[0].free[0]: \"01:30-02:00\"" + turned});
    CHECK(night(R"(, "people": [{"id": "a", "free": ["2027-03-28 01:30-02:31"]}])") == Told{});
    CHECK(night(R"(, "people": [{"id": "a", "free": ["2027-04-17 01:30-02:00"]}])") == Told{});
    CHECK(night(R"(, "stations": [{"id": "s", "open": "01:30-02:00"}])") ==
          Told{"stations[0].open: \"01:30-02:00\"" + turned});
    CHECK(night(R"(, "scenes": [{"id": "s", "between": "01:30-02:00"}])") ==
          Told{"scenes[0].between: \"01:30-02:00\"" + turned});
    CHECK(night(R"(, "scenes": [{"id": "s", "between": "01:30-02:00", "day": "2027-04-17"}])") ==
          Told{});
    // the night before, counted on: 25:30-26:00
    CHECK(told(in_zone("Europe/Dublin",
                       "2027-03-27",
                       R"(, "stations": [{"id": "s", "open": "25:30-26:00"}])")) ==
          Told{"stations[0].open: \"25:30-26:00\", which on 2027-03-27 ends before it begins (the "
               "clocks change) / a span with more in it than the hour that is skipped"});
    CHECK(
        told(
            R"({"greasepaint": 1, "title": "x", "zone": "Europe/Dublin", "days": [{"date": )"
            R"("2027-03-28", "meals": [{"name": "tea", "minutes": 5, "between": "01:30-02:00"}]}]})") ==
        Told{"days[0].meals[0].between: \"01:30-02:00\"" + turned});
  }

  TEST_CASE("people are not their own guardian, alone or round a circle") {
    CHECK(with("/people/3/guardian", "\"noor\"") ==
          Told{"people[3].guardian: \"noor\" as their own guardian / somebody else"});
    CHECK(
        with("/people/4/guardian", "\"noor\"") ==
        Told{"people[3].guardian: a circle of guardians: \"noor\" has \"sami\", who has \"noor\" / "
             "somebody else"});
    CHECK(with("/people/4/guardian", "\"ana\"") == Told{});  // a guardian may have one
  }

  TEST_CASE("nobody is born after the film") {
    CHECK(with("/people/3/born", "\"2027-04-19\"") ==
          Told{"people[3].born: a birthday after the last shooting day (2027-04-19) / an earlier "
               "date"});
    CHECK(with("/people/3/born", "\"2027-04-18\"") == Told{});
  }

  TEST_CASE("an item does not stand in for itself") {
    CHECK(with("/items/1/instead", "[\"beak\"]") ==
          Told{"items[1].instead[0]: \"beak\" instead of itself / another item"});
  }

  TEST_CASE("a step nobody of the station's staff can do is told") {
    CHECK(with("/looks/0/steps/1/by", "\"pain\"") ==
          Told{"looks[0].steps[1].by: a step nobody can do: none of the staff of \"paint\" has "
               "\"pain\" in \"can\" / a skill that one of them has ~ paint"});
    CHECK(with("/stations/1/staff", "[\"ana\"]") ==
          Told{"looks[0].steps[1].by: a step nobody can do: none of the staff of \"paint\" has "
               "\"paint\" in \"can\" / a skill that one of them has"});
    CHECK(with("/stations/1/staff", "[]").size() == 1);
    // in taking off, too
    CHECK(with("/looks/0/off/0/by", "\"wash\"") ==
          Told{"looks[0].off[0].by: a step nobody can do: none of the people has \"wash\" in "
               "\"can\" / "
               "a skill that one of them has"});
  }

  TEST_CASE("at a station without a staff list anybody who can will do") {
    const std::string text = changed("/stations/1/staff", "");
    CHECK(told(text) == Told{});
    CHECK(told(changed_again(text, "/looks/0/steps/1/by", "\"camera\"")) == Told{});
    CHECK(told(changed_again(text, "/looks/0/steps/1/by", "\"sing\"")) ==
          Told{"looks[0].steps[1].by: a step nobody can do: none of the people has \"sing\" in "
               "\"can\" / a skill that one of them has"});
  }

  TEST_CASE("somebody whose answer is no does nothing") {
    const std::string text = changed("/people/1/answer", "\"no\"");  // bo; li can paint too
    CHECK(told(changed_again(text, "/stations/1/staff", "[\"bo\"]")) ==
          Told{"looks[0].steps[1].by: a step nobody can do: none of the staff of \"paint\" has "
               "\"paint\" in \"can\" / a skill that one of them has"});
  }

  TEST_CASE(
      "nobody does their own: the only one who can must not be fixed to a part in that look") {
    CHECK(
        with("/stations/1/staff", "[\"bo\"]") ==
        Told{"roles[0].person: \"bo\", the only one who can do \"paint\" in looks[0].steps[1], in "
             "that very look / a second person who can, since nobody does their own"});
    CHECK(with("/stations/1/staff", "[\"li\"]") == Told{});
  }

  TEST_CASE("a part nobody may play is told with what it takes") {
    CHECK(with("/roles/2/needs", "[\"sing\", \"dance\"]") ==
          Told{"roles[2]: a part nobody may play / somebody with \"dance\", \"sing\" in \"can\", "
               "whose "
               "answer is not \"no\""});
    CHECK(
        with("/roles/2/from", "[\"zoë\"]") ==
        Told{"roles[2]: a part nobody may play / one of its \"from\", whose answer is not \"no\""});
    std::string text = changed("/roles/2/from", "[\"li\", \"noor\"]");
    text = changed_again(text, "/roles/2/needs", "[\"dance\"]");
    CHECK(
        told(changed_again(text, "/roles/2/tags", "[\"water\"]")) ==
        Told{"roles[2]: a part nobody may play / one of its \"from\" with \"dance\" in \"can\" and "
             "none of \"water\" in \"no\", whose answer is not \"no\""});
    CHECK(told(changed_again(text, "/roles/2/tags", "[\"fire\"]")) == Told{});
  }

  TEST_CASE("the look's tags count for a part") {
    // li and noor are all there is: li may not be painted here, noor neither
    std::string text = changed("/roles/2/from", "[\"noor\"]");
    text = changed_again(text, "/roles/2/look", "\"keeper\"");
    CHECK(
        told(text) ==
        Told{
            "roles[2]: a part nobody may play / one of its \"from\" with none of \"face-paint\" in "
            "\"no\", whose answer is not \"no\""});
  }

  TEST_CASE("a crowd may come out short: that is no fault") {
    CHECK(with("/roles/1/from", "[\"zoë\"]") == Told{});
    CHECK(with("/roles/1/needs", "[\"fly\"]") == Told{});
  }

  TEST_CASE("a part fixed to somebody who has said no to it is the plan's to warn of") {
    CHECK(with("/roles/3/look", "\"keeper\"") == Told{});
    CHECK(with("/people/1/no", "[\"fog\"]") == Told{});
  }

  TEST_CASE("the calls of all scenes together are limited") {
    // 101 scenes with 200 jobs each, from their unit: 20 200 calls; scenes[100] passes the limit.
    std::string crew;
    for (int i = 0; i < 200; ++i)
      crew += std::string(i > 0 ? "," : "") + R"({"job": "j)" + std::to_string(i) + "\"}";
    std::string scenes;
    for (int i = 0; i < 101; ++i)
      scenes += std::string(i > 0 ? "," : "") + R"({"id": "s)" + std::to_string(i) + "\"}";
    const std::string text =
        R"({"greasepaint": 1, "title": "x", "days": [{"date": "2027-04-17"}], "units": [{"id": "u", "crew": [)" +
        crew + R"(]}], "scenes": [)" + scenes + "]}";
    const auto read = gp::read_production(text);
    REQUIRE(std::holds_alternative<std::vector<gp::Fault>>(read));
    const auto& faults = std::get<std::vector<gp::Fault>>(read);
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].path == "scenes[100]");
    CHECK(faults[0].found ==
          "more than 20000 entries of cast and crew in all scenes so far (a unit's crew counts in "
          "each of its scenes)");
    CHECK(faults[0].expected == "at most 20000");
  }

  TEST_CASE(
      "somebody fixed to a part who answers no is no fault: people fall out, and the plan says "
      "so") {
    CHECK(with("/people/3/answer", "\"no\"") == Told{});
  }

  TEST_CASE("before anybody is asked, parts and steps are not judged") {
    CHECK(small(R"("roles": [{"id": "a", "needs": ["sing"]}], "stations": [{"id": "s"}], )"
                R"("looks": [{"id": "l", "steps": [{"at": "s", "by": "paint"}]}])") == Told{});
  }

  TEST_CASE("a crowd is not fixed to a person") {
    CHECK(
        with("/roles/1/person", "\"bo\"") ==
        Told{
            "roles[1].person: a person fixed to a crowd / no \"person\" (whom a crowd may be taken "
            "from stands in \"from\") ~ from"});
  }

  TEST_CASE("a part is one person, and stands once in a scene") {
    CHECK(
        with("/scenes/0/cast/0/people", "2") ==
        Told{"scenes[0].cast[0].people: 2 people for a part / 1 (a part is one person; a role for "
             "many has \"crowd\": true)"});
    CHECK(with("/scenes/0/cast/0/people", "1") == Told{});
    CHECK(
        with("/scenes/0/cast/1/role", "\"keeper\"") ==
        Told{
            "scenes[0].cast[1].role: the role \"keeper\" a second time / each role once in a scene "
            "(how many of a crowd stands in \"people\")",
            "scenes[0].cast[1].people: 2 people for a part / 1 (a part is one person; a role for "
            "many has \"crowd\": true)"});
    CHECK(with("/scenes/0/cast/-", "{\"role\": \"gull\"}").size() == 1);
  }

  TEST_CASE("scenes come after each other in no circle, and the circle is named") {
    CHECK(with("/scenes/0/after", "[\"arrival\"]") ==
          Told{"scenes[0].after: \"arrival\" after itself / an order in which they can be filmed"});
    CHECK(with("/scenes/0/after", "[\"sneeze\"]") ==
          Told{"scenes[0].after: a circle: \"arrival\" after \"sneeze\" after \"arrival\" / an "
               "order in "
               "which they can be filmed"});
    // two circles, and the shorter way round one of them: a b c, with c also straight after a
    CHECK(small(R"("scenes": [{"id": "z"}, {"id": "a", "after": ["z", "b", "c"]}, )"
                R"({"id": "b", "after": ["c"]}, {"id": "c", "after": ["a"]}, )"
                R"({"id": "d", "after": ["e", "a"]}, {"id": "e", "after": ["d"]}])") ==
          Told{"scenes[1].after: a circle: \"a\" after \"c\" after \"a\" / an order in which they "
               "can be "
               "filmed",
               "scenes[4].after: a circle: \"d\" after \"e\" after \"d\" / an order in which they "
               "can be "
               "filmed"});
    std::string ring = R"("scenes": [{"id": "s0", "after": ["s9"]})";
    for (int i = 1; i < 10; ++i) {
      ring += ", {\"id\": \"s" + std::to_string(i) + "\", \"after\": [\"s" + std::to_string(i - 1) +
              "\"]}";
    }
    CHECK(
        small(ring + "]") ==
        Told{
            "scenes[0].after: a circle: \"s0\" after \"s9\" after \"s8\" after \"s7\" after \"s6\" "
            "after "
            "\"s5\" after \"s4\" after \"s3\" after … after \"s0\" / an order in which they can be "
            "filmed"});
  }

  TEST_CASE("light can be reckoned only for a place on the map") {
    const std::string map = " / \"lat\" and \"lon\" of the scene's place or of the day's base";
    CHECK(with("/scenes/0/place", "\"kitchen\"") == Told{});  // the base of the day is on the map
    std::string text = changed("/places/0/lat", "");
    text = changed_again(text, "/places/0/lon", "");
    CHECK(told(text) ==
          Told{"scenes[0].light: \"day\", and no place on the map to reckon the sun for (its place "
               "\"beach\", the base \"hall\" on 2027-04-17)" +
               map});
    CHECK(told(changed_again(text, "/scenes/0/light", "\"any\"")) == Told{});
    text = changed_again(text, "/places/1/lat", "53");
    CHECK(told(changed_again(text, "/places/1/lon", "-6")) == Told{});
    // without a day of its own, on every day
    CHECK(
        small(R"("scenes": [{"id": "s", "light": "dusk"}])") ==
        Told{"scenes[0].light: \"dusk\", and no place on the map to reckon the sun for (no base on "
             "2027-04-17)" +
             map});
    std::string second = changed("/days/1/base", "\"kitchen\"");
    CHECK(told(second) == Told{});  // the scene has its day
    CHECK(told(changed_again(second, "/scenes/0/day", "")) ==
          Told{"scenes[0].light: \"day\", and no place on the map to reckon the sun for (its place "
               "\"beach\", the base \"kitchen\" on 2027-04-18)" +
               map});
  }

  TEST_CASE("of an entry with a slip of its own, sense is not asked besides") {
    // the keeper's person is misspelt: neither "nobody may play" nor "their own" follows from it
    CHECK(with("/roles/0/person", "\"bob\"") ==
          Told{"roles[0].person: \"bob\" / the id of a person in \"people\" ~ bo"});
    // li's skills cannot be read, so li may have any
    std::string text = changed("/people/2/can", "\"paint\"");
    text = changed_again(text, "/stations/1/staff", "[\"li\"]");
    CHECK(told(text) == Told{"people[2].can: \"paint\" / a list in brackets [ ]"});
  }

  TEST_CASE("faults of JSON, of form and of sense come in one run, in the order of the file") {
    const std::string text =
        "{\"greasepaint\": 1, \"title\": \"x\",\n"
        " \"scenes\": [{\"id\": \"a\", \"after\": [\"a\"]},],\n"
        " \"days\": [{\"date\": \"2027-04-17\", \"bas\": 1}],\n"
        " // done\n"
        " \"people\": [{\"id\": \"a\", \"guardian\": \"a\"}]}";
    const auto read = gp::read_production(text);
    const auto& faults = std::get<std::vector<gp::Fault>>(read);
    std::vector<std::size_t> lines;
    for (const gp::Fault& fault : faults) lines.push_back(fault.line);
    CHECK(lines == std::vector<std::size_t>{2, 2, 3, 4, 5});
    CHECK(faults[0].column == 34);  // of the list of `after`
    CHECK(faults[0].path == "scenes[0].after");
    CHECK(faults[1].column == 40);  // of the comma too many
  }

  TEST_CASE("a fault of JSON that cannot be read past stands alone") {
    CHECK(
        told("{\"greasepaint\": 1, \"titel\": \"x\", \"days\": [") ==
        Told{"days: the end of the file / \"]\" to end the list that begins at line 1, column 42"});
  }
}
