// What must not matter: the hour on the clock, and what things are called.
#include "model/check.h"
#include "model/price.h"
#include "search/planner.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"
#include "support/slow_build.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using gp::Minutes;
using gp::test::ProductionSize;
using Object = nlohmann::ordered_json;

namespace {

gp::Plan planned(const gp::Production& film, std::uint64_t seed) {
  gp::Wishes wishes;
  wishes.seed = seed;
  wishes.effort = gp::test::effort(0.05);
  gp::Stop stop;
  gp::Plan plan = gp::make_plan(film, wishes, stop);
  plan.totals.seconds = 0;
  return plan;
}

/// Every text in a file, changed.
void each_text(Object& value, const std::function<void(std::string&)>& change) {
  if (value.is_string()) {
    change(value.get_ref<std::string&>());
  } else if (value.is_structured()) {
    for (auto& inside : value) each_text(inside, change);
  }
}

/// Every "HH:MM" in a text, an hour later.
std::string an_hour_later(std::string text) {
  const auto digit = [&](std::size_t at) { return text[at] >= '0' && text[at] <= '9'; };
  for (std::size_t at = 0; at + 5 <= text.size(); ++at) {
    if (!digit(at) || !digit(at + 1) || text[at + 2] != ':' || !digit(at + 3) || !digit(at + 4)) {
      continue;
    }
    const int hour = std::stoi(text.substr(at, 2)) + 1;
    text.replace(at, 2, (hour < 10 ? "0" : "") + std::to_string(hour));
    at += 4;
  }
  return text;
}

gp::Plan an_hour_earlier(gp::Plan plan) {
  const Minutes hour{60};
  for (gp::DayPlan& day : plan.days) {
    const auto move = [&](gp::Minute& moment) { moment -= hour; };
    if (day.first_shot) move(*day.first_shot);
    if (day.wrap) move(*day.wrap);
    for (auto& row : day.scenes) {
      move(row.set_at);
      move(row.shoot_at);
      move(row.until);
    }
    const auto move_both = [&](auto& rows) {
      for (auto& row : rows) {
        move(row.from);
        move(row.until);
      }
    };
    move_both(day.wears);
    move_both(day.steps);
    move_both(day.ready);
    move_both(day.meals);
    for (auto& row : day.people) {
      move(row.call);
      move(row.released);
    }
  }
  return plan;
}

void forget_texts(gp::Plan& plan) {
  for (auto& row : plan.not_filmed) row.why.clear();
  for (auto& row : plan.unfilled) row.why.clear();
  plan.notes.clear();
}

}  // namespace

TEST_SUITE("search/metamorphic") {
  TEST_CASE("all times an hour later: the same plan an hour later, at the same price") {
    int whole = 0;
    for (std::uint64_t i = 0; i < gp::test::cases(40); ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      Object film = Object::parse(gp::test::random_production(seed, ProductionSize::small()));
      // The sun and the change of the clocks do not move with us; days have their limits written,
      // for those that are not written do not move either.
      film.erase("zone");
      for (Object& scene : film["scenes"]) scene.erase("light");
      for (Object& day : film["days"]) {
        if (!day.contains("nobody_before")) day["nobody_before"] = "06:00";
        if (!day.contains("wrap_by")) day["wrap_by"] = "34:00";
      }
      Object later = film;
      each_text(later, [](std::string& text) { text = an_hour_later(text); });
      const gp::Production now = gp::test::production_of(film.dump());
      const gp::Production then = gp::test::production_of(later.dump());
      gp::Plan first = planned(now, seed);
      gp::Plan second = planned(then, seed);
      CHECK(gp::check(then, second).empty());
      const gp::Price a = gp::price(now, first);
      gp::Price b = gp::price(then, second);
      CHECK(b.wrap - a.wrap == 60 * a.filmed_days);
      CHECK(b.first_calls - a.first_calls == 60 * a.filmed_days);
      b.wrap = a.wrap;
      b.first_calls = a.first_calls;
      CHECK(a == b);
      forget_texts(first);
      forget_texts(second);
      CHECK(an_hour_earlier(second) == first);
      if (first.not_filmed.empty()) ++whole;
    }
    CHECK((whole > 20 || gp::test::kSlowBuild));
  }

  TEST_CASE("other ids: the same plan at the same price") {
    int renamed = 0;
    for (std::uint64_t i = 0; i < gp::test::cases(40); ++i) {
      const std::uint64_t seed = gp::test::seed() + 100 + i;
      CAPTURE(seed);
      Object film = Object::parse(gp::test::random_production(seed, ProductionSize::small()));
      // New ids whose order is the reverse of the old ones'.
      std::map<std::string, std::string> names;
      for (const char* table :
           {"places", "people", "roles", "looks", "stations", "items", "units", "scenes"}) {
        if (!film.contains(table)) continue;
        for (const Object& row : film[table]) {
          const std::string id = row["id"];
          if (!names.contains(id)) {
            names[id] = "n" + std::to_string(999 - static_cast<int>(names.size())) + "-" + id;
          }
        }
      }
      Object other = film;
      each_text(other, [&](std::string& text) {
        const auto found = names.find(text);
        if (found == names.end()) return;
        text = found->second;
        ++renamed;
      });
      for (Object& place : other["places"]) {
        if (!place.contains("minutes_to")) continue;
        Object ways = Object::object();
        for (const auto& [id, minutes] : place["minutes_to"].items()) ways[names.at(id)] = minutes;
        place["minutes_to"] = ways;
      }
      const gp::Production a = gp::test::production_of(film.dump());
      const gp::Production b = gp::test::production_of(other.dump());
      gp::Plan first = planned(a, seed);
      gp::Plan second = planned(b, seed);
      CHECK(gp::price(a, first) == gp::price(b, second));
      forget_texts(first);
      forget_texts(second);
      CHECK(first == second);
    }
    CHECK(renamed > (gp::test::kSlowBuild ? 100 : 1000));
  }
}
