#include "support/builder.h"

#include <set>

#include <doctest/doctest.h>

using gp::Minutes;
using gp::test::at;
using gp::test::lamp;
using gp::test::Planned;
using Rules = std::set<int>;

TEST_SUITE("model/check: rule 10, meals") {
  TEST_CASE("a meal outside of its span, and one of another length") {
    Planned it = lamp();
    auto& between = it.production.days[gp::DayId(0)].meals[1].between;
    // tea at 11:14-11:29
    between = {gp::WallTime{11 * 60 + 14}, gp::WallTime{11 * 60 + 29}};
    CHECK(it.broken().empty());
    between.from = gp::WallTime{11 * 60 + 15};
    CHECK(it.broken() == Rules{10});
    between = {gp::WallTime{11 * 60 + 14}, gp::WallTime{11 * 60 + 28}};
    CHECK(it.broken() == Rules{10});
    Planned shorter = lamp();
    shorter.meal("tea").until -= Minutes{1};
    shorter.recount();
    CHECK(shorter.broken() == Rules{10});
  }

  TEST_CASE("who is there over a meal together eats then") {
    Planned it = lamp();
    it.meal("tea").people = {it.person("bo")};  // ana's stay covers 11:14-11:29
    it.recount();
    CHECK(it.broken() == Rules{10});
    // gil is called at 11:20, in the middle of it
    it.meal("tea").people = {it.person("bo"), it.person("ana")};
    it.recount();
    CHECK(it.broken().empty());
  }

  TEST_CASE("a meal together at two times") {
    Planned it = lamp();
    it.meal("tea").people = {it.person("bo")};
    it.day().meals.push_back({"tea", at("11:15"), at("11:30"), {it.person("ana")}});
    it.recount();
    // ana would also be behind the camera of bow from 11:29
    CHECK(it.broken() == Rules{3, 10});
    it.day().meals.back().from = at("11:14");
    it.day().meals.back().until = at("11:29");
    it.recount();
    CHECK(it.broken().empty());  // two rows, one time
  }

  TEST_CASE("a meal together that nobody eats, while somebody's stay covers all of its span") {
    Planned it = lamp();
    it.day().meals.pop_back();
    it.recount();
    CHECK(it.broken().empty());  // 11:00-12:00: nobody is there until twelve
    it.production.days[gp::DayId(0)].meals[1].between.until = gp::WallTime{11 * 60 + 39};
    CHECK(it.broken() == Rules{10});  // ana and bo are there 11:00-11:39
  }

  TEST_CASE("nothing is filmed over a meal together") {
    Planned it = lamp();
    // the other unit's wick, set up at 11:10 and over at 11:35
    it.production.scenes[it.scene("wick")].at.reset();
    gp::PlannedScene& wick = it.planned("wick");
    wick.set_at = at("11:10");
    wick.shoot_at = at("11:15");
    wick.until = at("11:35");
    it.production.looks[it.look("keeper")].items.clear();  // the lamp is wick's then
    it.wear("gil").items.clear();
    it.recount();
    CHECK(it.broken() == Rules{10});
  }

  TEST_CASE("who is there over all of a meal in turns eats once, and once only") {
    Planned none = lamp();
    none.meal("soup").people.clear();
    none.recount();
    CHECK(none.broken() == Rules{10});
    Planned twice = lamp();
    // bo has ten minutes more while the paint dries and before the walk: 09:39-09:50
    twice.day().meals.push_back({"soup", at("09:39"), at("09:49"), {twice.person("bo")}});
    twice.recount();
    // and no time for the way: 21 minutes, 20 of them eating, 6 to walk
    CHECK(twice.broken() == Rules{3, 10});
  }

  TEST_CASE("no more at once than there are seats") {
    Planned it = lamp();
    // cleo has painted by 09:54, stays and eats too: one seat
    const auto eats = [&](const std::string& from) {
      it.day().meals.resize(2);
      it.day().meals.push_back({"soup", at(from), at(from) + Minutes{10}, {it.person("cleo")}});
      it.recount();
      return it.broken();
    };
    CHECK(eats("09:54") == Rules{10});
    CHECK(eats("10:00").empty());  // bo's seat is free at ten
    CHECK(eats("09:59") == Rules{10});
    it.production.days[gp::DayId(0)].meals[0].seats = 2;
    CHECK(eats("09:59").empty());
    it.production.days[gp::DayId(0)].meals[0].seats.reset();
    CHECK(eats("09:54").empty());
  }

  TEST_CASE("a meal that the day does not have") {
    Planned it = lamp();
    it.day().meals.push_back({"supper", at("11:00"), at("11:10"), {}});
    CHECK(it.broken() == Rules{10});
  }
}
