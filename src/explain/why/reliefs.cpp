#include "explain/why/reliefs.h"

#include "explain/whatif/apply.h"
#include "explain/whatif/change.h"
#include "model/check.h"
#include "model/price.h"

#include <algorithm>
#include <map>
#include <string>
#include <tuple>
#include <utility>
#include <variant>

namespace gp {
namespace {

using whatif::Change;

bool has_cause(const WhyLink& link, WhyFact fact) {
  return std::any_of(link.causes.begin(), link.causes.end(), [fact](const WhyCause& cause) {
    return cause.fact == fact;
  });
}

/// The changes that belong to a chain, without doubles, the nearest to the call first.
class Changes {
 public:
  Changes(const Production& film, const Plan& plan, const WhyCall& call)
      : film_(film), plan_(plan), call_(call) {
    for (const WhyLink& link : call.chain) of_link(link);
  }

  [[nodiscard]] std::vector<Change> take() { return std::move(changes_); }

 private:
  void add(Change change) {
    if (changes_.size() >= static_cast<std::size_t>(kMostReliefs)) return;
    if (std::find(changes_.begin(), changes_.end(), change) != changes_.end()) return;
    changes_.push_back(std::move(change));
  }

  void of_link(const WhyLink& link) {
    switch (link.kind) {
      case WhyEngagement::own_step:
      case WhyEngagement::staffs:
        of_step(link);
        break;
      case WhyEngagement::ready:
        break;
      case WhyEngagement::meal:
        break;
      case WhyEngagement::plays:
      case WhyEngagement::crew:
        of_scene(link);
        break;
    }
  }

  void of_step(const WhyLink& link) {
    if (has_cause(link, WhyFact::place_taken) || link.kind == WhyEngagement::own_step) {
      add(whatif::Chairs{link.station, {true, 1}});
    }
    if (link.by.valid()) {
      for (const std::string& skill : skills_at(link)) {
        whatif::Friends helper;
        helper.skills = {skill};
        helper.stations = {link.station};
        helper.what_for = film_.stations[link.station].shown();
        add(helper);
      }
    }
    constexpr int kQuicker = 5;
    const Look& look = film_.looks[link.look];
    int longest = 0;
    for (const Step& step : look.steps) longest = std::max(longest, count(step.minutes));
    if (longest > kQuicker) {
      whatif::ChainTime quicker;
      quicker.look = link.look;
      quicker.less = kQuicker;
      add(quicker);
    }
    if (has_cause(link, WhyFact::item_out)) {
      for (const WhyCause& cause : link.causes) {
        if (cause.item.valid()) add(whatif::Things{cause.item, {true, 1}});
      }
    }
    if (has_cause(link, WhyFact::station_closed)) {
      whatif::OpenHours open;
      open.station = link.station;
      open.hours.later = Minutes{15};
      add(open);
    }
    for (const ItemId item : look.items) {
      if (all_used(item)) add(whatif::Things{item, {true, 1}});
    }
  }

  void of_scene(const WhyLink& link) {
    const Scene& scene = film_.scenes[link.scene];
    if (film_.days[call_.day].first_shot) {
      whatif::DayTime later;
      later.moment = whatif::DayMoment::first_shot;
      later.day = call_.day;
      later.later = film_.round_to;
      add(later);
    }
    if (scene.at || scene.between) add(whatif::AnyTime{link.scene});
    if (film_.days[call_.day].wrap_by && has_cause(link, WhyFact::wrap_by)) {
      whatif::DayTime later;
      later.moment = whatif::DayMoment::wrap_by;
      later.day = call_.day;
      later.later = film_.round_to;
      add(later);
    }
    for (const WhyCause& cause : link.causes) {
      if (cause.fact == WhyFact::item_out) add(whatif::Things{cause.item, {true, 1}});
    }
  }

  [[nodiscard]] Tags skills_at(const WhyLink& link) const {
    Tags skills;
    const Look& look = film_.looks[link.look];
    for (const auto* chain : {&look.steps, &look.off}) {
      for (const Step& step : *chain) {
        if (step.at != link.station || step.by.empty()) continue;
        if (std::find(skills.begin(), skills.end(), step.by) == skills.end()) {
          skills.push_back(step.by);
        }
      }
    }
    return skills;
  }

  /// Whether all of an item are worn at some moment of the day.
  [[nodiscard]] bool all_used(ItemId item) const {
    std::map<Minute, int> changes;
    for (const DayPlan& day : plan_.days) {
      if (day.day != call_.day) continue;
      for (const Wear& wear : day.wears) {
        for (const ItemId worn : wear.items) {
          if (worn != item) continue;
          ++changes[wear.from];
          --changes[wear.until];
        }
      }
    }
    int used = 0;
    int most = 0;
    for (const auto& [at, by] : changes) most = std::max(most, used += by);
    return most >= film_.items[item].count && film_.items[item].count > 0;
  }

  const Production& film_;
  const Plan& plan_;
  const WhyCall& call_;
  std::vector<Change> changes_;
};

bool loses_nothing(const Price& now, const Price& then) {
  return then.not_filmed <= now.not_filmed && then.optional_not_filmed <= now.optional_not_filmed &&
         then.unfilled <= now.unfilled;
}

std::optional<Minute> call_in(const Plan& plan, DayId day, PersonId person) {
  for (const DayPlan& one : plan.days) {
    if (one.day != day) continue;
    for (const Stay& stay : one.people) {
      if (stay.person == person) return stay.call;
    }
  }
  return std::nullopt;
}

}  // namespace

WhyReliefs find_reliefs(const Production& film,
                        const Plan& plan,
                        const WhyCall& call,
                        const Wishes& wishes,
                        Stop& stop,
                        const ReliefProgress& progress) {
  WhyReliefs found;
  found.tried = true;
  const Price now = price(film, plan);
  const std::vector<Change> changes = Changes(film, plan, call).take();
  const int of = static_cast<int>(changes.size()) + 1;
  const auto plan_with = [&](const Production& changed, double share) -> std::optional<WhyRelief> {
    Wishes part = wishes;
    part.effort = wishes.effort * share;
    const Plan again = make_plan(changed, part, stop);
    if (stop.now_exactly() || !check(changed, again, wishes.answers).empty()) return std::nullopt;
    const Price then = price(changed, again);
    const auto called = call_in(again, call.day, call.stay.person);
    if (!called || *called <= call.stay.call || !loses_nothing(now, then)) return std::nullopt;
    WhyRelief relief;
    relief.call = *called;
    relief.later = *called - call.stay.call;
    relief.costs_all = then.on_site - now.on_site;
    return relief;
  };
  /// The relief that a changed production brings; none: it brings none. Of two plans that help the
  /// one that costs all less.
  const auto try_it = [&](const Production& changed) -> std::optional<WhyRelief> {
    auto quick = plan_with(changed, kReliefShare);
    if (!quick) return std::nullopt;
    auto careful = plan_with(changed, 1);
    return careful && careful->costs_all < quick->costs_all ? careful : quick;
  };
  if (progress) progress(0, of);
  found.unchanged = try_it(film);
  if (found.unchanged) found.unchanged->change = "nothing";
  for (const Change& change : changes) {
    if (stop.now_exactly()) break;
    if (progress) progress(found.changes + 1, of);
    const auto changed = whatif::apply(film, {change});
    ++found.changes;
    const auto* made = std::get_if<whatif::Changed>(&changed);
    if (made == nullptr) continue;
    auto relief = try_it(made->production);
    if (!relief) continue;
    relief->change = whatif::describe(film, change);
    found.found.push_back(std::move(*relief));
  }
  found.stopped = stop.now_exactly();
  std::stable_sort(
      found.found.begin(), found.found.end(), [](const WhyRelief& a, const WhyRelief& b) {
        return a.later != b.later ? a.later > b.later : a.costs_all < b.costs_all;
      });
  return found;
}

}  // namespace gp
