#pragma once

#include "base/random.h"
#include "base/stop.h"
#include "casting/cast_problem.h"

#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

namespace gp {

/// Betters a whole casting, heads, parts and moments together and friends with them: one head for
/// another or for nobody, two heads exchanged, a scene at another moment, a part to somebody else
/// (with its scenes at moments that suit), two parts exchanged; whoever can no longer be where they
/// were is replaced by the cheapest who can. Worse is taken at first, less and less (simulated
/// annealing: Kirkpatrick, Gelatt and Vecchi 1983, doi:10.1126/science.220.4598.671, from memory).
/// The same casting, seed and moves give the same one wherever floating point is rounded alike: it
/// decides what is taken, with nothing of the mathematics library. Cost: a move looks at a few
/// scenes' candidates at most, most at two people; memory rows x moments x people bytes.
class CastAnneal {
 public:
  explicit CastAnneal(const CastProblem& problem);

  /// Share of the moves done, 0 .. 1, and the least cost so far.
  using Tell = std::function<void(double share, std::int64_t cost)>;

  /// \param it  right and whole; the best casting found takes its place, never a worse one
  /// \param hot  how much worse is taken at first, in scenes of somebody of usual weight
  /// \param tell  called at even steps
  void better(CastSolution& it,
              std::int64_t moves,
              double hot,
              Random& random,
              Stop& stop,
              const Tell& tell = {});

 private:
  struct Row {
    std::size_t scene = 0;
    std::size_t places = 0;
    const CastProblem::Places* of = nullptr;
    std::size_t group = 0;  ///< where its time begins in taken_
    std::size_t may = 0;    ///< where it begins in may_
  };
  struct Kept {  ///< the best yet
    std::vector<int> part, opening;
    std::vector<std::vector<int>> in;
  };
  struct Done {  ///< one thing done, to be undone
    enum class What { came, left, moved, given } what = What::came;
    std::size_t row = 0;  ///< moved: the scene; given: the part
    int was = 0;          ///< who; the opening or the person before
  };

  void take_over(const CastSolution& it);
  [[nodiscard]] CastSolution solution() const;
  [[nodiscard]] std::int64_t ties(const Row& row, int person) const;
  [[nodiscard]] std::int64_t comes_for(std::size_t row, int person) const;
  [[nodiscard]] bool may(std::size_t row, int person) const;
  [[nodiscard]] bool may_at(std::size_t row, int opening, int person) const;
  [[nodiscard]] const std::vector<int>& candidates(std::size_t row) const;
  [[nodiscard]] int& row_of(std::size_t row, int person);
  void come(std::size_t row, int person);
  void leave(std::size_t row, int person);
  void undo();

  bool any_move(Random& random);
  bool other_head(Random& random);
  bool other_moment(Random& random);
  bool other_person(Random& random);
  bool exchange_parts(Random& random);
  bool move_scene(std::size_t scene, int opening);
  bool give_part(std::size_t part, int person, Random& random);
  void refill(std::size_t row);
  void seat_parts(std::size_t scene);

  const CastProblem& problem_;
  bool any_friends_ = false;
  std::vector<std::vector<int>> liked_by_;
  std::vector<Row> rows_;
  std::vector<std::vector<std::size_t>> rows_in_;  ///< by scene, as its places
  std::vector<std::size_t> seats_;                 ///< crowd and crew rows, one entry a head
  std::vector<std::size_t> choice_;                ///< scenes with more than one moment
  std::vector<std::size_t> free_;                  ///< parts that are not fixed
  std::vector<char> may_;                          ///< by row, opening, person
  std::vector<std::vector<char>> part_may_;        ///< by part and person
  std::vector<int> part_, opening_;
  std::vector<std::vector<int>> in_;    ///< by row: who
  std::vector<int> taken_;              ///< by group and person: row, or -1
  std::vector<std::int64_t> one_more_;  ///< by person: what one scene more costs them
  std::int64_t cost_ = 0;
  std::vector<Done> done_;
  std::vector<std::pair<std::int64_t, int>> cheapest_;  ///< of a row's refill: cost, who
};

}  // namespace gp
