// Every claim of the explanations against check(), on plans of the demos and of random productions:
// what is said to be held cannot be moved, what is said to be free can.
#include "base/random.h"
#include "explain/why/why.h"
#include "model/check.h"
#include "model/engagements.h"
#include "model/plan_json.h"
#include "search/planner.h"
#include "support/builder.h"
#include "support/moved_plan.h"
#include "support/random_production.h"
#include "support/seed.h"
#include "support/slow_build.h"
#include "time/clock.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <tuple>
#include <vector>

#include <doctest/doctest.h>

using gp::Minute;
using gp::Minutes;
using gp::PersonId;
using gp::Plan;
using gp::Production;
using gp::Span;
using gp::WhyCause;
using gp::WhyEngagement;
using gp::WhyFact;
using gp::WhyLink;
using gp::test::right_all_else;
using gp::test::with_meal_moved;
using gp::test::with_ready_moved;
using gp::test::with_scene_moved;
using gp::test::with_step_moved;

namespace {

Production demo(const std::string& name) {
  std::ifstream file(std::string(GP_SOURCE_DIR) + "/demo/" + name + "/production.json");
  std::stringstream text;
  text << file.rdbuf();
  return gp::test::production_of(text.str());
}

Plan planned(const Production& film, std::uint64_t seed, double effort = 0.05) {
  gp::Wishes wishes;
  wishes.seed = seed;
  wishes.effort = gp::test::effort(effort);
  gp::Stop stop;
  return gp::make_plan(film, wishes, stop);
}

/// How many claims of each sort were held against check().
struct Counted {
  int held = 0, free = 0, instead = 0, rooms = 0, calls = 0, longer_chains = 0;
  std::map<WhyFact, int> facts;
};

/// Claims about one plan.
class Claims {
 public:
  Claims(const Production& film, const Plan& plan, std::uint64_t seed, Counted& counted)
      : film_(film), plan_(plan), random_(seed), counted_(counted) {}

  void person(PersonId who) {
    const gp::WhyPerson why = gp::why_person(film_, plan_, {}, who);
    std::size_t called = 0;
    for (const gp::DayPlan& day : plan_.days) called += gp::test::call_in(day, who) ? 1U : 0U;
    REQUIRE(why.calls.size() == called);
    CHECK(why.not_needed.empty() == (called > 0));
    for (const gp::WhyCall& call : why.calls) {
      for (day_ = 0; plan_.days[day_].day != call.day;) ++day_;
      REQUIRE_FALSE(call.chain.empty());
      const auto rows = gp::engagements(film_, day());
      CHECK(call.chain.front().time == rows.at(who).front().time);
      chain(call);
      latest_call_ = call.stay.call;
      for (std::size_t i = 0; i < call.chain.size(); ++i) {
        const WhyLink& link = call.chain[i];
        CAPTURE(link.what);
        CAPTURE(link.text);
        CAPTURE(gp::format(film_.days[call.day].date));
        one(link, who, i == 0);
      }
      ++counted_.calls;
      CHECK(call.held == (call.latest == call.stay.call));
      // what was found among the moves tried is never more than what is said to be possible
      CHECK(latest_call_ <= call.latest);
      if (call.chain.size() > 2) ++counted_.longer_chains;
    }
  }

  void scene(gp::SceneId id) {
    const gp::WhyScene why = gp::why_scene(film_, plan_, {}, id);
    if (!why.day.valid()) {
      CHECK_FALSE(why.not_filmed.empty());
      return;
    }
    for (day_ = 0; plan_.days[day_].day != why.day;) ++day_;
    std::size_t index = 0;
    while (day().scenes[index].scene != id) ++index;
    CHECK(why.planned == day().scenes[index]);
    room(index, why.earlier, -1);
    room(index, why.later, 1);
  }

 private:
  [[nodiscard]] const gp::DayPlan& day() const { return plan_.days[day_]; }
  [[nodiscard]] bool right(const Plan& after) const {
    return right_all_else(film_, plan_, after, day_);
  }

  /// Each link is done before the next begins, and a chain that does not end at a shot says so.
  void chain(const gp::WhyCall& call) {
    for (std::size_t i = 0; i + 1 < call.chain.size(); ++i) {
      CHECK(call.chain[i].time.from <= call.chain[i + 1].time.from);
      CHECK(call.chain[i].time.until <= call.chain[i + 1].time.from);
    }
  }

  void one(const WhyLink& link, PersonId about, bool first) {
    switch (link.kind) {
      case WhyEngagement::own_step:
      case WhyEngagement::staffs:
        step(link, about, first);
        break;
      case WhyEngagement::ready:
        ready(link, about, first);
        break;
      case WhyEngagement::meal:
        meal(link, about, first);
        break;
      case WhyEngagement::plays:
      case WhyEngagement::crew:
        shot(link, about, first);
        break;
    }
    for (const WhyCause& cause : link.causes) ++counted_.facts[cause.fact];
    ++(link.held ? counted_.held : counted_.free);
  }

  void note_call(const Plan& after, PersonId about, bool first) {
    if (!first) return;
    const auto call = gp::test::call_in(after.days[day_], about);
    latest_call_ = std::max(latest_call_, call ? *call : gp::kNever);
  }

  /// Beginnings after the present one: the next ones, those around the latest said, and some.
  std::vector<Minute> later_starts(const WhyLink& link, Minute end) {
    std::set<Minute> starts;
    for (int i = 1; i <= 3; ++i) starts.insert(link.time.from + Minutes{i});
    for (int i = 0; i <= 2; ++i) starts.insert(link.latest + Minutes{i});
    for (int i = 0; i < 3; ++i) {
      starts.insert(link.time.from +
                    Minutes{random_.between(1, std::max(1, gp::count(end - link.time.from)))});
    }
    starts.erase(starts.begin(), starts.upper_bound(link.time.from));
    return {starts.begin(), starts.end()};
  }

  [[nodiscard]] std::vector<PersonId> helpers(const gp::PlannedStep& step) const {
    const gp::Step* written = gp::written_step(film_, step);
    if (written->by.empty()) return {PersonId()};
    std::vector<PersonId> found;
    for (const gp::Stay& stay : day().people) {
      const auto& can = film_.people[stay.person].can;
      if (std::find(can.begin(), can.end(), written->by) != can.end()) found.push_back(stay.person);
    }
    return found;
  }

  void step(const WhyLink& link, PersonId about, bool first) {
    std::size_t index = 0;
    while (!(day().steps[index].person == link.wearer &&
             day().steps[index].from == link.time.from &&
             day().steps[index].station == link.station)) {
      ++index;
    }
    const gp::PlannedStep& step = day().steps[index];
    const bool done_by = link.kind == WhyEngagement::staffs && link.person == about;
    const auto moved = [&](Minute from, int place, PersonId by) {
      return with_step_moved(film_, plan_, day_, index, from, place, by);
    };
    const int places = film_.stations[link.station].places;
    const auto who = helpers(step);
    const auto key = std::tuple{day_, index, done_by ? about : PersonId(), first};
    if (known_.insert(key).second) {
      bool found_latest = link.latest == link.time.from;
      std::vector<Minute> starts = later_starts(link, link.time.from + Minutes{180});
      if (done_by) starts.insert(starts.begin(), link.time.from);
      for (const Minute start : starts) {
        CAPTURE(gp::count(start));
        for (int place = 1; place <= places; ++place) {
          for (const PersonId by : who) {
            if (start == link.time.from && (by == about || place != step.place)) continue;
            const Plan after = moved(start, place, by);
            if (!right(after)) continue;
            CHECK_FALSE(link.held);
            if (start == link.time.from) {
              CHECK(link.instead.valid());
            } else {
              CHECK(start <= link.latest);
            }
            found_latest = found_latest || start == link.latest;
            note_call(after, about, first);
          }
        }
      }
      CHECK(found_latest);
    }
    if (link.instead.valid()) {
      ++counted_.instead;
      bool can = false;
      for (const Minute start : {link.time.from, link.latest}) {
        for (int place = 1; place <= places; ++place) {
          can = can || right(moved(start, place, link.instead));
        }
      }
      // they may do it at another beginning in between alone
      for (Minute start = link.time.from; !can && start < link.latest; start += Minutes{1}) {
        for (int place = 1; place <= places; ++place) {
          can = can || right(moved(start, place, link.instead));
        }
      }
      CHECK(can);
    }
    for (const WhyCause& cause : link.causes) step_cause(link, step, index, cause);
  }

  /// That the fact named is so, by itself.
  void step_cause(const WhyLink& link,
                  const gp::PlannedStep& step,
                  std::size_t index,
                  const WhyCause& cause) {
    CAPTURE(cause.text);
    const Minutes length = step.until - step.from;
    const int places = film_.stations[link.station].places;
    const auto rules_at = [&](Minute start, int place, PersonId by) {
      return gp::test::rules(
          gp::check(film_, with_step_moved(film_, plan_, day_, index, start, place, by)));
    };
    if (cause.starts.empty()) {  // a limit: a minute beyond it breaks a rule, whoever and wherever
      REQUIRE(cause.moment);
      if (cause.fact == WhyFact::nobody_able) return;
      const gp::Step* written = gp::written_step(film_, step);
      Minutes before{0};
      if (cause.fact == WhyFact::next_step || cause.fact == WhyFact::first_scene) {
        const gp::PlaceId there = cause.fact == WhyFact::next_step
                                      ? film_.place_of(cause.station, day().day)
                                      : film_.place_of(cause.scene, day().day);
        before =
            std::max(written->then_wait, film_.way(film_.place_of(step.station, day().day), there));
      }
      const Minute limit = *cause.moment - before - length;
      CHECK(limit >= link.latest);
      const Plan after =
          with_step_moved(film_, plan_, day_, index, limit + Minutes{1}, step.place, step.by);
      CHECK_FALSE(right(after));
      return;
    }
    for (const Span& span : cause.starts) {
      CHECK(span.from >=
            (link.kind == WhyEngagement::staffs ? link.time.from : link.time.from + Minutes{1}));
      for (const Minute start : {span.from, span.until - Minutes{1}}) {
        CAPTURE(gp::count(start));
        const Span time{start, start + length};
        if (cause.fact == WhyFact::place_taken) {
          const bool taken = std::any_of(
              day().steps.begin(), day().steps.end(), [&](const gp::PlannedStep& other) {
                return &other != &step && other.station == cause.station &&
                       other.place == cause.place && time.overlaps({other.from, other.until});
              });
          CHECK(taken);
        } else if (cause.fact == WhyFact::helper_busy) {
          for (int place = 1; place <= places; ++place) {
            CHECK_FALSE(
                right(with_step_moved(film_, plan_, day_, index, start, place, cause.person)));
          }
        } else if (cause.fact == WhyFact::nobody_able) {
          for (const PersonId by : helpers(step)) {
            if (by == step.by && start == step.from) continue;
            for (int place = 1; place <= places; ++place) {
              CHECK_FALSE(right(with_step_moved(film_, plan_, day_, index, start, place, by)));
            }
          }
        } else if (cause.fact == WhyFact::own_time) {
          CHECK(rules_at(start, step.place, step.by).contains(3));
        } else if (cause.fact == WhyFact::item_out) {
          CHECK(rules_at(start, step.place, step.by).contains(8));
        } else {
          CHECK_FALSE(
              right(with_step_moved(film_, plan_, day_, index, start, step.place, step.by)));
        }
      }
    }
  }

  void ready(const WhyLink& link, PersonId about, bool first) {
    std::size_t index = 0;
    while (day().ready[index].person != about || day().ready[index].station != link.station)
      ++index;
    bool found_latest = link.held;
    for (const Minute start : later_starts(link, link.time.from + Minutes{120})) {
      const Plan after = with_ready_moved(film_, plan_, day_, index, start);
      if (!right(after)) continue;
      CHECK_FALSE(link.held);
      CHECK(start <= link.latest);
      found_latest = found_latest || start == link.latest;
      note_call(after, about, first);
    }
    CHECK(found_latest);
  }

  void meal(const WhyLink& link, PersonId about, bool first) {
    std::size_t index = 0;
    const auto eats = [&](const gp::PlannedMeal& meal) {
      return meal.meal == link.meal && meal.from == link.time.from &&
             std::find(meal.people.begin(), meal.people.end(), about) != meal.people.end();
    };
    while (!eats(day().meals[index])) ++index;
    bool found_latest = link.latest == link.time.from;
    for (const Minute start : later_starts(link, link.time.from + Minutes{120})) {
      const Plan after = with_meal_moved(film_, plan_, day_, index, start);
      if (!right(after)) continue;
      CHECK_FALSE(link.held);
      CHECK(start <= link.latest);
      found_latest = found_latest || start == link.latest;
      note_call(after, about, first);
    }
    CHECK(found_latest);
  }

  void shot(const WhyLink& link, PersonId about, bool first) {
    std::size_t index = 0;
    while (day().scenes[index].scene != link.scene) ++index;
    gp::WhyRoom later;
    later.room = link.latest - link.time.from;
    later.causes = link.causes;
    room(index, later, 1);
    if (first && later.room > Minutes{0}) {
      note_call(with_scene_moved(film_, plan_, day_, index, later.room), about, true);
    }
    if (!link.instead.valid()) return;
    ++counted_.instead;
    Plan after = plan_;
    for (gp::CrewEntry& crew : after.days[day_].scenes[index].crew) {
      std::replace(crew.people.begin(), crew.people.end(), about, link.instead);
    }
    gp::test::recount_stays(film_, after);
    CHECK(right(after));
  }

  /// The rules that a fact in the way of a scene breaks, one of them.
  static std::set<int> rules_of(WhyFact fact) {
    if (fact == WhyFact::unit_busy) return {2};
    if (fact == WhyFact::light) return {5};
    if (fact == WhyFact::item_out) return {8};
    if (fact == WhyFact::meal_span) return {10};
    if (fact == WhyFact::look_holds) return {6};
    if (fact == WhyFact::not_ready) return {3, 6};
    if (fact == WhyFact::own_time) return {3, 10};
    if (fact == WhyFact::clock_change) return {1, 4, 11};
    return {4};  // at, between, first_shot, wrap_by, after, and when people are free
  }

  void room(std::size_t index, const gp::WhyRoom& room, int way) {
    if (!rooms_.insert({day_, index, way}).second) return;
    ++counted_.rooms;
    CAPTURE(film_.scenes[day().scenes[index].scene].id);
    CAPTURE(way);
    const auto broken = [&](Minutes by) {
      return gp::check(film_, with_scene_moved(film_, plan_, day_, index, by * way));
    };
    for (int i = 0; i < 4 && room.room > Minutes{0}; ++i) {
      const Minutes by{i == 0 ? gp::count(room.room) : random_.between(1, gp::count(room.room))};
      CAPTURE(gp::count(by));
      for (const gp::Broken& one : broken(by))
        FAIL_CHECK(one.rule, ": ", one.where, ": ", one.what);
    }
    const Minutes beyond = room.room + Minutes{1};
    for (const WhyCause& cause : room.causes) {
      CAPTURE(cause.text);
      ++counted_.facts[cause.fact];
      // the checker allows light a minute more, because tables of the sun differ by that
      const Minutes by = cause.fact == WhyFact::light ? beyond + Minutes{1} : beyond;
      const auto found = broken(by);
      const std::set<int> wanted = rules_of(cause.fact);
      const bool named = std::any_of(found.begin(), found.end(), [&](const gp::Broken& one) {
        const bool theirs = !cause.person.valid() || cause.fact == WhyFact::clock_change ||
                            one.where.starts_with(film_.people[cause.person].id);
        return wanted.contains(one.rule) && theirs;
      });
      CHECK(named);
    }
  }

  const Production& film_;
  const Plan& plan_;
  gp::Random random_;
  Counted& counted_;
  std::size_t day_ = 0;
  Minute latest_call_{};
  std::set<std::tuple<std::size_t, std::size_t, PersonId, bool>> known_;
  std::set<std::tuple<std::size_t, std::size_t, int>> rooms_;
};

void check_claims(const Production& film, const Plan& plan, std::uint64_t seed, Counted& counted) {
  REQUIRE(gp::check(film, plan).empty());
  Claims claims(film, plan, seed, counted);
  // of a large cast every few, so that the test stays quick
  const std::size_t every = film.people.size() / 14 + 1;
  for (const PersonId who : film.people.ids()) {
    if (who.index() % every != 0) continue;
    CAPTURE(film.people[who].id);
    claims.person(who);
  }
  for (const gp::SceneId scene : film.scenes.ids()) claims.scene(scene);
}

void tell(const Counted& counted) {
  std::string text = "calls " + std::to_string(counted.calls) + ", links held " +
                     std::to_string(counted.held) + ", not held " + std::to_string(counted.free) +
                     ", somebody instead " + std::to_string(counted.instead) +
                     ", rooms of scenes " + std::to_string(counted.rooms) + ";";
  for (const auto& [fact, number] : counted.facts) {
    text += " " + gp::name_of(fact) + " " + std::to_string(number);
  }
  MESSAGE(text);
}

}  // namespace

TEST_SUITE("explain/why_claims") {
  TEST_CASE("on the demos, what holds a call or a shot really does, and what is free really is") {
    Counted counted;
    for (const char* name : {"first-day", "herring-wedding", "snail-derby"}) {
      CAPTURE(name);
      const Production film = demo(name);
      check_claims(film, planned(film, 1, 0.2), gp::test::seed(), counted);
    }
    tell(counted);
    CHECK(counted.held > 40);
    CHECK(counted.longer_chains > 5);
  }

  TEST_CASE("on the plan worked out by hand, what holds a call or a shot really does") {
    Counted counted;
    const gp::test::Planned lamp = gp::test::lamp();
    check_claims(lamp.production, lamp.plan, gp::test::seed(), counted);
    tell(counted);
    CHECK(counted.calls == 7);
    // cleo gets the chair ready for bo, and bo's soup and chair are held by his helper
    CHECK(counted.facts[WhyFact::first_staffed] == 1);
    CHECK(counted.facts[WhyFact::fixed_time] > 0);
  }

  TEST_CASE("on random small productions, what holds really does, and what is free really is") {
    Counted counted;
    for (std::uint64_t i = 0; i < gp::test::cases(70); ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      check_claims(film, planned(film, seed, i % 3 == 0 ? 0.002 : 0.03), seed, counted);
    }
    tell(counted);
    if (gp::test::kSlowBuild) return;
    CHECK(counted.held > 200);
    CHECK(counted.free > 40);
    // every fact came up that a call or a shot can be held by in such productions
    for (const WhyFact fact : {WhyFact::next_step,
                               WhyFact::first_scene,
                               WhyFact::own_time,
                               WhyFact::place_taken,
                               WhyFact::helper_busy,
                               WhyFact::nobody_able,
                               WhyFact::first_staffed,
                               WhyFact::unit_busy,
                               WhyFact::not_ready,
                               WhyFact::not_free,
                               WhyFact::first_shot,
                               WhyFact::hours_wanted,
                               WhyFact::light,
                               WhyFact::fixed_time,
                               WhyFact::scene_order}) {
      CAPTURE(gp::name_of(fact));
      CHECK(counted.facts[fact] > 0);
    }
  }
}
