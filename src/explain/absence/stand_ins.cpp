#include "explain/absence/stand_ins.h"

#include "casting/slots.h"
#include "casting/turnout.h"
#include "explain/absence/stand_in_time.h"
#include "model/engagements.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

namespace gp::absence {
namespace {

/// Who may by answer, skills and what they will not do.
std::vector<PersonId> may_do(const Production& production, const Slots& slots, const Duty& duty) {
  std::vector<PersonId> list;
  if (duty.kind == Duty::Kind::part) return slots.for_part(duty.role);
  if (duty.kind == Duty::Kind::helper) {
    const auto& staff = production.stations[duty.station].staff;
    for (const PersonId id : production.people.ids()) {
      const Person& person = production.people[id];
      if (std::find(person.can.begin(), person.can.end(), duty.job) != person.can.end() &&
          (!staff || std::find(staff->begin(), staff->end(), id) != staff->end())) {
        list.push_back(id);
      }
    }
    return list;
  }
  for (const Slot& slot : slots.of(duty.scenes.front())) {
    const bool same =
        duty.kind == Duty::Kind::crowd
            ? slot.role == duty.role
            : slot.kind == Slot::Kind::crew &&
                  production.crew_of(duty.scenes.front()).at(slot.call).job == duty.job;
    if (!same) continue;
    for (const PersonId id : slot.candidates) {
      if (std::find(list.begin(), list.end(), id) == list.end()) list.push_back(id);
    }
  }
  return list;
}

class Finder {
 public:
  Finder(const Production& production, const Plan& plan, Answers answers)
      : production_(production),
        plan_(plan),
        slots_(production, answers),
        time_(production, plan, answers) {}

  /// \param deciding  parts and helpers alone
  std::vector<Duty> duties(bool deciding) {
    std::map<RoleId, std::size_t> parts;
    std::map<std::size_t, std::vector<Need>> needs;
    std::vector<Duty> list;
    for (std::size_t d = 0; d < plan_.days.size(); ++d) {
      for (const PlannedScene& scene : plan_.days[d].scenes) {
        for (const CastEntry& entry : scene.cast) {
          const Role& role = production_.roles[entry.role];
          if (deciding && role.crowd) continue;
          for (const PersonId person : entry.people) {
            std::size_t at = list.size();
            if (!role.crowd) at = parts.try_emplace(entry.role, at).first->second;
            if (at == list.size()) {
              const auto kind = role.crowd ? Duty::Kind::crowd : Duty::Kind::part;
              list.push_back({kind, person, entry.role, "", StationId(), {}, {}, at, {}});
            }
            list[at].scenes.push_back(scene.scene);
            needs[at].push_back(cast_need(d, scene, role, person));
          }
        }
        for (const CrewEntry& entry : scene.crew) {
          if (deciding) break;
          const PlaceId place = production_.place_of(scene.scene, plan_.days[d].day);
          for (const PersonId person : entry.people) {
            needs[list.size()] = {{d, {scene.set_at, scene.until}, place, place, LookId(), true}};
            list.push_back({Duty::Kind::crew,
                            person,
                            RoleId(),
                            entry.job,
                            StationId(),
                            {scene.scene},
                            {},
                            list.size(),
                            {}});
          }
        }
      }
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
      for (const Need& need : needs[i])
        list[i].when.emplace_back(plan_.days[need.day].day, need.time);
      for (const PersonId id : may(list[i])) {
        if (id != list[i].person && time_.has(id, list[i].person, needs[i])) {
          list[i].stand_ins.push_back(id);
        }
      }
    }
    share_looks(list);
    add_helpers(list);
    for (Duty& duty : list) {
      std::stable_sort(duty.stand_ins.begin(), duty.stand_ins.end(), [&](PersonId a, PersonId b) {
        if (time_.on_site(a) != time_.on_site(b)) return time_.on_site(a);
        return chance_of_coming(production_.people[a]) > chance_of_coming(production_.people[b]);
      });
    }
    return by_kind(list);
  }

 private:
  /// Sorted, with `shared_with` pointing where it should.
  static std::vector<Duty> by_kind(const std::vector<Duty>& list) {
    std::vector<std::size_t> order(list.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return list[a].kind < list[b].kind;
    });
    std::vector<std::size_t> now_at(list.size());
    for (std::size_t i = 0; i < order.size(); ++i) now_at[order[i]] = i;
    std::vector<Duty> sorted;
    for (const std::size_t i : order) {
      sorted.push_back(list[i]);
      sorted.back().shared_with = now_at[list[i].shared_with];
    }
    return sorted;
  }

  /// Two parts of one person in one look without a break: two stand-ins would want the same chair
  /// and the same things at once, so one must have time for both.
  void share_looks(std::vector<Duty>& list) const {
    for (std::size_t i = 0; i < list.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (list[i].kind != Duty::Kind::part || list[j].kind != Duty::Kind::part ||
            list[i].person != list[j].person || !one_wear(list[i], list[j])) {
          continue;
        }
        const std::size_t first = std::min(list[i].shared_with, list[j].shared_with);
        const std::size_t other = std::max(list[i].shared_with, list[j].shared_with);
        for (Duty& duty : list) {
          if (duty.kind == Duty::Kind::part && duty.shared_with == other) duty.shared_with = first;
        }
      }
    }
    for (Duty& duty : list) {
      for (const Duty& other : list) {
        if (other.kind != Duty::Kind::part || duty.kind != Duty::Kind::part ||
            other.shared_with != duty.shared_with) {
          continue;
        }
        std::erase_if(duty.stand_ins, [&](PersonId id) {
          return std::find(other.stand_ins.begin(), other.stand_ins.end(), id) ==
                 other.stand_ins.end();
        });
      }
    }
  }

  [[nodiscard]] bool one_wear(const Duty& a, const Duty& b) const {
    const Role& one = production_.roles[a.role];
    const Role& other = production_.roles[b.role];
    return one.look_kind == LookKind::look && other.look_kind == LookKind::look &&
           one.look == other.look &&
           std::any_of(a.when.begin(), a.when.end(), [&](const auto& when) {
             return std::find(b.when.begin(), b.when.end(), when) != b.when.end();
           });
  }

  Need cast_need(std::size_t day, const PlannedScene& scene, const Role& role, PersonId person) {
    const PlaceId place = production_.place_of(scene.scene, plan_.days[day].day);
    Need need{day, {scene.shoot_at, scene.until}, place, place, LookId(), false};
    if (role.look_kind == LookKind::any) need.any_look = true;
    if (role.look_kind != LookKind::look) return need;
    need.look = role.look;
    for (const Wear& wear : plan_.days[day].wears) {
      if (wear.person != person || wear.look != role.look) continue;
      if (wear.from <= scene.shoot_at && scene.until <= wear.until) {
        need.time = {wear.from, wear.until};
        need.things = wear.items;
        const Look& look = production_.looks[role.look];
        const DayId date = plan_.days[day].day;
        if (!look.steps.empty()) need.from = production_.place_of(look.steps.front().at, date);
        if (!look.off.empty()) need.to = production_.place_of(look.off.back().at, date);
      }
    }
    return need;
  }

  std::vector<PersonId> may(const Duty& duty) { return may_do(production_, slots_, duty); }

  /// Nobody gets a station ready twice: whoever does so there anyway must have done it before.
  [[nodiscard]] bool ready_in_time(PersonId id, std::size_t d, const Duty& duty) const {
    for (const Ready& ready : plan_.days[d].ready) {
      if (ready.person != id || ready.station != duty.station) continue;
      for (const PlannedStep& step : plan_.days[d].steps) {
        if (step.by == duty.person && step.station == duty.station && step.from < ready.until) {
          return false;
        }
      }
    }
    return true;
  }

  void add_helpers(std::vector<Duty>& list) {
    for (std::size_t d = 0; d < plan_.days.size(); ++d) {
      std::map<std::pair<PersonId, StationId>, Duty> helpers;
      std::map<std::pair<PersonId, StationId>, std::vector<Need>> needs;
      std::map<std::pair<PersonId, StationId>, std::set<std::string>> skills;
      for (const PlannedStep& step : plan_.days[d].steps) {
        if (!step.by.valid()) continue;
        const auto scenes = scenes_of(d, step);
        const Step* written = written_step(production_, step);
        if (written == nullptr) continue;
        const std::pair<PersonId, StationId> key{step.by, step.station};
        Duty& duty = helpers[key];
        duty.kind = Duty::Kind::helper;
        duty.person = step.by;
        duty.job = written->by;
        duty.station = step.station;
        skills[key].insert(written->by);
        for (const SceneId scene : scenes) {
          if (std::find(duty.scenes.begin(), duty.scenes.end(), scene) == duty.scenes.end()) {
            duty.scenes.push_back(scene);
          }
        }
        const PlaceId place = production_.place_of(step.station, plan_.days[d].day);
        needs[key].push_back({d, {step.from, step.until}, place, place, LookId(), true});
      }
      for (const Ready& ready : plan_.days[d].ready) {
        const std::pair<PersonId, StationId> key{ready.person, ready.station};
        if (!helpers.contains(key)) continue;
        const PlaceId place = production_.place_of(ready.station, plan_.days[d].day);
        needs[key].push_back({d, {ready.from, ready.until}, place, place, LookId(), true});
      }
      for (auto& [key, duty] : helpers) {
        if (duty.scenes.empty()) continue;  // for crowds alone: the scenes are filmed without
        duty.shared_with = list.size();
        for (const Need& need : needs[key]) duty.when.emplace_back(plan_.days[d].day, need.time);
        for (const PersonId id : may(duty)) {
          const Tags& can = production_.people[id].can;
          const bool all =
              std::all_of(skills[key].begin(), skills[key].end(), [&](const std::string& skill) {
                return std::find(can.begin(), can.end(), skill) != can.end();
              });
          if (all && id != duty.person && ready_in_time(id, d, duty) &&
              time_.has(id, duty.person, needs[key])) {
            duty.stand_ins.push_back(id);
          }
        }
        list.push_back(std::move(duty));
      }
    }
  }

  /// The scenes in which somebody plays a part in the look of the step.
  std::vector<SceneId> scenes_of(std::size_t day, const PlannedStep& step) {
    std::vector<SceneId> list;
    for (const PlannedScene& scene : plan_.days[day].scenes) {
      for (const CastEntry& entry : scene.cast) {
        const Role& role = production_.roles[entry.role];
        if (role.crowd || role.look_kind != LookKind::look || role.look != step.look) continue;
        if (std::find(entry.people.begin(), entry.people.end(), step.person) !=
            entry.people.end()) {
          list.push_back(scene.scene);
        }
      }
    }
    return list;
  }

  const Production& production_;
  const Plan& plan_;
  Slots slots_;
  StandInTime time_;
};

}  // namespace

std::vector<Duty> duties_of(const Production& production,
                            const Plan& plan,
                            Answers answers,
                            bool deciding) {
  return Finder(production, plan, answers).duties(deciding);
}

std::vector<PersonId> who_may(const Production& production, const Duty& duty, Answers answers) {
  std::vector<PersonId> list = may_do(production, Slots(production, answers), duty);
  std::erase_if(list, [&](PersonId id) { return !answers.include(production.people[id].answer); });
  return list;
}

}  // namespace gp::absence
