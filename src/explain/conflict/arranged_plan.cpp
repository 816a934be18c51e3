#include "explain/conflict/arranged_plan.h"

#include "model/engagements.h"

#include <algorithm>
#include <map>
#include <string>
#include <tuple>

namespace gp::conflict {
namespace {

constexpr const char* kLeftOut = "left out: the others are asked about alone";

void add_people(const DayGround& ground, const Arrangement& arranged, PlannedScene& scene) {
  const auto crew = ground.film->crew_of(ground.scene);
  for (std::size_t h = 0; h < ground.heads.size(); ++h) {
    const Slot& slot = ground.slots[ground.heads[h].slot];
    const auto add = [&](auto& entries, auto is, auto made) {
      auto found = std::find_if(entries.begin(), entries.end(), is);
      if (found == entries.end()) found = entries.insert(entries.end(), made);
      found->people.push_back(arranged.people[h]);
    };
    if (slot.kind == Slot::Kind::crew) {
      const std::string& job = crew[slot.call].job;
      add(
          scene.crew, [&](const CrewEntry& e) { return e.job == job; }, CrewEntry{job, {}});
    } else {
      add(
          scene.cast,
          [&](const CastEntry& e) { return e.role == slot.role; },
          CastEntry{slot.role, {}});
    }
  }
}

void add_missing(const Production& film, const PlannedScene& scene, Plan& plan) {
  std::map<std::pair<RoleId, std::string>, int> missing;
  for (const CastCall& call : film.scenes[scene.scene].cast)
    missing[{call.role, {}}] += call.people;
  for (const CrewCall& call : film.crew_of(scene.scene))
    missing[{RoleId(), call.job}] += call.people;
  for (const CastEntry& entry : scene.cast) {
    missing[{entry.role, {}}] -= static_cast<int>(entry.people.size());
  }
  for (const CrewEntry& entry : scene.crew) {
    missing[{RoleId(), entry.job}] -= static_cast<int>(entry.people.size());
  }
  for (const auto& [key, heads] : missing) {
    if (heads > 0) plan.unfilled.push_back({scene.scene, key.first, key.second, heads, kLeftOut});
  }
}

/// Steps get the lowest place that is free: at no moment are there more than places.
void seat(std::vector<PlannedStep>& steps) {
  std::stable_sort(steps.begin(), steps.end(), [](const PlannedStep& a, const PlannedStep& b) {
    return std::tie(a.from, a.until, a.person) < std::tie(b.from, b.until, b.person);
  });
  std::map<StationId, std::vector<Minute>> taken_until;
  for (PlannedStep& step : steps) {
    auto& places = taken_until[step.station];
    std::size_t place = 0;
    while (place < places.size() && places[place] > step.from) ++place;
    if (place == places.size()) places.push_back(step.until);
    places[place] = step.until;
    step.place = static_cast<int>(place) + 1;
  }
}

std::optional<Minute> turn_for(const DayGround& ground,
                               const MealFrame& meal,
                               const std::vector<BusyRow>& rows,
                               const std::map<Minute, int>& eating) {
  for (Minute at = meal.between.from; at + meal.minutes <= meal.between.until; at += Minutes{1}) {
    const Span span{at, at + meal.minutes};
    const bool busy = std::any_of(
        rows.begin(), rows.end(), [&](const BusyRow& row) { return row.time.overlaps(span); });
    if (busy || !ground.frame.nameable(at) || !ground.frame.nameable(span.until)) continue;
    // the way between what stands before and after it
    const BusyRow* before = nullptr;
    const BusyRow* after = nullptr;
    for (const BusyRow& row : rows) {
      if (!row.place.valid()) continue;
      if (row.time.until <= at && (before == nullptr || row.time.until >= before->time.until)) {
        before = &row;
      }
      if (row.time.from >= span.until && after == nullptr) after = &row;
    }
    if (before != nullptr && after != nullptr &&
        (after->time.from - before->time.until) - meal.minutes <
            ground.film->way(before->place, after->place)) {
      continue;
    }
    int seated = 0;
    for (const auto& [from, people] : eating) {
      if (from < span.until && span.from < from + meal.minutes) seated += people;
    }
    if (seated < meal.seats) return at;
  }
  return std::nullopt;
}

void add_turns(const DayGround& ground, const MealFrame& meal, Plan& plan) {
  const auto busy = engagements(*ground.film, plan.days[0]);
  std::map<Minute, int> eating;
  for (const Stay& stay : plan.days[0].people) {
    if (!Span{stay.call, stay.released}.covers(meal.between)) continue;
    if (const auto at = turn_for(ground, meal, busy.at(stay.person), eating)) {
      ++eating[*at];
      plan.days[0].meals.push_back({meal.name, *at, *at + meal.minutes, {stay.person}});
    }
  }
  count_stays(*ground.film, plan);
}

/// Everybody eats whose stay covers the meal; an earlier call may make more do so.
void hold(const Production& film, const MealFrame& meal, Span span, Plan& plan) {
  const std::size_t at = plan.days[0].meals.size();
  plan.days[0].meals.push_back({meal.name, span.from, span.until, {}});
  for (const Stay& stay : plan.days[0].people) {
    if (Span{stay.call, stay.released}.covers(span)) {
      plan.days[0].meals[at].people.push_back(stay.person);
    }
  }
  if (plan.days[0].meals[at].people.empty()) plan.days[0].meals.pop_back();
  count_stays(film, plan);
}

bool add_from(const DayGround& ground, std::size_t which, const HeldMeals* held, Plan& plan) {
  if (which == ground.frame.meals.size()) return true;
  const MealFrame& meal = ground.frame.meals[which];
  if (!meal.together) {
    add_turns(ground, meal, plan);
    return add_from(ground, which + 1, held, plan);
  }
  if (held != nullptr) {
    if ((*held)[which]) hold(*ground.film, meal, *(*held)[which], plan);
    return add_from(ground, which + 1, held, plan);
  }
  const auto& stays = plan.days[0].people;
  const bool needed = std::any_of(stays.begin(), stays.end(), [&](const Stay& stay) {
    return Span{stay.call, stay.released}.covers(meal.between);
  });
  if (!needed) return add_from(ground, which + 1, held, plan);
  const auto busy = engagements(*ground.film, plan.days[0]);
  for (Minute at = meal.between.from; at + meal.minutes <= meal.between.until; at += Minutes{1}) {
    const Span span{at, at + meal.minutes};
    if (!ground.frame.nameable(at) || !ground.frame.nameable(span.until)) continue;
    const PlannedScene& scene = plan.days[0].scenes.front();
    if (span.from < scene.until && scene.set_at < span.until) continue;
    const bool clash = std::any_of(stays.begin(), stays.end(), [&](const Stay& stay) {
      if (!Span{stay.call, stay.released}.covers(span)) return false;
      const auto& rows = busy.at(stay.person);
      return std::any_of(
          rows.begin(), rows.end(), [&](const BusyRow& row) { return row.time.overlaps(span); });
    });
    if (clash) continue;
    Plan tried = plan;
    hold(*ground.film, meal, span, tried);
    if (!add_from(ground, which + 1, held, tried)) continue;
    plan = std::move(tried);
    return true;
  }
  return false;
}

}  // namespace

Plan arranged_plan(const DayGround& ground,
                   const Arrangement& arranged,
                   const std::vector<std::vector<ItemId>>& items) {
  const Production& film = *ground.film;
  Plan plan;
  plan.title = film.title;
  plan.days.resize(1);
  DayPlan& day = plan.days[0];
  day.day = ground.frame.id;
  PlannedScene scene;
  scene.scene = ground.scene;
  scene.unit = film.scenes[ground.scene].unit;
  scene.shoot_at = arranged.shot;
  scene.set_at = arranged.shot - ground.set_up();
  scene.until = arranged.shot + ground.shoot();
  add_people(ground, arranged, scene);
  add_missing(film, scene, plan);
  day.first_shot = scene.shoot_at;
  day.wrap = scene.until;
  for (std::size_t h = 0; h < ground.heads.size(); ++h) {
    const LookId look = ground.heads[h].look;
    if (!look.valid()) continue;
    const auto add = [&](ChainPart part, const auto& chain, const auto& steps) {
      for (std::size_t k = 0; k < steps.size(); ++k) {
        day.steps.push_back({arranged.people[h],
                             look,
                             part,
                             static_cast<int>(k),
                             chain[k].station,
                             1,
                             steps[k].by,
                             steps[k].when.from,
                             steps[k].when.until});
      }
    };
    add(ChainPart::on, ground.on[h], arranged.on[h]);
    add(ChainPart::off, ground.off[h], arranged.off[h]);
    const auto& on = arranged.on[h];
    const auto& off = arranged.off[h];
    day.wears.push_back({arranged.people[h],
                         look,
                         on.empty() ? scene.shoot_at : on.front().when.from,
                         off.empty() ? scene.until : off.back().when.until,
                         items[h]});
  }
  std::stable_sort(day.wears.begin(), day.wears.end(), [](const Wear& a, const Wear& b) {
    return std::tie(a.from, a.person) < std::tie(b.from, b.person);
  });
  seat(day.steps);
  for (const ReadyTime& row : arranged.ready) {
    day.ready.push_back({row.who, row.station, row.when.from, row.when.until});
  }
  day.scenes.push_back(std::move(scene));
  for (const SceneId other : film.scenes.ids()) {
    if (other != ground.scene) plan.not_filmed.push_back({other, kLeftOut});
  }
  count_stays(film, plan);
  return plan;
}

void count_stays(const Production& film, Plan& plan) {
  plan.totals = Totals();
  for (DayPlan& day : plan.days) {
    day.people.clear();
    const DayFrame frame(film, day.day, Answers{true, true});
    for (const auto& [who, rows] : engagements(film, day)) {
      const auto placed =
          std::find_if(rows.begin(), rows.end(), [](const BusyRow& r) { return r.place.valid(); });
      const PlaceId where = placed == rows.end() ? PlaceId() : placed->place;
      const Minutes lead = film.sign_in + film.way(frame.base, where);
      Stay stay;
      stay.person = who;
      stay.call =
          frame.call_for(rows.front().time.from, lead).value_or(rows.front().time.from - lead);
      stay.released = rows.front().time.until;
      for (const BusyRow& row : rows) {
        stay.released = std::max(stay.released, row.time.until);
        stay.busy += row.time.length();
      }
      stay.on_site = stay.released - stay.call;
      stay.waiting = stay.on_site - stay.busy;
      plan.totals.on_site += count(stay.on_site);
      plan.totals.weighted_on_site += count(stay.on_site) * film.people[who].weight;
      plan.totals.waiting += count(stay.waiting);
      day.people.push_back(stay);
    }
    std::stable_sort(day.people.begin(), day.people.end(), [](const Stay& a, const Stay& b) {
      return std::tie(a.call, a.person) < std::tie(b.call, b.person);
    });
  }
}

bool add_meals(const DayGround& ground, const HeldMeals* held, Plan& plan) {
  return add_from(ground, 0, held, plan);
}

}  // namespace gp::conflict
