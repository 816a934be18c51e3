#include "ordering/linear_program.h"

#include <cmath>
#include <utility>

#include <ClpEventHandler.hpp>
#include <ClpSimplex.hpp>

namespace gp {
namespace {

/// Of all that is added up, what the error of adding it is less than.
constexpr double kError = 1e-11;

/// Asked by the solver at every step.
class Stopping : public ClpEventHandler {
 public:
  explicit Stopping(Stop& stop) : stop_(stop) {}
  int event(Event /*which*/) override { return stop_.now() ? kEnd : kGoOn; }
  // copied by the solver's own kind of copying, which takes what it is given
  [[nodiscard]] ClpEventHandler* clone() const override { return new Stopping(*this); }

 private:
  static constexpr int kEnd = 0;
  static constexpr int kGoOn = -1;
  Stop& stop_;
};

/// The rows column by column, as the solver wants them.
struct Columns {
  std::vector<CoinBigIndex> start;
  std::vector<int> row;
  std::vector<double> factor;
};

Columns by_column(std::size_t columns, const std::vector<std::vector<LinearProgram::Term>>& rows) {
  Columns all;
  std::vector<std::vector<std::pair<int, double>>> lists(columns);
  for (std::size_t r = 0; r < rows.size(); ++r) {
    for (const auto& term : rows[r]) {
      auto& list = lists[term.column];
      const int row = static_cast<int>(r);
      if (!list.empty() && list.back().first == row) {
        list.back().second += term.factor;
      } else {
        list.emplace_back(row, term.factor);
      }
    }
  }
  for (const auto& list : lists) {
    all.start.push_back(static_cast<CoinBigIndex>(all.row.size()));
    for (const auto& [row, factor] : list) {
      all.row.push_back(row);
      all.factor.push_back(factor);
    }
  }
  all.start.push_back(static_cast<CoinBigIndex>(all.row.size()));
  return all;
}

}  // namespace

std::size_t LinearProgram::add_column(double cost, double most) {
  cost_.push_back(cost);
  most_.push_back(most);
  return cost_.size() - 1;
}

void LinearProgram::add_row(double least, double most, const std::vector<Term>& terms) {
  row_least_.push_back(least);
  row_most_.push_back(most);
  rows_.push_back(terms);
}

double LinearProgram::least_cost(Stop& stop) const {
  ClpSimplex model;
  model.setLogLevel(0);
  const Stopping stopping(stop);
  model.passInEventHandler(&stopping);
  const Columns all = by_column(columns(), rows_);
  model.loadProblem(static_cast<int>(columns()),
                    static_cast<int>(rows_.size()),
                    all.start.data(),
                    all.row.data(),
                    all.factor.data(),
                    nullptr,  // all at least 0
                    most_.data(),
                    cost_.data(),
                    row_least_.data(),
                    row_most_.data());
  // from below: where it is stopped, its prices are worth something
  model.dual();
  return recounted(model.dualRowSolution());
}

double LinearProgram::recounted(const double* prices) const {
  std::vector<double> reduced = cost_;
  double sum = 0;
  double size = 0;  // of what is added up, for its error
  const auto add = [&](double amount) {
    sum += amount;
    size += std::abs(amount);
  };
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    double price = prices[r];
    // a price on a side that has no limit says nothing
    if ((price > 0 && row_least_[r] <= -kNone) || (price < 0 && row_most_[r] >= kNone)) price = 0;
    if (price == 0 || !std::isfinite(price)) continue;
    add(price * (price > 0 ? row_least_[r] : row_most_[r]));
    for (const Term& term : rows_[r]) {
      reduced[term.column] -= price * term.factor;
      size += std::abs(price * term.factor) * most_[term.column];
    }
  }
  for (std::size_t c = 0; c < columns(); ++c) {
    size += std::abs(cost_[c]) * most_[c];
    if (reduced[c] < 0) add(reduced[c] * most_[c]);
  }
  return sum - size * kError;
}

}  // namespace gp
