#include "model/read_production.h"

#include "support/changed_production.h"
#include "time/clock.h"

#include <chrono>
#include <string>

#include <doctest/doctest.h>

namespace {

gp::Production read(const std::string& text) {
  auto result = gp::read_production(text);
  if (auto* faults = std::get_if<std::vector<gp::Fault>>(&result)) {
    for (const gp::Fault& fault : *faults) MESSAGE(gp::render(fault, "text", text));
  }
  REQUIRE(std::holds_alternative<gp::Production>(result));
  return std::get<gp::Production>(std::move(result));
}

using gp::Minutes;
using gp::WallTime;

}  // namespace

TEST_SUITE("model/read_production") {
  TEST_CASE("every key is read into its place") {
    const gp::Production film = read(gp::test::production_text("lighthouse"));
    CHECK(film.title == "The Lighthouse That Sneezed");
    CHECK(film.language == "en-GB");
    CHECK(film.zone == "Europe/Dublin");
    CHECK(film.paper == gp::Paper::letter);
    CHECK(film.contact == gp::Contact{"Ana Ferreira", "+353 1 555 0100"});
    CHECK(film.aim == gp::Aim::latest_first_call);
    CHECK(film.sign_in == Minutes{10});
    CHECK(film.round_to == Minutes{10});

    REQUIRE(film.days.size() == 2);
    const gp::Day& day = film.days[gp::DayId(0)];
    CHECK(gp::format(day.date) == "2027-04-17");
    CHECK(day.base == gp::PlaceId(0));
    CHECK(day.nobody_before == WallTime{450});
    CHECK(day.first_shot == WallTime{570});
    CHECK(day.wrap_by == WallTime{1080});
    REQUIRE(day.meals.size() == 2);
    CHECK(day.meals[0] ==
          gp::Meal{"lunch", Minutes{40}, {WallTime{720}, WallTime{870}}, true, std::nullopt});
    CHECK(day.meals[1] ==
          gp::Meal{"soup", Minutes{20}, {WallTime{960}, WallTime{1080}}, false, 12});
    CHECK(day.first_aid == "the green box in the hall");
    CHECK(day.hospital == "St Brendan's, 12 minutes by car");
    CHECK(day.notes == "Bring\nwellies.");
    CHECK(film.days[gp::DayId(1)].wrap_by == WallTime{25 * 60 + 30});

    REQUIRE(film.places.size() == 3);
    CHECK(film.places[gp::PlaceId(0)].name == "Parish hall");
    CHECK(film.places[gp::PlaceId(0)].address == "2 Strand Road");
    CHECK(film.places[gp::PlaceId(0)].geo == gp::Geo{53.35, -6.26});
    CHECK(film.places[gp::PlaceId(1)].outdoors);
    CHECK(film.way(gp::PlaceId(0), gp::PlaceId(1)) == Minutes{6});  // works both ways
    CHECK(film.way(gp::PlaceId(1), gp::PlaceId(2)) == Minutes{8});
    CHECK(film.way(gp::PlaceId(0), gp::PlaceId(2)) == Minutes{0});

    REQUIRE(film.people.size() == 6);
    const gp::Person& ana = film.people[gp::PersonId(0)];
    CHECK(ana.email == "ana@example.org");
    CHECK(ana.phone == "+353 1 555 0100");
    CHECK(ana.can == gp::Tags{"camera", "light"});
    CHECK(!ana.free.has_value());
    const gp::Person& bo = film.people[gp::PersonId(1)];
    REQUIRE(bo.free.has_value());
    REQUIRE(bo.free->size() == 3);
    CHECK(!(*bo.free)[0].hours.has_value());
    CHECK((*bo.free)[1].hours == gp::WallSpan{WallTime{540}, WallTime{780}});
    CHECK(gp::format((*bo.free)[2].date) == "2027-05-01");  // no shooting day: no fault
    CHECK(bo.weight == 1500);
    CHECK(film.people[gp::PersonId(2)].no == gp::Tags{"water"});
    CHECK(film.people[gp::PersonId(2)].turnout == 0.75);
    const gp::Person& noor = film.people[gp::PersonId(3)];
    CHECK(noor.name == "نور");
    CHECK(noor.language == "ar");
    REQUIRE(noor.born.has_value());
    CHECK(gp::format(*noor.born) == "2015-02-03");
    CHECK(noor.guardian == gp::PersonId(4));
    CHECK(noor.sizes == std::map<std::string, double>{{"head_cm", 53.5}, {"shoe", 36}});
    CHECK(noor.food == "no nuts");
    CHECK(noor.skin == "dry");
    CHECK(film.people[gp::PersonId(4)].answer == gp::Answer::maybe);
    CHECK(film.people[gp::PersonId(4)].likes == gp::Tags{"gull", "camera", "ana"});
    CHECK(film.people[gp::PersonId(5)].answer == gp::Answer::no);
    CHECK(film.people[gp::PersonId(5)].id == "zoë");

    REQUIRE(film.roles.size() == 4);
    const gp::Role& keeper = film.roles[gp::RoleId(0)];
    CHECK(keeper.person == gp::PersonId(1));
    CHECK(keeper.look_kind == gp::LookKind::look);
    CHECK(keeper.look == gp::LookId(0));
    const gp::Role& gull = film.roles[gp::RoleId(1)];
    CHECK(gull.crowd);
    CHECK(gull.from == std::vector{gp::PersonId(1), gp::PersonId(2), gp::PersonId(4)});
    CHECK(gull.needs == gp::Tags{"dance"});
    CHECK(gull.tags == gp::Tags{"water"});
    CHECK(film.roles[gp::RoleId(2)].look_kind == gp::LookKind::any);
    CHECK(!film.roles[gp::RoleId(2)].from.has_value());
    CHECK(film.roles[gp::RoleId(3)].look_kind == gp::LookKind::themselves);

    REQUIRE(film.looks.size() == 2);
    const gp::Look& look = film.looks[gp::LookId(0)];
    CHECK(look.tags == gp::Tags{"face-paint"});
    REQUIRE(look.steps.size() == 2);
    CHECK(look.steps[0] == gp::Step{gp::StationId(0), Minutes{6}, "", Minutes{0}});
    CHECK(look.steps[1] == gp::Step{gp::StationId(1), Minutes{15}, "paint", Minutes{5}});
    REQUIRE(look.off.size() == 1);
    CHECK(look.off[0] == gp::Step{gp::StationId(2), Minutes{8}, "", Minutes{0}});
    CHECK(look.holds_for == Minutes{240});
    CHECK(look.items == std::vector{gp::ItemId(0)});
    CHECK(look.wear == "dark socks");
    CHECK(look.bring == "a towel");

    REQUIRE(film.stations.size() == 3);
    const gp::Station& paint = film.stations[gp::StationId(1)];
    CHECK(paint.place == gp::PlaceId(2));
    CHECK(paint.places == 3);
    CHECK(paint.open == gp::WallSpan{WallTime{450}, WallTime{960}});
    CHECK(paint.staff == std::vector{gp::PersonId(1), gp::PersonId(2)});
    CHECK(paint.set_minutes == Minutes{15});
    CHECK(!film.stations[gp::StationId(0)].staff.has_value());

    REQUIRE(film.items.size() == 4);
    CHECK(film.items[gp::ItemId(0)].lent_by == gp::PersonId(4));
    CHECK(film.items[gp::ItemId(1)].count == 4);
    CHECK(film.items[gp::ItemId(1)].fits ==
          std::map<std::string, gp::SizeRange>{{"head_cm", {54, 58.5}}, {"shoe", {40, 40}}});
    CHECK(film.items[gp::ItemId(1)].instead == std::vector{gp::ItemId(2)});

    REQUIRE(film.units.size() == 2);
    REQUIRE(film.units[gp::UnitId(0)].crew.size() == 1);
    CHECK(film.units[gp::UnitId(0)].crew[0] == gp::CrewCall{"camera", 1, {}, {gp::PersonId(0)}});

    REQUIRE(film.scenes.size() == 2);
    const gp::Scene& scene = film.scenes[gp::SceneId(0)];
    CHECK(scene.name == "The gulls arrive");
    CHECK(scene.place == gp::PlaceId(1));
    CHECK(scene.unit == gp::UnitId(0));
    CHECK(scene.set == "slipway");
    CHECK(scene.set_minutes == Minutes{15});
    CHECK(scene.reset_minutes == Minutes{3});
    CHECK(scene.shoot_minutes == Minutes{30});
    CHECK(scene.cast ==
          std::vector{gp::CastCall{gp::RoleId(0), 1}, gp::CastCall{gp::RoleId(1), 2}});
    REQUIRE(scene.crew.size() == 1);
    CHECK(scene.crew[0] == gp::CrewCall{"light", 1, {"light"}, {gp::PersonId(0)}});
    CHECK(scene.props == std::vector{gp::Prop{gp::ItemId(3), 1}});
    CHECK(scene.light == gp::Light::day);
    CHECK(scene.between == gp::WallSpan{WallTime{600}, WallTime{960}});
    CHECK(scene.at == WallTime{660});
    CHECK(scene.day == gp::DayId(0));
    CHECK(scene.worth == 2250);
    CHECK(scene.hazards == gp::Tags{"fog"});
    CHECK(scene.notes == "Tide out.");
    const gp::Scene& sneeze = film.scenes[gp::SceneId(1)];
    CHECK(sneeze.unit == gp::UnitId(1));
    CHECK(sneeze.after == std::vector{gp::SceneId(0)});
    CHECK(sneeze.optional);
  }

  TEST_CASE("what is not given has its default") {
    const gp::Production film =
        read(R"({"greasepaint": 1, "title": "x", "days": [{"date": "2027-04-17"}],
      "places": [{"id": "p"}], "people": [{"id": "a"}], "roles": [{"id": "r"}],
      "looks": [{"id": "l", "steps": [{"at": "s"}]}], "stations": [{"id": "s"}], "items": [{"id": "i"}],
      "scenes": [{"id": "s", "cast": [{"role": "r"}], "crew": [{"job": "light"}], "props": [{"item": "i"}]}]})");
    CHECK(film.zone == "UTC");
    CHECK(film.language == "en");
    CHECK(film.paper == gp::Paper::a4);
    CHECK(film.aim == gp::Aim::least_time);
    CHECK(film.sign_in == Minutes{5});
    CHECK(film.round_to == Minutes{5});
    const gp::Day& day = film.days[gp::DayId(0)];
    CHECK(!day.base.valid());
    CHECK(day.nobody_before == WallTime{0});
    CHECK(!day.first_shot.has_value());
    CHECK(!day.wrap_by.has_value());
    CHECK(film.people[gp::PersonId(0)].weight == 1000);
    CHECK(film.people[gp::PersonId(0)].answer == gp::Answer::yes);
    CHECK(!film.people[gp::PersonId(0)].free.has_value());
    CHECK(film.people[gp::PersonId(0)].shown() == "a");
    CHECK(film.stations[gp::StationId(0)].places == 1);
    CHECK(film.items[gp::ItemId(0)].count == 1);
    CHECK(film.looks[gp::LookId(0)].steps[0].minutes == Minutes{0});
    CHECK(!film.looks[gp::LookId(0)].holds_for.has_value());
    REQUIRE(film.units.size() == 1);
    CHECK(film.units[gp::UnitId(0)].id == "main");
    const gp::Scene& scene = film.scenes[gp::SceneId(0)];
    CHECK(scene.unit == gp::UnitId(0));
    CHECK(!scene.place.valid());
    CHECK(scene.cast[0].people == 1);
    CHECK(scene.crew[0].people == 1);
    CHECK(scene.crew[0].from.empty());
    CHECK(scene.props[0].count == 1);
    CHECK(scene.worth == 1000);
    CHECK(scene.light == gp::Light::any);
    CHECK(!scene.optional);
  }

  TEST_CASE("a scene may name the one unit there is when no units are given") {
    CHECK(gp::test::told(gp::test::changed("/scenes", R"([{"id": "s", "unit": "main"}])", "least"))
              .empty());
    CHECK(
        gp::test::told(gp::test::changed("/scenes", R"([{"id": "s", "unit": "mian"}])", "least")) ==
        std::vector<std::string>{
            "scenes[0].unit: \"mian\" / the id of a unit in \"units\" ~ main"});
  }

  TEST_CASE("days may stand in any order; the table is in order of date") {
    const gp::Production film = read(R"({"greasepaint": 1, "title": "x", "days": [
      {"date": "2027-04-18", "notes": "second"}, {"date": "2027-04-17", "notes": "first"}],
      "scenes": [{"id": "s", "day": "2027-04-18"}]})");
    CHECK(film.days[gp::DayId(0)].notes == "first");
    CHECK(film.days[gp::DayId(1)].notes == "second");
    CHECK(film.scenes[gp::SceneId(0)].day == gp::DayId(1));
  }

  TEST_CASE("a byte order mark before the file changes nothing") {
    const std::string text = gp::test::production_text("lighthouse");
    CHECK(read("\xEF\xBB\xBF" + text) == read(text));
  }

  TEST_CASE("a production of 1000 people is read in well under a second") {
    std::string text = R"({"greasepaint": 1, "title": "x", "zone": "Europe/Dublin", "days": [)"
                       R"({"date": "2027-04-17"}, {"date": "2027-04-18"}], "people": [)";
    for (int i = 0; i < 1000; ++i) {
      const std::string id = "person-" + std::to_string(i);
      text += std::string(i > 0 ? ",\n" : "") + "{\"id\": \"" + id + "\", \"name\": \"Somebody " +
              std::to_string(i) +
              "\", \"phone\": \"+353 1 555 0100\", \"can\": [\"dance\", \"light\"], "
              "\"no\": [\"water\"], \"free\": [\"2027-04-17 09:00-18:00\", \"2027-04-18\"]}";
    }
    text += R"(], "roles": [{"id": "crowd", "crowd": true}], "scenes": [)";
    for (int i = 0; i < 100; ++i) {
      text += std::string(i > 0 ? ",\n" : "") + "{\"id\": \"scene-" + std::to_string(i) +
              "\", \"shoot_minutes\": 10, \"cast\": [{\"role\": \"crowd\", \"people\": 40}]}";
    }
    text += "]}";
    const gp::Production warm = read(text);  // the zone database is loaded once a process
    const auto before = std::chrono::steady_clock::now();
    const gp::Production film = read(text);
    const std::chrono::duration<double, std::milli> took =
        std::chrono::steady_clock::now() - before;
    CHECK(film.people.size() == 1000);
    // 30 ms is what is wanted of a release build; ten times that leaves room for sanitizers
    CHECK(took.count() < 300);
    MESSAGE("read in " << took.count() << " ms");
  }
}
