#pragma once

#include "base/random.h"
#include "base/stop.h"
#include "search/sketch/sketch.h"

#include <cstdint>

namespace gp {

/// Recipes by way of a sketch: what a builder holds is pencilled, annealed and read off as a
/// recipe. Where each builds some thousand recipes, this looks at some hundred thousand plans.
/// Threads: one a thread.
class Resketch {
 public:
  explicit Resketch(const Problem& problem) : ground_(problem), sketch_(ground_) {}

  /// Whether a sketch can tell anything: people are kept, and it is their time that counts.
  static bool worth(const Problem& problem);

  /// Another plan altogether.
  /// \param built      what the builder holds
  /// \param most_work  it takes no more than that, in work()
  Recipe afresh(const Builder& builder,
                const Recipe& built,
                std::uint64_t most_work,
                Random& random,
                Stop& stop);
  /// A plan near the one that the builder holds.
  Recipe nearby(const Builder& builder, const Recipe& built, Random& random, Stop& stop);

  /// Of all that was done, in the builder's measure: engagements looked at.
  [[nodiscard]] std::uint64_t work() const { return sketch_.work() / kCheaper; }

 private:
  /// An engagement pencilled takes half the time of one laid (measured on three productions).
  static constexpr std::uint64_t kCheaper = 2;

  SketchGround ground_;
  Sketch sketch_;
};

}  // namespace gp
