#include "ordering/presence_exact.h"

#include "ordering/presence_bound.h"
#include "ordering/presence_comings.h"
#include "ordering/sets.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <limits>
#include <vector>

namespace gp {
namespace {

/// Steps of the bound by comings that take as long as a gap looked at.
constexpr std::uint64_t kStepsANode = 200;
constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max();

/// What is known of gaps: the least that their middle costs. Forgets where it would grow too large.
class KnownGaps {
 public:
  KnownGaps() : rows_(std::size_t{1} << 12U) {}

  /// -1: nothing known.
  [[nodiscard]] std::int64_t find(const PresenceGap& gap) const {
    for (std::size_t i = home(gap), k = 0; k < kLook; ++k, i = (i + 1) & (rows_.size() - 1)) {
      if (same(rows_[i], gap)) return rows_[i].least;
    }
    return -1;
  }

  void keep(const PresenceGap& gap, std::int64_t least) {
    if (used_ * 2 > rows_.size() && rows_.size() < kMost) grow();
    put({gap, least});
  }

 private:
  struct Row {
    PresenceGap gap;
    std::int64_t least = -1;
  };
  static constexpr std::size_t kLook = 16;
  static constexpr std::size_t kMost = std::size_t{1} << 21U;

  static bool same(const Row& row, const PresenceGap& gap) {
    return row.least >= 0 && row.gap.middle == gap.middle && row.gap.left == gap.left &&
           row.gap.right == gap.right;
  }
  [[nodiscard]] std::size_t home(const PresenceGap& gap) const {
    std::uint64_t h = gap.middle * 0x9e3779b97f4a7c15ULL;
    h = (h ^ h >> 29U) + gap.left * 0xbf58476d1ce4e5b9ULL;
    h = (h ^ h >> 32U) + gap.right * 0x94d049bb133111ebULL;
    return static_cast<std::size_t>((h ^ h >> 31U) * 0x9e3779b97f4a7c15ULL >> 20U) &
           (rows_.size() - 1);
  }
  void put(const Row& row) {
    std::size_t at = home(row.gap);
    for (std::size_t k = 0; k < kLook; ++k, at = (at + 1) & (rows_.size() - 1)) {
      if (rows_[at].least < 0) {
        ++used_;
        break;
      }
      if (same(rows_[at], row.gap)) break;
    }
    rows_[at] = row;  // where all are taken, one of them is forgotten
  }
  void grow() {
    std::vector<Row> old(rows_.size() * 2);
    old.swap(rows_);
    used_ = 0;
    for (const Row& row : old) {
      if (row.least >= 0) put(row);
    }
  }

  std::vector<Row> rows_;
  std::size_t used_ = 0;
};

class BothEnds {
 public:
  BothEnds(const PresenceProblem& problem,
           const PresenceOrder& start,
           std::uint64_t most_nodes,
           Stop& stop)
      : problem_(problem),
        bound_(problem),
        comings_(problem),
        after_(problem.scenes(), 0),
        most_nodes_(most_nodes),
        stop_(stop) {
    result_.best = start;
    for (std::size_t scene = 0; scene < problem.scenes(); ++scene) {
      for (SceneSet before = problem.before[scene]; before != 0;) {
        const int first = take_lowest(before);
        after_[static_cast<std::size_t>(first)] |= just(static_cast<int>(scene));
        ordered_ |= just(first) | just(static_cast<int>(scene));
      }
    }
  }

  ExactPresence run() {
    const std::size_t size = problem_.scenes();
    PresenceGap all;
    all.middle = size == 64 ? ~SceneSet{0} : just(static_cast<int>(size)) - 1;
    const std::int64_t root = size == 0 ? 0 : bound_(all, bound_.people_of(all.middle));
    result_.bound = std::min(root, result_.best.value);
    // the last round's limit is what an order must beat; those before it cost little and raise the
    // bound in case there is no time for the last
    for (const int tenths : {3, 5, 7, 8, 9, 10}) {
      if (result_.proven()) break;
      const std::int64_t best = result_.best.value;
      limit_ = std::min(best - 1, root + (best - root) * tenths / 10);
      if (limit_ < result_.bound) continue;
      const std::int64_t asked = limit_;
      const std::int64_t least = search(all, 0);
      if (over_) break;
      result_.bound = std::min(result_.best.value, std::max(asked + 1, least));
    }
    return std::move(result_);
  }

 private:
  struct Next {
    SceneSet scenes = 0;     ///< one, or all that differ only in who is there all through
    std::int64_t cost = 0;   ///< of these at that end
    std::int64_t least = 0;  ///< of these and all the rest
  };
  /// One end of a gap with the scenes that may come next there.
  struct End {
    std::array<Next, 64> next{};
    std::size_t size = 0;
    std::int64_t left_out = kFar;  ///< the least of those above the limit

    void add(const Next& scene, std::int64_t most) {
      if (scene.least <= most) {
        next[size++] = scene;
      } else {
        left_out = std::min(left_out, scene.least);
      }
    }
  };

  /// \return what the middle costs at least: exact, or above what the limit leaves
  std::int64_t search(const PresenceGap& gap, std::int64_t spent) {
    ++result_.nodes;
    if (result_.nodes + comings_.steps() / kStepsANode >= most_nodes_ || stop_.now()) over_ = true;
    if (over_) return 0;
    if ((gap.middle & (gap.middle - 1)) == 0) return close(gap, spent);
    const PeopleSet people = bound_.people_of(gap.middle);
    // whoever is done with does not matter any more
    PresenceGap key{gap.middle, gap.left & (people | gap.right), gap.right & (people | gap.left)};
    // read backwards, an order costs the same
    if (ordered_ == 0 && key.left > key.right) std::swap(key.left, key.right);
    const std::int64_t known = known_.find(key);
    if (known >= 0 && spent + known > limit_) return known;
    const std::int64_t least = std::max(known, bound_(gap, people));
    if (spent + least > limit_) return least;
    const std::int64_t certain = bound_.certain(gap);
    const std::int64_t wanted = limit_ + 1 - spent - certain;
    if (comings_.reaches(gap, people, wanted, stop_)) {
      known_.keep(key, certain + wanted);
      return certain + wanted;
    }

    End front;
    End back;
    const std::int64_t most = limit_ - spent;
    list(gap, people, most, front, back);
    const bool at_front =
        front.size != back.size ? front.size < back.size : first_.size() <= last_.size();
    End& end = at_front ? front : back;
    std::sort(end.next.begin(),
              end.next.begin() + static_cast<std::ptrdiff_t>(end.size),
              [](const Next& a, const Next& b) {
                return a.least != b.least ? a.least < b.least : a.scenes < b.scenes;
              });
    std::int64_t found = end.left_out;
    std::vector<int>& line = at_front ? first_ : last_;
    for (std::size_t i = 0; i < end.size; ++i) {
      const Next& next = end.next[i];
      if (spent + next.least > limit_) {  // the limit has come down since
        found = std::min(found, next.least);
        continue;
      }
      PresenceGap inner = gap;
      inner.middle &= ~next.scenes;
      (at_front ? inner.left : inner.right) |= bound_.people_of(next.scenes);
      const std::size_t before = line.size();
      for (SceneSet scenes = next.scenes; scenes != 0;) line.push_back(take_lowest(scenes));
      const std::int64_t rest = search(inner, spent + next.cost);
      line.resize(before);
      if (over_) return 0;
      found = std::min(found, next.cost + rest);
    }
    found = std::max(found, least);
    known_.keep(key, found);
    return found;
  }

  /// At most one scene is left: an order is whole.
  std::int64_t close(const PresenceGap& gap, std::int64_t spent) {
    std::int64_t cost = 0;
    if (gap.middle != 0) {
      const int scene = std::countr_zero(gap.middle);
      cost = bound_.scene_cost(scene, cast(scene) | (gap.left & gap.right));
    }
    if (spent + cost < result_.best.value) {
      result_.best.value = spent + cost;
      result_.best.order = first_;
      if (gap.middle != 0) result_.best.order.push_back(std::countr_zero(gap.middle));
      result_.best.order.insert(result_.best.order.end(), last_.rbegin(), last_.rend());
      limit_ = std::min(limit_, result_.best.value - 1);
    }
    return cost;
  }

  /// The scenes that may come next at either end. One that no order can do without there is the
  /// only one.
  void list(
      const PresenceGap& gap, PeopleSet people, std::int64_t most, End& front, End& back) const {
    const PeopleSet through = gap.left & gap.right;
    const PeopleSet here_left = gap.left & people & ~gap.right;
    const PeopleSet here_right = gap.right & people & ~gap.left;
    SceneSet may_front = 0;
    SceneSet may_back = 0;
    for (SceneSet rest = gap.middle; rest != 0;) {
      const int scene = take_lowest(rest);
      const auto at = static_cast<std::size_t>(scene);
      if ((problem_.before[at] & gap.middle) == 0) may_front |= just(scene);
      if ((after_[at] & gap.middle) == 0) may_back |= just(scene);
    }
    for (SceneSet rest = gap.middle; rest != 0;) {
      const SceneSet same = same_as_lowest(rest, through);
      const int scene = take_lowest(rest);
      rest &= ~same;
      const bool in_front =
          (may_front & same) != 0 && !better_first(scene, may_front, through, here_left);
      const bool in_back =
          (may_back & same) != 0 && !better_first(scene, may_back, through, here_right);
      if (!in_front && !in_back) continue;
      PresenceGap inner = gap;
      inner.middle &= ~same;
      const PeopleSet others = bound_.people_of(inner.middle);
      const PeopleSet theirs = bound_.people_of(same);
      if (in_front) {
        const std::int64_t cost = cost_of(same, theirs | (gap.left & (others | gap.right)));
        inner.left = gap.left | theirs;
        front.add({same, cost, cost + bound_(inner, others)}, most);
        inner.left = gap.left;
      }
      if (in_back) {
        const std::int64_t cost = cost_of(same, theirs | (gap.right & (others | gap.left)));
        inner.right = gap.right | theirs;
        back.add({same, cost, cost + bound_(inner, others)}, most);
      }
    }
  }

  /// The lowest scene and those that differ from it only in people who are there all through: they
  /// are filmed one after the other in some best order of the middle, as in reduced().
  [[nodiscard]] SceneSet same_as_lowest(SceneSet scenes, PeopleSet through) const {
    const int scene = take_lowest(scenes);
    SceneSet same = just(scene);
    if ((ordered_ & same) != 0) return same;
    for (SceneSet rest = scenes & ~ordered_; rest != 0;) {
      const int other = take_lowest(rest);
      const PeopleSet differ = (cast(scene) ^ cast(other)) | (unpaid(scene) ^ unpaid(other));
      if ((differ & ~through) == 0) same |= just(other);
    }
    return same;
  }

  [[nodiscard]] std::int64_t cost_of(SceneSet scenes, PeopleSet there) const {
    std::int64_t sum = 0;
    while (scenes != 0) sum += bound_.scene_cost(take_lowest(scenes), there);
    return sum;
  }

  /// Whether another scene may be put before this one in any order without making it dearer: all
  /// those waiting here are in it, and it brings nobody whom this one would not bring. (Exchange:
  /// nobody comes earlier for it but to be in it, and nobody leaves later.)
  [[nodiscard]] bool better_first(int scene,
                                  SceneSet may,
                                  PeopleSet through,
                                  PeopleSet here) const {
    const PeopleSet own = cast(scene) & ~through;
    for (SceneSet rest = may & ~just(scene); rest != 0;) {
      const int other = take_lowest(rest);
      const PeopleSet theirs = cast(other) & ~through;
      if ((here & ~theirs) != 0 || (theirs & ~(here | own)) != 0) continue;
      if (theirs != own || other < scene) return true;  // of equals, the first listed
    }
    return false;
  }

  [[nodiscard]] PeopleSet cast(int scene) const {
    return problem_.cast[static_cast<std::size_t>(scene)];
  }

  [[nodiscard]] PeopleSet unpaid(int scene) const {
    return problem_.unpaid[static_cast<std::size_t>(scene)];
  }

  const PresenceProblem& problem_;
  PresenceBound bound_;
  ComingsBound comings_;
  std::vector<SceneSet> after_;
  SceneSet ordered_ = 0;  ///< with an order asked of them, on either side
  std::uint64_t most_nodes_;
  Stop& stop_;
  ExactPresence result_;
  KnownGaps known_;
  std::vector<int> first_, last_;  ///< the order so far, from its beginning and from its end
  std::int64_t limit_ = 0;         ///< orders dearer than this are not sought
  bool over_ = false;
};

}  // namespace

ExactPresence exact_presence(const PresenceProblem& problem,
                             const PresenceOrder& start,
                             std::uint64_t most_nodes,
                             Stop& stop) {
  return BothEnds(problem, start, most_nodes, stop).run();
}

}  // namespace gp
