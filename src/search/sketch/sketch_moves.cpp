#include "search/sketch/sketch_moves.h"

#include <algorithm>
#include <vector>

namespace gp {
namespace {

using Int = SketchGround::Int;

std::size_t at(Int index) {
  return static_cast<std::size_t>(index);
}

Int draw_scene(const Sketch& sketch, Random& random) {
  return sketch.filmed()[random.index(sketch.filmed().size())];
}

Int round_to_five(Int minutes) {
  return (minutes + 2) / 5 * 5;
}

/// What stood between two moved scenes is laid as early as it can be.
void let_go(Sketch& sketch, const std::vector<Int>& row, std::size_t from, std::size_t to) {
  for (std::size_t k = from; k <= to && k < row.size(); ++k) sketch.hold(row[k], Sketch::kNone);
}

/// One after the other from a moment, or up to one.
void lay(Sketch& sketch, const std::vector<Int>& row, std::size_t from, std::size_t to, Int start) {
  Int moment = start;
  for (std::size_t k = from; k <= to; ++k) {
    const auto& scene = sketch.ground().scenes[at(row[k])];
    sketch.hold(row[k], moment + scene.set_minutes);
    moment += scene.set_minutes + scene.shoot_minutes;
  }
}

void lay_back(
    Sketch& sketch, const std::vector<Int>& row, std::size_t from, std::size_t to, Int end) {
  Int moment = end;
  const Int day = sketch.day_of(row[from]);
  for (std::size_t k = to + 1; k-- > from;) {
    const auto& scene = sketch.ground().scenes[at(row[k])];
    moment -= scene.shoot_minutes;
    sketch.hold(row[k], moment);
    bool same_set = false;
    if (k > 0) {
      const auto& before = sketch.ground().scenes[at(row[k - 1])];
      same_set = scene.set >= 0 && scene.set == before.set;
      moment -= sketch.ground().way(before.place[at(day)], scene.place[at(day)]);
    }
    moment -= same_set ? scene.reset_minutes : scene.set_minutes;
  }
}

/// Another order in a unit's day.
bool reorder(Sketch& sketch, Random& random) {
  const Int any = draw_scene(sketch, random);
  const Int unit = sketch.ground().scenes[at(any)].unit;
  const Int day = sketch.day_of(any);
  std::vector<Int> row = sketch.row(unit, day);
  const std::size_t n = row.size();
  if (n < 2) return false;
  std::size_t first = random.index(n);
  std::size_t last = random.index(n - 1);
  if (last >= first) ++last;
  const std::uint32_t kind = random.below(8);
  const auto place = [&](std::size_t k) { return row.begin() + static_cast<std::ptrdiff_t>(k); };
  if (kind < 4) {  // a run of up to three elsewhere
    const std::size_t length = std::min<std::size_t>(1 + random.below(3), n - 1);
    const std::size_t from = random.index(n - length + 1);
    std::size_t to = random.index(n - length);
    if (to >= from) ++to;
    if (from < to) std::rotate(place(from), place(from + length), place(to + length));
    if (from > to) std::rotate(place(to), place(from), place(from + length));
    first = std::min(from, to);
    last = std::max(from, to) + length - 1;
  } else if (kind < 7) {
    std::swap(row[first], row[last]);
    if (first > last) std::swap(first, last);
  } else {
    if (first > last) std::swap(first, last);
    std::reverse(place(first), place(last) + 1);
  }
  const std::vector<Int> old = sketch.row(unit, day);
  const Int start = sketch.set_at(old[first]);
  const Int end = sketch.until(old[last]);
  sketch.order_row(unit, day, row);
  switch (random.below(4)) {
    case 0:
      lay(sketch, row, first, last, start);
      break;
    case 1:
      let_go(sketch, row, first, n - 1);
      break;
    case 2:
      lay_back(sketch, row, first, last, end);
      break;
    default:
      let_go(sketch, row, first, last);
  }
  return true;
}

/// A scene to another day, or to another place of its own.
bool change_day(Sketch& sketch, Random& random) {
  const auto& ground = sketch.ground();
  if (ground.days.size() < 2) return false;
  const Int scene = draw_scene(sketch, random);
  const Int from = sketch.day_of(scene);
  const auto day = static_cast<Int>(random.index(ground.days.size()));
  if (day == from || ground.scenes[at(scene)].windows[at(day)].empty()) return false;
  const Int unit = ground.scenes[at(scene)].unit;
  std::vector<Int> old = sketch.row(unit, from);
  const auto found = std::find(old.begin(), old.end(), scene);
  const auto place = static_cast<std::size_t>(found - old.begin());
  old.erase(found);
  std::vector<Int> row = sketch.row(unit, day);
  const std::size_t to = random.index(row.size() + 1);
  row.insert(row.begin() + static_cast<std::ptrdiff_t>(to), scene);
  sketch.order_row(unit, from, old);
  sketch.order_row(unit, day, row);
  sketch.hold(scene, Sketch::kNone);
  if (random.chance(1, 2)) let_go(sketch, old, place, old.size());
  if (random.chance(1, 3) && to > 0) {  // those before it make room
    lay_back(sketch,
             row,
             0,
             to,
             to + 1 < row.size() ? sketch.set_at(row[to + 1]) : sketch.until(row[to - 1]));
  }
  return true;
}

/// A run of scenes earlier or later.
bool shift(Sketch& sketch, Random& random) {
  const Int any = draw_scene(sketch, random);
  const auto& row = sketch.row(sketch.ground().scenes[at(any)].unit, sketch.day_of(any));
  const std::size_t from = random.index(row.size());
  const std::size_t most = row.size() - from;
  const std::size_t length = random.chance(1, 2) ? 1 + random.index(most) : most;
  Int by = random.chance(1, 2) ? random.between(-12, 12) * 5 : random.between(-6, 6);
  if (by == 0) by = 5;
  for (std::size_t k = from; k < from + length; ++k) {
    sketch.hold(row[k], sketch.shot_at(row[k]) + by);
  }
  return true;
}

/// One scene, or what follows, as early as can be, or close before what follows.
bool close(Sketch& sketch, Random& random) {
  const Int any = draw_scene(sketch, random);
  const auto row = sketch.row(sketch.ground().scenes[at(any)].unit, sketch.day_of(any));
  const std::size_t k = random.index(row.size());
  if (random.chance(1, 2)) {
    let_go(sketch, row, k, random.chance(1, 2) ? k : row.size() - 1);
    return true;
  }
  if (k + 1 == row.size()) return false;
  const std::size_t from = random.index(k + 1);
  lay_back(sketch, row, from, k, sketch.set_at(row[k + 1]));
  return true;
}

const std::vector<PersonId>& candidates_of(const Sketch& sketch, Int head) {
  const auto& spec = sketch.ground().heads[at(head)];
  return sketch.ground().problem.slots.of(SceneId(at(spec.scene)))[at(spec.slot)].candidates;
}

bool may(const Sketch& sketch, Int head, Int person) {
  return sketch.ground().may(head, person);
}

Int draw_head(const Sketch& sketch, Random& random) {
  const Int scene = draw_scene(sketch, random);
  const auto& spec = sketch.ground().scenes[at(scene)];
  if (spec.heads == 0) return Sketch::kNone;
  return spec.first_head + random.between(0, spec.heads - 1);
}

/// Somebody else in one place; who stands elsewhere in that scene makes room there for whoever was
/// in it, or for a third.
bool replace(Sketch& sketch, Random& random) {
  const auto& ground = sketch.ground();
  const Int head = draw_head(sketch, random);
  if (head == Sketch::kNone || ground.heads[at(head)].role >= 0) return false;
  const auto& candidates = candidates_of(sketch, head);
  if (candidates.empty()) return false;
  const auto who = static_cast<Int>(candidates[random.index(candidates.size())].index());
  const Int scene = ground.heads[at(head)].scene;
  const Int old = sketch.person_of(head);
  if (who == old) return false;
  for (const Int other : sketch.heads_of(who)) {
    if (ground.heads[at(other)].scene != scene) continue;
    if (ground.heads[at(other)].role >= 0) return false;
    Int third = old;
    if (old == Sketch::kNone || !may(sketch, other, old) || random.chance(1, 4)) {
      const auto& others = candidates_of(sketch, other);
      third = static_cast<Int>(others[random.index(others.size())].index());
      if (sketch.in_scene(third, scene)) return false;
    }
    sketch.put(other, third);
    break;
  }
  sketch.put(head, who);
  return true;
}

/// Whoever is in one scene is in another too, instead of somebody there.
bool follow(Sketch& sketch, Random& random) {
  const Int head = draw_head(sketch, random);
  const Int from = draw_head(sketch, random);
  if (head == Sketch::kNone || from == Sketch::kNone) return false;
  if (sketch.ground().heads[at(head)].role >= 0) return false;
  const Int who = sketch.person_of(from);
  const Int scene = sketch.ground().heads[at(head)].scene;
  if (who == Sketch::kNone ||
      sketch.day_of(scene) != sketch.day_of(sketch.ground().heads[at(from)].scene))
    return false;
  if (sketch.in_scene(who, scene) || !may(sketch, head, who)) return false;
  sketch.put(head, who);
  return true;
}

/// Two people change places, in one scene each, or in all of a day that both may.
bool exchange(Sketch& sketch, Random& random) {
  const Int a = draw_head(sketch, random);
  if (a == Sketch::kNone) return false;
  const auto& candidates = candidates_of(sketch, a);
  const Int p = sketch.person_of(a);
  if (p == Sketch::kNone || candidates.empty() || sketch.ground().heads[at(a)].role >= 0)
    return false;
  const auto q = static_cast<Int>(candidates[random.index(candidates.size())].index());
  if (p == q) return false;
  const Int day = sketch.day_of(sketch.ground().heads[at(a)].scene);
  const bool tail = random.chance(1, 2);  // from that scene on
  const Int since = tail ? sketch.shot_at(sketch.ground().heads[at(a)].scene) : -100000;
  std::vector<Int> of_p, of_q;
  const auto take = [&](Int person, Int other, std::vector<Int>& heads) {
    for (const Int head : sketch.heads_of(person)) {
      const auto& spec = sketch.ground().heads[at(head)];
      if (spec.role >= 0 || sketch.day_of(spec.scene) != day || sketch.shot_at(spec.scene) < since)
        continue;
      if (may(sketch, head, other)) heads.push_back(head);
    }
  };
  take(p, q, of_p);
  take(q, p, of_q);
  // nobody twice in a scene: what the other keeps
  const auto clear = [&](std::vector<Int>& heads, Int other, const std::vector<Int>& given) {
    std::erase_if(heads, [&](Int head) {
      const Int scene = sketch.ground().heads[at(head)].scene;
      for (const Int kept : sketch.heads_of(other)) {
        if (sketch.ground().heads[at(kept)].scene == scene &&
            std::find(given.begin(), given.end(), kept) == given.end()) {
          return true;
        }
      }
      return false;
    });
  };
  for (int k = 0; k < 2; ++k) {
    clear(of_p, q, of_q);
    clear(of_q, p, of_p);
  }
  if (of_p.empty() && of_q.empty()) return false;
  for (const Int head : of_p) sketch.put(head, q);
  for (const Int head : of_q) sketch.put(head, p);
  return true;
}

/// Somebody else plays a part.
bool recast(Sketch& sketch, Random& random) {
  const auto& ground = sketch.ground();
  if (ground.part_heads.empty()) return false;
  const std::size_t role = random.index(ground.part_heads.size());
  const auto& candidates = ground.problem.slots.for_some_of_part(RoleId(role));
  if (ground.part_heads[role].empty() || candidates.size() < 2) return false;
  const auto who = static_cast<Int>(candidates[random.index(candidates.size())].index());
  for (const Int head : ground.part_heads[role]) {
    if (sketch.day_of(ground.heads[at(head)].scene) == Sketch::kNone) continue;
    if (sketch.person_of(head) == who || !may(sketch, head, who)) return false;
  }
  for (const Int head : ground.part_heads[role]) {
    const Int scene = ground.heads[at(head)].scene;
    if (sketch.day_of(scene) == Sketch::kNone) continue;
    const Int old = sketch.person_of(head);
    // whoever had it takes the place that the other leaves
    Int left = Sketch::kNone;
    for (const Int other : sketch.heads_of(who)) {
      if (ground.heads[at(other)].scene == scene) left = other;
    }
    if (left != Sketch::kNone) {
      if (ground.heads[at(left)].role >= 0) return false;
      sketch.put(left, old != Sketch::kNone && may(sketch, left, old) ? old : Sketch::kNone);
    }
    sketch.put(head, who);
  }
  return true;
}

bool change_help(Sketch& sketch, Random& random) {
  if (sketch.batches().empty()) return false;
  const std::size_t b = random.index(sketch.batches().size());
  const auto& batch = sketch.batches()[b];
  if (batch.count == 0 || batch.helpers.empty() || batch.staff.size() < 2) return false;
  const std::size_t place = random.index(batch.helpers.size());
  const Int who = batch.staff[random.index(batch.staff.size())];
  if (batch.helpers[place] == who) return false;
  const auto found = std::find(batch.helpers.begin(), batch.helpers.end(), who);
  const Int old = batch.helpers[place];
  if (found != batch.helpers.end()) {
    const auto other = static_cast<std::size_t>(found - batch.helpers.begin());
    // as many as there are: only in which order they are asked
    sketch.help(b, other, old);
    sketch.help(b, place, who);
    return true;
  }
  sketch.help(b, place, who);
  return true;
}

bool shift_meal(Sketch& sketch, Random& random) {
  const auto& ground = sketch.ground();
  const std::size_t day = random.index(ground.days.size());
  const auto& meals = ground.days[day].meals;
  if (meals.empty()) return false;
  const std::size_t m = random.index(meals.size());
  const auto& meal = meals[m];
  const Int spare = meal.between.until - meal.between.from - meal.minutes;
  if (!meal.together || spare < 0) return false;
  const auto d = static_cast<Int>(day);
  Int when = Sketch::kNone;
  if (!random.chance(1, 8)) {
    when = meal.between.from + std::min(spare, round_to_five(random.between(0, spare)));
    const Int now = sketch.meal_at(d, static_cast<Int>(m));
    if (now != Sketch::kNone && random.chance(1, 2)) {
      when =
          std::clamp(now + random.between(-15, 15), meal.between.from, meal.between.from + spare);
    }
  }
  if (when == sketch.meal_at(d, static_cast<Int>(m))) return false;
  sketch.eat(d, static_cast<Int>(m), when);
  return true;
}

}  // namespace

bool change_sketch(Sketch& sketch, Random& random) {
  if (sketch.filmed().empty()) return false;
  const std::uint32_t drawn = random.below(100);
  if (drawn < 14) return reorder(sketch, random);
  if (drawn < 20) return change_day(sketch, random);
  if (drawn < 32) return shift(sketch, random);
  if (drawn < 38) return close(sketch, random);
  if (drawn < 54) return replace(sketch, random);
  if (drawn < 72) return follow(sketch, random);
  if (drawn < 84) return exchange(sketch, random);
  if (drawn < 88) return recast(sketch, random);
  if (drawn < 96) return change_help(sketch, random);
  return shift_meal(sketch, random);
}

}  // namespace gp
