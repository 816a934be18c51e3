#include "explain/absence/stand_ins.h"

#include "casting/seating.h"
#include "casting/slots.h"
#include "model/day_frame.h"
#include "model/engagements.h"

#include <algorithm>
#include <map>
#include <set>

namespace gp::absence {
namespace {

/// Time that a duty takes, and where it begins and ends.
struct Need {
  std::size_t day = 0;  ///< of the plan
  Span time;
  PlaceId from, to;
  LookId look;           ///< put on in that time, or worn; none: as themselves
  bool any_look = true;  ///< what they have on does not matter
};

class Finder {
 public:
  Finder(const Production& production, const Plan& plan, Answers answers)
      : production_(production), plan_(plan), slots_(production, answers) {
    for (const DayPlan& day : plan.days) {
      frames_.emplace_back(production, day.day, answers);
      busy_.push_back(engagements(production, day));
    }
  }

  std::vector<Duty> duties() {
    std::map<RoleId, std::size_t> parts;
    std::map<std::size_t, std::vector<Need>> needs;
    std::vector<Duty> list;
    for (std::size_t d = 0; d < plan_.days.size(); ++d) {
      for (const PlannedScene& scene : plan_.days[d].scenes) {
        for (const CastEntry& entry : scene.cast) {
          const Role& role = production_.roles[entry.role];
          for (const PersonId person : entry.people) {
            std::size_t at = list.size();
            if (!role.crowd) at = parts.try_emplace(entry.role, at).first->second;
            if (at == list.size()) {
              const auto kind = role.crowd ? Duty::Kind::crowd : Duty::Kind::part;
              list.push_back({kind, person, entry.role, "", StationId(), {}, {}});
            }
            list[at].scenes.push_back(scene.scene);
            needs[at].push_back(cast_need(d, scene, role, person));
          }
        }
        for (const CrewEntry& entry : scene.crew) {
          const PlaceId place = production_.place_of(scene.scene, plan_.days[d].day);
          for (const PersonId person : entry.people) {
            needs[list.size()] = {{d, {scene.set_at, scene.until}, place, place, LookId(), true}};
            list.push_back(
                {Duty::Kind::crew, person, RoleId(), entry.job, StationId(), {scene.scene}, {}});
          }
        }
      }
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
      for (const PersonId id : may(list[i])) {
        if (id != list[i].person && has_time(id, needs[i])) list[i].stand_ins.push_back(id);
      }
    }
    add_helpers(list);
    for (Duty& duty : list) {
      std::stable_sort(duty.stand_ins.begin(), duty.stand_ins.end(), [&](PersonId a, PersonId b) {
        if (on_site(a) != on_site(b)) return on_site(a);
        return chance_of_coming(production_.people[a]) > chance_of_coming(production_.people[b]);
      });
    }
    std::stable_sort(
        list.begin(), list.end(), [](const Duty& a, const Duty& b) { return a.kind < b.kind; });
    return list;
  }

 private:
  [[nodiscard]] bool on_site(PersonId id) const {
    return std::any_of(
        busy_.begin(), busy_.end(), [&](const auto& day) { return day.contains(id); });
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
        const Look& look = production_.looks[role.look];
        const DayId date = plan_.days[day].day;
        if (!look.steps.empty()) need.from = production_.place_of(look.steps.front().at, date);
        if (!look.off.empty()) need.to = production_.place_of(look.off.back().at, date);
      }
    }
    return need;
  }

  /// Who may by answer, skills and what they will not do.
  std::vector<PersonId> may(const Duty& duty) {
    std::vector<PersonId> list;
    if (duty.kind == Duty::Kind::part) return slots_.for_part(duty.role);
    for (const Slot& slot : slots_.of(duty.scenes.front())) {
      const bool same =
          duty.kind == Duty::Kind::crowd
              ? slot.role == duty.role
              : slot.kind == Slot::Kind::crew &&
                    production_.crew_of(duty.scenes.front()).at(slot.call).job == duty.job;
      if (!same) continue;
      for (const PersonId id : slot.candidates) {
        if (std::find(list.begin(), list.end(), id) == list.end()) list.push_back(id);
      }
    }
    return list;
  }

  bool has_time(PersonId id, const std::vector<Need>& needs) {
    return std::all_of(
        needs.begin(), needs.end(), [&](const Need& need) { return fits(id, need); });
  }

  bool fits(PersonId id, const Need& need) {
    const DayFrame& frame = frames_[need.day];
    const Minutes lead = production_.sign_in + production_.way(frame.base, need.from);
    const auto call = frame.call_for(need.time.from, lead);
    const auto& spans = frame.free[id];
    if (!call || std::none_of(spans.begin(), spans.end(), [&](const Span& free) {
          return free.covers({*call, need.time.until});
        })) {
      return false;
    }
    if (!need.any_look) {  // whoever has another look on then would have to be cleaned first
      for (const Wear& wear : plan_.days[need.day].wears) {
        if (wear.person == id && Span{wear.from, wear.until}.overlaps(need.time)) return false;
      }
    }
    const auto found = busy_[need.day].find(id);
    if (found == busy_[need.day].end()) return true;
    return std::all_of(found->second.begin(), found->second.end(), [&](const BusyRow& row) {
      return row.time.until + production_.way(row.place, need.from) <= need.time.from ||
             need.time.until + production_.way(need.to, row.place) <= row.time.from;
    });
  }

  void add_helpers(std::vector<Duty>& list) {
    for (std::size_t d = 0; d < plan_.days.size(); ++d) {
      std::map<std::pair<PersonId, StationId>, Duty> helpers;
      std::map<std::pair<PersonId, StationId>, std::vector<Need>> needs;
      for (const PlannedStep& step : plan_.days[d].steps) {
        if (!step.by.valid()) continue;
        const auto scenes = scenes_of(d, step);
        if (scenes.empty()) continue;  // of a crowd alone: the scene is filmed without
        const Step* written = written_step(production_, step);
        if (written == nullptr) continue;
        const std::pair<PersonId, StationId> key{step.by, step.station};
        Duty& duty = helpers[key];
        duty.kind = Duty::Kind::helper;
        duty.person = step.by;
        duty.job = written->by;
        duty.station = step.station;
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
        const auto& staff = production_.stations[key.second].staff;
        for (const PersonId id : production_.people.ids()) {
          const Tags& can = production_.people[id].can;
          if (id == duty.person || std::find(can.begin(), can.end(), duty.job) == can.end() ||
              (staff && std::find(staff->begin(), staff->end(), id) == staff->end())) {
            continue;
          }
          if (has_time(id, needs[key])) duty.stand_ins.push_back(id);
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
  std::vector<DayFrame> frames_;
  std::vector<std::map<PersonId, std::vector<BusyRow>>> busy_;
};

bool decides(const Duty& duty) {
  return duty.kind == Duty::Kind::part || duty.kind == Duty::Kind::helper;
}

/// Whether whoever is missing from these duties can be replaced, one duty a stand-in.
bool replaced(const std::vector<const Duty*>& duties,
              const std::vector<char>& came,
              Seating& seating) {
  std::vector<Seat> missing;
  for (const Duty* duty : duties) {
    if (came[duty->person.index()] == 0) missing.push_back({&duty->stand_ins, false});
  }
  return missing.empty() || seating.empty_seats(missing, came).has_value();
}

}  // namespace

Survival survival_of(const Production& production,
                     const Plan& plan,
                     Answers answers,
                     std::uint64_t seed) {
  Survival result;
  result.duties = Finder(production, plan, answers).duties();
  std::set<PersonId> people;
  std::vector<const Duty*> deciding;
  for (const Duty& duty : result.duties) {
    if (!decides(duty)) continue;
    deciding.push_back(&duty);
    people.insert(duty.person);
    people.insert(duty.stand_ins.begin(), duty.stand_ins.end());
  }
  std::vector<std::vector<const Duty*>> of_scene;
  for (const DayPlan& day : plan.days) {
    for (const PlannedScene& scene : day.scenes) {
      result.scenes.push_back({scene.scene, {}});
      of_scene.emplace_back();
      for (const Duty* duty : deciding) {
        const auto& in = duty->scenes;
        if (std::find(in.begin(), in.end(), scene.scene) != in.end()) {
          of_scene.back().push_back(duty);
        }
      }
    }
  }
  Seating seating(production.people.size());
  std::vector<double> filmed(of_scene.size(), 0.0);
  double all = 0;
  const auto parties = parties_by_name(production, {people.begin(), people.end()});
  const bool exact =
      go_through_days(production, parties, seed, [&](const std::vector<char>& came, double weight) {
        if (replaced(deciding, came, seating)) all += weight;
        for (std::size_t i = 0; i < of_scene.size(); ++i) {
          if (replaced(of_scene[i], came, seating)) filmed[i] += weight;
        }
      });
  result.all_filmed = likelihood_of(all, exact);
  for (std::size_t i = 0; i < filmed.size(); ++i) {
    result.scenes[i].filmed = likelihood_of(filmed[i], exact);
  }
  std::stable_sort(result.scenes.begin(), result.scenes.end(), [](const auto& a, const auto& b) {
    return a.filmed.chance < b.filmed.chance - 1e-12;
  });
  return result;
}

}  // namespace gp::absence
