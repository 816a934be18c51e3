#include "search/unload.h"

#include "search/stays.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace gp {
namespace {

PlannedScene scene_of(const Problem& problem, SceneId id, const Filmed& filmed) {
  const Production& film = problem.production;
  PlannedScene scene;
  scene.scene = id;
  scene.unit = film.scenes[id].unit;
  scene.set_at = filmed.set_at;
  scene.shoot_at = filmed.shoot_at;
  scene.until = filmed.until;
  const auto& slots = problem.slots.of(id);
  const auto crew_calls = film.crew_of(id);
  // In the order of the file; a role or job that is asked for twice gets one entry.
  for (const CastCall& call : film.scenes[id].cast) {
    const bool known = std::any_of(scene.cast.begin(), scene.cast.end(), [&](const CastEntry& e) {
      return e.role == call.role;
    });
    if (!known) scene.cast.push_back({call.role, {}});
  }
  for (const CrewCall& call : crew_calls) {
    const bool known = std::any_of(scene.crew.begin(), scene.crew.end(), [&](const CrewEntry& e) {
      return e.job == call.job;
    });
    if (!known) scene.crew.push_back({call.job, {}});
  }
  for (std::size_t s = 0; s < slots.size(); ++s) {
    std::vector<PersonId>* people = nullptr;
    if (slots[s].kind == Slot::Kind::crew) {
      for (CrewEntry& entry : scene.crew) {
        if (entry.job == crew_calls[slots[s].call].job) people = &entry.people;
      }
    } else {
      for (CastEntry& entry : scene.cast) {
        if (entry.role == slots[s].role) people = &entry.people;
      }
    }
    if (people == nullptr) continue;  // every slot comes from one of these calls
    people->insert(people->end(), filmed.people[s].begin(), filmed.people[s].end());
  }
  const auto tidy = [](auto& entries) {
    for (auto& entry : entries) std::sort(entry.people.begin(), entry.people.end());
    std::erase_if(entries, [](const auto& entry) { return entry.people.empty(); });
  };
  tidy(scene.cast);
  tidy(scene.crew);
  return scene;
}

void add_steps(DayPlan& plan, PersonId who, const Block& block, ChainPart part) {
  const auto& chain = part == ChainPart::on ? block.on : block.off;
  for (std::size_t k = 0; k < chain.size(); ++k) {
    plan.steps.push_back({who,
                          block.look,
                          part,
                          static_cast<int>(k),
                          chain[k].station,
                          chain[k].place + 1,
                          chain[k].by,
                          chain[k].when.from,
                          chain[k].when.until});
  }
}

void add_person(
    DayPlan& plan, const Ground& ground, PersonId who, const PersonDay& day, MealRows& meals) {
  if (!add_stay(plan, ground, who, day, meals)) return;
  for (const Engagement& row : day.engagements) {
    if (row.doing == Doing::ready) {
      plan.ready.push_back({who, StationId(row.what), row.when.from, row.when.until});
    }
  }
  for (const Block& block : day.blocks) {
    plan.wears.push_back({who, block.look, block.from(), block.until(), block.items});
    add_steps(plan, who, block, ChainPart::on);
    add_steps(plan, who, block, ChainPart::off);
  }
}

DayPlan day_of(const Problem& problem, const Builder& builder, std::size_t d) {
  const Production& film = problem.production;
  DayPlan plan;
  plan.day = problem.days[d].id;
  for (SceneId id : film.scenes.ids()) {
    const auto& filmed = builder.filmed(id);
    if (!filmed || filmed->day != d) continue;
    plan.scenes.push_back(scene_of(problem, id, *filmed));
    if (!plan.first_shot || filmed->shoot_at < *plan.first_shot) plan.first_shot = filmed->shoot_at;
    if (!plan.wrap || filmed->until > *plan.wrap) plan.wrap = filmed->until;
  }
  MealRows meals;
  const DayDraft& draft = builder.day(d);
  for (PersonId who : film.people.ids()) {
    add_person(plan, draft.ground(), who, draft.person(who), meals);
  }
  for (auto& [key, meal] : meals) plan.meals.push_back(std::move(meal));
  std::stable_sort(plan.scenes.begin(), plan.scenes.end(), [](const auto& a, const auto& b) {
    return std::tie(a.set_at, a.unit, a.scene) < std::tie(b.set_at, b.unit, b.scene);
  });
  put_in_order(plan);
  return plan;
}

void add_unfilled(const Problem& problem, SceneId id, const Filmed& filmed, Plan& plan) {
  const auto& slots = problem.slots.of(id);
  const auto crew_calls = problem.production.crew_of(id);
  for (std::size_t s = 0; s < slots.size(); ++s) {
    const int missing = slots[s].people - static_cast<int>(filmed.people[s].size());
    if (missing <= 0) continue;
    Unfilled row;
    row.scene = id;
    row.role = slots[s].role;
    if (slots[s].kind == Slot::Kind::crew) row.job = crew_calls[slots[s].call].job;
    const auto same = std::find_if(plan.unfilled.begin(), plan.unfilled.end(), [&](const auto& u) {
      return u.scene == row.scene && u.role == row.role && u.job == row.job;
    });
    if (same != plan.unfilled.end()) {
      same->missing += missing;
      continue;
    }
    row.missing = missing;
    plan.unfilled.push_back(row);
  }
}

}  // namespace

Plan unload(const Problem& problem, const Builder& builder) {
  const Production& film = problem.production;
  Plan plan;
  plan.title = film.title;
  for (std::size_t d = 0; d < problem.days.size(); ++d)
    plan.days.push_back(day_of(problem, builder, d));
  for (SceneId id : film.scenes.ids()) {
    if (const auto& filmed = builder.filmed(id)) {
      add_unfilled(problem, id, *filmed, plan);
    } else {
      plan.not_filmed.push_back({id, {}});
    }
  }
  renew_totals(film, plan);
  return plan;
}

}  // namespace gp
