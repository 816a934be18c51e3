#include "organiser_site.h"
#include <doctest/doctest.h>

using gp::test::fields_of;
using gp::test::holds;
using gp::test::OrganiserSite;
using gp::test::with;
using gp::test::without;

namespace {

const gp::Scene* scene(const gp::BookState& state, const std::string& id) {
  for (const gp::Scene& one : state.production->scenes) {
    if (one.id == id) return &one;
  }
  return nullptr;
}

const std::string kTheft = "/organise/scenes/theft/change";

}  // namespace

TEST_SUITE("web/organiser_scenes") {
  TEST_CASE("a scene's form sent back as it came changes nothing") {
    OrganiserSite pages;
    pages.log_in();
    const auto before = *pages.book().state()->production_document;
    for (const std::string& page : {kTheft, std::string("/organise/scenes/return/change")}) {
      CHECK(pages.post(page, fields_of(pages.get(page).body, page)).status == 303);
    }
    CHECK(*pages.book().state()->production_document == before);
  }

  TEST_CASE("what is typed into a scene's form is in the production") {
    OrganiserSite pages;
    pages.log_in();
    auto fields = fields_of(pages.get(kTheft).body, kTheft);
    fields = with(fields, "name", "The great theft");
    fields = with(fields, "place", "");
    fields = with(fields, "shoot_minutes", "45");
    fields = with(fields, "set_minutes", "");
    fields = with(fields, "cast-fisher", "3");
    fields = with(fields, "crew-0-job", "sound");
    fields = with(fields, "crew-0-people", "2");
    fields = with(fields, "crew-0-needs", "sound, lifting");
    fields = with(fields, "props-cloak", "1");
    fields = with(fields, "day", "2027-04-17");
    fields = with(fields, "between", "10:00 – 16.30");
    fields = with(fields, "light", "day");
    fields = with(fields, "hazards-water", "1");
    fields = without(fields, "hazards-fog");
    fields = with(fields, "worth", "2,5");
    fields = with(fields, "optional", "1");
    fields = with(fields, "notes", "Two lines\nof notes");
    REQUIRE(pages.post(kTheft, fields).status == 303);
    const auto state = pages.book().state();
    const gp::Scene* const theft = scene(*state, "theft");
    REQUIRE(theft != nullptr);
    CHECK(theft->name == "The great theft");
    CHECK_FALSE(theft->place.valid());
    CHECK(theft->shoot_minutes == gp::Minutes{45});
    CHECK(theft->set_minutes == gp::Minutes{0});
    REQUIRE(theft->cast.size() == 2);
    CHECK(theft->cast[1].people == 3);
    REQUIRE(theft->crew.size() == 1);
    CHECK(theft->crew[0] == gp::CrewCall{"sound", 2, {"sound", "lifting"}, {}});
    REQUIRE(theft->props.size() == 1);
    CHECK(theft->day.valid());
    CHECK(theft->between == gp::WallSpan{{10 * 60}, {16 * 60 + 30}});
    CHECK(theft->light == gp::Light::day);
    CHECK(theft->hazards == gp::Tags{"water"});
    CHECK(theft->worth == 2500);
    CHECK(theft->optional);
    CHECK(theft->notes == "Two lines\nof notes");
    // the row of crew is taken out again by emptying its job
    const auto again = fields_of(pages.get(kTheft).body, kTheft);
    REQUIRE(pages.post(kTheft, with(with(again, "crew-0-job", ""), "cast-fisher", "0")).status ==
            303);
    CHECK(scene(*pages.book().state(), "theft")->crew.empty());
    CHECK(scene(*pages.book().state(), "theft")->cast.size() == 1);
  }

  TEST_CASE("wrong entries are told at their field, and all entries stay") {
    OrganiserSite pages;
    pages.log_in();
    const auto good = fields_of(pages.get(kTheft).body, kTheft);
    const auto before = pages.book().state()->revision;
    const std::vector<std::pair<std::string, std::string>> wrong = {
        {"name", ""},
        {"name", std::string(201, 'x')},
        {"shoot_minutes", "1441"},
        {"shoot_minutes", "-5"},
        {"shoot_minutes", "half"},
        {"set_minutes", "1.5"},
        {"cast-fisher", "1001"},
        {"props-cloak", "x"},
        {"crew-0-people", "3"},
        {"at", "at noon"},
        {"between", "16:00"},
        {"place", "moon"},
        {"day", "2027-04-19"},
        {"light", "neon"},
        {"worth", "much"},
        {"notes", std::string(2001, 'n')}};
    for (const auto& [name, value] : wrong) {
      CAPTURE(name);
      CAPTURE(value);
      const std::string kept = name == "set" ? "place" : "set";
      const auto answer = pages.post(kTheft, with(with(good, kept, "kept-entry"), name, value));
      CHECK(answer.status == 422);
      CHECK(holds(answer, "<title>Error: "));
      CHECK(holds(answer, "kept-entry"));
      if (name != "crew-0-people") CHECK(holds(answer, "href=\"#" + name + "\""));
    }
    // after each other in a circle: the reader of the production says so
    const std::string circle = "after-return";
    const auto answer = pages.post(kTheft, with(good, circle, "1"));
    CHECK(answer.status == 422);
    CHECK(holds(answer, "There is a problem"));
    CHECK(pages.book().state()->revision == before);
  }

  TEST_CASE(
      "scenes are added, once however often the form is sent, and taken out, and it is undone") {
    OrganiserSite pages;
    pages.log_in();
    const std::string add = "/organise/new-scene";
    auto fields = with(fields_of(pages.get(add).body, add), "name", "Boat & Rope <3");
    fields = with(fields, "cast-moon", "1");
    CHECK(pages.post(add, fields).status == 303);
    CHECK(pages.post(add, fields).status == 303);
    CHECK(pages.book().state()->production->scenes.size() == 3);
    const std::string id = pages.book().state()->production->scenes[gp::SceneId(2)].id;
    CHECK(holds(pages.get("/organise/scenes"), "Boat &amp; Rope &lt;3"));
    const std::string seen = std::to_string(pages.book().state()->revision);
    CHECK(pages.post("/organise/scenes/" + id + "/remove", {{"seen", seen}}).status == 303);
    CHECK(pages.book().state()->production->scenes.size() == 2);
    pages.post("/organise/history/undo", {});
    CHECK(pages.book().state()->production->scenes.size() == 3);
    pages.post("/organise/history/redo", {});
    CHECK(pages.book().state()->production->scenes.size() == 2);
    // what comes after it names it
    const std::string now = std::to_string(pages.book().state()->revision);
    const auto refused = pages.post("/organise/scenes/theft/remove", {{"seen", now}});
    CHECK(refused.status == 409);
    CHECK(scene(*pages.book().state(), "theft") != nullptr);
  }

  TEST_CASE("changes of different fields are merged; of the same one both sides are shown") {
    OrganiserSite pages;
    pages.log_in();
    const auto old = fields_of(pages.get(kTheft).body, kTheft);
    REQUIRE(pages.post(kTheft, with(old, "shoot_minutes", "40")).status == 303);
    REQUIRE(pages.post(kTheft, with(old, "notes", "bring rope")).status == 303);
    CHECK(scene(*pages.book().state(), "theft")->shoot_minutes == gp::Minutes{40});
    CHECK(scene(*pages.book().state(), "theft")->notes == "bring rope");
    const auto refused = pages.post(kTheft, with(with(old, "shoot_minutes", "50"), "set", "boat"));
    CHECK(refused.status == 409);
    CHECK(holds(refused, "Somebody changed the same thing meanwhile"));
    REQUIRE(pages.post(kTheft, fields_of(refused.body, kTheft)).status == 303);
    CHECK(scene(*pages.book().state(), "theft")->shoot_minutes == gp::Minutes{50});
    CHECK(scene(*pages.book().state(), "theft")->set == "boat");
    CHECK(scene(*pages.book().state(), "theft")->notes == "bring rope");
  }

  TEST_CASE("a form that says it was made from a revision there never was is taken as new") {
    OrganiserSite pages;
    pages.log_in();
    const auto fields = fields_of(pages.get(kTheft).body, kTheft);
    for (const std::string seen : {"0", "-1", "99999", "x", "", "99999999999999999999999"}) {
      CAPTURE(seen);
      const std::string notes = "notes of " + seen + ".";
      CHECK(pages.post(kTheft, with(with(fields, "seen", seen), "notes", notes)).status == 303);
      CHECK(scene(*pages.book().state(), "theft")->notes == notes);
    }
  }
}
