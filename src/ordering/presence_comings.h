#pragma once

#include "base/stop.h"
#include "ordering/presence_bound.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace gp {

/// What the middle of a gap costs at least, from who comes and who leaves in it, one after the
/// other: for some of the people, whose waiting is dearest, all such lines are gone through. Each
/// scene is filmed in the cheapest moment at which all of these that are in it have come and none
/// of them has left. Where nobody else is in the gap but those who are there all through, that is
/// what the middle costs, not only a bound. Slower and much higher than PresenceBound. The method
/// is ours; that the best moment follows from who is there at it is used for whole days by Cheng,
/// Diamond and Lin 1993, doi:10.1007/BF00940554.
class ComingsBound {
 public:
  explicit ComingsBound(const PresenceProblem& problem);

  /// Whether the waiting in the gap, of those who are not there all through it, comes to at least
  /// so much in every order. No is no proof that there is a cheaper one: the others, `before`, and
  /// scenes in which one of them would wait unpaid are left out, and the steps are numbered.
  /// \param people  PresenceBound::people_of(gap.middle)
  /// \param wanted  weight × minutes
  /// Cost: tries three times with more and more people, at most 100,000 steps (some milliseconds)
  /// each, a few hundred as a rule.
  [[nodiscard]] bool reaches(const PresenceGap& gap,
                             PeopleSet people,
                             std::int64_t wanted,
                             Stop& stop);

  [[nodiscard]] std::uint64_t steps() const { return steps_; }  ///< since it was made

 private:
  using Group = std::uint32_t;  ///< some of those of one side, as bits
  static constexpr std::size_t kSide = 6;
  static constexpr std::size_t kGroups = std::size_t{1} << kSide;
  static constexpr std::uint64_t kMostSteps = 100'000;

  /// Those who leave in the gap or those who come in it. Whoever does both is in both.
  struct Side {
    std::array<std::size_t, kSide> people{};
    std::size_t size = 0;
    Group both = 0;                              ///< of them
    std::array<std::int64_t, kGroups> weight{};  ///< of each group
    std::array<std::int64_t, kGroups> alone{};   ///< the same without those of both sides
    [[nodiscard]] Group all() const { return (Group{1} << size) - 1; }
    void fill(const PresenceProblem& problem);
  };
  /// A line of comings and leavings half made.
  struct Line {
    Group here = 0;  ///< of those who leave, still to do so
    std::size_t comings = 0;
    bool just_came = false;                       ///< the last thing in the line was a coming
    std::int64_t paid = 0;                        ///< see go()
    std::array<Group, kSide + 1> come{};          ///< who has come after so many comings
    std::array<std::int64_t, kSide + 1> least{};  ///< the least weight there since then
  };

  bool choose(const PresenceGap& gap, PeopleSet people, std::size_t most);
  [[nodiscard]] bool try_chosen(SceneSet middle, std::int64_t wanted, Stop& stop);
  void measure(SceneSet middle);
  void estimate();
  void go(Line line, Stop& stop);
  void leave(const Line& line, Stop& stop);
  void come(const Line& line, Stop& stop);
  /// Minutes of the scenes that hold none but these.
  [[nodiscard]] std::int64_t inside(Group leaving, Group coming) const {
    return inside_[static_cast<std::size_t>(leaving) << coming_.size | coming];
  }
  [[nodiscard]] std::int64_t worth(std::size_t person, SceneSet middle) const {
    return problem_.weight[person] * minutes_(scenes_[person] & middle);
  }

  const PresenceProblem& problem_;
  SetSums minutes_;
  std::vector<SceneSet> scenes_, unpaid_;  ///< of each person
  Side leaving_, coming_;
  std::int64_t both_ = 0;  ///< weight of those of both sides
  std::array<std::int64_t, kGroups * kGroups> inside_{};
  std::array<std::int64_t, kGroups> free_work_{};  ///< of those of both sides; see estimate()
  std::array<std::int64_t, kGroups> to_leave_{}, to_come_{};
  std::int64_t limit_ = 0;
  std::uint64_t steps_ = 0, last_step_ = 0;
  bool below_ = false;  ///< a line below the limit was found, or no time to look for one
};

}  // namespace gp
