#include "model/check.h"

#include "model/check_day.h"
#include "time/clock.h"

#include <algorithm>
#include <initializer_list>

namespace gp {
namespace {

using checking::Findings;
using checking::JudgedDay;
using checking::phrase;

template <class IdType, class T>
bool has(const Table<IdType, T>& table, IdType id) {
  return id.valid() && id.index() < table.size();
}

bool has_all(const Production& production, const std::vector<PersonId>& people) {
  return std::all_of(
      people.begin(), people.end(), [&](PersonId who) { return has(production.people, who); });
}

bool ids_hold(const Production& production, const DayPlan& day, Findings& findings) {
  const std::size_t before = findings.size();
  const auto need = [&](bool holds, int rule, const char* what) {
    if (!holds) findings.add(rule, format(production.days[day.day].date), what);
  };
  for (const PlannedScene& scene : day.scenes) {
    need(has(production.scenes, scene.scene), 1, "no such scene");
    need(has(production.units, scene.unit), 2, "no such unit");
    for (const CastEntry& entry : scene.cast) {
      need(has(production.roles, entry.role), 9, "no such role");
      need(has_all(production, entry.people), 9, "no such person");
    }
    for (const CrewEntry& entry : scene.crew) {
      need(has_all(production, entry.people), 9, "no such person");
    }
  }
  for (const Wear& wear : day.wears) {
    need(has(production.people, wear.person), 6, "no such person");
    need(has(production.looks, wear.look), 6, "no such look");
    for (const ItemId item : wear.items) need(has(production.items, item), 8, "no such item");
  }
  for (const PlannedStep& step : day.steps) {
    need(has(production.people, step.person), 6, "no such person");
    need(has(production.looks, step.look), 6, "no such look");
    need(has(production.stations, step.station), 7, "no such station");
    need(!step.by.valid() || has(production.people, step.by), 7, "no such person");
  }
  for (const Ready& ready : day.ready) {
    need(has(production.people, ready.person), 7, "no such person");
    need(has(production.stations, ready.station), 7, "no such station");
  }
  for (const PlannedMeal& meal : day.meals) {
    need(has_all(production, meal.people), 10, "no such person");
  }
  for (const Stay& stay : day.people) {
    need(has(production.people, stay.person), 11, "no such person");
  }
  return findings.size() == before;
}

/// Whether every id of the plan stands for something in the production; what does not is told, and
/// then nothing else can be.
bool ids_hold(const Production& production, const Plan& plan, Findings& findings) {
  bool hold = true;
  for (const DayPlan& day : plan.days) {
    if (!has(production.days, day.day)) {
      findings.add(1, "the plan", "no such day");
      hold = false;
    } else {
      hold = ids_hold(production, day, findings) && hold;
    }
  }
  for (const NotFilmed& entry : plan.not_filmed) {
    if (!has(production.scenes, entry.scene)) {
      findings.add(1, "not_filmed", "no such scene");
      hold = false;
    }
  }
  for (const Unfilled& entry : plan.unfilled) {
    if (!has(production.scenes, entry.scene) ||
        (entry.role.valid() && !has(production.roles, entry.role))) {
      findings.add(9, "unfilled", "no such scene or role");
      hold = false;
    }
  }
  return hold;
}

/// On a night when an hour comes twice, its second pass has no reading of its own: nothing of a
/// plan may begin or end there, because its file could not say so. The rule is the one that the
/// moment belongs to.
void moments_readable(const JudgedDay& day, const Production& production, Findings& findings) {
  const auto look = [&](int rule, const std::string& where, std::initializer_list<Minute> moments) {
    for (const Minute moment : moments) {
      const auto reading = day.calendar.wall(moment);
      if (!reading) {
        findings.add(
            rule, where, phrase(day.clock(moment), " comes twice, and this is the second"));
      } else if (*reading < WallTime{0} || *reading > kLatestWallTime) {
        findings.add(rule, where, phrase(day.clock(moment), " cannot be written"));
      }
    }
  };
  const DayPlan& plan = *day.plan;
  const std::string date = format(day.day->date);
  if (plan.first_shot) look(11, date, {*plan.first_shot});
  if (plan.wrap) look(11, date, {*plan.wrap});
  for (const PlannedScene& scene : plan.scenes) {
    look(1, production.scenes[scene.scene].id, {scene.set_at, scene.shoot_at, scene.until});
  }
  for (const Wear& wear : plan.wears) {
    look(6, production.people[wear.person].id, {wear.from, wear.until});
  }
  for (const PlannedStep& step : plan.steps) {
    look(7, production.people[step.person].id, {step.from, step.until});
  }
  for (const Ready& ready : plan.ready) {
    look(7, production.people[ready.person].id, {ready.from, ready.until});
  }
  for (const PlannedMeal& meal : plan.meals) look(10, meal.meal, {meal.from, meal.until});
  for (const Stay& stay : plan.people) {
    look(11, production.people[stay.person].id, {stay.call, stay.released});
  }
}

}  // namespace

std::vector<Broken> check(const Production& production, const Plan& plan, Answers answers) {
  Findings findings;
  if (!ids_hold(production, plan, findings)) return findings.take();
  const checking::Judged judged(production, plan, answers);
  for (const JudgedDay& day : judged.days) moments_readable(day, production, findings);
  checking::rule_1_scenes(judged, findings);
  checking::rule_2_units(judged, findings);
  checking::rule_3_people(judged, findings);
  checking::rule_4_windows(judged, findings);
  checking::rule_5_light(judged, findings);
  checking::rule_6_looks(judged, findings);
  checking::rule_7_stations(judged, findings);
  checking::rule_8_items(judged, findings);
  checking::rule_9_casting(judged, findings);
  checking::rule_10_meals(judged, findings);
  checking::rule_11_calls(judged, findings);
  return findings.take();
}

}  // namespace gp
