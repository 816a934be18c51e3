#pragma once

#include "search/filled_slots.h"
#include "search/problem.h"

#include <cstdint>
#include <optional>
#include <set>
#include <vector>

namespace gp {

/// What a head of a slot spends outside the scene at least, in minutes on site; chairs, staff and
/// meals left out.
class Between {
 public:
  /// What is known of what somebody has on in a scene.
  enum class On { unknown, themselves, look };

  /// One slot of a scene, and what is worn there.
  struct Node {
    FilledSlot row;
    On on = On::unknown;
    LookId look;
    /// Which sort of heads: of one look, one role without a look, or one sort of crew. Only from
    /// its own sort can heads come without beginning a day or changing.
    std::size_t sort = 0;
    [[nodiscard]] bool crew() const { return row.slot->kind == Slot::Kind::crew; }
  };

  /// From the end of one scene to the beginning of another.
  struct Gap {
    std::int64_t minutes = 0;
    bool changed = false;  ///< the look
    bool tight = false;    ///< it is the change that takes so long: a wait at a chair comes on top
  };

  /// \param slots  of all scenes that are filmed
  Between(const Problem& problem, const std::vector<FilledSlot>& slots);

  [[nodiscard]] const std::vector<Node>& nodes() const { return nodes_; }

  /// For each sort, how many heads at most go on from one of its slots to another: each string of
  /// them begins somewhere, and heads at once are on strings of their own.
  [[nodiscard]] const std::vector<std::int64_t>& most_going_on() const { return most_going_on_; }
  /// The same for all heads together.
  [[nodiscard]] std::int64_t most_going_on_of_all() const;

  /// When the scene's shot can be on a day for somebody there from `free.from` to `free.until` at
  /// most; none: not that day.
  [[nodiscard]] std::optional<Span> shot_within(const Node& node, std::size_t day, Span free) const;
  /// From the call to the scene, were it the first of the day.
  [[nodiscard]] std::int64_t before(const Node& node, std::size_t day) const;
  /// From the scene to the release, were it the last.
  [[nodiscard]] std::int64_t after(const Node& node, std::size_t day) const;
  /// From one to another of one person on one day; none: not in that order.
  /// \param early, late  when they can be, of shot_within()
  [[nodiscard]] std::optional<Gap> gap(
      const Node& from, const Node& to, std::size_t day, Span early, Span late) const;
  /// How long it keeps somebody: the shot, for crew with the set-up.
  [[nodiscard]] std::int64_t length(const Node& node) const;

  /// Of the look worn there, put on or taken off; none where none is, or is known.
  [[nodiscard]] const std::vector<Step>& steps(const Node& node, bool off) const;
  /// From the last step of its look to the scene.
  [[nodiscard]] std::int64_t way_in(const Node& node, std::size_t day) const;
  /// The way from the scene to the first step of taking its look off.
  [[nodiscard]] std::int64_t way_out(const Node& node, std::size_t day) const;
  [[nodiscard]] std::int64_t way(const Node& from, const Node& to, std::size_t day) const;

 private:
  [[nodiscard]] Node node_of(const FilledSlot& row) const;
  [[nodiscard]] std::int64_t way(PlaceId a, PlaceId b) const;
  /// The steps and the waits between them.
  [[nodiscard]] static std::int64_t chain(const std::vector<Step>& steps);
  [[nodiscard]] std::int64_t leave(const std::vector<Step>& steps,
                                   std::size_t day,
                                   PlaceId to) const;
  [[nodiscard]] std::int64_t dressed(std::size_t day, PlaceId from, const Node& to) const;
  [[nodiscard]] std::int64_t undressed(std::size_t day, const Node& from, PlaceId to) const;
  [[nodiscard]] std::int64_t changed(std::size_t day, const Node& from, const Node& to) const;
  [[nodiscard]] std::int64_t least_turn(SceneId from, SceneId to) const;
  [[nodiscard]] bool asked_before(SceneId a, SceneId b) const;
  void find_between(const std::set<SceneId>& filmed);
  void sort_heads();

  const Problem& problem_;
  const Production& film_;
  std::vector<Node> nodes_;
  std::vector<std::int64_t> most_going_on_;
  /// By scenes: where the first must come before the second.
  std::vector<std::vector<std::optional<std::int64_t>>> between_;
};

}  // namespace gp
