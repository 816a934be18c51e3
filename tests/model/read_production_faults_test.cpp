#include "model/read_production.h"
#include "support/changed_production.h"

#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

// Each kind of fault of form: one thing is changed in tests/data/productions/lighthouse.json, and
// the whole text is asserted. Faults of sense: read_production_sense_test.cpp.

namespace {

using gp::test::changed;
using gp::test::told;
using Told = std::vector<std::string>;

/// What is told when that value stands there.
Told with(std::string_view pointer, std::string_view value) {
  return told(changed(pointer, value));
}

}  // namespace

TEST_SUITE("model/read_production_faults") {
  TEST_CASE("the productions the faults are made from have none") {
    CHECK(told(gp::test::production_text("lighthouse")) == Told{});
    CHECK(told(gp::test::production_text("least")) == Told{});
  }

  TEST_CASE("an unknown key is told with the nearest key, or with all there are") {
    CHECK(with("/scenes/0/shot_minutes", "5") ==
          Told{"scenes[0].shot_minutes: the unknown key \"shot_minutes\" / a key of a scene ~ "
               "shoot_minutes"});
    CHECK(with("/contact/fax", "\"1\"") ==
          Told{"contact.fax: the unknown key \"fax\" / a key of a contact (name, phone)"});
    CHECK(with("/Days", "[]") ==
          Told{"Days: the unknown key \"Days\" / a key of a production ~ days"});
    CHECK(with("/days/0/meals/0/seat", "1") ==
          Told{"days[0].meals[0].seat: the unknown key \"seat\" / a key of a meal ~ seats"});
    CHECK(
        with("/looks/0/steps/0/wait", "1") ==
        Told{"looks[0].steps[0].wait: the unknown key \"wait\" / a key of a step (at, minutes, by, "
             "then_wait)"});
  }

  TEST_CASE("a doubled key is told wherever it stands, and the rest of the file too") {
    std::string text = gp::test::production_text("least");
    text.insert(1, "\"title\": \"Other\", \"titel\": 1, ");
    CHECK(
        told(text) ==
        Told{"titel: the unknown key \"titel\" / a key of a production ~ title",
             "title: the key \"title\" a second time / each key once (it stands at line 1, column "
             "2 already)"});
  }

  TEST_CASE("keys that must be there are missed") {
    CHECK(with("/greasepaint", "") ==
          Told{": no key \"greasepaint\" / 1 (the version of the format)"});
    CHECK(with("/title", "") == Told{": no key \"title\" / a text"});
    CHECK(told(R"({"greasepaint": 1, "title": "x"})") ==
          Told{": no key \"days\" / a list of at least one shooting day"});
    CHECK(with("/days/1/date", "") ==
          Told{"days[1]: no key \"date\" / a date such as \"2027-04-17\""});
    CHECK(with("/days/0/meals/0/name", "") == Told{"days[0].meals[0]: no key \"name\" / a text"});
    CHECK(with("/days/0/meals/0/minutes", "") ==
          Told{"days[0].meals[0]: no key \"minutes\" / whole minutes from 1 to 1440"});
    CHECK(with("/days/0/meals/0/between", "") ==
          Told{"days[0].meals[0]: no key \"between\" / a span of time such as \"12:00-14:00\""});
    CHECK(with("/places/-", "{}") == Told{"places[3]: no key \"id\" / an id"});
    CHECK(with("/looks/0/steps/0/at", "") ==
          Told{"looks[0].steps[0]: no key \"at\" / the id of a station"});
    CHECK(with("/scenes/0/cast/0/role", "") ==
          Told{"scenes[0].cast[0]: no key \"role\" / the id of a role"});
    CHECK(with("/scenes/0/crew/0/job", "") == Told{"scenes[0].crew[0]: no key \"job\" / a text"});
    CHECK(with("/scenes/0/props/0/item", "") ==
          Told{"scenes[0].props[0]: no key \"item\" / the id of an item"});
  }

  TEST_CASE("another version of the format is refused") {
    CHECK(with("/greasepaint", "2") == Told{"greasepaint: 2 / 1 (the version of the format)"});
    CHECK(with("/greasepaint", "\"1\"") ==
          Told{"greasepaint: \"1\" / 1 (the version of the format)"});
    CHECK(with("/greasepaint", "1.0") == Told{});  // the same number
  }

  TEST_CASE("a file that is no object is told so") {
    CHECK(told("[]") == Told{": an empty list / a production: an object in braces { }"});
    CHECK(told("7") == Told{": 7 / a production: an object in braces { }"});
  }

  TEST_CASE("a wrong kind of value is told with what it is and what it should be") {
    const std::string text = " / a text in quotation marks";
    const std::string list = " / a list in brackets [ ]";
    CHECK(with("/title", "7") == Told{"title: 7" + text});
    CHECK(with("/title", "null") == Told{"title: nothing (null)" + text});
    CHECK(with("/contact", "\"Ana\"") ==
          Told{"contact: \"Ana\" / a contact: an object in braces { }"});
    CHECK(with("/people/0/can", "\"paint\"") == Told{"people[0].can: \"paint\"" + list});
    CHECK(with("/people/0/can", "[1]") == Told{"people[0].can[0]: 1" + text});
    CHECK(with("/people/3/sizes", "[]") ==
          Told{"people[3].sizes: an empty list / an object in braces { }"});
    CHECK(with("/places/0", "\"hall\"")[0] ==
          "places[0]: \"hall\" / a place: an object in braces { }");
    CHECK(with("/scenes/0/cast", "{}") == Told{"scenes[0].cast: an object" + list});
    CHECK(with("/places/1/outdoors", "\"yes\"") ==
          Told{"places[1].outdoors: \"yes\" / true or false, without quotation marks"});
    CHECK(with("/places/1/outdoors", "1") ==
          Told{"places[1].outdoors: 1 / true or false, without quotation marks"});
    CHECK(with("/places/1/id", "5")[0] == "places[1].id: 5 / an id: a text in quotation marks");
    CHECK(with("/days/0/base", "5") == Told{"days[0].base: 5 / the id of a place"});
    CHECK(with("/language", "5") ==
          Told{"language: 5 / a language tag (BCP 47) such as \"en\", \"en-GB\" or \"ar\""});
  }

  TEST_CASE("a list of which everything hangs is told once when it is no list") {
    CHECK(with("/stations", "{}") == Told{"stations: an object / a list in brackets [ ]"});
    CHECK(with("/people", "\"nobody\"") == Told{"people: \"nobody\" / a list in brackets [ ]"});
  }

  TEST_CASE("texts have their lengths and hold no control characters") {
    const auto quoted = [](std::size_t size) { return "\"" + std::string(size, 'x') + "\""; };
    CHECK(with("/title", quoted(200)) == Told{});
    CHECK(with("/title", quoted(201)) == Told{"title: a text of 201 characters / at most 200"});
    CHECK(with("/title", "\"\"") == Told{"title: an empty text / a text"});
    CHECK(with("/title", "\"a\\nb\"") ==
          Told{"title: \"a\\nb\" / a text on one line, without control characters"});
    CHECK(with("/scenes/0/notes", "\"a\\r\\n\\tb\"") == Told{});
    CHECK(with("/scenes/0/notes", quoted(2000)) == Told{});
    CHECK(with("/scenes/0/notes", quoted(2001)) ==
          Told{"scenes[0].notes: a text of 2001 characters / at most 2000"});
    CHECK(with("/scenes/0/notes", "\"a\\u0000b\"") ==
          Told{"scenes[0].notes: \"a\\u0000b\" / a text without control characters"});
    CHECK(with("/scenes/0/hazards", "[" + quoted(65) + "]") ==
          Told{"scenes[0].hazards[0]: a text of 65 characters / at most 64"});
    CHECK(with("/scenes/0/hazards", "[\"\"]") ==
          Told{"scenes[0].hazards[0]: \"\" / a word or two, with no blank before or after"});
    CHECK(with("/scenes/0/hazards", "[\"fog \"]") ==
          Told{"scenes[0].hazards[0]: \"fog \" / a word or two, with no blank before or after"});
    // 200 characters of two bytes each
    std::string wide = "\"";
    for (int i = 0; i < 200; ++i) wide += "ë";
    CHECK(with("/title", wide + "\"") == Told{});
  }

  TEST_CASE("an id is letters, digits, - and _, in any script") {
    const std::string id = " / an id: 1 to 64 letters, digits, \"-\" and \"_\", with no blank";
    for (const char* good :
         {"\"a\"", "\"Bo_2-x\"", "\"李小龍\"", "\"नमस्ते\"", "\"Жук\"", "\"ana·li\""}) {
      CAPTURE(good);
      CHECK(with("/places/-", "{\"id\": " + std::string(good) + "}") == Told{});
    }
    CHECK(with("/places/-", R"({"id": "fog machine"})") ==
          Told{"places[3].id: \"fog machine\"" + id + " ~ fog-machine"});
    CHECK(with("/places/-", R"({"id": ""})") == Told{"places[3].id: \"\"" + id});
    CHECK(with("/places/-", R"({"id": "a.b"})") == Told{"places[3].id: \"a.b\"" + id + " ~ a-b"});
    CHECK(with("/places/-", R"({"id": "a\u2014b"})") == Told{"places[3].id: \"a—b\"" + id});
    CHECK(with("/places/-", "{\"id\": \"" + std::string(65, 'a') + "\"}").size() == 1);
    CHECK(with("/places/-", "{\"id\": \"" + std::string(64, 'a') + "\"}") == Told{});
    CHECK(
        with("/looks/-", R"({"id": "any"})") ==
        Told{"looks[2].id: \"any\" / another id (a role whose look is \"any\" may wear whatever it "
             "has on)"});
  }

  TEST_CASE("an id that stands twice in its list is told with the first") {
    for (const char* list :
         {"places", "people", "roles", "looks", "stations", "items", "units", "scenes"}) {
      const std::string name = list;
      std::string text = changed("/" + name + "/0/id", "\"twice\"");
      text = gp::test::changed_again(text, "/" + name + "/-", "{\"id\": \"twice\"}");
      const Told all = told(text);
      CAPTURE(name);
      REQUIRE(!all.empty());
      const std::string expected =
          ".id: the id \"twice\" a second time / an id of its own (" + name + "[0] has this one)";
      CHECK(std::count_if(all.begin(), all.end(), [&](const std::string& line) {
              return line.ends_with(expected);
            }) == 1);
    }
    // the same id in two lists is none
    CHECK(with("/places/-", "{\"id\": \"keeper\"}") == Told{});
  }

  TEST_CASE("an id that points nowhere is told with the nearest, for every reference there is") {
    struct Case {
      const char* pointer;
      const char* value;
      const char* expected;
    };
    const Case cases[] = {
        {"/days/0/base",
         "\"hal\"",
         "days[0].base: \"hal\" / the id of a place in \"places\" ~ hall"},
        {"/people/3/guardian",
         "\"samy\"",
         "people[3].guardian: \"samy\" / the id of a person in \"people\" ~ sami"},
        {"/roles/0/person",
         "\"boo\"",
         "roles[0].person: \"boo\" / the id of a person in \"people\" ~ bo"},
        {"/roles/0/look",
         "\"keper\"",
         "roles[0].look: \"keper\" / the id of a look in \"looks\" ~ keeper"},
        {"/roles/1/from",
         "[\"sammi\"]",
         "roles[1].from[0]: \"sammi\" / the id of a person in \"people\" ~ sami"},
        {"/looks/0/steps/0/at",
         "\"rial\"",
         "looks[0].steps[0].at: \"rial\" / the id of a station in \"stations\" ~ rail"},
        {"/looks/0/off/0/at",
         "\"sink\"",
         "looks[0].off[0].at: \"sink\" / the id of a station in \"stations\" ~ sinks"},
        {"/looks/1/items",
         "[\"beek\"]",
         "looks[1].items[0]: \"beek\" / the id of an item in \"items\" ~ beak"},
        {"/stations/1/place",
         "\"kitchn\"",
         "stations[1].place: \"kitchn\" / the id of a place in \"places\" ~ kitchen"},
        {"/stations/0/staff",
         "[\"anna\"]",
         "stations[0].staff[0]: \"anna\" / the id of a person in \"people\" ~ ana"},
        {"/items/1/instead",
         "[\"paper_beak\"]",
         "items[1].instead[0]: \"paper_beak\" / the id of an item in \"items\" ~ paper-beak"},
        {"/items/0/lent_by",
         "\"SAMI\"",
         "items[0].lent_by: \"SAMI\" / the id of a person in \"people\" ~ sami"},
        {"/units/0/crew/0/from",
         "[\"nor\"]",
         "units[0].crew[0].from[0]: \"nor\" / the id of a person in \"people\" ~ noor"},
        {"/scenes/0/place",
         "\"baech\"",
         "scenes[0].place: \"baech\" / the id of a place in \"places\" ~ beach"},
        {"/scenes/1/unit",
         "\"tabel\"",
         "scenes[1].unit: \"tabel\" / the id of a unit in \"units\" ~ table"},
        {"/scenes/0/cast/1/role",
         "\"gul\"",
         "scenes[0].cast[1].role: \"gul\" / the id of a role in \"roles\" ~ gull"},
        {"/scenes/0/crew/0/from",
         "[\"xyz\"]",
         "scenes[0].crew[0].from[0]: \"xyz\" / the id of a person in \"people\""},
        {"/scenes/0/props/0/item",
         "\"fogmachine\"",
         "scenes[0].props[0].item: \"fogmachine\" / the id of an item in \"items\" ~ fog-machine"},
        {"/scenes/1/after",
         "[\"arival\"]",
         "scenes[1].after[0]: \"arival\" / the id of a scene in \"scenes\" ~ arrival"},
        {"/places/1/minutes_to",
         "{\"hal\": 6}",
         "places[1].minutes_to.hal: \"hal\" / the id of a place in \"places\" ~ hall"},
    };
    for (const Case& one : cases) {
      CAPTURE(one.pointer);
      CHECK(with(one.pointer, one.value) == Told{one.expected});
    }
    CHECK(told(changed("/days/0/base", "\"hall\"", "least")) ==
          Told{"days[0].base: \"hall\" / the id of a place (the file has no \"places\")"});
    CHECK(with("/scenes/0/day", "\"2027-04-19\"") ==
          Told{"scenes[0].day: \"2027-04-19\" / the date of one of the \"days\" ~ 2027-04-17"});
  }

  TEST_CASE("the same one twice in a list of ids or words is told") {
    CHECK(with("/people/0/can", "[\"light\", \"light\"]") ==
          Told{"people[0].can[1]: \"light\" a second time / each only once"});
    CHECK(with("/roles/1/from", "[\"bo\", \"li\", \"bo\"]") ==
          Told{"roles[1].from[2]: \"bo\" a second time / each only once"});
    CHECK(with("/items/1/instead", "[\"paper-beak\", \"paper-beak\"]") ==
          Told{"items[1].instead[1]: \"paper-beak\" a second time / each only once"});
    CHECK(with("/people/1/free", "[\"2027-04-17\", \"2027-04-17\"]") ==
          Told{"people[1].free[1]: \"2027-04-17\" a second time / each only once"});
    CHECK(
        with("/scenes/0/props/-", "{\"item\": \"fog-machine\"}") ==
        Told{
            "scenes[0].props[1].item: the item \"fog-machine\" a second time / each item once in a "
            "scene (how many of it stands in \"count\")"});
    CHECK(
        with("/days/0/meals/1/name", "\"lunch\"") ==
        Told{"days[0].meals[1].name: the meal \"lunch\" a second time / a name of its own on that "
             "day"});
    // two daggers in one look are right
    CHECK(with("/looks/1/items", "[\"beak\", \"beak\"]") == Told{});
  }

  TEST_CASE("times that are none are told with the time that was meant") {
    const std::string time = " / a time such as \"09:30\" (\"HH:MM\", 00:00 to 99:59)";
    const auto at = [](const char* value) { return with("/scenes/0/at", value); };
    CHECK(at("\"9:30\"") == Told{"scenes[0].at: \"9:30\"" + time + " ~ 09:30"});
    CHECK(at("\"9.30\"") == Told{"scenes[0].at: \"9.30\"" + time + " ~ 09:30"});
    CHECK(at("\"0930\"") == Told{"scenes[0].at: \"0930\"" + time + " ~ 09:30"});
    CHECK(at("\"11\"") == Told{"scenes[0].at: \"11\"" + time + " ~ 11:00"});
    CHECK(at("\"09:60\"") == Told{"scenes[0].at: \"09:60\"" + time});
    CHECK(at("\"100:00\"") == Told{"scenes[0].at: \"100:00\"" + time});
    CHECK(at("\"noon\"") == Told{"scenes[0].at: \"noon\"" + time});
    CHECK(at("930") == Told{"scenes[0].at: 930" + time});
    CHECK(at("\"99:59\"") == Told{});
    CHECK(with("/days/0/nobody_before", "\"7:30\"") ==
          Told{"days[0].nobody_before: \"7:30\"" + time + " ~ 07:30"});
    CHECK(with("/days/0/first_shot", "true") == Told{"days[0].first_shot: true" + time});
    CHECK(with("/days/0/wrap_by", "\"18h00\"") ==
          Told{"days[0].wrap_by: \"18h00\"" + time + " ~ 18:00"});
  }

  TEST_CASE("spans that are none, or end before they begin, are told with what was meant") {
    const std::string span = " / a span of time such as \"09:30-13:00\"";
    const std::string order =
        ", which does not end after it begins / an end after the beginning (past midnight the "
        "hours "
        "go on: \"22:00-26:00\")";
    const auto open = [](const char* value) { return with("/stations/1/open", value); };
    CHECK(open("\"9:00 – 13:00\"") ==
          Told{"stations[1].open: \"9:00 – 13:00\"" + span + " ~ 09:00-13:00"});
    CHECK(open("\"0900-1300\"") ==
          Told{"stations[1].open: \"0900-1300\"" + span + " ~ 09:00-13:00"});
    CHECK(open("\"09:00\"") == Told{"stations[1].open: \"09:00\"" + span});
    CHECK(open("[\"09:00\", \"13:00\"]") == Told{"stations[1].open: a list" + span});
    CHECK(open("\"22:00-02:00\"") ==
          Told{"stations[1].open: \"22:00-02:00\"" + order + " ~ 22:00-26:00"});
    CHECK(open("\"09:00-09:00\"") ==
          Told{"stations[1].open: \"09:00-09:00\"" + order + " ~ 09:00-33:00"});
    CHECK(open("\"90:00-89:00\"") == Told{"stations[1].open: \"90:00-89:00\"" + order});
    CHECK(with("/scenes/0/between", "\"16:00-10:00\"") ==
          Told{"scenes[0].between: \"16:00-10:00\"" + order + " ~ 16:00-34:00"});
    CHECK(with("/days/0/meals/0/between", "\"14:30-12:00\"") ==
          Told{"days[0].meals[0].between: \"14:30-12:00\"" + order + " ~ 14:30-36:00"});
  }

  TEST_CASE("dates that are none are told with the date that was meant") {
    const std::string date = " / a date such as \"2027-04-17\", 2000 to 2099";
    const auto day = [](const char* value) { return with("/days/1/date", value); };
    CHECK(day("\"2027-4-8\"") == Told{"days[1].date: \"2027-4-8\"" + date + " ~ 2027-04-08"});
    CHECK(day("\"2027/04/08\"") == Told{"days[1].date: \"2027/04/08\"" + date + " ~ 2027-04-08"});
    CHECK(day("\"2027-02-29\"") == Told{"days[1].date: \"2027-02-29\"" + date});
    CHECK(day("\"2028-02-29\"") == Told{});  // a leap year
    CHECK(day("\"1999-12-31\"") == Told{"days[1].date: \"1999-12-31\"" + date});
    CHECK(day("\"2100-01-01\"") == Told{"days[1].date: \"2100-01-01\"" + date});
    CHECK(day("20270418") == Told{"days[1].date: 20270418" + date});
    CHECK(with("/people/3/born", "\"3.2.2015\"") ==
          Told{"people[3].born: \"3.2.2015\" / a date such as \"2027-04-17\", 1900 to 2099"});
    CHECK(with("/people/3/born", "\"1899-12-31\"") ==
          Told{"people[3].born: \"1899-12-31\" / a date such as \"2027-04-17\", 1900 to 2099"});
    CHECK(with("/scenes/0/day", "\"17 April\"") == Told{"scenes[0].day: \"17 April\"" + date});
  }

  TEST_CASE("a date that stands twice among the days is told") {
    CHECK(with("/days/1/date", "\"2027-04-17\"") ==
          Told{"days[1].date: the date 2027-04-17 a second time / each date once (days[0] has this "
               "one)"});
  }

  TEST_CASE("no days, and lists that must not be empty") {
    CHECK(told(changed("/days", "[]", "least")) ==
          Told{"days: an empty list / at least one shooting day"});
    CHECK(with("/roles/1/from", "[]") ==
          Told{"roles[1].from: an empty list / at least one person (without \"from\": anybody)"});
    CHECK(with("/scenes/0/crew/0/from", "[]") ==
          Told{"scenes[0].crew[0].from: an empty list / at least one person (without \"from\": "
               "anybody)"});
    CHECK(with("/people/0/free", "[]") == Told{});  // free at no time
  }

  TEST_CASE("free times that are none, or end before they begin") {
    const std::string free =
        " / a date, or a date and a span: \"2027-04-17\" or \"2027-04-17 09:00-13:00\"";
    const auto with_free = [](const std::string& value) {
      return with("/people/0/free", "[" + value + "]");
    };
    CHECK(
        with_free("\"2027-04-17 9:00-13:00\"") ==
        Told{"people[0].free[0]: \"2027-04-17 9:00-13:00\"" + free + " ~ 2027-04-17 09:00-13:00"});
    CHECK(with_free("\"2027-4-17\"") ==
          Told{"people[0].free[0]: \"2027-4-17\"" + free + " ~ 2027-04-17"});
    CHECK(with_free("\"2027-04-17T09:00\"") ==
          Told{"people[0].free[0]: \"2027-04-17T09:00\"" + free});
    CHECK(with_free("\"2027-04-17 \"") == Told{"people[0].free[0]: \"2027-04-17 \"" + free});
    CHECK(with_free("17") == Told{"people[0].free[0]: 17" + free});
    CHECK(
        with_free("\"2027-04-17 22:00-02:00\"") ==
        Told{"people[0].free[0]: \"2027-04-17 22:00-02:00\", which does not end after it begins / "
             "an end after the beginning (past midnight the hours go on: \"22:00-26:00\") ~ "
             "2027-04-17 22:00-26:00"});
    CHECK(with_free("\"2027-04-17 09:00-10:00\", \"2027-04-17 12:00-13:00\"") == Told{});
  }

  TEST_CASE("lengths are whole minutes, never negative, at most a day") {
    const auto length = [](const char* value) { return with("/scenes/0/shoot_minutes", value); };
    const std::string minutes = " / whole minutes from 0 to 1440";
    CHECK(length("-1") == Told{"scenes[0].shoot_minutes: -1" + minutes});
    CHECK(length("1441") == Told{"scenes[0].shoot_minutes: 1441" + minutes});
    CHECK(length("1e300") == Told{"scenes[0].shoot_minutes: 1e+300" + minutes});
    CHECK(length("2.5") == Told{"scenes[0].shoot_minutes: 2.5" + minutes});
    CHECK(length("\"30\"") ==
          Told{"scenes[0].shoot_minutes: the text \"30\" (in quotation marks)" + minutes});
    CHECK(length("1440") == Told{});
    CHECK(length("0") == Told{});
    CHECK(with("/scenes/0/set_minutes", "-5") == Told{"scenes[0].set_minutes: -5" + minutes});
    CHECK(with("/scenes/0/reset_minutes", "-5") == Told{"scenes[0].reset_minutes: -5" + minutes});
    CHECK(with("/looks/0/steps/1/minutes", "-5") ==
          Told{"looks[0].steps[1].minutes: -5" + minutes});
    CHECK(with("/looks/0/steps/1/then_wait", "-5") ==
          Told{"looks[0].steps[1].then_wait: -5" + minutes});
    CHECK(with("/stations/1/set_minutes", "-5") == Told{"stations[1].set_minutes: -5" + minutes});
    CHECK(with("/sign_in_minutes", "-5") == Told{"sign_in_minutes: -5" + minutes});
    CHECK(with("/looks/0/holds_for", "0") ==
          Told{"looks[0].holds_for: 0 / whole minutes from 1 to 1440"});
    CHECK(with("/days/0/meals/0/minutes", "0") ==
          Told{"days[0].meals[0].minutes: 0 / whole minutes from 1 to 1440"});
    CHECK(with("/places/1/minutes_to/hall", "-6") ==
          Told{"places[1].minutes_to.hall: -6 / a whole number from 0 to 1440"});
    CHECK(with("/round_to", "0") == Told{"round_to: 0 / a whole number from 1 to 60"});
    CHECK(with("/round_to", "61") == Told{"round_to: 61 / a whole number from 1 to 60"});
  }

  TEST_CASE("counts are whole and at least 1") {
    const std::string heads = " / a whole number from 1 to 1000";
    CHECK(with("/stations/1/places", "0") == Told{"stations[1].places: 0" + heads});
    CHECK(with("/days/0/meals/1/seats", "0") == Told{"days[0].meals[1].seats: 0" + heads});
    CHECK(with("/scenes/0/cast/1/people", "0") == Told{"scenes[0].cast[1].people: 0" + heads});
    CHECK(with("/scenes/0/crew/0/people", "1.5") == Told{"scenes[0].crew[0].people: 1.5" + heads});
    CHECK(with("/items/1/count", "0") ==
          Told{"items[1].count: 0 / a whole number from 1 to 1000000"});
    CHECK(with("/scenes/0/props/0/count", "-1") ==
          Told{"scenes[0].props[0].count: -1 / a whole number from 1 to 1000000"});
  }

  TEST_CASE("weights and worths have at most three decimals, turnout lies between 0 and 1") {
    const std::string weight = " / a number from 0 to 1000 with at most 3 decimals";
    CHECK(with("/people/0/weight", "1.0005") == Told{"people[0].weight: 1.0005" + weight});
    CHECK(with("/people/0/weight", "-1") == Told{"people[0].weight: -1" + weight});
    CHECK(with("/people/0/weight", "1000.001") == Told{"people[0].weight: 1000.001" + weight});
    CHECK(with("/scenes/0/worth", "\"2\"") ==
          Told{"scenes[0].worth: the text \"2\" (in quotation marks)" + weight});
    for (int thousandths = 0; thousandths <= 1'000'000; thousandths += 37) {
      const std::string digits = std::to_string(1000 + thousandths % 1000).substr(1);
      const std::string value = std::to_string(thousandths / 1000) + "." + digits;
      const auto read = gp::read_production(
          R"({"greasepaint": 1, "title": "x", "days": [{"date": "2027-04-17"}], "people": )"
          R"([{"id": "a", "weight": )" +
          value + "}]}");
      REQUIRE(std::holds_alternative<gp::Production>(read));
      REQUIRE(std::get<gp::Production>(read).people[gp::PersonId(0)].weight == thousandths);
    }
    CHECK(with("/people/2/turnout", "1.1") ==
          Told{"people[2].turnout: 1.1 / a number from 0 to 1"});
    CHECK(with("/people/2/turnout", "-0.1") ==
          Told{"people[2].turnout: -0.1 / a number from 0 to 1"});
  }

  TEST_CASE("places on the map have both numbers, and they are on the globe") {
    CHECK(with("/places/0/lat", "90.5") == Told{"places[0].lat: 90.5 / a number from -90 to 90"});
    CHECK(with("/places/0/lon", "-181") == Told{"places[0].lon: -181 / a number from -180 to 180"});
    CHECK(with("/places/2/lat", "53") ==
          Told{"places[2]: \"lat\" without \"lon\" / both or neither"});
    CHECK(with("/places/2/lon", "-6") ==
          Told{"places[2]: \"lon\" without \"lat\" / both or neither"});
  }

  TEST_CASE("one of a few words is told with all of them and the nearest") {
    CHECK(with("/paper", "\"a4\"") == Told{"paper: \"a4\" / one of A4, Letter ~ A4"});
    CHECK(with("/aim", "\"fastest\"") ==
          Told{"aim: \"fastest\" / one of least-time, latest-first-call"});
    CHECK(with("/people/4/answer", "\"mayby\"") ==
          Told{"people[4].answer: \"mayby\" / one of asked, yes, maybe, no ~ maybe"});
    CHECK(with("/people/4/answer", "true") ==
          Told{"people[4].answer: true / one of asked, yes, maybe, no"});
    CHECK(with("/scenes/0/light", "\"Dark\"") ==
          Told{"scenes[0].light: \"Dark\" / one of any, day, golden, dusk, dark ~ dark"});
  }

  TEST_CASE("a zone the database does not know is told with the nearest") {
    const std::string zone = " / the name of a time zone (IANA) such as \"Europe/Dublin\"";
    CHECK(with("/zone", "\"Europe/Dublinn\"") ==
          Told{"zone: \"Europe/Dublinn\"" + zone + " ~ Europe/Dublin"});
    CHECK(with("/zone", "\"europe/dublin\"") ==
          Told{"zone: \"europe/dublin\"" + zone + " ~ Europe/Dublin"});
    CHECK(with("/zone", "\"Nowhere\"") == Told{"zone: \"Nowhere\"" + zone});
    CHECK(with("/zone", "0") == Told{"zone: 0" + zone});
    CHECK(with("/zone", "\"../../etc/passwd\"").size() == 1);
  }

  TEST_CASE("a language is shaped as BCP 47 says") {
    const std::string language = " / a language tag (BCP 47) such as \"en\", \"en-GB\" or \"ar\"";
    // from RFC 5646, appendix A
    for (const char* good : {"de",
                             "fr",
                             "ja",
                             "zh-Hant",
                             "sr-Latn-RS",
                             "sl-rozaj-biske",
                             "de-CH-1901",
                             "es-419",
                             "zh-cmn-Hans-CN",
                             "en-US-u-islamcal",
                             "az-Arab-x-AZE-derbend"}) {
      CAPTURE(good);
      CHECK(with("/language", "\"" + std::string(good) + "\"") == Told{});
    }
    CHECK(with("/language", "\"en_GB\"") == Told{"language: \"en_GB\"" + language + " ~ en-GB"});
    CHECK(with("/language", "\"english language\"") ==
          Told{"language: \"english language\"" + language});
    CHECK(with("/language", "\"\"") == Told{"language: \"\"" + language});
    CHECK(with("/people/0/language", "\"e\"") == Told{"people[0].language: \"e\"" + language});
    CHECK(with("/language", "\"en-\"") == Told{"language: \"en-\"" + language});
  }

  TEST_CASE("sizes are named numbers") {
    CHECK(with("/people/3/sizes", "{\"head cm\": 57}") ==
          Told{"people[3].sizes[\"head cm\"]: \"head cm\" / a name such as \"head_cm\": letters, "
               "digits, \"-\" and \"_\" ~ head-cm"});
    CHECK(with("/people/3/sizes", "{\"head_cm\": \"57\"}") ==
          Told{"people[3].sizes.head_cm: \"57\" / a number from 0 to 10000"});
    CHECK(with("/people/3/sizes", "{\"head_cm\": -1}") ==
          Told{"people[3].sizes.head_cm: -1 / a number from 0 to 10000"});
  }

  TEST_CASE("an item fits named sizes: a number, or the smallest and the largest") {
    const std::string expected =
        " / a size such as 57, or the smallest and the largest such as \"56-58\", from 0 to 10000";
    for (const std::string bad : {"\"56\"",
                                  "\"56 - 58\"",
                                  "\"-58\"",
                                  "\"56-\"",
                                  "\"56-58-60\"",
                                  "\"56-58 cm\"",
                                  "\"9999-10001\"",
                                  "\"1e1-20\"",
                                  "\".5-1\"",
                                  "\"1.-2\"",
                                  "\"1.0005-2\"",
                                  "-1",
                                  "10001"}) {
      CAPTURE(bad);
      CHECK(with("/items/1/fits", "{\"head_cm\": " + bad + "}") ==
            Told{"items[1].fits.head_cm: " + bad + expected});
    }
    CHECK(with("/items/1/fits", "{\"head_cm\": [56, 58]}") ==
          Told{"items[1].fits.head_cm: a list" + expected});
    CHECK(with("/items/1/fits", "[]") ==
          Told{"items[1].fits: an empty list / an object in braces { }"});
    CHECK(with("/items/1/fits", "{\"head_cm\": \"58-56.5\"}") ==
          Told{"items[1].fits.head_cm: \"58-56.5\", from the larger to the smaller / the smallest "
               "first ~ 56.5-58"});
    CHECK(with("/items/1/fits", "{\"head cm\": 57}") ==
          Told{"items[1].fits[\"head cm\"]: \"head cm\" / a name such as \"head_cm\": letters, "
               "digits, \"-\" and \"_\" ~ head-cm"});
    for (const std::string good : {"57", "57.25", "0", "10000", "\"0-10000\"", "\"57-57\""}) {
      CAPTURE(good);
      CHECK(with("/items/1/fits", "{\"head_cm\": " + good + "}") == Told{});
    }
  }

  TEST_CASE("likes are roles, other people and jobs, each once") {
    const std::string expected = " / the id of a role or of somebody else, or a job of a crew";
    CHECK(with("/people/0/likes", R"(["keeper", "light", "zoë"])") == Told{});
    CHECK(with("/people/0/likes", R"(["keper", "ana"])") ==
          Told{"people[0].likes[0]: \"keper\"" + expected + " ~ keeper",
               "people[0].likes[1]: \"ana\", who they are" + expected});
    CHECK(with("/people/0/likes", R"(["camrea"])") ==
          Told{"people[0].likes[0]: \"camrea\"" + expected + " ~ camera"});
    CHECK(with("/people/0/likes", R"(["hall"])") ==
          Told{"people[0].likes[0]: \"hall\"" + expected});  // a place is nothing to like
    CHECK(with("/people/0/likes", R"(["light", "light"])") ==
          Told{"people[0].likes[1]: \"light\" a second time / each only once"});
    CHECK(with("/people/0/likes", R"("light")") ==
          Told{"people[0].likes: \"light\" / a list in brackets [ ]"});
    CHECK(with("/people/0/likes", "[1]") ==
          Told{"people[0].likes[0]: 1 / a text in quotation marks"});
    // a job that went with a broken scene is not told besides
    CHECK(with("/units/0/crew", R"([{"job": 7}])").size() == 1);
  }

  TEST_CASE("a way from a place to itself is told") {
    CHECK(with("/places/1/minutes_to", "{\"beach\": 1}") ==
          Told{"places[1].minutes_to.beach: the way from a place to itself / another place"});
  }

  TEST_CASE("a list longer than the limit is told, and what is in it is read as far as that") {
    std::string people = "[";
    for (int i = 0; i < 5001; ++i)
      people += (i > 0 ? ",{\"id\":\"p" : "{\"id\":\"p") + std::to_string(i) + "\"}";
    CHECK(told(changed("/people", people + "]", "least")) ==
          Told{"people: a list of 5001 entries / at most 5000"});
    std::string days = "[";
    for (int i = 0; i < 367; ++i) days += i > 0 ? ",{}" : "{}";
    CHECK(told(changed("/days", days + "]", "least")).front() ==
          "days: a list of 367 entries / at most 366");
  }

  TEST_CASE("a thousand faults are listed, and then that there are more") {
    std::string people = "[";
    for (int i = 0; i < 2000; ++i) people += i > 0 ? ",7" : "7";
    const Told all = told(changed("/people", people + "]", "least"));
    REQUIRE(all.size() == 1001);
    CHECK(all.back() == ": more than 1000 faults / fewer; the others are not listed");
  }
}
