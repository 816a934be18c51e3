#include "search/descent.h"

#include "ordering/sequence.h"
#include "search/built_times.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace gp {
namespace {

/// Of the builder's work until then.
constexpr std::uint64_t kShare = 4;
/// How much earlier or later, in minutes and in multiples of round_to: calls are round.
constexpr int kMinutes[] = {1, 5, 10, 15, 30, 60};
constexpr int kCalls[] = {1, 2, 6};
/// How loath somebody is tried to be taken [min].
constexpr int kLoath[] = {-90, 0, 40, 120, 240};

class Descent {
 public:
  Descent(const Problem& problem, Builder& builder, Best& best, Stop& stop, const SearchSink& sink)
      : problem_(problem),
        film_(problem.production),
        builder_(builder),
        best_(best),
        stop_(stop),
        sink_(sink),
        most_work_(builder.work() + builder.work() / kShare),
        times_(film_.scenes.size()) {
    for (const int minutes : kMinutes) steps_.insert(steps_.end(), {-minutes, minutes});
    for (const int calls : kCalls) {
      const int minutes = calls * count(film_.round_to);
      if (std::find(steps_.begin(), steps_.end(), minutes) != steps_.end()) continue;
      steps_.insert(steps_.end(), {-minutes, minutes});
    }
  }

  void run() {
    if (!build(best_.recipe)) return;
    times_ = times_of(problem_, builder_);
    do {
      gained_ = false;
      change_order();
      change_parts();
      change_days();
      change_reluctance();
      for (std::size_t day = 0; day < problem_.days.size(); ++day) {
        shift_day(day);
        shift_runs(day);
      }
    } while (gained_ && !over_);
  }

 private:
  std::optional<Cost> build(const Recipe& recipe) {
    over_ = over_ || stop_.now() || builder_.work() >= most_work_;
    if (over_) return std::nullopt;
    const Cost cost = builder_.build(recipe, stop_);
    over_ = builder_.cut_short();
    if (over_) return std::nullopt;
    return cost;
  }

  /// Keeps the recipe where it is better than the best.
  bool take(Recipe recipe) {
    const auto cost = build(recipe);
    if (!cost || *cost >= best_.cost) return false;
    best_.recipe = std::move(recipe);
    best_.cost = *cost;
    times_ = times_of(problem_, builder_);
    gained_ = true;
    if (sink_) sink_(best_.cost, 1);
    return true;
  }

  /// So many scenes of a row so much later than they stand.
  bool shift(std::size_t day, std::size_t from, std::size_t scenes, int minutes) {
    const std::vector<SceneId> row = scenes_on(times_, day);
    if (from + scenes > row.size()) return false;
    Recipe recipe = best_.recipe;
    for (std::size_t i = from; i < from + scenes; ++i) {
      const Minute shot = times_[row[i]]->shoot_at + Minutes{minutes};
      recipe.hold_back[row[i]] = held_until(problem_.days[day], shot);
    }
    return take(std::move(recipe));
  }

  /// All of a day earlier by every multiple there is: it may find room only where somebody's hours,
  /// a meal or the light leave it.
  void shift_day(std::size_t day) {
    const std::vector<SceneId> row = scenes_on(times_, day);
    if (row.empty()) return;
    const int unit = count(film_.round_to);
    const int most = count(times_[row.front()]->shoot_at - problem_.days[day].first_shot);
    for (int by = most / unit * unit; by > 0; by -= unit) {
      if (shift(day, 0, row.size(), -by)) return;
    }
  }

  void shift_runs(std::size_t day) {
    const std::size_t size = scenes_on(times_, day).size();
    for (std::size_t from = 0; from < size; ++from) {
      for (std::size_t scenes = size - from; scenes > 0; --scenes) {
        for (const int minutes : steps_) {
          while (shift(day, from, scenes, minutes)) {
          }
        }
      }
    }
  }

  void change_reluctance() {
    for (std::size_t day = 0; day < best_.recipe.reluctance.size(); ++day) {
      for (const PersonId who : film_.people.ids()) {
        for (const int loath : kLoath) {
          if (over_) return;
          if (best_.recipe.reluctance[day][who] == loath) continue;
          Recipe recipe = best_.recipe;
          recipe.reluctance[day][who] = loath;
          take(std::move(recipe));
        }
      }
    }
  }

  void change_order() {
    const std::size_t size = best_.recipe.order.size();
    for (std::size_t from = 0; from < size; ++from) {
      for (std::size_t to = 0; to < size && !over_; ++to) {
        if (from == to) continue;
        Recipe recipe = best_.recipe;
        auto& order = recipe.order;
        const auto at = [&](std::size_t k) {
          return order.begin() + static_cast<std::ptrdiff_t>(k);
        };
        if (from < to) std::rotate(at(from), at(from + 1), at(to + 1));
        if (from > to) std::rotate(at(to), at(from), at(from + 1));
        order = forerunners_first(film_, order);
        if (order != best_.recipe.order) take(std::move(recipe));
      }
    }
  }

  void change_parts() {
    for (const RoleId role : film_.roles.ids()) {
      for (const PersonId who : problem_.slots.for_some_of_part(role)) {
        if (over_) return;
        if (best_.recipe.part[role] == who) continue;
        Recipe recipe = best_.recipe;
        recipe.part[role] = who;
        take(std::move(recipe));
      }
    }
  }

  void change_days() {
    for (const SceneId scene : film_.scenes.ids()) {
      for (std::size_t day = 0; day < problem_.days.size(); ++day) {
        if (over_) return;
        const bool there = times_[scene] && times_[scene]->day == day;
        if (there || !problem_.open_on(scene, day)) continue;
        Recipe recipe = best_.recipe;
        recipe.day[scene] = static_cast<int>(day);
        take(std::move(recipe));
      }
    }
  }

  const Problem& problem_;
  const Production& film_;
  Builder& builder_;
  Best& best_;
  Stop& stop_;
  const SearchSink& sink_;
  std::uint64_t most_work_;
  std::vector<int> steps_;
  BuiltTimes times_;  ///< of the best
  bool gained_ = false;
  bool over_ = false;
};

}  // namespace

void descend(
    const Problem& problem, Builder& builder, Best& best, Stop& stop, const SearchSink& sink) {
  if (best.whole) Descent(problem, builder, best, stop, sink).run();
}

}  // namespace gp
