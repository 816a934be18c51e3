#include "support/builder.h"

#include <set>

#include <doctest/doctest.h>

using gp::ChainPart;
using gp::check;
using gp::Minutes;
using gp::test::at;
using gp::test::lamp;
using gp::test::Planned;
using Rules = std::set<int>;

namespace {

void move(gp::PlannedStep& step, int minutes) {
  step.from += Minutes{minutes};
  step.until += Minutes{minutes};
}

}  // namespace

TEST_SUITE("model/check: rule 6, looks") {
  TEST_CASE("a step left out, doubled, or one that the chain does not have") {
    Planned without = lamp();
    std::erase_if(without.day().steps, [&](const gp::PlannedStep& step) {
      return step.person == without.person("bo") && step.part == ChainPart::off;
    });
    without.recount();
    CHECK(without.broken() == Rules{6});

    Planned doubled = lamp();
    gp::PlannedStep again = doubled.step("bo", ChainPart::off, 0);
    doubled.step("bo", ChainPart::off, 0).from = at("10:36");
    again.from = at("10:44");
    again.until = at("10:52");
    doubled.wear("bo").until = at("10:52");
    // elif's own washing would be in the way at the one sink
    doubled.production.stations[doubled.station("sinks")].places = 2;
    doubled.step("elif", ChainPart::off, 0).place = 2;
    doubled.day().steps.push_back(again);
    doubled.recount();
    CHECK(doubled.broken() == Rules{6});

    Planned no_such = lamp();
    no_such.step("bo", ChainPart::off, 0).step = 1;
    no_such.recount();
    CHECK(no_such.broken() == Rules{6});
  }

  TEST_CASE("a step at another station, and one that takes a minute less") {
    Planned station = lamp();
    station.step("bo", ChainPart::off, 0).station = station.station("rail");
    station.recount();
    CHECK(station.broken() == Rules{6});

    Planned shorter = lamp();
    shorter.step("bo", ChainPart::on, 0).from += Minutes{1};
    shorter.wear("bo").from += Minutes{1};
    shorter.recount();
    CHECK(shorter.broken() == Rules{6});
  }

  TEST_CASE("steps out of order, and a wait between two of them") {
    Planned it = lamp();
    it.production.looks[it.look("guard")].steps[0].then_wait = Minutes{1};
    CHECK(it.broken() == Rules{6});  // bo goes from the rail to the chair at once

    Planned order = lamp();
    // (no soup: bo would have no time for it)
    order.production.days[gp::DayId(0)].meals.erase(
        order.production.days[gp::DayId(0)].meals.begin());
    order.day().meals.erase(order.day().meals.begin());
    // bo's rail comes after the chair: 09:39-09:45, painted from 09:24 on
    gp::PlannedStep& rail = order.step("bo", ChainPart::on, 0);
    rail.from = at("09:39");
    rail.until = at("09:45");
    order.wear("bo").from = at("09:24");
    order.recount();
    CHECK(order.broken() == Rules{6});
  }

  TEST_CASE("paint that is not dry at the first shot") {
    // elif leaves the chair at 09:54, dry at 09:59, shot at 10:00
    Planned it = lamp();
    auto& paint = it.production.looks[it.look("guard")].steps[1];
    paint.then_wait = Minutes{6};
    CHECK(it.broken().empty());
    paint.then_wait = Minutes{7};
    CHECK(it.broken() == Rules{6});
  }

  TEST_CASE("a look that does not hold to the end of a scene") {
    // bo is painted at 09:39, march ends at 10:30: 51 minutes; elif 09:54, salute 10:43: 49
    Planned it = lamp();
    auto& holds = it.production.looks[it.look("guard")].holds_for;
    holds = Minutes{51};
    CHECK(it.broken().empty());
    holds = Minutes{50};
    CHECK(it.broken() == Rules{6});
  }

  TEST_CASE("in a scene without the role's look, in another look, and in a look as themselves") {
    Planned without = lamp();
    // the keeper's look has no steps: only the wear itself goes
    std::erase_if(without.day().wears,
                  [&](const gp::Wear& wear) { return wear.person == without.person("gil"); });
    CHECK(without.broken() == Rules{6});

    Planned other = lamp();
    other.production.roles[other.role("guard")].look = other.look("keeper");
    CHECK(other.broken() == Rules{6});

    Planned themselves = lamp();
    themselves.production.roles[themselves.role("keeper")].look_kind = gp::LookKind::themselves;
    CHECK(themselves.broken() == Rules{6});

    Planned any = lamp();
    // bo's hand in wick needs no look on; its own look stays on
    any.production.roles[any.role("guard")].look_kind = gp::LookKind::any;
    CHECK(any.broken() == Rules{6});  // now the guard's look is worn for nothing
  }

  TEST_CASE("washed off before the last scene has ended") {
    Planned it = lamp();
    // elif washes between march and salute, which is moved back to make room
    move(it.step("elif", ChainPart::off, 0), -8);  // 10:41-10:49, salute ends at 10:43
    it.wear("elif").until = at("10:49");
    it.recount();
    CHECK(it.broken() == Rules{3, 6, 7});  // bo is at the one sink until 10:44
  }

  TEST_CASE("a stretch that does not end where its steps end") {
    Planned longer = lamp();
    longer.wear("bo").until += Minutes{1};
    CHECK(longer.broken() == Rules{6});
    Planned earlier = lamp();
    earlier.wear("bo").from -= Minutes{1};
    CHECK(earlier.broken() == Rules{6});
    Planned no_steps = lamp();
    no_steps.wear("gil").from -= Minutes{1};
    CHECK(no_steps.broken() == Rules{6});
  }

  TEST_CASE("two looks on one person at once") {
    Planned it = lamp();
    // gil also plays a guard in a look without steps, in the same minutes
    it.production.looks[it.look("guard")].steps.clear();
    it.production.looks[it.look("guard")].off.clear();
    it.production.looks[it.look("guard")].items.clear();
    it.day().steps.clear();
    it.day().ready.clear();
    it.day().wears.clear();
    it.production.scenes[it.scene("bow")].cast = {{it.role("keeper"), 1}};
    it.planned("bow").cast = {{it.role("keeper"), {it.person("gil")}}};
    const gp::PlannedScene& bow = it.planned("bow");
    it.day().wears.push_back(
        {it.person("gil"), it.look("keeper"), bow.shoot_at, bow.until, {it.item("lamp")}});
    it.day().wears.push_back({it.person("gil"), it.look("guard"), bow.shoot_at, bow.until, {}});
    for (const char* who : {"bo", "elif"}) {
      const auto& scene = it.planned("march");
      it.day().wears.push_back({it.person(who), it.look("guard"), scene.shoot_at, scene.until, {}});
    }
    it.day().wears.back().until = it.planned("salute").until;
    it.meal("tea").people = {it.person("ana")};
    it.meal("soup").people.clear();
    it.recount();
    // worn for nothing, and over the other
    CHECK(it.broken() == Rules{6});
    it.day().wears.erase(it.day().wears.begin() + 1);
    it.recount();
    CHECK(it.broken().empty());
  }

  TEST_CASE("a step in no stretch of its look") {
    Planned it = lamp();
    it.step("bo", ChainPart::off, 0).look = it.look("guard");
    move(it.step("bo", ChainPart::off, 0), 1);
    it.recount();
    CHECK(it.broken() == Rules{6});
  }
}

TEST_SUITE("model/check: rule 8, items") {
  TEST_CASE("more in use than there are") {
    Planned it = lamp();
    it.wear("elif").items = {it.item("helmet")};  // bo has the one helmet
    CHECK(it.broken() == Rules{8});
    it.production.items[it.item("helmet")].count = 2;
    CHECK(it.broken().empty());
  }

  TEST_CASE("what is given back at a minute can be taken at that minute") {
    // bow wears the lamp from 11:29 on; wick, which uses it, is moved to end there
    Planned it = lamp();
    it.production.scenes[it.scene("wick")].at.reset();
    gp::PlannedScene& wick = it.planned("wick");
    wick.set_at = at("11:04");
    wick.shoot_at = at("11:09");
    wick.until = at("11:29");
    // the tea would break off the scene
    it.production.days[gp::DayId(0)].meals.pop_back();
    it.day().meals.pop_back();
    it.recount();
    CHECK(it.broken().empty());
    wick.set_at += Minutes{1};
    wick.shoot_at += Minutes{1};
    wick.until += Minutes{1};
    it.recount();
    CHECK(it.broken() == Rules{8});
  }

  TEST_CASE("a prop is out from the set-up's start") {
    Planned it = lamp();
    // gil would take the lamp off at 10:01, in wick's set-up: count 1
    it.production.scenes[it.scene("wick")].props[0].count = 2;
    CHECK(it.broken() == Rules{8});
  }

  TEST_CASE("an item that stands in for nothing, one missing and one too many") {
    Planned wrong = lamp();
    wrong.wear("elif").items = {wrong.item("lamp")};
    // the lamp is then worn from 09:33 to 10:57, and wick uses the one there is
    CHECK(wrong.broken() == Rules{8});
    Planned missing = lamp();
    missing.wear("elif").items.clear();
    CHECK(missing.broken() == Rules{8});
    Planned more = lamp();
    more.wear("gil").items.push_back(more.item("lamp"));
    CHECK(more.broken() == Rules{8});
    // the stand-in is not stood in for by the item itself
    Planned reversed = lamp();
    reversed.production.looks[reversed.look("guard")].items = {reversed.item("bucket")};
    CHECK(reversed.broken() == Rules{8});
  }
}
