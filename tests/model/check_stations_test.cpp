#include "support/builder.h"

#include <set>

#include <doctest/doctest.h>

using gp::ChainPart;
using gp::Minutes;
using gp::test::at;
using gp::test::lamp;
using gp::test::Planned;
using Rules = std::set<int>;

TEST_SUITE("model/check: rule 7, stations") {
  TEST_CASE("a place that the station does not have") {
    Planned it = lamp();
    it.step("bo", ChainPart::on, 0).place = 2;  // the rail has two
    CHECK(it.broken().empty());
    it.step("bo", ChainPart::on, 0).place = 3;
    CHECK(it.broken() == Rules{7});
    it.step("bo", ChainPart::on, 0).place = 0;
    CHECK(it.broken() == Rules{7});
  }

  TEST_CASE("two on one place, by a minute") {
    // both get onto the rail's place 1; elif a quarter of an hour after bo, who is off at 09:24
    Planned it = lamp();
    gp::PlannedStep& rail = it.step("elif", ChainPart::on, 0);
    // the soup from 09:10 on, so that elif, then called at 09:15, need not eat it
    it.production.days[gp::DayId(0)].meals[0].between.from = gp::WallTime{9 * 60 + 10};
    const auto starts = [&](const std::string& from) {
      rail.from = at(from);
      rail.until = at(from) + Minutes{6};
      it.wear("elif").from = at(from);
      it.recount();
      return it.broken();
    };
    CHECK(starts("09:24").empty());
    CHECK(starts("09:23") == Rules{7});
    rail.place = 2;
    CHECK(starts("09:23").empty());
  }

  TEST_CASE("a step before the station opens and after it closes") {
    Planned it = lamp();
    auto& open = it.production.stations[it.station("paint")].open;
    // painted 09:24-09:54
    open = gp::WallSpan{gp::WallTime{9 * 60 + 24}, gp::WallTime{9 * 60 + 54}};
    CHECK(it.broken().empty());
    open->from = gp::WallTime{9 * 60 + 25};
    CHECK(it.broken() == Rules{7});
    *open = {gp::WallTime{9 * 60 + 24}, gp::WallTime{9 * 60 + 53}};
    CHECK(it.broken() == Rules{7});
  }

  TEST_CASE("nobody where somebody is needed, and somebody where nobody is") {
    Planned nobody = lamp();
    nobody.step("elif", ChainPart::on, 1).by = gp::PersonId();
    nobody.recount();
    CHECK(nobody.broken() == Rules{7});
    Planned somebody = lamp();
    // dov is free then, and would hold elif's towel
    somebody.step("elif", ChainPart::off, 0).by = somebody.person("dov");
    somebody.recount();
    CHECK(somebody.broken() == Rules{7});
  }

  TEST_CASE("somebody who cannot, who is not of the staff, and their own") {
    Planned cannot = lamp();
    cannot.production.people[cannot.person("cleo")].can = {"sew"};
    CHECK(cannot.broken() == Rules{7});
    Planned not_staff = lamp();
    not_staff.production.stations[not_staff.station("paint")].staff = {not_staff.person("hal")};
    CHECK(not_staff.broken() == Rules{7});
    Planned anybody = lamp();
    anybody.production.stations[anybody.station("paint")].staff.reset();
    CHECK(anybody.broken().empty());
    // elif can paint: their own face, which nobody does, and is in two places at once besides; the
    // one of the staff, cleo, then gets ready for bo alone
    Planned own = lamp();
    own.production.stations[own.station("paint")].staff.reset();
    own.production.stations[own.station("paint")].set_minutes = Minutes{0};
    own.step("elif", ChainPart::on, 1).by = own.person("elif");
    own.recount();
    CHECK(own.broken() == Rules{3, 7});
  }

  TEST_CASE("a station that nobody got ready, too late, too quickly, twice or for nothing") {
    Planned none = lamp();
    none.day().ready.clear();
    none.recount();
    CHECK(none.broken() == Rules{7});

    Planned late = lamp();
    // cleo's first step there is bo's at 09:24
    late.day().ready.at(0).from = at("09:15");
    late.day().ready.at(0).until = at("09:25");
    late.recount();
    CHECK(late.broken() == Rules{3, 7});

    Planned quick = lamp();
    quick.day().ready.at(0).from = at("09:15");
    quick.recount();
    CHECK(quick.broken() == Rules{7});

    Planned twice = lamp();
    twice.day().ready.push_back(
        {twice.person("cleo"), twice.station("paint"), at("09:04"), at("09:14")});
    twice.recount();
    CHECK(twice.broken() == Rules{7});

    Planned nothing = lamp();
    nothing.day().ready.push_back(
        {nothing.person("dov"), nothing.station("paint"), at("09:30"), at("09:40")});
    nothing.recount();
    CHECK(nothing.broken() == Rules{7});
  }

  TEST_CASE("each of the staff gets it ready, not the first alone") {
    Planned it = lamp();
    it.production.people[it.person("dov")].can.emplace_back("paint");
    it.production.stations[it.station("paint")].staff->push_back(it.person("dov"));
    it.step("elif", ChainPart::on, 1).by = it.person("dov");
    it.recount();
    CHECK(it.broken() == Rules{7});
    it.day().ready.push_back({it.person("dov"), it.station("paint"), at("09:29"), at("09:39")});
    it.recount();
    CHECK(it.broken().empty());
  }
}
