#include "search/local_search.h"

#include "ordering/sequence.h"
#include "search/crowd_order.h"
#include "search/move.h"
#include "search/sketch/resketch.h"

#include <algorithm>
#include <limits>
#include <utility>
#include <vector>

namespace gp {
namespace {

/// Builds that late acceptance looks back; more explores wider and settles later. Few, and long
/// rounds: in a blink there is time for little more than one valley (measured on the demo of
/// 26: 3.5 % less time on site than with 40 and rounds of a third; with twice the work as good).
constexpr std::size_t kLookBack = 5;
/// Builds without a gain after which a round goes back to its best.
constexpr std::uint64_t kStale = 500;

/// Builds that a plan nobody can beat is still tried on: the wrap may come earlier.
constexpr std::uint64_t kPolish = 2'000;

/// For so many people, one more order is drawn of which the one is built that seems best: where
/// many come, building is dear and there is time for few (measured: 3 % less time on site with two
/// hundred people and 5 % with a thousand; with twenty-six it is better to look at more).
constexpr std::size_t kPeopleADraw = 24;
constexpr std::size_t kMostDraws = 6;

/// Builds after which the search turns to another day, or to all of them one time in so many.
/// (Measured on made-up productions of two to five days: some 3 % less time on site than without.)
constexpr std::uint64_t kStretch = 60;
constexpr std::uint64_t kAllDays = 5;
/// Scenes that a day needs to be worth a stretch of its own.
constexpr std::size_t kFewestInFocus = 2;
/// Changes drawn until one is of the day in focus.
constexpr int kFocusTries = 60;

/// Of the work that is left, what a fresh sketch may take.
constexpr double kSketchShare = 0.4;
/// More than can be done.
constexpr std::uint64_t kEver = std::numeric_limits<std::uint64_t>::max() / 4;
/// One recipe in so many is read off a sketch.
constexpr std::uint32_t kSketch = 8;
/// One change in so many closes a gap.
constexpr std::uint32_t kCloseGap = 8;
/// One of those in so many does without a meal instead.
constexpr std::uint32_t kMissMeal = 8;
/// Of the others, one in so many gives a unit's day another order, where times come from sketches.
constexpr std::uint32_t kReorderRow = 6;
/// And of those, who is picked.
constexpr std::uint32_t kChangePick = 9;

/// Recipes built in a round of the lowest level: for each scene, and at least.
constexpr std::uint64_t kRound = 60;
constexpr std::uint64_t kLeastRound = 300;
/// Changes, for each scene, by which a fresh start differs from the first recipe, and how many such
/// are built of which the best is the start.
constexpr std::size_t kFreshKicks = 1;
constexpr int kFreshTries = 30;

/// \param of_order  one of those alone
const Move& draw_move(Random& random, bool of_order = false) {
  const auto moves = all_moves();
  const auto weight = [&](const Move& move) {
    return of_order && !move.of_order ? 0 : move.weight;
  };
  std::uint32_t sum = 0;
  for (const Move& move : moves) sum += weight(move);
  std::uint32_t at = random.below(sum);
  for (const Move& move : moves) {
    if (at < weight(move)) return move;
    at -= weight(move);
  }
  return moves.back();
}

/// Rounds over one builder. The landscape has many valleys, and most of the time is best spent in
/// the deepest: so a round begins afresh, and whenever two have had the same number of builds, the
/// better goes on for twice as many and the other is forgotten. Needs not know how long it may
/// take. A round of level k takes (k + 1) × 2^k times the builds of the first.
class LocalSearch {
 public:
  LocalSearch(const Problem& problem,
              Builder& builder,
              const Recipe& first,
              std::uint64_t seed,
              std::uint64_t most_work,
              std::optional<std::int64_t> enough,
              Stop& stop,
              const SearchSink& sink)
      : problem_(problem),
        builder_(builder),
        random_(seed),
        start_(builder.work()),
        most_work_(most_work),
        enough_(enough),
        stop_(stop),
        sink_(sink),
        first_(first) {
    const std::size_t people = problem.production.people.size();
    draws_ = std::clamp<std::size_t>(people / kPeopleADraw, 1, kMostDraws);
    if (draws_ > 1) crowds_.emplace(problem, first);
    if (Resketch::worth(problem)) sketches_.emplace(problem);
  }

  Best run() {
    // A deadline leaves the first plan whole: there is always an answer. Only a request (Ctrl-C),
    // or work out of all proportion, cuts it short.
    Stop first_stop = stop_.without_deadline();
    best_ = {first_, builder_.build(first_, first_stop), 1};
    if (builder_.cut_short()) {
      best_.whole = false;
      return best_;
    }
    std::vector<std::pair<int, Round>> rounds;
    const std::uint64_t least =
        std::max<std::uint64_t>(kLeastRound, kRound * problem_.production.scenes.size());
    Round now{first_, best_.cost};
    for (bool fresh = false; !over_; fresh = true) {
      if (fresh || pencils()) now = fresh_start();
      if (over_) break;
      improve(now, least);
      int level = 0;
      while (!over_ && !rounds.empty() && rounds.back().first == level) {
        if (rounds.back().second.cost <= now.cost) now = std::move(rounds.back().second);
        rounds.pop_back();
        ++level;
        improve(now, least << level);
      }
      rounds.emplace_back(level, std::move(now));
    }
    return best_;
  }

 private:
  struct Round {
    Recipe recipe;
    Cost cost;
  };

  [[nodiscard]] std::uint64_t used() const {
    return builder_.work() - start_ + (sketches_ ? sketches_->work() : 0);
  }

  [[nodiscard]] bool unbeatable(const Cost& cost) const {
    return enough_ && cost.lost == 0 && cost.lost_optional == 0 && cost.unfilled == 0 &&
           cost.weighted <= *enough_;
  }

  /// Whether a sketch may still find something: where nothing is better, only the wrap may.
  [[nodiscard]] bool pencils() const { return sketches_ && !unbeatable(best_.cost); }

  std::optional<Cost> build(const Recipe& recipe) {
    if (stop_.now() || (most_work_ != 0 && used() >= most_work_)) over_ = true;
    if (over_) return std::nullopt;
    const Cost cost = builder_.build(recipe, stop_);
    if (stop_.now()) over_ = true;  // perhaps half built
    if (over_) return std::nullopt;
    ++best_.built;
    if (cost < best_.cost) {
      best_.cost = cost;
      best_.recipe = recipe;
      last_best_ = best_.built;
    }
    if (sink_) {
      sink_(best_.cost,
            most_work_ == 0 ? 0 : static_cast<double>(used()) / static_cast<double>(most_work_));
    }
    return cost;
  }

  /// From the first recipe, by way of a sketch.
  Round sketched_start() {
    Round round{first_, best_.cost};
    if (!build(first_)) return round;
    const std::uint64_t left = most_work_ == 0 ? kEver : most_work_ - std::min(most_work_, used());
    const auto share = static_cast<std::uint64_t>(kSketchShare * static_cast<double>(left));
    Recipe recipe = sketches_->afresh(builder_, first_, share, random_, stop_);
    if (const auto cost = build(recipe)) round = {std::move(recipe), *cost};
    return round;
  }

  Round fresh_start() {
    if (sketches_ && starts_++ % 2 == 0) return sketched_start();
    std::optional<Round> best;
    for (int tries = kFreshTries; tries > 0 && !over_; --tries) {
      Round round{first_, {}};
      const std::size_t kicks = kFreshKicks * problem_.production.scenes.size();
      for (std::size_t k = 0; k < kicks; ++k) {
        draw_move(random_).apply(problem_, round.recipe, random_);
      }
      const auto cost = build(round.recipe);
      if (!cost || (best && best->cost <= *cost)) continue;
      round.cost = *cost;
      best = std::move(round);
    }
    return best ? *std::move(best) : Round{first_, best_.cost};
  }

  /// Where a stretch of the search changes one day alone, placed after the others: what stands on
  /// them need not be built again.
  struct Focus {
    std::size_t day = 0;
    std::size_t from = 0;  ///< in the order: no scene from here on stands on another day
  };

  /// The recipe with the scenes of a day last; none: too few of them can come last.
  std::optional<Focus> focus_on(std::size_t day, const BuiltTimes& times, Recipe& recipe) const {
    const auto elsewhere = [&](SceneId scene) { return times[scene] && times[scene]->day != day; };
    for (const SceneId scene : recipe.order) {
      if (times[scene]) recipe.day[scene] = static_cast<int>(times[scene]->day);
    }
    std::stable_partition(recipe.order.begin(), recipe.order.end(), elsewhere);
    recipe.order = forerunners_first(problem_.production, recipe.order);
    Focus focus{day, recipe.order.size()};
    while (focus.from > 0 && !elsewhere(recipe.order[focus.from - 1])) --focus.from;
    if (recipe.order.size() - focus.from < kFewestInFocus) return std::nullopt;
    return focus;
  }

  /// To the next day, or to all of them.
  void turn(Recipe& now, Cost& now_cost, BuiltTimes& now_times) {
    focus_.reset();
    if (++turns_ % kAllDays == 0) return;
    Recipe sorted = now;
    const auto focus = focus_on(next_focus_++ % problem_.days.size(), now_times, sorted);
    if (!focus) return;
    const auto cost = build(sorted);
    if (!cost || *cost > now_cost) return;
    focus_ = focus;
    now = std::move(sorted);
    now_cost = *cost;
    now_times = times_of(problem_, builder_);
  }

  [[nodiscard]] bool within(const Focus& focus, const Recipe& now, const Recipe& next) const {
    for (std::size_t day = 0; day < now.meals.size(); ++day) {
      const bool same =
          now.meals[day] == next.meals[day] && now.reluctance[day] == next.reluctance[day];
      if (day != focus.day && !same) return false;
    }
    return same_scenes(problem_, now, next) >= focus.from;
  }

  /// Changes drawn, one or two; false: nothing is changed.
  bool vary(Recipe& recipe, const BuiltTimes& times) {
    bool changed = false;
    if (random_.chance(1, kCloseGap)) {
      changed = random_.chance(1, kMissMeal) ? miss_meal(problem_, times, recipe, random_)
                                             : close_gap(problem_, times, recipe, random_);
    } else if (sketches_ && random_.chance(1, kReorderRow)) {
      changed = reorder_row(problem_, times, recipe, random_);
    } else if (sketches_ && random_.chance(1, kChangePick)) {
      changed = change_pick(problem_, recipe, random_);
    } else {
      changed = change(recipe, times);
    }
    // Two changes at once now and then: some gains need a scene and a meal to move together.
    if (changed && random_.chance(1, 4))
      changed = draw_move(random_).apply(problem_, recipe, random_) || changed;
    return changed;
  }

  /// A plan near this one, by way of a sketch.
  std::optional<Recipe> sketched(const Recipe& now) {
    if (!build(now)) return std::nullopt;
    focus_.reset();
    return sketches_->nearby(builder_, now, random_, stop_);
  }

  /// The same, of the day in focus alone where there is one.
  std::optional<Recipe> varied(const Recipe& now, const BuiltTimes& times) {
    for (int tries = focus_ ? kFocusTries : 1; tries > 0; --tries) {
      Recipe next = now;
      if (vary(next, times) && (!focus_ || within(*focus_, now, next))) return next;
    }
    return std::nullopt;
  }

  /// One change, whichever is drawn; false: it would change nothing.
  /// \param times  as built from the recipe
  bool change(Recipe& recipe, const BuiltTimes& times) {
    const Move& move = draw_move(random_);
    if (!move.of_order || !crowds_ || !crowds_->known())
      return move.apply(problem_, recipe, random_);
    const Recipe now = recipe;
    std::optional<std::int64_t> best;
    for (std::size_t k = 0; k < draws_; ++k) {
      Recipe other = now;
      if (!draw_move(random_, true).apply(problem_, other, random_)) continue;
      const std::int64_t kept = crowds_->of(other.order, times);
      if (best && kept >= *best) continue;
      best = kept;
      recipe = std::move(other);
    }
    return best.has_value();
  }

  /// Late acceptance from the round's recipe, so many builds long; leaves it at the best met.
  void improve(Round& round, std::uint64_t builds) {
    Recipe now = round.recipe;
    Cost now_cost = round.cost;
    BuiltTimes now_times;
    const auto go_on_from = [&] {
      const auto cost = build(now);
      if (cost) {
        now_cost = *cost;
        now_times = times_of(problem_, builder_);
      }
      return cost.has_value();
    };
    if (!go_on_from()) return;
    focus_.reset();
    std::vector<Cost> history(kLookBack, now_cost);
    std::uint64_t since_gain = 0;
    for (std::uint64_t done = 0; done < builds && !over_; ++done) {
      if (best_.built - last_best_ > kPolish && unbeatable(best_.cost)) over_ = true;
      if (problem_.days.size() > 1 && done % kStretch == kStretch / 2) {
        turn(now, now_cost, now_times);
        if (over_) return;
      }
      auto next = pencils() && random_.chance(1, kSketch) ? sketched(now) : varied(now, now_times);
      if (over_) return;
      if (!next) {
        // Nothing to change in this production, whatever is drawn: one scene, no choice.
        if (++idle_ > 2000) over_ = true;
        continue;
      }
      idle_ = 0;
      Cost& late = history[done % kLookBack];
      const auto cost = build(*next);
      if (!cost) return;
      if (*cost <= now_cost || *cost <= late) {
        now = *std::move(next);
        now_cost = *cost;
        now_times = times_of(problem_, builder_);
      }
      late = now_cost;
      ++since_gain;
      if (now_cost < round.cost) {
        round.recipe = now;
        round.cost = now_cost;
        since_gain = 0;
      } else if (since_gain > kStale) {
        // from the round's best, some changes away, as if that were good: back to the best alone it
        // would stay where it has been
        now = round.recipe;
        for (std::uint32_t kicks = 2 + random_.below(5); kicks > 0; --kicks) {
          draw_move(random_).apply(problem_, now, random_);
        }
        if (!go_on_from()) return;
        focus_.reset();
        std::fill(history.begin(), history.end(), now_cost);
        since_gain = 0;
      }
    }
  }

  const Problem& problem_;
  Builder& builder_;
  std::optional<CrowdPresence> crowds_;  ///< where several orders are drawn
  std::optional<Resketch> sketches_;
  std::uint64_t starts_ = 0;  ///< every second by way of a sketch, where there is one
  Random random_;
  std::uint64_t start_;
  std::uint64_t most_work_;
  std::optional<std::int64_t> enough_;
  Stop& stop_;
  const SearchSink& sink_;
  const Recipe& first_;
  std::size_t draws_ = 1;  ///< orders drawn of which one is built
  Best best_{};
  std::uint64_t last_best_ = 0;
  std::uint64_t idle_ = 0;  ///< draws in a row that changed nothing
  std::optional<Focus> focus_;
  std::uint64_t turns_ = 0;
  std::size_t next_focus_ = 0;
  bool over_ = false;
};

}  // namespace

Best search_from(const Problem& problem,
                 Builder& builder,
                 const Recipe& first,
                 std::uint64_t seed,
                 std::uint64_t most_work,
                 std::optional<std::int64_t> enough,
                 Stop& stop,
                 const SearchSink& sink) {
  return LocalSearch(problem, builder, first, seed, most_work, enough, stop, sink).run();
}

}  // namespace gp
