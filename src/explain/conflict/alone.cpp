#include "explain/conflict/alone.h"

#include "explain/conflict/arranged_plan.h"
#include "explain/conflict/ground.h"
#include "explain/conflict/shot_search.h"

#include <algorithm>
#include <set>

namespace gp::conflict {
namespace {

/// How many arrangements of one start are held against check() before it is given up unproven.
constexpr int kMostRefused = 40;

/// One day, start by start.
class AloneOnDay {
 public:
  AloneOnDay(const DayGround& ground, const Terms& terms, std::uint64_t& work, Stop& stop)
      : ground_(ground), terms_(terms), work_(work), stop_(stop) {}

  Verdict ask() {
    if (ground_.windows.empty()) return Verdict::impossible;
    const auto items = share_items(*ground_.film, ground_.scene, ground_.heads);
    if (!items) return Verdict::impossible;
    items_ = *items;
    Verdict verdict = Verdict::impossible;
    for (const Minute shot : starts()) {
      switch (at(shot)) {
        case Verdict::possible:
          return Verdict::possible;
        case Verdict::unknown:
          verdict = Verdict::unknown;
          break;
        case Verdict::impossible:
          break;
      }
      if (stop_.now() || work_ > terms_.most_work) return Verdict::unknown;
    }
    return verdict;
  }

  [[nodiscard]] const Plan& plan() const { return plan_; }

 private:
  /// Every minute at which the shot may begin; a few spread over the windows first, for where it is
  /// possible it mostly is at many.
  [[nodiscard]] std::vector<Minute> starts() const {
    std::vector<Minute> all;
    for (const Span& window : ground_.windows) {
      for (Minute at = window.from; at + ground_.shoot() <= window.until; at += Minutes{1}) {
        all.push_back(at);
      }
    }
    std::vector<Minute> spread;
    std::vector<char> taken(all.size(), 0);
    for (std::size_t parts = 1; parts < 64; parts *= 2) {
      for (std::size_t i = 0; i <= parts; ++i) {
        const std::size_t index = (all.size() - 1) * i / parts;
        if (taken[index] != 0) continue;
        taken[index] = 1;
        spread.push_back(all[index]);
      }
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (taken[i] == 0) spread.push_back(all[i]);
    }
    return spread;
  }

  Verdict at(Minute shot) {
    const ShotSearch::End loose = search(shot, nullptr);
    if (loose == ShotSearch::End::taken) return Verdict::possible;
    if (loose == ShotSearch::End::cut) return Verdict::unknown;
    if (refused_ == 0) return Verdict::impossible;
    // Something refuses what was found: a meal perhaps. Then each time the meals could have.
    const bool together = std::any_of(ground_.frame.meals.begin(),
                                      ground_.frame.meals.end(),
                                      [](const auto& meal) { return meal.together; });
    if (!together) return Verdict::unknown;
    HeldMeals held(ground_.frame.meals.size());
    return with_meals(shot, 0, held);
  }

  Verdict with_meals(Minute shot, std::size_t which, HeldMeals& held) {
    if (which == held.size()) {
      const ShotSearch::End end = search(shot, &held);
      if (end == ShotSearch::End::taken) return Verdict::possible;
      if (end == ShotSearch::End::exhausted && refused_ == 0) return Verdict::impossible;
      return Verdict::unknown;
    }
    const MealFrame& meal = ground_.frame.meals[which];
    held[which].reset();
    Verdict verdict = with_meals(shot, which + 1, held);
    if (!meal.together || verdict == Verdict::possible) return verdict;
    const Span scene{shot - ground_.set_up(), shot + ground_.shoot()};
    for (Minute at = meal.between.from; at + meal.minutes <= meal.between.until; at += Minutes{1}) {
      const Span span{at, at + meal.minutes};
      if (span.from < scene.until && scene.from < span.until) continue;
      if (stop_.now() || work_ > terms_.most_work) return Verdict::unknown;
      held[which] = span;
      const Verdict here = with_meals(shot, which + 1, held);
      if (here == Verdict::possible) return here;
      if (here == Verdict::unknown) verdict = here;
    }
    held[which].reset();
    return verdict;
  }

  ShotSearch::End search(Minute shot, const HeldMeals* held) {
    refused_ = 0;
    const auto take = [&](const Arrangement& arranged, bool whole) {
      if (!whole) {
        ++refused_;
        return refused_ >= kMostRefused;
      }
      Plan plan = arranged_plan(ground_, arranged, items_);
      if (add_meals(ground_, held, plan) && check(*ground_.film, plan, terms_.answers).empty()) {
        plan_ = std::move(plan);
        found_ = true;
        return true;
      }
      ++refused_;
      return refused_ >= kMostRefused;
    };
    found_ = false;
    ShotSearch searching(ground_, work_, terms_.most_work, stop_, take);
    const ShotSearch::End end = searching.search(shot, held);
    if (end == ShotSearch::End::taken && !found_) return ShotSearch::End::cut;
    return end;
  }

  const DayGround& ground_;
  const Terms& terms_;
  std::uint64_t& work_;
  Stop& stop_;
  std::vector<std::vector<ItemId>> items_;
  int refused_ = 0;
  bool found_ = false;
  Plan plan_;
};

}  // namespace

Answered film_alone(const Production& production,
                    const Question& question,
                    const Terms& terms,
                    Stop& stop) {
  Answered answered;
  answered.verdict = Verdict::impossible;
  for (const DayId day : production.days.ids()) {
    if (terms.only_day && *terms.only_day != day) continue;
    const DayGround ground(production, question, terms, day);
    AloneOnDay asked(ground, terms, answered.work, stop);
    const Verdict verdict = asked.ask();
    if (verdict == Verdict::possible) {
      answered.verdict = verdict;
      answered.plan = asked.plan();
      return answered;
    }
    if (verdict == Verdict::unknown) answered.verdict = verdict;
  }
  return answered;
}

}  // namespace gp::conflict
