#include "explain/whatif/carry.h"

#include "model/day_frame.h"
#include "model/engagements.h"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

namespace gp::whatif {
namespace {

template <class Row, class Test>
void take_out(std::vector<Row>& rows, const Test& test) {
  rows.erase(std::remove_if(rows.begin(), rows.end(), test), rows.end());
}

bool within(const Wear& wear, PersonId who, LookId look, Minute from, Minute until) {
  return wear.person == who && wear.look == look && wear.from <= from && until <= wear.until;
}

/// The scenes by their new ids; false: one was dropped that the plan films.
bool rename_scenes(const Changed& after, Plan& plan) {
  bool all = true;
  const auto gone = [&after](const auto& row) { return !after.scene_now[row.scene].valid(); };
  const auto rename = [&](auto& rows) {
    take_out(rows, gone);
    for (auto& row : rows) row.scene = after.scene_now[row.scene];
  };
  for (DayPlan& day : plan.days) {
    const std::size_t filmed = day.scenes.size();
    rename(day.scenes);
    all = all && day.scenes.size() == filmed;
  }
  rename(plan.unfilled);
  rename(plan.not_filmed);
  return all;
}

/// Looks that no scene wants any more, their steps, and stations got ready for nothing.
void take_out_idle_looks(const Production& production, DayPlan& day) {
  const auto wanted = [&](const Wear& wear) {
    for (const PlannedScene& scene : day.scenes) {
      if (scene.shoot_at < wear.from || wear.until < scene.until) continue;
      for (const CastEntry& entry : scene.cast) {
        if (production.roles[entry.role].look != wear.look) continue;
        if (std::find(entry.people.begin(), entry.people.end(), wear.person) !=
            entry.people.end()) {
          return true;
        }
      }
    }
    return false;
  };
  take_out(day.wears, [&](const Wear& wear) {
    if (wanted(wear)) return false;
    take_out(day.steps, [&](const PlannedStep& step) {
      return within(wear, step.person, step.look, step.from, step.until);
    });
    return true;
  });
  take_out(day.ready, [&](const Ready& ready) {
    return std::none_of(day.steps.begin(), day.steps.end(), [&](const PlannedStep& step) {
      return step.by == ready.person && step.station == ready.station;
    });
  });
}

/// Steps and shots as long as the production now says, and the wears that begin or end with them.
void fit_lengths(const Production& production, DayPlan& day) {
  for (PlannedScene& scene : day.scenes) {
    scene.until = scene.shoot_at + production.scenes[scene.scene].shoot_minutes;
  }
  std::vector<PlannedStep> fitted = day.steps;
  for (PlannedStep& step : fitted) {
    const Step* const written = written_step(production, step);
    if (written == nullptr) continue;
    if (step.part == ChainPart::on) {
      step.from = step.until - written->minutes;
    } else {
      step.until = step.from + written->minutes;
    }
  }
  for (Wear& wear : day.wears) {
    std::optional<Minute> from;
    std::optional<Minute> until;
    for (std::size_t i = 0; i < fitted.size(); ++i) {
      const PlannedStep& old = day.steps[i];
      if (!within(wear, old.person, old.look, old.from, old.until)) continue;
      if (old.part == ChainPart::on) from = std::min(from.value_or(kNever), fitted[i].from);
      if (old.part == ChainPart::off) {
        until = std::max(until.value_or(kAlwaysBefore), fitted[i].until);
      }
    }
    wear.from = from.value_or(wear.from);
    wear.until = until.value_or(wear.until);
  }
  day.steps = std::move(fitted);
  std::stable_sort(day.steps.begin(), day.steps.end(), [](const auto& a, const auto& b) {
    return std::tie(a.from, a.person) < std::tie(b.from, b.person);
  });
  std::stable_sort(day.wears.begin(), day.wears.end(), [](const Wear& a, const Wear& b) {
    return std::tie(a.from, a.person) < std::tie(b.from, b.person);
  });
}

/// Calls, releases, first shot and wrap from the engagements; false: no clock shows a call.
bool count_stays(const Production& production, Answers answers, DayPlan& day) {
  const DayFrame frame(production, day.day, answers);
  day.people.clear();
  for (const auto& [who, rows] : engagements(production, day)) {
    Stay stay;
    stay.person = who;
    stay.released = rows.front().time.until;
    PlaceId first_place;
    for (const BusyRow& row : rows) {
      if (!first_place.valid()) first_place = row.place;
      stay.released = std::max(stay.released, row.time.until);
      stay.busy += row.time.length();
    }
    const Minutes lead = production.sign_in + production.way(frame.base, first_place);
    const auto call = frame.call_for(rows.front().time.from, lead);
    if (!call) return false;
    stay.call = *call;
    stay.on_site = stay.released - stay.call;
    stay.waiting = stay.on_site - stay.busy;
    day.people.push_back(stay);
  }
  std::stable_sort(day.people.begin(), day.people.end(), [](const Stay& a, const Stay& b) {
    return std::tie(a.call, a.person) < std::tie(b.call, b.person);
  });
  day.first_shot.reset();
  day.wrap.reset();
  for (const PlannedScene& scene : day.scenes) {
    day.first_shot = std::min(day.first_shot.value_or(kNever), scene.shoot_at);
    day.wrap = std::max(day.wrap.value_or(kAlwaysBefore), scene.until);
  }
  return true;
}

Price count_totals(const Production& production, Plan& plan) {
  const Price counted = price(production, plan);
  plan.totals.on_site = counted.on_site;
  plan.totals.weighted_on_site = counted.weighted_on_site;
  plan.totals.waiting = counted.waiting;
  return counted;
}

bool same_missing(const Unfilled& a, const Unfilled& b) {
  return a.scene == b.scene && a.role == b.role && a.job == b.job;
}

/// Whether the two film the same scenes and lack the same heads: then a bound of one is one of the
/// other.
bool same_losses(const Plan& a, const Plan& b) {
  const auto lost = [](const Plan& plan) {
    std::set<SceneId> scenes;
    for (const NotFilmed& row : plan.not_filmed) scenes.insert(row.scene);
    return scenes;
  };
  const auto missing = [](const Plan& plan) {
    std::set<std::tuple<SceneId, RoleId, std::string, int>> heads;
    for (const Unfilled& row : plan.unfilled) {
      heads.emplace(row.scene, row.role, row.job, row.missing);
    }
    return heads;
  };
  return lost(a) == lost(b) && missing(a) == missing(b);
}

/// What the search found out about the production after, where it is true of the plan there was.
void take_facts(const Production& production, const Plan& found, const Price& price, Plan& plan) {
  plan.title = found.title;
  plan.made_from = found.made_from;
  plan.totals.seconds = found.totals.seconds;
  plan.totals.bound.reset();
  plan.totals.proven = false;
  for (NotFilmed& row : plan.not_filmed) {
    for (const NotFilmed& other : found.not_filmed) {
      if (other.scene == row.scene) row.why = other.why;
    }
  }
  for (Unfilled& row : plan.unfilled) {
    for (const Unfilled& other : found.unfilled) {
      if (same_missing(row, other)) row.why = other.why;
    }
  }
  if (!found.totals.bound || !same_losses(plan, found)) return;
  const Thousandths value =
      production.aim == Aim::least_time ? price.weighted_on_site : price.span * 1000;
  if (*found.totals.bound > value) return;
  plan.totals.bound = found.totals.bound;
  plan.totals.proven = plan.totals.bound == value;
}

}  // namespace

std::optional<Plan> carried_over(const Plan& plan, const Changed& after, Answers answers) {
  const Production& now = after.production;
  Plan carried = plan;
  const bool all = rename_scenes(after, carried);
  for (DayPlan& day : carried.days) {
    if (!all) take_out_idle_looks(now, day);
    fit_lengths(now, day);
    if (!count_stays(now, answers, day)) return std::nullopt;
  }
  count_totals(now, carried);
  carried.totals.bound.reset();
  carried.totals.proven = false;
  if (!check(now, carried, answers).empty()) return std::nullopt;
  return carried;
}

Priced better_of(const Production& production, Plan found, std::optional<Plan> there_was) {
  const Price found_price = price(production, found);
  if (there_was) {
    const Price price = count_totals(production, *there_was);
    if (!better(found_price, price, production.aim)) {
      take_facts(production, found, price, *there_was);
      return {std::move(*there_was), price, true};
    }
  }
  return {std::move(found), found_price, false};
}

Priced plan_again(const Plan& plan,
                  const Changed& after,
                  const Wishes& wishes,
                  Stop& stop,
                  const ProgressSink& progress) {
  Plan found = make_plan(after.production, wishes, stop, progress);
  return better_of(after.production, std::move(found), carried_over(plan, after, wishes.answers));
}

}  // namespace gp::whatif
