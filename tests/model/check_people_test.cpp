#include "support/builder.h"

#include <set>

#include <doctest/doctest.h>

using gp::check;
using gp::Minutes;
using gp::test::at;
using gp::test::lamp;
using gp::test::Planned;
using Rules = std::set<int>;

TEST_SUITE("model/check: rule 3, people") {
  TEST_CASE("two engagements at once, by a minute") {
    // bo is painted 09:24-09:39 and would eat from 09:38
    Planned it = lamp();
    auto& soup = it.meal("soup");
    soup.from = at("09:39");
    soup.until = at("09:49");
    it.recount();
    REQUIRE(it.broken().empty());
    soup.from -= Minutes{1};
    soup.until -= Minutes{1};
    it.recount();
    CHECK(it.broken() == Rules{3});
  }

  TEST_CASE("crew are needed from the set-up's start") {
    // fay makes light for march from 09:45 on; dov's wick is set up from 10:00. As light of march,
    // dov would be in both.
    Planned it = lamp();
    it.production.people[it.person("dov")].can.emplace_back("light");
    it.crew("march", "light") = {it.person("dov")};
    it.recount();
    CHECK(it.broken() == Rules{3});
  }

  TEST_CASE("eating is not walking") {
    // From the chair at 09:39 bo walks 6 minutes to the beach for 10:00: 21 minutes, of which soup
    // takes 10. With a way of 11 it just fits, with 12 it does not, though 12 < 21. Elif needs the
    // way only between 09:54 and 10:00, so hers is left at 6 by a second place.
    Planned it = lamp();
    it.wear("bo").from -= Minutes{0};
    auto& hall_way = it.production.places[it.production.scenes[it.scene("march")].place].minutes_to;
    for (auto& [place, way] : hall_way) way = Minutes{11};
    // everyone else whose way changes is out of the question here
    const auto complaints = [&](const std::string& who) {
      int number = 0;
      for (const auto& broken : check(it.production, it.plan)) {
        number += broken.rule == 3 && broken.where == who &&
                  broken.what.find("guard on 1 to scene march") != std::string::npos;
      }
      return number;
    };
    CHECK(complaints("bo") == 0);
    for (auto& [place, way] : hall_way) way = Minutes{12};
    CHECK(complaints("bo") == 1);
    CHECK(complaints("elif") == 1);  // 6 minutes from 09:54
  }

  TEST_CASE("no time for the way between two places") {
    // elif comes off the beach at 10:43 and is at the sinks at 10:49
    Planned it = lamp();
    gp::PlannedStep& off = it.step("elif", gp::ChainPart::off, 0);
    off.from -= Minutes{1};
    off.until -= Minutes{1};
    it.wear("elif").until -= Minutes{1};
    it.recount();
    CHECK(it.broken() == Rules{3});
  }

  TEST_CASE("in front of and behind the camera of two scenes at once") {
    Planned it = lamp();
    it.cast("wick", "hand") = {it.person("cleo")};  // cleo paints until 09:54, wick is at 10:05
    it.recount();
    CHECK(it.broken().empty());
    it.cast("wick", "hand") = {it.person("elif")};  // elif is in march until 10:30, and cannot sew
    it.production.people[it.person("elif")].can.emplace_back("sew");
    it.recount();
    CHECK(it.broken() == Rules{3});
  }
}

TEST_SUITE("model/check: rule 4, windows of people") {
  TEST_CASE("a call before anybody may be called") {
    Planned it = lamp();
    auto& opens = it.production.days[gp::DayId(0)].nobody_before;
    opens = gp::WallTime{9 * 60 + 5};  // cleo's call
    CHECK(it.broken().empty());
    opens = gp::WallTime{9 * 60 + 6};
    CHECK(it.broken() == Rules{4});
  }

  TEST_CASE("the stay lies within one span of the free time, not in two together") {
    Planned it = lamp();
    const gp::Date day = it.production.days[gp::DayId(0)].date;
    auto& free = it.production.people[it.person("elif")].free;
    const auto hours = [&](int from, int until) {
      return gp::FreeTime{day, gp::WallSpan{gp::WallTime{from}, gp::WallTime{until}}};
    };
    // elif is here 09:25-10:57
    free = {hours(9 * 60 + 25, 10 * 60 + 57)};
    CHECK(it.broken().empty());
    free = {hours(9 * 60 + 26, 10 * 60 + 57)};
    CHECK(it.broken() == Rules{4});
    free = {hours(9 * 60 + 25, 10 * 60 + 56)};
    CHECK(it.broken() == Rules{4});
    free = {hours(9 * 60, 10 * 60), hours(10 * 60, 12 * 60)};
    CHECK(it.broken() == Rules{4});
    free = {hours(7 * 60, 8 * 60), hours(9 * 60, 12 * 60)};
    CHECK(it.broken().empty());
    free = {gp::FreeTime{day, std::nullopt}};
    CHECK(it.broken().empty());
    free = {gp::FreeTime{it.production.days[gp::DayId(1)].date, std::nullopt}};
    CHECK(it.broken() == Rules{4});
  }
}

TEST_SUITE("model/check: rule 11, calls") {
  TEST_CASE("a call five minutes early, five minutes late, and off the grid") {
    for (const int minutes : {-5, 5, 1, -1}) {
      CAPTURE(minutes);
      Planned it = lamp();
      gp::Stay& stay = it.stay("dov");
      stay.call += Minutes{minutes};
      stay.on_site -= Minutes{minutes};
      stay.waiting -= Minutes{minutes};
      it.plan.totals.on_site -= minutes;
      it.plan.totals.weighted_on_site -= minutes * 1000;
      it.plan.totals.waiting -= minutes;
      CHECK(it.broken() == Rules{11});
    }
  }

  TEST_CASE("the way from the base and the time to sign in come before the first engagement") {
    // fay: light of march on the beach at 09:45, less 6 on foot and 5 to sign in: 09:34, so 09:30
    Planned it = lamp();
    it.production.sign_in = Minutes{9};  // 09:30 just does, for others it does not
    const auto complaints = [&](const std::string& who) {
      int number = 0;
      for (const auto& broken : check(it.production, it.plan)) {
        number += broken.rule == 11 && broken.where == who;
      }
      return number;
    };
    CHECK(complaints("fay") == 0);
    it.production.sign_in = Minutes{10};
    CHECK(complaints("fay") == 1);
    it.production.sign_in = Minutes{4};  // 09:35 would do
    CHECK(complaints("fay") == 1);
  }

  TEST_CASE("each sum of a stay and of the plan") {
    Planned released = lamp();
    released.stay("dov").released += Minutes{1};
    CHECK(released.broken() == Rules{11});
    Planned on_site = lamp();
    on_site.stay("dov").on_site += Minutes{1};
    CHECK(on_site.broken() == Rules{11});
    Planned busy = lamp();
    busy.stay("dov").busy -= Minutes{1};
    CHECK(busy.broken() == Rules{11});
    Planned waiting = lamp();
    waiting.stay("dov").waiting += Minutes{1};
    CHECK(waiting.broken() == Rules{11});
    Planned total = lamp();
    total.plan.totals.on_site += 1;
    CHECK(total.broken() == Rules{11});
    Planned weighted = lamp();
    weighted.plan.totals.weighted_on_site += 1;
    CHECK(weighted.broken() == Rules{11});
    Planned total_waiting = lamp();
    total_waiting.plan.totals.waiting -= 1;
    CHECK(total_waiting.broken() == Rules{11});
    Planned first = lamp();
    first.day().first_shot = at("10:05");
    CHECK(first.broken() == Rules{11});
    Planned wrap = lamp();
    wrap.day().wrap = at("11:40");
    CHECK(wrap.broken() == Rules{11});
  }

  TEST_CASE("somebody without a call, and a call for nothing") {
    Planned without = lamp();
    std::erase_if(without.day().people,
                  [&](const gp::Stay& stay) { return stay.person == without.person("dov"); });
    CHECK(without.broken() == Rules{11});
    Planned nothing = lamp();
    gp::Stay stay = nothing.stay("dov");
    stay.person = nothing.person("hal");
    nothing.day().people.push_back(stay);
    CHECK(nothing.broken() == Rules{11});
    Planned twice = lamp();
    gp::Stay other = twice.stay("dov");
    other.call -= Minutes{5};
    twice.day().people.insert(twice.day().people.begin(), other);
    CHECK(twice.broken() == Rules{11});
  }

  TEST_CASE("a bound above the plan's own value, under each aim") {
    Planned it = lamp();
    it.plan.totals.bound = 672'000;  // bo counts twice: 523 + 149
    CHECK(it.broken().empty());
    it.plan.totals.bound = 672'001;
    CHECK(it.broken() == Rules{11});
    it.plan.totals.bound.reset();
    CHECK(it.broken().empty());
    // first call 09:05, first shot 10:00
    it.production.aim = gp::Aim::latest_first_call;
    it.plan.totals.bound = 55'000;
    CHECK(it.broken().empty());
    it.plan.totals.bound = 55'001;
    CHECK(it.broken() == Rules{11});
  }

  TEST_CASE("nothing begins or ends in the second pass of an hour that comes twice") {
    // Europe/Dublin, 2027-10-31 (zone database): 02:00 summer time is followed by 01:00 again.
    // 01:30 is 90 minutes after midnight, and again 150: the second has no reading.
    const std::string text = R"({"greasepaint": 1, "title": "Twice", "zone": "Europe/Dublin",
      "days": [{"date": "2027-10-31"}], "people": [{"id": "ana"}],
      "roles": [{"id": "owl", "person": "ana"}],
      "scenes": [{"id": "hoot", "shoot_minutes": 30, "cast": [{"role": "owl"}]}]})";
    Planned it;
    it.production = gp::test::production_of(text);
    gp::DayPlan day;
    day.day = gp::DayId(0);
    gp::PlannedScene hoot;
    hoot.scene = it.scene("hoot");
    hoot.unit = gp::UnitId(0);
    hoot.cast.push_back({it.role("owl"), {it.person("ana")}});
    day.scenes.push_back(hoot);
    it.plan.days.push_back(day);
    const auto shoots = [&](int elapsed) {
      gp::PlannedScene& row = it.planned("hoot");
      row.set_at = row.shoot_at = gp::minute(elapsed);
      row.until = gp::minute(elapsed + 30);
      it.recount();
      return it.broken();
    };
    CHECK(shoots(85).empty());           // 01:25-01:55, called at 01:20
    CHECK(shoots(90) == Rules{1, 11});   // ends at the second 01:00
    CHECK(shoots(150) == Rules{1, 11});  // all of it in the second pass
    CHECK(shoots(185).empty());          // 02:05, called at 02:00
    CHECK(shoots(180) == Rules{11});     // the call would be at the second 01:55
  }
}
