#include "search/local_search.h"

#include "search/move.h"

#include <algorithm>
#include <vector>

namespace gp {
namespace {

/// Rounds that late acceptance looks back; more explores wider and settles later.
constexpr std::size_t kLookBack = 60;
/// Rounds without a new best after which the search goes back to the best.
constexpr std::uint64_t kStale = 500;

/// Rounds that a plan nobody can beat is still tried on: the wrap may come earlier.
constexpr std::uint64_t kPolish = 600;

/// One change in so many closes a gap.
constexpr std::uint32_t kCloseGap = 8;

BuiltTimes times_of(const Problem& problem, const Builder& builder) {
  BuiltTimes times(problem.production.scenes.size());
  for (const SceneId scene : problem.production.scenes.ids()) {
    if (const auto& filmed = builder.filmed(scene)) {
      times[scene] = SceneTimes{filmed->day, filmed->set_at, filmed->until, filmed->shoot_at};
    }
  }
  return times;
}

const Move& draw(Random& random) {
  const auto moves = all_moves();
  std::uint32_t sum = 0;
  for (const Move& move : moves) sum += move.weight;
  std::uint32_t at = random.below(sum);
  for (const Move& move : moves) {
    if (at < move.weight) return move;
    at -= move.weight;
  }
  return moves.back();
}

}  // namespace

Best search_from(const Problem& problem,
                 Builder& builder,
                 const Recipe& first,
                 std::uint64_t seed,
                 std::uint64_t most_work,
                 std::optional<std::int64_t> enough,
                 Stop& stop,
                 const SearchSink& sink) {
  Random random(seed);
  const std::uint64_t start = builder.work();
  const auto used = [&] { return builder.work() - start; };

  // A deadline leaves the first plan whole: there is always an answer. Only a request (Ctrl-C), or
  // work out of all proportion, cuts it short.
  Stop first_stop = stop.without_deadline();
  Best best{first, builder.build(first, first_stop), 1};
  if (builder.cut_short()) {
    best.whole = false;
    return best;
  }
  Recipe now = first;
  Cost now_cost = best.cost;
  BuiltTimes now_times = times_of(problem, builder);
  std::vector<Cost> history(kLookBack, best.cost);
  std::uint64_t last_gain = 0;
  std::uint64_t idle = 0;

  const auto unbeatable = [&](const Cost& cost) {
    return enough && cost.lost == 0 && cost.lost_optional == 0 && cost.unfilled == 0 &&
           cost.weighted <= *enough;
  };

  while (!stop.now() && (most_work == 0 || used() < most_work)) {
    if (best.built - last_gain > kPolish && unbeatable(best.cost)) break;
    Recipe next = now;
    bool changed = random.chance(1, kCloseGap) ? close_gap(problem, now_times, next, random)
                                               : draw(random).apply(problem, next, random);
    // Two changes at once now and then: some gains need a scene and a meal to move together.
    if (changed && random.chance(1, 4))
      changed = draw(random).apply(problem, next, random) || changed;
    if (!changed) {
      // Nothing to change in this production, whatever is drawn: one scene, no choice.
      if (++idle > 2000) break;
      continue;
    }
    idle = 0;
    const Cost cost = builder.build(next, stop);
    if (stop.now()) break;  // perhaps half built
    Cost& late = history[best.built % kLookBack];
    if (cost <= now_cost || cost <= late) {
      now = std::move(next);
      now_cost = cost;
      now_times = times_of(problem, builder);
    }
    late = now_cost;
    ++best.built;
    if (now_cost < best.cost) {
      best.recipe = now;
      best.cost = now_cost;
      last_gain = best.built;
    } else if (best.built - last_gain > kStale) {
      // from the best, some changes away, as if that were good: back to the best alone it would
      // stay where it has been
      now = best.recipe;
      for (std::uint32_t kicks = 2 + random.below(5); kicks > 0; --kicks) {
        draw(random).apply(problem, now, random);
      }
      now_cost = builder.build(now, stop);
      if (stop.now()) break;
      now_times = times_of(problem, builder);
      std::fill(history.begin(), history.end(), now_cost);
      last_gain = best.built;
    }
    if (sink) {
      sink(best.cost,
           most_work == 0 ? 0 : static_cast<double>(used()) / static_cast<double>(most_work));
    }
  }
  return best;
}

}  // namespace gp
