#include "search/sketch/anneal_sketch.h"

#include "search/sketch/sketch_moves.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace gp {

namespace {

/// After so many changes it is known how long they take.
constexpr std::uint64_t kMeasured = 512;
/// In debug builds one change kept in so many is recounted.
[[maybe_unused]] constexpr std::uint64_t kRecount = 64;
/// Of the time that is left, annealing takes no more: a plan must be built from it.
constexpr double kShare = 0.4;

}  // namespace

void anneal(Sketch& sketch,
            std::uint64_t changes,
            std::uint64_t most_work,
            Warmth warmth,
            Random& random,
            Stop& stop) {
  const std::uint64_t start = sketch.work();
  std::int64_t now = sketch.cost();
  const auto cooling = [&](std::uint64_t steps) {
    return std::pow(warmth.to / warmth.from, 64.0 / (static_cast<double>(steps) + 64));
  };
  double heat = warmth.from;
  double cool = cooling(changes);
  const auto left = stop.seconds_left();
  for (std::uint64_t i = 0; i < changes && !stop.now(); ++i) {
    if (i == kMeasured) {
      const auto limit = [&](double of, double spent) {
        const double most = static_cast<double>(kMeasured) * of / std::max(spent, 1e-9);
        changes = std::min(changes, std::max(2 * kMeasured, static_cast<std::uint64_t>(most)));
      };
      limit(static_cast<double>(most_work), static_cast<double>(sketch.work() - start));
      if (left) limit(kShare * std::max(*left, 0.0), *left - *stop.seconds_left());
      cool = cooling(changes);
    }
    if (i % 64 == 0 && i > 0) heat *= cool;
    const bool changed = change_sketch(sketch, random);
    const std::int64_t next = sketch.settle();
    const bool better = next <= now;
    if (changed && (better || random.unit() < std::exp(static_cast<double>(now - next) / heat))) {
      now = next;
      sketch.keep();
      assert(i % kRecount != 0 || sketch.cost() - sketch.worn_out() == sketch.recounted());
    } else {
      sketch.undo();
    }
  }
}

}  // namespace gp
