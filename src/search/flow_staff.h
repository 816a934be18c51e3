#pragma once

#include "ordering/linear_program.h"
#include "search/alike.h"
#include "search/between.h"

#include <map>
#include <utility>
#include <vector>

namespace gp {

/// The time of those who staff stations, in a flow of people through scenes: what is done to others
/// there is done by somebody, who has come and has got the station ready first.
class FlowStaff {
 public:
  using Terms = std::vector<LinearProgram::Term>;

  /// No day is longer [min].
  static constexpr double kLongest = 4 * 24 * 60;

  /// People alike on one day, some of whom may staff stations.
  struct Crew {
    const Alike* people = nullptr;
    std::size_t day = 0;
    Terms begins;    ///< those of them who begin the day with a scene
    Terms as_asked;  ///< their time as the scenes ask for it
    Terms as_busy;   ///< of it, when they could do nothing else
  };

  FlowStaff(const Problem& problem, const Between& between);

  /// Who may do each kind of work.
  [[nodiscard]] std::vector<std::vector<PersonId>> lists() const;

  /// Those of the column go through the steps of the node's look.
  void ask(const Between::Node& node, std::size_t day, bool off, std::size_t column);
  /// \return the column of those who come to staff stations and for no scene
  std::size_t come(const Crew& crew, LinearProgram& program);
  /// All that was asked is done by those who came.
  void write(LinearProgram& program) const;

 private:
  /// What is done at a station by somebody else.
  struct Work {
    StationId station;
    std::vector<PersonId> staff;
    auto operator<=>(const Work&) const = default;
  };

  [[nodiscard]] std::size_t number_of(const Work& work) const;
  [[nodiscard]] double staffed(const Crew& crew, StationId station) const;

  const Problem& problem_;
  const Between& between_;
  std::vector<Work> works_;  ///< ascending
  /// By work and day.
  std::map<std::pair<std::size_t, std::size_t>, Terms> asked_, done_;
  std::map<std::size_t, Terms> readied_;  ///< by work
};

}  // namespace gp
