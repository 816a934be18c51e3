#include "explain/days/choose_days.h"

#include "casting/slots.h"
#include "ordering/windows.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace gp {
namespace {

constexpr std::size_t kMostSets = 40;  ///< choices of several days that are all tried
constexpr std::size_t kBeam = 6;       ///< else: how many are made larger
constexpr std::size_t kWidest = 16;    ///< and how many larger ones are tried

using DaySet = std::vector<DayId>;

/// The production with nothing filmed on other days. A plan of it is a plan of the production: it
/// is only narrower.
Production with_only(const Production& production, const DaySet& days) {
  Production only = production;
  for (const DayId day : only.days.ids()) {
    if (std::find(days.begin(), days.end(), day) != days.end()) continue;
    only.days[day].wrap_by = only.days[day].nobody_before;
  }
  return only;
}

class Chooser {
 public:
  Chooser(const Production& production,
          const DaysWishes& wishes,
          Stop& stop,
          const DaysProgress& progress)
      : production_(production), wishes_(wishes), stop_(stop), progress_(progress) {
    wishes_.planning.only_day.reset();
    const Slots slots(production, wishes_.planning.answers);
    needed_ = Table<SceneId, std::vector<PersonId>>(production.scenes.size());
    for (const SceneId scene : production.scenes.ids()) {
      for (const Slot& slot : slots.of(scene)) {
        if (slot.candidates.size() > static_cast<std::size_t>(slot.people)) continue;
        needed_[scene].insert(needed_[scene].end(), slot.candidates.begin(), slot.candidates.end());
      }
    }
  }

  DaysChosen run() {
    const std::size_t days = production_.days.size();
    const std::size_t most = std::min(wishes_.most_days, days);
    expect(days, most);
    for (const DayId day : production_.days.ids()) {
      if (stop_.now_exactly()) break;
      try_alone(day);
    }
    std::vector<DaySet> last;
    for (const DayTried& tried : result_.alone) last.push_back({tried.day});
    for (std::size_t size = 2; size <= most && !stop_.now_exactly(); ++size) {
      std::vector<DaySet> next = larger(last);
      for (const DaySet& set : next) {
        if (stop_.now_exactly()) break;
        try_together(set);
      }
      last = std::move(next);
    }
    result_.stopped = stop_.now_exactly();
    std::stable_sort(result_.choices.begin(), result_.choices.end(), better_days);
    return std::move(result_);
  }

 private:
  void expect(std::size_t days, std::size_t most) {
    std::size_t sets = 0;
    std::size_t of_size = days;
    for (std::size_t size = 2; size <= most; ++size) {
      of_size = of_size * (days - size + 1) / size;
      sets += of_size;
      if (sets > kMostSets) break;
    }
    all_ = sets <= kMostSets;
    expected_ = days + 2 * (all_ ? sets : kWidest * (most > 0 ? most - 1 : 0));
    result_.some_left_out = !all_;
  }

  Plan plan_of(const Production& narrowed, const Wishes& planning) {
    if (progress_) progress_(made_, std::max(made_ + 1, expected_));
    ++made_;
    return make_plan(narrowed, planning, stop_);
  }

  void try_alone(DayId day) {
    DayTried tried;
    tried.day = day;
    Wishes planning = wishes_.planning;
    planning.only_day = day;
    tried.plan = plan_of(production_, planning);
    tried.price = price(production_, tried.plan);
    const DayFrame frame(production_, day, planning.answers);
    const auto windows = shot_windows(production_, frame);
    tried.scenes = Table<SceneId, OnDay>(production_.scenes.size(), OnDay::shut);
    for (const SceneId scene : production_.scenes.ids()) {
      if (!windows[scene].empty()) tried.scenes[scene] = OnDay::tried;
    }
    for (const DayPlan& of_day : tried.plan.days) {
      for (const PlannedScene& scene : of_day.scenes) tried.scenes[scene.scene] = OnDay::filmed;
      tried.people += of_day.people.size();
    }
    add_choice(tried.plan);
    result_.alone.push_back(std::move(tried));
  }

  void add_choice(const Plan& plan) {
    DaysChoice choice;
    std::set<PersonId> people;
    std::size_t calls = 0;
    for (const DayPlan& day : plan.days) {
      if (!day.scenes.empty()) choice.days.push_back(day.day);
      for (const Stay& stay : day.people) people.insert(stay.person);
      calls += day.people.size();
    }
    choice.plan = plan;
    choice.price = price(production_, plan);
    choice.people = people.size();
    choice.twice = calls - people.size();
    if (choice.days.empty()) return;
    for (DaysChoice& other : result_.choices) {
      if (other.days != choice.days) continue;
      if (better_days(choice, other)) other = std::move(choice);
      return;
    }
    result_.choices.push_back(std::move(choice));
  }

  /// What the best plans of each day alone film together: worth lost, optional worth lost.
  [[nodiscard]] std::pair<Thousandths, Thousandths> lost_by(const DaySet& set) const {
    std::pair<Thousandths, Thousandths> lost;
    for (const SceneId scene : production_.scenes.ids()) {
      const bool filmed = std::any_of(set.begin(), set.end(), [&](DayId day) {
        return result_.alone[day.index()].scenes[scene] == OnDay::filmed;
      });
      if (filmed) continue;
      const Scene& it = production_.scenes[scene];
      (it.optional ? lost.second : lost.first) += it.worth;
    }
    return lost;
  }

  [[nodiscard]] std::vector<DaySet> larger(std::vector<DaySet> sets) const {
    const auto by_loss = [&](const DaySet& a, const DaySet& b) { return lost_by(a) < lost_by(b); };
    std::stable_sort(sets.begin(), sets.end(), by_loss);
    if (!all_ && sets.size() > kBeam) sets.resize(kBeam);
    std::set<DaySet> found;
    for (const DaySet& set : sets) {
      for (const DayTried& tried : result_.alone) {
        if (std::find(set.begin(), set.end(), tried.day) != set.end()) continue;
        DaySet more = set;
        more.push_back(tried.day);
        std::sort(more.begin(), more.end());
        found.insert(std::move(more));
      }
    }
    std::vector<DaySet> list(found.begin(), found.end());
    std::stable_sort(list.begin(), list.end(), by_loss);
    if (!all_ && list.size() > kWidest) list.resize(kWidest);
    return list;
  }

  void try_together(const DaySet& set) {
    const Production only = with_only(production_, set);
    add_choice(plan_of(only, wishes_.planning));
    if (stop_.now_exactly()) return;
    add_choice(plan_of(allocated(only, set), wishes_.planning));
  }

  /// Scenes fixed to days of the set so that those who are needed come on few days.
  [[nodiscard]] Production allocated(Production only, const DaySet& set) const {
    std::vector<std::vector<DayId>> may(production_.scenes.size());
    std::vector<DayId> day_of(production_.scenes.size());
    for (const SceneId scene : production_.scenes.ids()) {
      for (const DayId day : set) {
        if (result_.alone[day.index()].scenes[scene] == OnDay::filmed) {
          may[scene.index()].push_back(day);
        }
      }
      if (!may[scene.index()].empty()) day_of[scene.index()] = may[scene.index()].front();
    }
    const auto calls = [&] {
      std::set<std::pair<PersonId, DayId>> called;
      for (const SceneId scene : production_.scenes.ids()) {
        if (!day_of[scene.index()].valid()) continue;
        for (const PersonId who : needed_[scene]) called.insert({who, day_of[scene.index()]});
      }
      // a scene after another on an earlier day is no use: each such counts more than all calls
      std::size_t wrong = 0;
      for (const SceneId scene : production_.scenes.ids()) {
        for (const SceneId before : production_.scenes[scene].after) {
          const DayId first = day_of[before.index()];
          const DayId second = day_of[scene.index()];
          if (first.valid() && second.valid() && second < first) ++wrong;
        }
      }
      return std::pair{wrong, called.size()};
    };
    auto least = calls();
    for (bool better = true; better;) {
      better = false;
      for (std::size_t s = 0; s < may.size(); ++s) {
        for (const DayId day : may[s]) {
          const DayId was = day_of[s];
          day_of[s] = day;
          const auto now = calls();
          if (now < least) {
            least = now;
            better = true;
          } else {
            day_of[s] = was;
          }
        }
      }
    }
    for (const SceneId scene : production_.scenes.ids()) {
      if (day_of[scene.index()].valid()) only.scenes[scene].day = day_of[scene.index()];
    }
    return only;
  }

  const Production& production_;
  DaysWishes wishes_;
  Stop& stop_;
  const DaysProgress& progress_;
  Table<SceneId, std::vector<PersonId>> needed_;  ///< whom nobody could replace
  DaysChosen result_;
  std::size_t made_ = 0;
  std::size_t expected_ = 0;
  bool all_ = true;
};

auto rank_of(const DaysChoice& it) {
  return std::tuple(it.price.not_filmed,
                    it.price.optional_not_filmed,
                    it.price.unfilled,
                    it.twice,
                    it.days.size(),
                    it.price.weighted_on_site);
}

}  // namespace

bool better_days(const DaysChoice& a, const DaysChoice& b) {
  return rank_of(a) < rank_of(b);
}

int distance_of(const DaysChoice& best, const DaysChoice& other) {
  const bool same_done = best.price.not_filmed == other.price.not_filmed &&
                         best.price.optional_not_filmed == other.price.optional_not_filmed &&
                         best.price.unfilled == other.price.unfilled;
  if (!same_done || other.twice > best.twice + 2) return 2;
  const bool same_people = best.twice == other.twice && best.days.size() == other.days.size();
  const Thousandths more = other.price.weighted_on_site - best.price.weighted_on_site;
  return same_people && more * 50 <= best.price.weighted_on_site ? 0 : 1;
}

DaysChosen choose_days(const Production& production,
                       const DaysWishes& wishes,
                       Stop& stop,
                       const DaysProgress& progress) {
  return Chooser(production, wishes, stop, progress).run();
}

}  // namespace gp
