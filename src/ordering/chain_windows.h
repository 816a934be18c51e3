#pragma once

#include "base/stop.h"
#include "ordering/chains.h"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

namespace gp {

/// When each task of the chains can be done if all must be over by a moment, made narrower by what
/// cannot be otherwise:
/// - the order of a chain; of two chains that are the same, the first begins first;
/// - on a resource of one unit: of two tasks one is before the other, and what must be first or
///   last among several (edge-finding, Carlier and Pinson 1989, doi:10.1287/mnsc.35.2.164);
/// - on any resource: the work that falls into a stretch of time wherever the tasks stand
///   (energetic reasoning, Erschler and Lopez 1990; in the form of Baptiste, Le Pape and Nuijten
///   2001, Constraint-Based Scheduling, chapter 3; all from memory).
///
/// Copied at each turn of a search: small.
class ChainWindows {
 public:
  /// \param end  all chains must be over by then
  ChainWindows(const ChainProblem& problem, std::int32_t end);

  [[nodiscard]] std::int32_t minutes(std::size_t task) const { return spans_[task].minutes; }
  [[nodiscard]] std::int32_t from(std::size_t task) const { return spans_[task].from; }
  [[nodiscard]] std::int32_t last_start(std::size_t task) const {
    return spans_[task].last_start();
  }
  /// By resource: the tasks that use it, numbered through all chains.
  [[nodiscard]] const std::vector<std::vector<std::size_t>>& users() const { return shape_->users; }

  void not_before(std::size_t task, std::int32_t from);
  void not_after(std::size_t task, std::int32_t until);
  /// From now on the one is over before the other begins.
  void put_before(std::size_t first, std::size_t then);
  [[nodiscard]] bool is_put_before(std::size_t first, std::size_t then) const;
  /// Narrows until nothing more follows. False: it cannot be done.
  /// \param work  less by as much as is done, in tasks looked at; once it is below 0, or `stop`
  ///              says so, this ends early, as if nothing more followed
  bool narrow(std::int64_t& work, Stop& stop);

  struct Span {
    std::int32_t from = 0, until = 0, minutes = 0;
    [[nodiscard]] std::int32_t last_start() const { return until - minutes; }
    [[nodiscard]] std::int32_t first_end() const { return from + minutes; }
  };

 private:
  /// What stays while one problem is searched.
  struct Shape {
    std::vector<std::int32_t> then_wait;  ///< by task
    std::vector<bool> last;               ///< by task: of its chain
    std::vector<std::vector<std::size_t>> uses, users;
    std::vector<std::int32_t> capacity;
    std::vector<std::pair<std::size_t, std::size_t>> alike;  ///< first tasks of equal chains
  };

  bool narrow_chains();
  /// Whether anything on this resource became narrower; none: it cannot be done.
  std::optional<bool> narrow_resource(std::size_t resource, bool energy, std::int64_t& work);

  std::shared_ptr<const Shape> shape_;
  std::vector<Span> spans_;
  std::vector<std::pair<std::size_t, std::size_t>> put_;  ///< sorted
  std::vector<char> stale_;  ///< by resource: a span there is narrower since it was looked at
};

}  // namespace gp
