#include "search/between_bound.h"

#include <algorithm>
#include <deque>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t kMostSlots = 250;
constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;

/// What is known of what somebody has on in a scene.
enum class On { unknown, themselves, look };

struct Node {
  FilledSlot row;
  On on = On::unknown;
  LookId look;
  std::int64_t begin = 0;  ///< minutes before it, were it the first of a head's day
  std::int64_t end = 0;    ///< minutes after it, were it the last
  std::size_t group = 0;   ///< among those whose strings are kept from closing into rings
};

/// Slots that only one another's heads can come from without beginning a day or changing: of one
/// look, one role without a look, or one sort of crew. As many strings begin in it as it has heads
/// at once, so that no more than `most` heads go on within it.
struct Group {
  std::int64_t most = 0;
  std::int64_t price = 0;  ///< of each head that goes on, a Lagrange multiplier [min]
};

/// How many heads of some slots could go on from one of them to another: each string of them begins
/// somewhere, and heads at once are on strings of their own.
class Strings {
 public:
  void add(const FilledSlot& row) {
    heads_ += row.heads;
    std::int64_t& here = at_once_[row.scene];
    here += row.heads;
    fullest_ = std::max(fullest_, here);
  }
  [[nodiscard]] std::int64_t most_going_on() const { return heads_ - fullest_; }

 private:
  std::int64_t heads_ = 0;
  std::int64_t fullest_ = 0;
  std::map<SceneId, std::int64_t> at_once_;
};

class Between {
 public:
  Between(const Problem& problem, const std::vector<FilledSlot>& slots)
      : problem_(problem), film_(problem.production) {
    std::set<SceneId> filmed;
    for (const FilledSlot& row : slots) filmed.insert(row.scene);
    find_between(filmed);
    for (const FilledSlot& row : slots) {
      if (row.heads == 0) continue;
      Node node{row, On::unknown, LookId(), 0, 0};
      if (row.slot->kind != Slot::Kind::crew) {
        const Role& role = film_.roles[row.slot->role];
        if (role.look_kind == LookKind::look) {
          node.on = On::look;
          node.look = role.look;
        } else if (role.look_kind == LookKind::themselves) {
          node.on = On::themselves;
        }
      }
      nodes_.push_back(node);
    }
    for (Node& node : nodes_) {
      node.begin = least_over_days(node, node, [&](const DayFrame& frame, std::size_t /*day*/) {
                     return count(film_.sign_in) + dressed(frame, frame.base, node);
                   }).value_or(0);
      node.end = least_over_days(node, node, [&](const DayFrame& frame, std::size_t /*day*/) {
                   return undressed(frame, node, PlaceId());
                 }).value_or(0);
    }
    find_savings();
    part_into_groups();
  }

  std::int64_t least() {
    std::int64_t apart = 0;
    Strings all;
    for (const Node& node : nodes_) {
      apart += node.row.heads * (node.begin + node.end);
      all.add(node.row);
    }
    std::int64_t saved = most_saved(all.most_going_on());
    // Any prices give a bound; those that hold the groups to what they may give the best.
    for (const std::int64_t step : {8, 8, 4, 4, 2, 2, 1, 1}) {
      for (std::size_t g = 0; g < groups_.size(); ++g) {
        const std::int64_t over = within_[g] - groups_[g].most;
        if (over > 0) groups_[g].price += step;
        if (over < 0) groups_[g].price = std::max<std::int64_t>(0, groups_[g].price - step);
      }
      saved = std::min(saved, most_saved(all.most_going_on()));
    }
    return std::max<std::int64_t>(0, apart - saved);
  }

 private:
  using Rows = std::vector<std::vector<std::int64_t>>;

  void part_into_groups() {
    std::map<std::tuple<LookId, RoleId, std::vector<PersonId>>, std::size_t> known;
    std::vector<Strings> strings;
    for (Node& node : nodes_) {
      const bool crew = node.row.slot->kind == Slot::Kind::crew;
      const auto key = std::make_tuple(node.look,
                                       node.on == On::look || crew ? RoleId() : node.row.slot->role,
                                       crew ? node.row.slot->candidates : std::vector<PersonId>());
      node.group = known.try_emplace(key, known.size()).first->second;
      strings.resize(known.size());
      strings[node.group].add(node.row);
    }
    for (const Strings& group : strings) groups_.push_back({group.most_going_on(), 0});
  }

  [[nodiscard]] std::int64_t way(PlaceId a, PlaceId b) const {
    return count(problem_.ways.between(a, b));
  }

  /// The least over the days on which both scenes could be; none: there is no such day.
  /// \param measure  minutes, or none, from a day's frame and index
  template <class Measure>
  std::optional<std::int64_t> least_over_days(const Node& a,
                                              const Node& b,
                                              const Measure& measure) const {
    std::optional<std::int64_t> least;
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      if (!problem_.open_on(a.row.scene, d) || !problem_.open_on(b.row.scene, d)) continue;
      const std::optional<std::int64_t> minutes = measure(problem_.days[d], d);
      if (minutes && (!least || *minutes < *least)) least = minutes;
    }
    return least;
  }

  /// From a place to the scene, with the look put on on the way.
  [[nodiscard]] std::int64_t dressed(const DayFrame& frame, PlaceId from, const Node& to) const {
    const PlaceId place = frame.scene_place[to.row.scene];
    if (to.on != On::look) return way(from, place);
    const auto& chain = film_.looks[to.look].steps;
    if (chain.empty()) return way(from, place);
    return way(from, frame.station_place[chain.front().at]) + count(whole_minutes(chain)) +
           way(frame.station_place[chain.back().at], place);
  }

  /// From the scene to having the look off, and on to a place.
  [[nodiscard]] std::int64_t undressed(const DayFrame& frame, const Node& from, PlaceId to) const {
    const PlaceId place = frame.scene_place[from.row.scene];
    if (from.on != On::look) return way(place, to);
    const auto& chain = film_.looks[from.look].off;
    if (chain.empty()) return way(place, to);
    std::int64_t minutes =
        way(place, frame.station_place[chain.front().at]) + count(whole_minutes(chain));
    // nobody waits after the last step where nothing follows
    if (!to.valid()) minutes -= count(chain.back().then_wait);
    return minutes + way(frame.station_place[chain.back().at], to);
  }

  [[nodiscard]] bool same_person_may(const Slot& a, const Slot& b) const {
    return std::any_of(a.candidates.begin(), a.candidates.end(), [&](PersonId who) {
      return std::find(b.candidates.begin(), b.candidates.end(), who) != b.candidates.end();
    });
  }

  /// Minutes between two scenes of one person on one day; none: they cannot be in that order.
  [[nodiscard]] std::optional<std::int64_t> gap(const DayFrame& frame,
                                                std::size_t day,
                                                const Node& from,
                                                const Node& to) const {
    const Scene& a = film_.scenes[from.row.scene];
    const Scene& b = film_.scenes[to.row.scene];
    const auto& early = problem_.windows[day][from.row.scene];
    const auto& late = problem_.windows[day][to.row.scene];
    const Minute over = early.front().from + a.shoot_minutes;
    if (over > late.back().until - b.shoot_minutes) return std::nullopt;
    const bool crew = to.row.slot->kind == Slot::Kind::crew;
    const PlaceId place = frame.scene_place[from.row.scene];
    std::int64_t least = way(place, frame.scene_place[to.row.scene]);
    if (a.unit == b.unit && !crew) {
      least += count(least_set_up(b));
    }
    Minute starts = late.front().from;
    if (crew) starts -= std::max(b.set_minutes, b.reset_minutes);
    least = std::max<std::int64_t>(least, count(starts - early.back().until));
    if (const auto& between = between_[from.row.scene.index()][to.row.scene.index()]) {
      // crew come for the set-up, which another unit's scene need not wait for
      const Minutes set_up = crew ? std::max(b.set_minutes, b.reset_minutes) : Minutes{0};
      least = std::max(least, *between - count(set_up));
    }
    const bool known = from.on != On::unknown && to.on != On::unknown;
    if (known && (from.on != to.on || from.look != to.look)) {
      least = std::max(least, changed(frame, from, to));
    }
    return std::max<std::int64_t>(0, least);
  }

  /// From one scene to another in another look.
  [[nodiscard]] std::int64_t changed(const DayFrame& frame,
                                     const Node& from,
                                     const Node& to) const {
    const PlaceId place = frame.scene_place[to.row.scene];
    if (to.on == On::look && !film_.looks[to.look].steps.empty()) {
      const auto& chain = film_.looks[to.look].steps;
      const PlaceId first = frame.station_place[chain.front().at];
      return undressed(frame, from, first) + count(whole_minutes(chain)) +
             way(frame.station_place[chain.back().at], place);
    }
    return undressed(frame, from, place);
  }

  /// What a unit that films both spends between them on its way and on the set.
  [[nodiscard]] std::int64_t least_turn(SceneId from, SceneId to) const {
    if (film_.scenes[from].unit != film_.scenes[to].unit) return 0;
    std::int64_t walk = std::numeric_limits<std::int64_t>::max();
    for (const DayFrame& frame : problem_.days) {
      walk = std::min(walk, way(frame.scene_place[from], frame.scene_place[to]));
    }
    return walk + count(least_set_up(film_.scenes[to]));
  }

  /// Whether one scene must be over before the other shoots, said by the file or by the hours of
  /// the only day they have, in which one unit films one after the other.
  [[nodiscard]] bool asked_before(SceneId a, SceneId b) const {
    const Scene& early = film_.scenes[a];
    const Scene& late = film_.scenes[b];
    if (std::find(late.after.begin(), late.after.end(), a) != late.after.end()) return true;
    const auto day = problem_.only_day(a);
    if (!day || day != problem_.only_day(b) || early.unit != late.unit) return false;
    return problem_.windows[*day][b].front().from + late.shoot_minutes >
           problem_.windows[*day][a].back().until - early.shoot_minutes;
  }

  /// The least minutes from the end of one scene to the shot of another that must come after it on
  /// the same day: what must be filmed in between, ways and sets where one unit does it.
  /// Longest paths: Floyd 1962, doi:10.1145/367766.368168.
  void find_between(const std::set<SceneId>& filmed) {
    const std::size_t size = film_.scenes.size();
    between_.assign(size, std::vector<std::optional<std::int64_t>>(size));
    for (const SceneId a : filmed) {
      for (const SceneId b : filmed) {
        if (a != b && asked_before(a, b)) {
          between_[a.index()][b.index()] = least_turn(a, b);
        }
      }
    }
    for (const SceneId k : filmed) {
      for (const SceneId a : filmed) {
        for (const SceneId b : filmed) {
          const auto& first = between_[a.index()][k.index()];
          const auto& second = between_[k.index()][b.index()];
          if (!first || !second || a == b) continue;
          const std::int64_t sum = *first + count(film_.scenes[k].shoot_minutes) + *second;
          auto& least = between_[a.index()][b.index()];
          if (!least || sum > *least) least = sum;
        }
      }
    }
  }

  [[nodiscard]] bool before(SceneId a, SceneId b) const {
    return between_[b.index()][a.index()].has_value();
  }

  /// What going on from each slot to each saves against ending a day and beginning another; at
  /// most 0: not worth it, or not possible.
  void find_savings() {
    saved_.assign(nodes_.size(), std::vector<std::int64_t>(nodes_.size(), 0));
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      for (std::size_t j = 0; j < nodes_.size(); ++j) {
        const Node& from = nodes_[i];
        const Node& to = nodes_[j];
        if (from.row.scene == to.row.scene || before(from.row.scene, to.row.scene)) continue;
        if (!same_person_may(*from.row.slot, *to.row.slot)) continue;
        const auto least = least_over_days(from, to, [&](const DayFrame& frame, std::size_t day) {
          return gap(frame, day, from, to);
        });
        if (least) saved_[i][j] = from.end + to.begin - *least;
      }
    }
  }

  /// The same at the groups' prices.
  [[nodiscard]] Rows priced_savings() const {
    Rows saved = saved_;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      for (std::size_t j = 0; j < nodes_.size(); ++j) {
        if (nodes_[i].group == nodes_[j].group) saved[i][j] -= groups_[nodes_[i].group].price;
      }
    }
    return saved;
  }

  /// The most that `pairs` heads going on can save, at the groups' prices: one pair of slots after
  /// the other, each as many heads as fit, by the path that saves most. Leaves in within_ how many
  /// go on within each group.
  [[nodiscard]] std::int64_t most_saved(std::int64_t pairs) {
    const std::size_t n = nodes_.size();
    const Rows saved = priced_savings();
    Rows flow(n, std::vector<std::int64_t>(n, 0));
    std::vector<std::int64_t> out(n);
    std::vector<std::int64_t> in(n);
    std::vector<std::vector<std::size_t>> worth_it(n);  // where heads of a slot may go on to
    std::vector<std::vector<std::size_t>> feeding(n);   // from where heads have gone on to it
    for (std::size_t i = 0; i < n; ++i) {
      out[i] = in[i] = nodes_[i].row.heads;
      for (std::size_t j = 0; j < n; ++j) {
        if (saved[i][j] > 0) worth_it[i].push_back(j);
      }
    }
    std::int64_t sum = 0;
    while (pairs > 0) {
      // longest paths by saving: whatever got longer is looked at again
      std::vector<std::int64_t> row(n, -kFar);
      std::vector<std::int64_t> column(n, -kFar);
      std::vector<std::size_t> row_from(n, n);
      std::vector<std::size_t> column_from(n, n);
      std::deque<std::size_t> longer;
      std::vector<char> waits(n, 0);
      const auto look_again = [&](std::size_t i) {
        if (std::exchange(waits[i], 1) == 0) longer.push_back(i);
      };
      for (std::size_t i = 0; i < n; ++i) {
        if (out[i] == 0) continue;
        row[i] = 0;
        look_again(i);
      }
      while (!longer.empty()) {
        const std::size_t i = longer.front();
        longer.pop_front();
        waits[i] = 0;
        for (const std::size_t j : worth_it[i]) {
          if (row[i] + saved[i][j] <= column[j]) continue;
          column[j] = row[i] + saved[i][j];
          column_from[j] = i;
          for (const std::size_t k : feeding[j]) {
            if (flow[k][j] == 0 || column[j] - saved[k][j] <= row[k]) continue;
            row[k] = column[j] - saved[k][j];
            row_from[k] = j;
            look_again(k);
          }
        }
      }
      std::size_t end = n;
      for (std::size_t j = 0; j < n; ++j) {
        if (in[j] > 0 && column[j] > 0 && (end == n || column[j] > column[end])) end = j;
      }
      if (end == n) break;
      std::int64_t amount = std::min(pairs, in[end]);
      std::size_t start = n;
      for (std::size_t j = end;;) {
        const std::size_t i = column_from[j];
        if (row_from[i] == n) {
          start = i;
          amount = std::min(amount, out[i]);
          break;
        }
        amount = std::min(amount, flow[i][row_from[i]]);
        j = row_from[i];
      }
      for (std::size_t j = end;;) {
        const std::size_t i = column_from[j];
        if (flow[i][j] == 0) feeding[j].push_back(i);
        flow[i][j] += amount;
        if (i == start && row_from[i] == n) break;
        flow[i][row_from[i]] -= amount;
        j = row_from[i];
      }
      out[start] -= amount;
      in[end] -= amount;
      pairs -= amount;
      sum += amount * column[end];
    }
    within_.assign(groups_.size(), 0);
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) {
        if (nodes_[i].group == nodes_[j].group) within_[nodes_[i].group] += flow[i][j];
      }
    }
    for (const Group& group : groups_) sum += group.price * group.most;
    return sum;
  }

  const Problem& problem_;
  const Production& film_;
  std::vector<Node> nodes_;
  Rows saved_;
  /// By scenes: where the first must come before the second.
  std::vector<std::vector<std::optional<std::int64_t>>> between_;
  std::vector<Group> groups_;
  std::vector<std::int64_t> within_;  ///< heads that go on within each group, as last solved
};

}  // namespace

std::int64_t least_between(const Problem& problem, const std::vector<FilledSlot>& slots) {
  if (slots.size() > kMostSlots) return 0;
  return Between(problem, slots).least();
}

}  // namespace gp
