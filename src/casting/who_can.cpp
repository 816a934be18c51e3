#include "casting/who_can.h"

#include "model/day_frame.h"
#include "model/skilled.h"

#include <algorithm>

namespace gp {
namespace {

/// Whether the shot fits into the span of a person who must sign in and walk there first.
bool fits(const Production& production,
          const DayFrame& frame,
          SceneId id,
          const Span& free,
          Minute from,
          Minute until) {
  const Scene& scene = production.scenes[id];
  const Minutes lead = production.sign_in + production.way(frame.base, frame.scene_place[id]);
  return std::max(from, free.from + lead) + scene.shoot_minutes <= std::min(until, free.until);
}

}  // namespace

FreeFor::FreeFor(const Production& production, Answers answers)
    : days_(production.scenes.size()), free_(production.scenes.size()) {
  for (const SceneId id : production.scenes.ids()) {
    free_[id].assign(production.days.size(), std::vector<char>(production.people.size(), 0));
  }
  for (const DayId day : production.days.ids()) {
    const DayFrame frame(production, day, answers);
    for (const SceneId id : production.scenes.ids()) {
      const Scene& scene = production.scenes[id];
      if (scene.day.valid() && scene.day != day) continue;
      Minute from = frame.first_shot;
      Minute until = frame.wrap_by;
      if (scene.between) {
        const Span hours = frame.clock.elapsed(*scene.between);
        from = std::max(from, hours.from);
        until = std::min(until, hours.until);
      }
      if (scene.at) {
        const Minute shot = frame.clock.elapsed(*scene.at);
        from = std::max(from, shot);
        until = std::min(until, shot + scene.shoot_minutes);
      }
      if (from + scene.shoot_minutes > until) continue;
      days_[id].push_back(day);
      for (const PersonId person : production.people.ids()) {
        const auto& spans = frame.free[person];
        if (std::any_of(spans.begin(), spans.end(), [&](const Span& free) {
              return fits(production, frame, id, free, from, until);
            })) {
          free_[id][day.index()][person.index()] = 1;
        }
      }
    }
  }
}

bool FreeFor::ever(SceneId scene, PersonId person) const {
  return std::any_of(
      days_[scene].begin(), days_[scene].end(), [&](DayId day) { return on(scene, day, person); });
}

std::vector<HelperNeed> helpers_needed(const Production& production, Answers answers) {
  std::vector<HelperNeed> list;
  const auto need = [&](const Step& step, SceneId scene) {
    if (step.by.empty()) return;
    auto found = std::find_if(list.begin(), list.end(), [&](const HelperNeed& one) {
      return one.station == step.at && one.skill == step.by;
    });
    if (found == list.end()) {
      HelperNeed one{step.at, step.by, able_helpers(production, answers, step), {}};
      found = list.insert(list.end(), std::move(one));
    }
    if (found->scenes.empty() || found->scenes.back() != scene) found->scenes.push_back(scene);
  };
  for (const SceneId id : production.scenes.ids()) {
    for (const CastCall& call : production.scenes[id].cast) {
      const Role& role = production.roles[call.role];
      if (role.look_kind != LookKind::look) continue;
      for (const Step& step : production.looks[role.look].steps) need(step, id);
      for (const Step& step : production.looks[role.look].off) need(step, id);
    }
  }
  return list;
}

}  // namespace gp
