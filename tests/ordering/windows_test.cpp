#include "ordering/windows.h"

#include "support/builder.h"
#include "time/light.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::minute;
using gp::Minute;
using gp::Minutes;
using gp::SceneId;
using gp::Span;
using gp::test::at;

namespace {

using Spans = std::vector<Span>;

/// One scene of 30 minutes on one of two days; the first shoots from 09:30 to 18:00, the second
/// says nothing.
std::string one_scene(const std::string& asks,
                      const std::string& place = R"("lat": 53.35, "lon": -6.26)") {
  return R"({"greasepaint": 1, "title": "Windows", "zone": "Europe/Dublin",
    "days": [{"date": "2027-04-17", "base": "hall", "nobody_before": "07:30",
              "first_shot": "09:30", "wrap_by": "18:00"},
             {"date": "2027-04-18", "base": "hall", "nobody_before": "07:30"}],
    "places": [{"id": "hall", )" +
         place + R"(}, {"id": "attic"}, {"id": "beach", "lat": 40.7, "lon": -74.0}],
    "scenes": [{"id": "march", "shoot_minutes": 30)" +
         (asks.empty() ? "" : ", " + asks) + "}]}";
}

Spans windows(const std::string& text, std::size_t day = 0) {
  const gp::Production film = gp::test::production_of(text);
  const gp::DayFrame frame(film, gp::DayId(day), {});
  return gp::shot_windows(film, frame)[SceneId(0)];
}

}  // namespace

TEST_SUITE("ordering/windows") {
  TEST_CASE("a scene that asks for nothing may stand from the first shot to the wrap") {
    CHECK(windows(one_scene("")) == Spans{{at("09:30"), at("18:00")}});
    // With neither given: from when anybody may be called, to the end of the longest day.
    CHECK(windows(one_scene(""), 1) == Spans{{at("07:30"), gp::kDayEnd}});
  }

  TEST_CASE("between: the whole shot lies in it, cut by the day") {
    CHECK(windows(one_scene(R"("between": "10:00-16:00")")) == Spans{{at("10:00"), at("16:00")}});
    CHECK(windows(one_scene(R"("between": "08:00-10:00")")) == Spans{{at("09:30"), at("10:00")}});
    CHECK(windows(one_scene(R"("between": "17:30-20:00")")) == Spans{{at("17:30"), at("18:00")}});
    // 29 minutes are left of it, the shot takes 30.
    CHECK(windows(one_scene(R"("between": "08:00-09:59")")).empty());
    CHECK(windows(one_scene(R"("between": "17:31-20:00")")).empty());
  }

  TEST_CASE("at: one start and no other") {
    CHECK(windows(one_scene(R"("at": "11:00")")) == Spans{{at("11:00"), at("11:30")}});
    CHECK(windows(one_scene(R"("at": "17:30")")) == Spans{{at("17:30"), at("18:00")}});
    CHECK(windows(one_scene(R"("at": "17:31")")).empty());
    CHECK(windows(one_scene(R"("at": "09:29")")).empty());
    CHECK(windows(one_scene(R"("at": "09:29")"), 1) == Spans{{at("09:29"), at("09:59")}});
    CHECK(windows(one_scene(R"("at": "11:00", "between": "10:50-11:30")")) ==
          Spans{{at("11:00"), at("11:30")}});
    CHECK(windows(one_scene(R"("at": "11:00", "between": "10:50-11:29")")).empty());
  }

  TEST_CASE("day: nowhere but there") {
    const std::string tied = one_scene(R"("day": "2027-04-18", "between": "10:00-16:00")");
    CHECK(windows(tied).empty());
    CHECK(windows(tied, 1) == Spans{{at("10:00"), at("16:00")}});
  }

  TEST_CASE("daylight in Dublin on 17 April 2027") {
    // The sun itself is held against a published table in tests/time; here its span is cut by the
    // day. It is up before 07:30 and down some time after 20:10 (from memory: about 20:30).
    const Spans lit = windows(one_scene(R"("light": "day")"), 1);
    REQUIRE(lit.size() >= 1);
    CHECK(lit[0].from == at("07:30"));
    CHECK(lit[0].until > at("20:10"));
    CHECK(lit[0].until < at("20:40"));
    CHECK(windows(one_scene(R"("light": "day")")) == Spans{{at("09:30"), at("18:00")}});
    // The hour before sunset is past the first day's wrap, that after sunrise before its first
    // shot.
    CHECK(windows(one_scene(R"("light": "golden")")).empty());
    const Spans golden = windows(one_scene(R"("light": "golden")"), 1);
    REQUIRE(golden.size() >= 1);
    CHECK(golden[0].until == lit[0].until);
    // Sunset and the moment an hour before it, each to the whole minute inside.
    CHECK(golden[0].length() <= Minutes{60});
    CHECK(golden[0].length() >= Minutes{59});
    // Dusk begins where daylight ends, and dark where dusk does: to the minute inside each.
    const Spans dusk = windows(one_scene(R"("light": "dusk")"), 1);
    REQUIRE(dusk.size() >= 1);
    CHECK(dusk[0].from >= lit[0].until);
    CHECK(dusk[0].from - lit[0].until <= Minutes{1});
    const Spans dark = windows(one_scene(R"("light": "dark")"), 1);
    REQUIRE(dark.size() >= 1);
    CHECK(dark[0].from - dusk[0].until >= Minutes{0});
    CHECK(dark[0].from - dusk[0].until <= Minutes{1});
    CHECK(dark[0].until > at("24:00"));
  }

  TEST_CASE("light and a window of its own are both kept; what is left must hold the shot") {
    const Spans lit = windows(one_scene(R"("light": "day")"), 1);
    REQUIRE(lit.size() >= 1);
    const Minute sunset = lit[0].until;
    const auto before_sunset = [&](int minutes) {
      const int from = gp::count(sunset) - minutes;
      const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
      return R"("light": "day", "between": ")" + two(from / 60) + ":" + two(from % 60) +
             R"(-23:00")";
    };
    CHECK(windows(one_scene(before_sunset(30)), 1) == Spans{{sunset - Minutes{30}, sunset}});
    CHECK(windows(one_scene(before_sunset(29)), 1).empty());
  }

  TEST_CASE(
      "light is that of the scene's place; where it has no position, of the base; else none") {
    // New York's sun on Dublin's clock: up about 11:15, down about 00:36 the night after.
    const Spans there = windows(one_scene(R"("light": "day", "place": "beach")"), 1);
    REQUIRE(there.size() >= 1);
    CHECK(there[0].from > at("11:00"));
    CHECK(there[0].from < at("11:30"));
    CHECK(windows(one_scene(R"("light": "day", "place": "attic")"), 1) ==
          windows(one_scene(R"("light": "day")"), 1));
  }

  TEST_CASE("the clock on the wall counts, also on the nights when it changes") {
    // London, 28 March 2027: 01:00 becomes 02:00 (zone database); 10:00 is 9 hours after midnight.
    const std::string text = R"({"greasepaint": 1, "title": "Spring", "zone": "Europe/London",
      "days": [{"date": "2027-03-28", "nobody_before": "08:00", "first_shot": "09:00",
                "wrap_by": "17:00"}],
      "scenes": [{"id": "march", "shoot_minutes": 30, "between": "10:00-12:00"}]})";
    CHECK(windows(text) == Spans{{minute(9 * 60), minute(11 * 60)}});
  }

  TEST_CASE("every scene of a production gets its own windows") {
    const gp::Production film = gp::test::production_of(gp::test::data_text("plans/lamp.json"));
    const gp::DayFrame frame(film, gp::DayId(0), {});
    const auto all = gp::shot_windows(film, frame);
    REQUIRE(all.size() == film.scenes.size());
    for (SceneId scene : film.scenes.ids()) {
      for (const Span& window : all[scene]) {
        CHECK(window.length() >= film.scenes[scene].shoot_minutes);
        CHECK(window.from >= frame.first_shot);
        CHECK(window.until <= frame.wrap_by);
      }
    }
  }
}
