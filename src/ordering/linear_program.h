#pragma once

#include "base/stop.h"

#include <cstddef>
#include <vector>

namespace gp {

/// Columns, each at least 0 and at most some number, of least cost under rows that each hold a
/// weighted sum of them between two numbers. Solved by a library, believed only as far as it can be
/// recounted: see least_cost().
class LinearProgram {
 public:
  struct Term {
    std::size_t column;
    double factor;
  };

  /// No limit, on that side of a row.
  static constexpr double kNone = 1e30;

  /// \param most  finite: without it there would be nothing to recount a bound from
  std::size_t add_column(double cost, double most);
  /// A column may be named more than once: the factors add up.
  void add_row(double least, double most, const std::vector<Term>& terms);

  [[nodiscard]] std::size_t columns() const { return cost_.size(); }

  /// What no choice of columns costs less than, less the error of counting: from the prices of the
  /// rows that the solver ends with, whatever they are, so that neither its rounding nor its being
  /// stopped can make the bound too high; stopped early, it is lower. Source: safe bounds,
  /// Neumaier and Shcherbina 2004, doi:10.1007/s10107-003-0433-3. Cost: a few hundred milliseconds
  /// at ten thousand columns.
  [[nodiscard]] double least_cost(Stop& stop) const;

 private:
  [[nodiscard]] double recounted(const double* prices) const;

  std::vector<double> cost_, most_;
  std::vector<double> row_least_, row_most_;
  std::vector<std::vector<Term>> rows_;
};

}  // namespace gp
