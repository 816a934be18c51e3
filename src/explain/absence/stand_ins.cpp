#include "explain/absence/stand_ins.h"

#include "casting/seating.h"
#include "casting/slots.h"
#include "model/day_frame.h"
#include "model/engagements.h"
#include "model/sizes.h"
#include "prep/timeline.h"
#include "search/stays.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

namespace gp::absence {
namespace {

/// Time that a duty takes, and where it begins and ends.
struct Need {
  std::size_t day = 0;  ///< of the plan
  Span time;
  PlaceId from, to;
  LookId look;                      ///< put on in that time, or worn; none: as themselves
  bool any_look = true;             ///< what they have on does not matter
  std::vector<ItemId> things = {};  ///< that the plan gives out for the look
};

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
      : production_(production), plan_(plan), slots_(production, answers) {
    frames_.reserve(plan.days.size());  // the grounds point at them
    for (const DayPlan& day : plan.days) {
      frames_.emplace_back(production, day.day, answers);
      busy_.push_back(engagements(production, day));
      grounds_.push_back(ground_of(production, frames_.back(), day));
      rows_.push_back(days_of_people(grounds_.back(), day));
    }
  }

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
        if (id != list[i].person && has_time(id, list[i].person, needs[i])) {
          list[i].stand_ins.push_back(id);
        }
      }
    }
    share_looks(list);
    add_helpers(list);
    for (Duty& duty : list) {
      std::stable_sort(duty.stand_ins.begin(), duty.stand_ins.end(), [&](PersonId a, PersonId b) {
        if (on_site(a) != on_site(b)) return on_site(a);
        return chance_of_coming(production_.people[a]) > chance_of_coming(production_.people[b]);
      });
    }
    return by_kind(list);
  }

 private:
  static Ground ground_of(const Production& production,
                          const DayFrame& frame,
                          const DayPlan& plan) {
    Ground ground(production, frame);
    for (std::size_t m = 0; m < frame.meals.size(); ++m) {
      if (!frame.meals[m].together) continue;
      for (const PlannedMeal& meal : plan.meals) {
        if (meal.meal == frame.meals[m].name) ground.together[m] = Span{meal.from, meal.until};
      }
    }
    return ground;
  }

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

  bool has_time(PersonId id, PersonId missing, const std::vector<Need>& needs) {
    if (!std::all_of(
            needs.begin(), needs.end(), [&](const Need& need) { return fits(id, need); })) {
      return false;
    }
    for (std::size_t d = 0; d < plan_.days.size(); ++d) {
      std::vector<Span> times;
      for (const Need& need : needs) {
        if (need.day == d) times.push_back(need.time);
      }
      if (!times.empty() && !day_holds(id, missing, d, times)) return false;
    }
    return true;
  }

  /// Whether the whole day of the stand-in holds with what the missing one does in these times:
  /// ways beside meals, one stay within their free hours, every meal that the longer stay covers.
  bool day_holds(PersonId id, PersonId missing, std::size_t d, const std::vector<Span>& times) {
    const Ground& ground = grounds_[d];
    const DayFrame& frame = frames_[d];
    PersonDay day;
    if (const auto own = rows_[d].find(id); own != rows_[d].end()) day = own->second;
    const PersonDay& theirs = rows_[d].at(missing);
    for (const Engagement& row : theirs.engagements) {
      const bool part_of_it = std::any_of(
          times.begin(), times.end(), [&](const Span& time) { return time.covers(row.when); });
      if (part_of_it) day.engagements.push_back(row);
    }
    auto& rows = day.engagements;
    std::sort(rows.begin(), rows.end(), [](const Engagement& a, const Engagement& b) {
      return a.when.from < b.when.from;
    });
    const auto busy_in = [&](Span span) {
      return std::any_of(
          rows.begin(), rows.end(), [&](const Engagement& row) { return row.when.overlaps(span); });
    };
    auto stay = stay_of(ground, day);
    if (!stay) return false;
    for (std::size_t m = 0; m < frame.meals.size(); ++m) {
      const bool all_of_it = stay->stay.covers(frame.meals[m].between);
      if (frame.meals[m].together) {
        if (all_of_it && !ground.together[m]) return false;
        continue;
      }
      const auto eats = [m](const MealSlot& slot) { return slot.meal == m; };
      if (!all_of_it || std::any_of(day.meals.begin(), day.meals.end(), eats)) continue;
      const auto seat = std::find_if(theirs.meals.begin(), theirs.meals.end(), eats);
      if (seat == theirs.meals.end()) return false;  // nobody has kept a seat
      day.meals.push_back(*seat);
    }
    std::sort(day.meals.begin(), day.meals.end(), [](const MealSlot& a, const MealSlot& b) {
      return a.when.from < b.when.from;
    });
    stay = stay_of(ground, day);
    if (!stay) return false;
    for (const std::size_t m : stay->together) {
      if (busy_in(*ground.together[m])) return false;
    }
    for (const MealSlot& slot : day.meals) {
      if (busy_in(slot.when)) return false;
    }
    for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
      if (rows[i + 1].when.from < rows[i].when.until ||
          spare_between(ground, day, i) < Minutes{0}) {
        return false;
      }
    }
    const auto& free = frame.free[id];
    return std::any_of(
        free.begin(), free.end(), [&](const Span& span) { return span.covers(stay->stay); });
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
    // What else fitted them may hang in the wardrobe or be worn by others: nothing moves.
    const bool too_small_or_large =
        std::any_of(need.things.begin(), need.things.end(), [&](ItemId thing) {
          return size_match(production_.items[thing], production_.people[id]) ==
                 SizeMatch::does_not;
        });
    if (too_small_or_large) return false;
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
              has_time(id, duty.person, needs[key])) {
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
  std::vector<DayFrame> frames_;
  std::vector<std::map<PersonId, std::vector<BusyRow>>> busy_;
  std::vector<Ground> grounds_;
  std::vector<std::map<PersonId, PersonDay>> rows_;
};

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

std::vector<PersonId> who_may(const Production& production, const Duty& duty, Answers answers) {
  std::vector<PersonId> list = may_do(production, Slots(production, answers), duty);
  std::erase_if(list, [&](PersonId id) { return !answers.include(production.people[id].answer); });
  return list;
}

namespace {

Survival found(const Production& production,
               const Plan& plan,
               Answers answers,
               std::uint64_t seed,
               bool whole) {
  Survival result;
  result.duties = Finder(production, plan, answers).duties(!whole);
  std::set<PersonId> people;
  std::vector<const Duty*> deciding;
  for (const Duty& duty : result.duties) {
    if (!duty.decides()) continue;
    deciding.push_back(&duty);
    people.insert(duty.person);
    people.insert(duty.stand_ins.begin(), duty.stand_ins.end());
  }
  std::vector<std::vector<const Duty*>> of_scene;
  const auto one_seat_each = [](std::vector<const Duty*>& duties) {
    std::set<std::size_t> seen;
    std::erase_if(duties, [&](const Duty* duty) { return !seen.insert(duty->shared_with).second; });
  };
  for (const DayPlan& day : plan.days) {
    for (const PlannedScene& scene : day.scenes) {
      if (!whole) break;
      result.scenes.push_back({scene.scene, {}});
      of_scene.emplace_back();
      for (const Duty* duty : deciding) {
        const auto& in = duty->scenes;
        if (std::find(in.begin(), in.end(), scene.scene) != in.end()) {
          of_scene.back().push_back(duty);
        }
      }
      one_seat_each(of_scene.back());
    }
  }
  one_seat_each(deciding);
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

}  // namespace

Survival survival_of(const Production& production,
                     const Plan& plan,
                     Answers answers,
                     std::uint64_t seed) {
  return found(production, plan, answers, seed, true);
}

Survival short_survival_of(const Production& production,
                           const Plan& plan,
                           Answers answers,
                           std::uint64_t seed) {
  return found(production, plan, answers, seed, false);
}

}  // namespace gp::absence
