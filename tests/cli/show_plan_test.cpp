#include "cli/show_plan.h"

#include "model/plan_json.h"
#include "model/read_production.h"
#include "text/width.h"

#include <sstream>
#include <string>
#include <variant>

#include <doctest/doctest.h>

namespace {

const std::string kProduction = R"({
  "greasepaint": 1, "title": "The Clock That Lied", "zone": "Europe/Dublin", "aim": "least-time",
  "days": [{"date": "2027-10-30", "base": "hall"}],
  "places": [{"id": "hall", "name": "The old hall"}],
  "people": [{"id": "ada", "name": "Ada Lovelock"}, {"id": "li", "name": "李小龍", "can": ["paint"]},
             {"id": "zoe", "name": "Zoë"}],
  "looks": [{"id": "owl", "name": "Owl", "steps": [{"at": "chair", "minutes": 20, "by": "paint"}]}],
  "stations": [{"id": "chair", "name": "Face paint", "set_minutes": 5}],
  "roles": [{"id": "owl", "name": "The owl", "look": "owl", "person": "ada"},
            {"id": "crowd", "name": "Villagers", "crowd": true}],
  "scenes": [{"id": "tick", "name": "The clock strikes", "shoot_minutes": 30,
              "cast": [{"role": "owl"}, {"role": "crowd", "people": 2}]},
             {"id": "tock", "name": "The clock is silent", "shoot_minutes": 10}]
})";

// Saturday 30 October 2027: at 02:00 on Sunday, summer time ends in Ireland, so that the wall shows
// 01:00 to 02:00 twice; "24:50" is ten to one in that night
const std::string kPlan = R"({
  "greasepaint_plan": 1, "title": "The Clock That Lied",
  "days": [{"date": "2027-10-30", "first_shot": "24:20", "wrap": "24:50",
    "scenes": [{"scene": "tick", "unit": "main", "set_at": "24:20", "shoot_at": "24:20", "until": "24:50",
                "cast": [{"role": "owl", "people": ["ada"]}, {"role": "crowd", "people": ["zoe"]}]}],
    "wears": [{"person": "ada", "look": "owl", "from": "23:55", "until": "24:50", "items": []}],
    "steps": [{"person": "ada", "look": "owl", "part": "on", "step": 0, "station": "chair", "place": 1,
               "by": "li", "from": "23:55", "until": "24:15"}],
    "ready": [{"person": "li", "station": "chair", "from": "23:50", "until": "23:55"}],
    "meals": [],
    "people": [{"person": "li", "call": "23:45", "released": "24:15", "on_site": 30, "busy": 25, "waiting": 5},
               {"person": "ada", "call": "23:50", "released": "24:50", "on_site": 60, "busy": 50, "waiting": 10},
               {"person": "zoe", "call": "24:15", "released": "24:50", "on_site": 35, "busy": 30, "waiting": 5}]}],
  "unfilled": [{"scene": "tick", "role": "crowd", "missing": 1, "why": "of 3 who may, 2 are needed elsewhere"}],
  "not_filmed": [{"scene": "tock", "why": "nobody is left who holds the lamp"}],
  "notes": [{"level": "warning", "about": "people.zoe", "text": "walks home at night"}],
  "totals": {"on_site": 125, "weighted_on_site": 125, "waiting": 20, "bound": 100, "proven": false, "seconds": 0.1}
})";

struct Example {
  gp::Production production;
  gp::Plan plan;
};

Example example() {
  auto production = gp::read_production(kProduction);
  if (const auto* faults = std::get_if<std::vector<gp::Fault>>(&production)) {
    FAIL(gp::render(faults->front(), "production", kProduction));
  }
  auto plan = gp::read_plan(kPlan, std::get<gp::Production>(production));
  if (const auto* faults = std::get_if<std::vector<gp::Fault>>(&plan)) {
    FAIL(gp::render(faults->front(), "plan", kPlan));
  }
  return {std::get<gp::Production>(production), std::get<gp::Plan>(plan)};
}

}  // namespace

TEST_SUITE("cli/show_plan") {
  TEST_CASE("a day is shown with all that is in it, columns in line") {
    const Example it = example();
    CHECK(gp::show_days(it.production, it.plan, {}) == R"(The Clock That Lied

Saturday 30 October 2027
The old hall, first shot 24:20, wrap 24:50, called: 3

Scenes
  set-up  shot   until
  24:20   24:20  24:50  The clock strikes, The old hall
                        The owl: Ada Lovelock
                        Villagers: Zoë

Calls
  call   who (released)
  23:45  李小龍 (24:15)
  23:50  Ada Lovelock (24:50)
  24:15  Zoë (24:50)

Station: Face paint, The old hall, 李小龍 gets it ready 23:50-23:55
           23:45          24:00
  place 1            |Ada Lovelock       |
  place 1  23:55-24:15 Ada Lovelock (Owl on, by 李小龍)

Not possible
  not filmed  The clock is silent: nobody is left who holds the lamp
  1 missing   The clock strikes, Villagers: of 3 who may, 2 are needed elsewhere
  What stands in the way: greasepaint why FILE tock

Notes
  warning  people.zoe: walks home at night

Cost
  2 h 05 min on site by 3 people, 20 min of it waiting.
  No right plan can need less time on site than 1 h 40 min; this one needs 2 h
  05 min, at most 25.0 % more.
)");
  }

  TEST_CASE("no line is wider than the terminal, from 40 cells on") {
    const Example it = example();
    for (std::size_t columns = 40; columns <= 120; columns += 5) {
      std::istringstream lines(gp::show_days(it.production, it.plan, {columns, gp::Paint(false)}));
      for (std::string line; std::getline(lines, line);) {
        CAPTURE(columns);
        CAPTURE(line);
        CHECK(gp::cells(line) <= columns);
      }
    }
  }

  TEST_CASE("colours change nothing but the colours") {
    const Example it = example();
    const std::string plain = gp::show_days(it.production, it.plan, {});
    const std::string painted = gp::show_days(it.production, it.plan, {80, gp::Paint(true)});
    std::string without;
    for (std::size_t at = 0; at < painted.size(); ++at) {
      if (painted[at] == '\x1b') {
        at = painted.find('m', at);
      } else {
        without += painted[at];
      }
    }
    CHECK(painted != plain);
    CHECK(without == plain);
  }

  TEST_CASE("a proven plan, one without a bound and one that reaches it are told apart") {
    Example it = example();
    const auto cost = [&it] {
      return gp::show_cost(it.production, it.plan, {200, gp::Paint(false)});
    };
    it.plan.totals.bound.reset();
    CHECK(cost().find("How far it is from the best is not known.") != std::string::npos);
    it.plan.totals.bound = 125'000;
    CHECK(cost().find("than 2 h 05 min, which this one needs.") != std::string::npos);
    it.plan.totals.proven = true;
    CHECK(cost().find("No right plan needs less time on site: proven.") != std::string::npos);
  }

  TEST_CASE("lengths are told in hours and minutes") {
    CHECK(gp::length_text(0) == "0 min");
    CHECK(gp::length_text(59) == "59 min");
    CHECK(gp::length_text(60) == "1 h");
    CHECK(gp::length_text(65) == "1 h 05 min");
    CHECK(gp::length_text(4210) == "70 h 10 min");
  }

  TEST_CASE("dates are told with their weekday") {
    using namespace std::chrono;
    // ISO 8601's own reference: 1 January 2000 was a Saturday
    CHECK(gp::date_text(year{2000} / 1 / 1) == "Saturday 1 January 2000");
    CHECK(gp::date_text(year{2027} / 9 / 25) == "Saturday 25 September 2027");
  }
}
