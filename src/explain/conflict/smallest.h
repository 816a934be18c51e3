#pragma once

#include "base/stop.h"
#include "explain/conflict/alone.h"

#include <cstddef>
#include <functional>
#include <map>
#include <vector>

namespace gp::conflict {

/// Which facts hold; the others are loosened wholly.
using InForce = std::vector<char>;

/// Facts that are impossible together.
struct SmallestSet {
  std::vector<std::size_t> facts;  ///< in order
  /// By fact of `facts`: whether leaving it out was shown to be possible, with every fact outside
  /// of the set loosened. Otherwise that was not proven either way.
  std::vector<char> needed;
  /// No other set has fewer: proven. Otherwise it cannot be made smaller by leaving one out, where
  /// all are `needed`.
  bool smallest = false;
};

/// Finds small sets of facts that are impossible together, asking an oracle for which loosening
/// more never makes less possible.
class SmallestFinder {
 public:
  /// \param most_asked  of questions to the oracle
  SmallestFinder(std::size_t facts,
                 std::function<Verdict(const InForce&)> oracle,
                 std::size_t most_asked,
                 Stop& stop)
      : facts_(facts), oracle_(std::move(oracle)), most_asked_(most_asked), stop_(stop) {}

  /// One that cannot be made smaller by leaving one out: QuickXplain (Junker 2004, "QUICKXPLAIN:
  /// Preferred Explanations and Relaxations for Over-Constrained Problems", AAAI). Then the
  /// smallest of all while the questions last: the least hitting set of all sets of facts whose
  /// loosening makes it possible is a lower bound, and where it is impossible itself it is the
  /// smallest (the duality of Liffiton, Previti, Malik and Marques-Silva 2016,
  /// doi:10.1007/s10601-015-9183-0). Requires: all together are impossible, none of them is not.
  SmallestSet find();

  /// Facts that have to be loosened together to make it possible; leaving any one of them out was
  /// not shown to do. \param first  loosened rather than others. Empty: none found.
  std::vector<std::size_t> loosen_together(const std::vector<std::size_t>& first);

  Verdict ask(const InForce& in_force);
  [[nodiscard]] std::size_t asked() const { return known_.size(); }

 private:
  [[nodiscard]] bool over() { return known_.size() >= most_asked_ || stop_.now(); }
  bool impossible(const std::vector<std::size_t>& facts);
  std::vector<std::size_t> explain(const std::vector<std::size_t>& background,
                                   bool grown,
                                   const std::vector<std::size_t>& facts);
  std::vector<std::size_t> correction(InForce possible);
  bool least_hitting(const std::vector<std::vector<std::size_t>>& corrections,
                     std::size_t most,
                     std::vector<std::size_t>& hitting);

  std::size_t facts_;
  std::function<Verdict(const InForce&)> oracle_;
  std::size_t most_asked_;
  Stop& stop_;
  std::map<InForce, Verdict> known_;
};

}  // namespace gp::conflict
