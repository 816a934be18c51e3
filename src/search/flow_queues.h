#pragma once

#include "ordering/linear_program.h"
#include "search/between.h"

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <vector>

namespace gp {

/// Those who are made ready for one scene, or change back after it, at one station: they wait for
/// one another. So many at once wait for nobody, as many before or after them a step's length, and
/// so on: a scene's shot is one moment for all of its crowd.
class FlowQueues {
 public:
  FlowQueues(const Problem& problem, const Between& between)
      : problem_(problem), between_(between) {}

  /// People who go through the steps of a node's look and then wait for nothing else.
  struct Comers {
    std::size_t column = 0;
    double weight = 1;  ///< what a minute of one of them counts
    /// Of those who may do something else meanwhile: the column of their waiting in all queues.
    std::optional<std::size_t> waits;
  };

  /// \param off  after the scene
  void add(const Between::Node& node, std::size_t day, bool off, const Comers& comers);
  /// Their waiting, as columns and rows of the program.
  void write(LinearProgram& program);

 private:
  /// Only steps of one length, as far from the scene, can be compared: who has longer to go
  /// afterwards is first in any case.
  struct Key {
    SceneId scene;
    bool off = false;
    StationId station;
    std::int64_t minutes = 0;
    std::int64_t between = 0;  ///< from the step to the shot, or from the scene's end to it
    auto operator<=>(const Key&) const = default;
  };
  struct Queue {
    int places = 1;
    std::int64_t heads = 0;
    std::set<const Between::Node*> nodes;
    std::vector<Comers> through;
  };

  [[nodiscard]] int places_of(const Between::Node& node, bool off, std::size_t step) const;

  void write(const Key& key, const Queue& queue, LinearProgram& program);

  const Problem& problem_;
  const Between& between_;
  std::map<Key, Queue> queues_;
  std::map<std::size_t, std::vector<LinearProgram::Term>> shares_;  ///< by Comers::waits
};

}  // namespace gp
