#include "model/price.h"

#include "support/builder.h"

#include <doctest/doctest.h>

using gp::Aim;
using gp::better;
using gp::Minutes;
using gp::Price;
using gp::price;
using gp::test::lamp;
using gp::test::Planned;

TEST_SUITE("model/price") {
  TEST_CASE("the plan worked out by hand costs what its stays add up to") {
    const Planned it = lamp();
    const Price cost = price(it.production, it.plan);
    // cleo 49, bo 149, elif 92, ana 129, fay 60, dov 25, gil 19; bo's minutes weigh two
    CHECK(cost.on_site == 523);
    CHECK(cost.weighted_on_site == 672'000);
    CHECK(cost.waiting == 9 + 40 + 23 + 21 + 15 + 5 + 9);
    CHECK(cost.not_filmed == 0);
    CHECK(cost.optional_not_filmed == 500);  // storm
    CHECK(cost.unfilled == 1);
    CHECK(cost.first_calls == 9 * 60 + 5);
    CHECK(cost.span == 55);  // 09:05 to 10:00
    CHECK(cost.wrap == 11 * 60 + 39);
    CHECK(cost.filmed_days == 1);
  }

  TEST_CASE("the price is counted, not read off the plan's own sums") {
    Planned it = lamp();
    const Price before = price(it.production, it.plan);
    it.plan.totals.on_site = 1;
    it.stay("dov").on_site = Minutes{1};
    CHECK(price(it.production, it.plan) == before);
  }

  TEST_CASE("a scene lost counts by its worth, an optional one apart") {
    Planned it = lamp();
    it.production.scenes[it.scene("wick")].worth = 2500;
    std::erase_if(it.day().scenes,
                  [&](const gp::PlannedScene& row) { return row.scene == it.scene("wick"); });
    const Price cost = price(it.production, it.plan);
    CHECK(cost.not_filmed == 2500);
    CHECK(cost.optional_not_filmed == 500);
    CHECK(cost.on_site == 523 - 25);  // dov has nothing left to do, whatever the list of calls says
  }

  TEST_CASE("better: worth, then optional worth, then heads, whatever the minutes") {
    const Price least{0, 0, 0, 900, 900'000, 90, 500, 60, 1000, 1};
    Price lost = least;
    lost.not_filmed = 1;
    lost.weighted_on_site = 0;
    CHECK(better(least, lost, Aim::least_time));
    Price optional = least;
    optional.optional_not_filmed = 5000;
    CHECK(better(optional, lost, Aim::least_time));
    CHECK(better(least, optional, Aim::least_time));
    Price short_of = least;
    short_of.unfilled = 9;
    CHECK(better(short_of, optional, Aim::latest_first_call));
    CHECK(better(least, short_of, Aim::latest_first_call));
    CHECK_FALSE(better(least, least, Aim::least_time));
  }

  TEST_CASE("better: the aim's own order, then the earliest wrap") {
    Price a{0, 0, 0, 900, 900'000, 90, 500, 60, 1000, 1};
    Price b = a;
    b.first_calls = 510;  // ten minutes more of sleep
    b.weighted_on_site = 950'000;
    CHECK(better(a, b, Aim::least_time));
    CHECK(better(b, a, Aim::latest_first_call));
    b = a;
    b.wrap = 999;
    CHECK(better(b, a, Aim::least_time));
    CHECK(better(b, a, Aim::latest_first_call));
    b.weighted_on_site += 1;
    CHECK(better(a, b, Aim::least_time));
  }

  TEST_CASE("a day that is not needed is never an advantage") {
    // one day from 08:00, or two from 10:00 each
    Price one{0, 0, 0, 900, 900'000, 90, 480, 60, 1000, 1};
    Price two{0, 0, 0, 900, 900'000, 90, 1200, 60, 2000, 2};
    CHECK(better(one, two, Aim::least_time));
    CHECK(better(one, two, Aim::latest_first_call));
  }
}
