#pragma once

#include "base/stop.h"
#include "casting/cast_problem.h"

#include <cstdint>
#include <vector>

namespace gp {

/// Fills crowds and crew at the least cost for parts and openings that stand, over all scenes at
/// once; friends apart. Exact: a flow of least cost, each empty place finding the cheapest chain of
/// changes that fills it (successive shortest paths with potentials: Edmonds and Karp 1972,
/// doi:10.1145/321694.321699; Tomizawa 1971, doi:10.1002/net.3230010206; the burden of the nth
/// scene as the nth of parallel arcs of rising cost, Ahuja, Magnanti and Orlin, "Network Flows",
/// 1993, chapter 14; from memory).
/// Cost: one shortest path over people and places for every head.
class HeadFlow {
 public:
  explicit HeadFlow(const CastProblem& problem);

  /// Fills `solution.filled` from its parts and openings, and counts its cost (with friends).
  /// \param bonus  taken off the wish of a person in a scene: by scene, then person; empty: none
  /// \param stop  asked at every head; none: it is finished
  /// \return false: stopped; `solution` is then neither filled nor counted
  bool fill(CastSolution& solution,
            const std::vector<std::vector<std::int32_t>>& bonus = {},
            Stop* stop = nullptr);

  /// How many shortest paths were searched since the beginning: a measure of work.
  [[nodiscard]] std::int64_t work() const { return work_; }

 private:
  struct Row {  ///< places of a crowd or a crew
    int scene = 0;
    int places = 0;
    const std::int32_t* wish = nullptr;  ///< of its places, by person
  };
  void place_parts(CastSolution& solution);
  void add_head(std::size_t row, const CastSolution& solution);
  [[nodiscard]] std::int64_t wish(std::size_t row, int person) const;

  const CastProblem& problem_;
  const std::vector<std::vector<std::int32_t>>* bonus_ = nullptr;
  std::vector<Row> rows_;
  std::vector<std::int64_t> scenes_of_;    ///< by person: scenes they are in
  std::vector<int> taken_by_;              ///< by group and person: row; -1 free, -2 by a part
  std::vector<std::vector<int>> rows_of_;  ///< by person: rows they are in
  std::vector<std::int64_t> potential_;    ///< rows, then people
  std::vector<std::int64_t> distance_;
  std::vector<int> from_row_;   ///< by node: the row the path came from
  std::vector<int> by_person_;  ///< by row node: the person it loses
  std::vector<char> finished_;
  std::vector<int> touched_;
  std::int64_t work_ = 0;
};

}  // namespace gp
