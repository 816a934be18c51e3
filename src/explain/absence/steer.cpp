#include "explain/absence/steer.h"

#include "casting/slots.h"
#include "casting/turnout.h"
#include "prep/staff.h"

#include <algorithm>

namespace gp::absence {
namespace {

/// So many people are looked at for each duty, the likeliest first.
constexpr std::size_t kMostTried = 4;

bool within(const Duty& duty, DayId day, Span span) {
  return std::any_of(duty.when.begin(), duty.when.end(), [&](const auto& when) {
    return when.first == day && when.second.overlaps(span);
  });
}

bool among(const std::vector<PersonId>& list, PersonId id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

/// How much a duty hurts: the chance that neither its person nor any stand-in comes, as if each
/// stood in for nobody else.
double hurts(const Production& production, const Duty& duty) {
  double chance = 1 - chance_of_coming(production.people[duty.person]);
  for (const PersonId id : duty.stand_ins) chance *= 1 - chance_of_coming(production.people[id]);
  return chance;
}

/// Keeps a person from all that is no part and no helper's work while a duty lasts, and from crews
/// and crowds of its scenes. False: they have a part or a chair then.
bool spare(
    const Production& production, const Plan& plan, const Duty& duty, PersonId id, Steer& steer) {
  for (const DayPlan& day : plan.days) {
    for (const PlannedStep& step : day.steps) {
      if (step.by == id && within(duty, day.day, {step.from, step.until})) return false;
    }
    for (const PlannedScene& scene : day.scenes) {
      const bool its_own =
          std::find(duty.scenes.begin(), duty.scenes.end(), scene.scene) != duty.scenes.end();
      if (!its_own && !within(duty, day.day, {scene.set_at, scene.until})) continue;
      steer.not_crew.insert({scene.scene, id});
      for (const CastEntry& entry : scene.cast) {
        if (production.roles[entry.role].crowd) {
          steer.not_crowd.insert({entry.role, id});
        } else if (among(entry.people, id)) {
          return false;
        }
      }
    }
  }
  return true;
}

std::vector<PersonId> without(const std::vector<PersonId>& list, PersonId id) {
  std::vector<PersonId> rest = list;
  std::erase(rest, id);
  return rest;
}

std::vector<PersonId> everybody(const Production& production) {
  std::vector<PersonId> list;
  for (const PersonId id : production.people.ids()) list.push_back(id);
  return list;
}

}  // namespace

Production steered(const Production& production, const Steer& steer) {
  Production film = production;
  const auto all = everybody(production);
  for (const auto& [role, person] : steer.cast) {
    if (!film.roles[role].person.valid()) film.roles[role].person = person;
  }
  if (!steer.not_crew.empty()) {
    for (const SceneId scene : film.scenes.ids()) {
      film.scenes[scene].crew = production.crew_of(scene);
    }
    for (const UnitId unit : film.units.ids()) film.units[unit].crew.clear();
  }
  for (const auto& [scene, person] : steer.not_crew) {
    for (CrewCall& call : film.scenes[scene].crew) {
      const auto rest = without(call.from.empty() ? all : call.from, person);
      // a list of nobody would mean anybody
      if (!rest.empty()) call.from = rest;
    }
  }
  for (const auto& [role, person] : steer.not_crowd) {
    film.roles[role].from = without(film.roles[role].from.value_or(all), person);
  }
  for (const auto& [station, person] : steer.not_at_chair) {
    film.stations[station].staff = without(film.stations[station].staff.value_or(all), person);
  }
  return film;
}

std::vector<Steer> next_steps(const Production& production,
                              const Plan& plan,
                              const Survival& survival,
                              const Steer& now,
                              Answers answers) {
  std::vector<const Duty*> duties;
  for (const Duty& duty : survival.duties) {
    if (duty.decides() && hurts(production, duty) > 1e-3) duties.push_back(&duty);
  }
  std::stable_sort(duties.begin(), duties.end(), [&](const Duty* a, const Duty* b) {
    return hurts(production, *a) > hurts(production, *b) + 1e-12;
  });
  std::vector<Steer> steps;
  std::vector<Steer> later;  // who plays or helps changed: dearer, and tried after the rest
  for (const Duty* duty : duties) {
    std::vector<PersonId> others = without(who_may(production, *duty, answers), duty->person);
    std::stable_sort(others.begin(), others.end(), [&](PersonId a, PersonId b) {
      return chance_of_coming(production.people[a]) > chance_of_coming(production.people[b]);
    });
    std::size_t tried = 0;
    for (const PersonId id : others) {
      if (tried++ == kMostTried) break;
      if (!among(duty->stand_ins, id)) {
        Steer step = now;
        if (spare(production, plan, *duty, id, step)) steps.push_back(step);
      }
      if (duty->kind == Duty::Kind::part) {
        Steer step = now;
        step.cast[duty->role] = id;
        later.push_back(step);
      } else {
        Steer step = now;
        step.not_at_chair.insert({duty->station, id});
        later.push_back(step);
      }
    }
    if (duty->kind == Duty::Kind::helper && !others.empty()) {
      Steer step = now;
      step.not_at_chair.insert({duty->station, duty->person});
      later.push_back(step);
    }
  }
  steps.insert(steps.end(), later.begin(), later.end());
  return steps;
}

double irreplaceable_chance(const Production& production, const Plan& plan, Answers answers) {
  const Slots slots(production, answers);
  const StaffLists staff(production, answers);
  std::set<PersonId> needed;
  const auto only = [&](const std::vector<PersonId>& list) {
    if (list.size() == 1) needed.insert(list.front());
  };
  for (const DayPlan& day : plan.days) {
    for (const PlannedScene& scene : day.scenes) {
      for (const CastEntry& entry : scene.cast) {
        const Role& role = production.roles[entry.role];
        if (role.crowd) continue;
        only(slots.for_part(entry.role));
        if (role.look_kind != LookKind::look) continue;
        const Look& look = production.looks[role.look];
        for (std::size_t i = 0; i < look.steps.size(); ++i) only(staff.on(role.look, i));
        for (std::size_t i = 0; i < look.off.size(); ++i) only(staff.off(role.look, i));
      }
    }
  }
  double chance = 1;
  for (const auto& party : parties_by_name(production, {needed.begin(), needed.end()})) {
    chance *= party.chance;
  }
  return chance;
}

}  // namespace gp::absence
