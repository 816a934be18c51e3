#include "search/wishes/meet_wishes.h"

#include "model/check.h"
#include "model/price.h"
#include "model/sizes.h"
#include "search/stays.h"
#include "search/wishes/wish_points.h"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

namespace gp {
namespace {

/// Scenes looked at for each change that may be tried: in a large production not every two people
/// are asked.
constexpr std::uint64_t kLooksForATry = 10'000;

/// Two people in each other's place; where one of them is nowhere, in the other's.
struct Exchange {
  PersonId a, b;
  std::optional<std::size_t> day;  ///< none: in the whole plan

  [[nodiscard]] bool on(std::size_t d) const { return !day || *day == d; }
  [[nodiscard]] PersonId operator()(PersonId who) const {
    return who == a ? b : who == b ? a : who;
  }
};

constexpr auto kAsItIs = [](PersonId who) { return who; };

/// One place in one scene, of a crowd, part or crew.
struct Head {
  std::size_t day = 0, scene = 0;
  bool is_crew = false;
  std::size_t entry = 0;
};

void exchange(PlannedScene& scene, const Exchange& change) {
  const auto rename = [&](auto& entries) {
    for (auto& entry : entries) {
      for (PersonId& who : entry.people) who = change(who);
      std::sort(entry.people.begin(), entry.people.end());
    }
  };
  rename(scene.cast);
  rename(scene.crew);
}

/// All that they do on a day; what is in order by person is so again once the stays are renewed.
void exchange(DayPlan& day, const Exchange& change) {
  for (PlannedScene& scene : day.scenes) exchange(scene, change);
  for (Wear& wear : day.wears) wear.person = change(wear.person);
  for (PlannedStep& step : day.steps) {
    step.person = change(step.person);
    if (step.by.valid()) step.by = change(step.by);
  }
  for (Ready& ready : day.ready) ready.person = change(ready.person);
  for (PlannedMeal& meal : day.meals) {
    for (PersonId& who : meal.people) who = change(who);
  }
}

class Meeting {
 public:
  Meeting(const Problem& problem, const Plan& plan, std::uint64_t most_tries, Stop& stop)
      : problem_(problem),
        film_(problem.production),
        points_(film_),
        stop_(stop),
        tries_(most_tries),
        looks_(most_tries * kLooksForATry),
        best_(plan),
        price_(price(film_, plan)) {
    std::vector<char> tied(film_.people.size(), 0);
    for (const PersonId who : film_.people.ids()) {
      const PersonId guardian = film_.people[who].guardian;
      if (!guardian.valid()) continue;
      tied[who.index()] = tied[guardian.index()] = 1;
    }
    for (const PersonId who : film_.people.ids()) {
      if (tied[who.index()] != 0) continue;
      if (problem.wishes.answers.include(film_.people[who].answer)) people_.push_back(who);
    }
  }

  Plan run() {
    if (!points_.any()) return best_;
    bool again = true;
    while (again && !over()) {
      again = exchange_people();
      again = take_places() || again;
    }
    return std::move(best_);
  }

 private:
  [[nodiscard]] bool over() { return tries_ == 0 || looks_ == 0 || stop_.now(); }

  bool exchange_people() {
    bool any = false;
    for (const PersonId a : people_) {
      if (!points_.concerns(a)) continue;
      for (const PersonId b : people_) {
        if (a == b || (b < a && points_.concerns(b))) continue;
        for (std::size_t d = 0; d <= best_.days.size(); ++d) {
          if (over()) return any;
          // several days at once first: a part may reach over them
          const Exchange change{a, b, d == 0 ? std::nullopt : std::optional(d - 1)};
          if (d == 1 && best_.days.size() == 1) continue;
          if (gain(change) > 0 && try_exchange(change)) any = true;
        }
      }
    }
    return any;
  }

  std::int64_t gain(const Exchange& change) {
    std::int64_t sum = 0;
    for (std::size_t d = 0; d < best_.days.size(); ++d) {
      if (!change.on(d)) continue;
      looks_ -= std::min<std::uint64_t>(looks_, best_.days[d].scenes.size());
      for (const PlannedScene& scene : best_.days[d].scenes) {
        if (!stands_in(scene, change.a) && !stands_in(scene, change.b)) continue;
        sum += points_.of(scene, change) - points_.of(scene, kAsItIs);
      }
    }
    return sum;
  }

  [[nodiscard]] static bool stands_in(const PlannedScene& scene, PersonId who) {
    const auto here = [&](const auto& entry) {
      return std::binary_search(entry.people.begin(), entry.people.end(), who);
    };
    return std::any_of(scene.cast.begin(), scene.cast.end(), here) ||
           std::any_of(scene.crew.begin(), scene.crew.end(), here);
  }

  bool try_exchange(const Exchange& change) {
    Plan next = best_;
    for (std::size_t d = 0; d < next.days.size(); ++d) {
      if (!change.on(d)) continue;
      exchange(next.days[d], change);
      if (!fits(next.days[d], change.a) || !fits(next.days[d], change.b)) return false;
    }
    return try_plan(std::move(next), change);
  }

  [[nodiscard]] bool fits(const DayPlan& day, PersonId who) const {
    const Person& person = film_.people[who];
    return std::all_of(day.wears.begin(), day.wears.end(), [&](const Wear& wear) {
      return wear.person != who ||
             std::none_of(wear.items.begin(), wear.items.end(), [&](ItemId item) {
               return size_match(film_.items[item], person) == SizeMatch::does_not;
             });
    });
  }

  /// Somebody else in one place; whoever had it takes theirs where they are in the scene already.
  bool take_places() {
    bool any = false;
    for (std::size_t d = 0; d < best_.days.size(); ++d) {
      for (std::size_t s = 0; s < best_.days[d].scenes.size(); ++s) {
        for (const bool is_crew : {false, true}) {
          const PlannedScene& scene = best_.days[d].scenes[s];
          const std::size_t entries = is_crew ? scene.crew.size() : scene.cast.size();
          for (std::size_t e = 0; e < entries; ++e) any = take_place({d, s, is_crew, e}) || any;
        }
      }
    }
    return any;
  }

  bool take_place(const Head& head) {
    if (!head.is_crew && dressed(scene_of(best_, head).cast[head.entry].role)) return false;
    bool any = false;
    const std::vector<PersonId> before = people_at(best_, head);
    for (const PersonId a : before) {
      if (!std::binary_search(people_.begin(), people_.end(), a)) continue;
      for (const PersonId b : people_) {
        if (over()) return any;
        if (a == b || (!points_.concerns(a) && !points_.concerns(b))) continue;
        if (try_place(head, a, b)) {
          any = true;
          break;
        }
      }
    }
    return any;
  }

  bool try_place(const Head& head, PersonId a, PersonId b) {
    const auto& here = people_at(best_, head);
    if (!std::binary_search(here.begin(), here.end(), a) ||
        std::binary_search(here.begin(), here.end(), b)) {
      return false;
    }
    const PlannedScene& old = scene_of(best_, head);
    const Exchange change{a, b, head.day};
    looks_ -= std::min<std::uint64_t>(looks_, 1);
    if (points_.of(old, change) <= points_.of(old, kAsItIs)) return false;
    if (in_dress(old, b)) return false;
    Plan next = best_;
    exchange(next.days[head.day].scenes[head.scene], change);
    return try_plan(std::move(next), change);
  }

  [[nodiscard]] bool dressed(RoleId role) const {
    return film_.roles[role].look_kind == LookKind::look;
  }
  [[nodiscard]] bool in_dress(const PlannedScene& scene, PersonId who) const {
    return std::any_of(scene.cast.begin(), scene.cast.end(), [&](const CastEntry& entry) {
      return dressed(entry.role) &&
             std::binary_search(entry.people.begin(), entry.people.end(), who);
    });
  }
  static const PlannedScene& scene_of(const Plan& plan, const Head& head) {
    return plan.days[head.day].scenes[head.scene];
  }
  static const std::vector<PersonId>& people_at(const Plan& plan, const Head& head) {
    const PlannedScene& scene = scene_of(plan, head);
    return head.is_crew ? scene.crew[head.entry].people : scene.cast[head.entry].people;
  }

  /// The plan with its stays worked out anew becomes the best where it is right and not dearer.
  bool try_plan(Plan next, const Exchange& change) {
    --tries_;
    for (std::size_t d = 0; d < next.days.size(); ++d) {
      if (!change.on(d)) continue;
      DayPlan& day = next.days[d];
      if (!renew_stays(ground_of(film_, problem_.days[d], day), day)) return false;
    }
    renew_totals(film_, next);
    const Price now = price(film_, next);
    if (better(price_, now, film_.aim)) return false;
    if (!check(film_, next, problem_.wishes.answers).empty()) return false;
    price_ = now;
    best_ = std::move(next);
    return true;
  }

  const Problem& problem_;
  const Production& film_;
  WishPoints points_;
  Stop& stop_;
  std::uint64_t tries_, looks_;
  std::vector<PersonId> people_;  ///< in order
  Plan best_;
  Price price_;
};

}  // namespace

Plan with_wishes_met(const Problem& problem,
                     const Plan& plan,
                     std::uint64_t most_tries,
                     Stop& stop) {
  return Meeting(problem, plan, most_tries, stop).run();
}

}  // namespace gp
