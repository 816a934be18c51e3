#include "model/check_day.h"

#include "time/clock.h"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace gp::checking {
namespace {

bool is_whole(const std::vector<Step>& chain, const std::vector<WornStep>& steps) {
  if (steps.size() != chain.size()) return false;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (static_cast<std::size_t>(steps[i].planned->step) != i) return false;
  }
  return true;
}

void put_in_order(std::vector<WornStep>& steps) {
  std::stable_sort(steps.begin(), steps.end(), [](const WornStep& a, const WornStep& b) {
    return std::tie(a.planned->step, a.planned->from, a.planned->until) <
           std::tie(b.planned->step, b.planned->from, b.planned->until);
  });
}

/// The one wear of `look` that covers the span; null: none, or several.
Worn* the_wear(std::vector<Worn>& worn, LookId look, Span span) {
  Worn* only = nullptr;
  for (Worn& one : worn) {
    if (one.wear->look != look || one.wear->from > span.from || span.until > one.wear->until) {
      continue;
    }
    if (only != nullptr) return nullptr;
    only = &one;
  }
  return only;
}

void dress(const Production& production, JudgedDay& day) {
  for (const Wear& wear : day.plan->wears) {
    Worn worn;
    worn.wear = &wear;
    day.worn[wear.person].push_back(std::move(worn));
  }
  for (auto& [who, worn] : day.worn) {
    std::stable_sort(worn.begin(), worn.end(), [](const Worn& a, const Worn& b) {
      return a.wear->from < b.wear->from;
    });
  }
  for (const PlannedScene& scene : day.plan->scenes) {
    const Span shot{scene.shoot_at, scene.until};
    for (const CastEntry& entry : scene.cast) {
      const Role& role = production.roles[entry.role];
      if (role.look_kind != LookKind::look) continue;
      for (const PersonId who : entry.people) {
        const auto found = day.worn.find(who);
        if (found == day.worn.end()) continue;
        if (Worn* worn = the_wear(found->second, role.look, shot)) {
          worn->scenes.push_back({scene.scene, shot});
        }
      }
    }
  }
  for (const PlannedStep& planned : day.plan->steps) {
    JudgedStep step{&planned, written_step(production, planned), false};
    const auto found = day.worn.find(planned.person);
    if (step.written != nullptr && found != day.worn.end()) {
      if (Worn* worn = the_wear(found->second, planned.look, {planned.from, planned.until})) {
        step.worn = true;
        (planned.part == ChainPart::on ? worn->on : worn->off).push_back({&planned, step.written});
      }
    }
    day.steps.push_back(step);
  }
  for (auto& [who, all] : day.worn) {
    for (Worn& worn : all) {
      put_in_order(worn.on);
      put_in_order(worn.off);
      const Look& look = production.looks[worn.wear->look];
      worn.whole = is_whole(look.steps, worn.on) && is_whole(look.off, worn.off);
    }
  }
}

}  // namespace

std::vector<const Worn*> JudgedDay::wears_over(PersonId who, LookId look, Span shot) const {
  std::vector<const Worn*> over;
  const auto found = worn.find(who);
  if (found == worn.end()) return over;
  for (const Worn& one : found->second) {
    if (one.wear->look == look && one.wear->from <= shot.from && shot.until <= one.wear->until) {
      over.push_back(&one);
    }
  }
  return over;
}

std::string JudgedDay::clock(Minute moment) const {
  return format(calendar.shown(moment));
}
std::string JudgedDay::clock(Span span) const {
  return clock(span.from) + "-" + clock(span.until);
}

Judged::Judged(const Production& the_production, const Plan& the_plan, Answers the_answers)
    : production(&the_production),
      plan(&the_plan),
      answers(the_answers),
      filmed(the_production.scenes.size()) {
  days.reserve(the_plan.days.size());
  for (const DayPlan& day_plan : the_plan.days) {
    const Day& day = the_production.days[day_plan.day];
    days.push_back({&day_plan,
                    &day,
                    CalendarDay(day.date, the_production.zone),
                    gp::engagements(the_production, day_plan),
                    {},
                    {},
                    {}});
    JudgedDay& judged = days.back();
    for (const PlannedScene& scene : day_plan.scenes) {
      judged.units[the_production.scenes[scene.scene].unit].push_back(&scene);
      filmed[scene.scene].push_back({day_plan.day, &scene});
    }
    for (auto& [unit, rows] : judged.units) {
      std::stable_sort(rows.begin(), rows.end(), [](const auto* a, const auto* b) {
        return a->set_at < b->set_at;
      });
    }
    dress(the_production, judged);
  }
}

std::vector<Broken> Findings::take() {
  std::stable_sort(broken_.begin(), broken_.end(), [](const Broken& a, const Broken& b) {
    return a.rule < b.rule;
  });
  return std::move(broken_);
}

}  // namespace gp::checking
