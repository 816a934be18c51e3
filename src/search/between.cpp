#include "search/between.h"

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <tuple>

namespace gp {
namespace {

/// Heads strung together from scene to scene.
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

}  // namespace

Between::Between(const Problem& problem, const std::vector<FilledSlot>& slots)
    : problem_(problem), film_(problem.production) {
  std::set<SceneId> filmed;
  for (const FilledSlot& row : slots) {
    filmed.insert(row.scene);
    if (row.heads > 0) nodes_.push_back(node_of(row));
  }
  find_between(filmed);
  sort_heads();
}

Between::Node Between::node_of(const FilledSlot& row) const {
  Node node;
  node.row = row;
  if (node.crew()) return node;
  const Role& role = film_.roles[row.slot->role];
  if (role.look_kind == LookKind::look) {
    node.on = On::look;
    node.look = role.look;
  } else if (role.look_kind == LookKind::themselves) {
    node.on = On::themselves;
  }
  return node;
}

std::optional<Span> Between::shot_within(const Node& node, std::size_t day, Span free) const {
  const Scene& scene = film_.scenes[node.row.scene];
  const Minutes shoot = scene.shoot_minutes;
  const Minutes set_up = node.crew() ? least_set_up(scene) : Minutes{0};
  const Minute from = free.from + Minutes{before(node, day)} + set_up;
  const Minute until = free.until - Minutes{after(node, day)};
  std::optional<Span> all;
  for (const Span& window : problem_.windows[day][node.row.scene]) {
    const Span here{std::max(window.from, from), std::min(window.until, until)};
    if (here.until - here.from < shoot) continue;
    all = all ? Span{all->from, here.until} : here;
  }
  return all;
}

std::int64_t Between::before(const Node& node, std::size_t day) const {
  return count(film_.sign_in) + dressed(day, problem_.days[day].base, node);
}

std::int64_t Between::after(const Node& node, std::size_t day) const {
  const auto& off = steps(node, true);
  // nobody waits after the last step where nothing follows
  return off.empty() ? 0 : way_out(node, day) + chain(off);
}

std::int64_t Between::length(const Node& node) const {
  const Scene& scene = film_.scenes[node.row.scene];
  return count(node.crew() ? scene.shoot_minutes + least_set_up(scene) : scene.shoot_minutes);
}

const std::vector<Step>& Between::steps(const Node& node, bool off) const {
  static const std::vector<Step> none;
  if (node.on != On::look) return none;
  return off ? film_.looks[node.look].off : film_.looks[node.look].steps;
}

std::int64_t Between::way(PlaceId a, PlaceId b) const {
  return count(problem_.ways.between(a, b));
}

std::int64_t Between::way(const Node& from, const Node& to, std::size_t day) const {
  const DayFrame& frame = problem_.days[day];
  return way(frame.scene_place[from.row.scene], frame.scene_place[to.row.scene]);
}

std::int64_t Between::chain(const std::vector<Step>& steps) {
  return count(whole_minutes(steps) - steps.back().then_wait);
}

/// From the end of the last step to a place: what must dry may dry on the way.
std::int64_t Between::leave(const std::vector<Step>& steps, std::size_t day, PlaceId to) const {
  const PlaceId station = problem_.days[day].station_place[steps.back().at];
  return std::max<std::int64_t>(way(station, to), count(steps.back().then_wait));
}

std::int64_t Between::way_in(const Node& node, std::size_t day) const {
  return leave(steps(node, false), day, problem_.days[day].scene_place[node.row.scene]);
}

std::int64_t Between::way_out(const Node& node, std::size_t day) const {
  const DayFrame& frame = problem_.days[day];
  return way(frame.scene_place[node.row.scene], frame.station_place[steps(node, true).front().at]);
}

/// From a place to the scene, with the look put on on the way.
std::int64_t Between::dressed(std::size_t day, PlaceId from, const Node& to) const {
  const DayFrame& frame = problem_.days[day];
  const auto& on = steps(to, false);
  if (on.empty()) return way(from, frame.scene_place[to.row.scene]);
  return way(from, frame.station_place[on.front().at]) + chain(on) + way_in(to, day);
}

/// From the scene to having the look off, and on to a place.
std::int64_t Between::undressed(std::size_t day, const Node& from, PlaceId to) const {
  const DayFrame& frame = problem_.days[day];
  const auto& off = steps(from, true);
  if (off.empty()) return way(frame.scene_place[from.row.scene], to);
  return way_out(from, day) + chain(off) + leave(off, day, to);
}

/// From one scene to another in another look.
std::int64_t Between::changed(std::size_t day, const Node& from, const Node& to) const {
  const DayFrame& frame = problem_.days[day];
  const auto& on = steps(to, false);
  if (on.empty()) return undressed(day, from, frame.scene_place[to.row.scene]);
  return undressed(day, from, frame.station_place[on.front().at]) + chain(on) + way_in(to, day);
}

std::optional<Between::Gap> Between::gap(
    const Node& from, const Node& to, std::size_t day, Span early, Span late) const {
  const Scene& a = film_.scenes[from.row.scene];
  const Scene& b = film_.scenes[to.row.scene];
  if (from.row.scene == to.row.scene) return std::nullopt;
  if (between_[to.row.scene.index()][from.row.scene.index()]) return std::nullopt;
  if (early.from + a.shoot_minutes > late.until - b.shoot_minutes) return std::nullopt;
  std::int64_t least = way(from, to, day);
  if (a.unit == b.unit && !to.crew()) least += count(least_set_up(b));
  // crew come for the set-up, which another unit's scene need not wait for
  const Minutes set_up = to.crew() ? std::max(b.set_minutes, b.reset_minutes) : Minutes{0};
  least = std::max<std::int64_t>(least, count(late.from - set_up - early.until));
  if (const auto& between = between_[from.row.scene.index()][to.row.scene.index()]) {
    least = std::max(least, *between - count(set_up));
  }
  Gap gap{std::max<std::int64_t>(0, least)};
  const bool known = from.on != On::unknown && to.on != On::unknown;
  if (!known || (from.on == to.on && from.look == to.look)) return gap;
  const std::int64_t change = changed(day, from, to);
  gap.changed = true;
  gap.tight = change >= gap.minutes;
  gap.minutes = std::max(gap.minutes, change);
  return gap;
}

/// What a unit that films both spends between them on its way and on the set.
std::int64_t Between::least_turn(SceneId from, SceneId to) const {
  if (film_.scenes[from].unit != film_.scenes[to].unit) return 0;
  std::int64_t walk = std::numeric_limits<std::int64_t>::max();
  for (const DayFrame& frame : problem_.days) {
    walk = std::min(walk, way(frame.scene_place[from], frame.scene_place[to]));
  }
  return walk + count(least_set_up(film_.scenes[to]));
}

/// Whether one scene must be over before the other shoots, said by the file or by the hours of the
/// only day they have, in which one unit films one after the other.
bool Between::asked_before(SceneId a, SceneId b) const {
  const Scene& early = film_.scenes[a];
  const Scene& late = film_.scenes[b];
  if (std::find(late.after.begin(), late.after.end(), a) != late.after.end()) return true;
  const auto day = problem_.only_day(a);
  if (!day || day != problem_.only_day(b) || early.unit != late.unit) return false;
  return problem_.windows[*day][b].front().from + late.shoot_minutes >
         problem_.windows[*day][a].back().until - early.shoot_minutes;
}

/// The least minutes from the end of one scene to the shot of another that must come after it on
/// the same day: what must be filmed in between, ways and sets where one unit does it. Longest
/// paths: Floyd 1962, doi:10.1145/367766.368168.
void Between::find_between(const std::set<SceneId>& filmed) {
  const std::size_t size = film_.scenes.size();
  between_.assign(size, std::vector<std::optional<std::int64_t>>(size));
  for (const SceneId a : filmed) {
    for (const SceneId b : filmed) {
      if (a != b && asked_before(a, b)) between_[a.index()][b.index()] = least_turn(a, b);
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

void Between::sort_heads() {
  using Sort = std::tuple<LookId, RoleId, std::vector<PersonId>>;
  std::map<Sort, std::size_t> known;
  std::vector<Strings> strings;
  for (Node& node : nodes_) {
    const Slot& slot = *node.row.slot;
    const Sort sort{node.look,
                    node.on == On::look || node.crew() ? RoleId() : slot.role,
                    node.crew() ? slot.candidates : std::vector<PersonId>()};
    node.sort = known.try_emplace(sort, known.size()).first->second;
    strings.resize(known.size());
    strings[node.sort].add(node.row);
  }
  for (const Strings& sort : strings) most_going_on_.push_back(sort.most_going_on());
}

std::int64_t Between::most_going_on_of_all() const {
  Strings all;
  for (const Node& node : nodes_) all.add(node.row);
  return all.most_going_on();
}

}  // namespace gp
