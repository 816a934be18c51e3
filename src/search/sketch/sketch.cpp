#include "search/sketch/sketch.h"

#include <algorithm>
#include <cassert>
#include <map>
#include <tuple>

namespace gp {
namespace {

using Int = SketchGround::Int;

/// What a scene out of its hours costs, in thousandths of a minute.
constexpr std::int64_t kOutOfHours = 3'000'000;
/// How often those who help are looked at again because there are more or fewer to help.
constexpr int kMostPasses = 8;
/// Each who wears what there is no more of.
constexpr std::int64_t kTooMany = 300'000;
/// Each who should wait at the chairs and has no time to.
constexpr std::int64_t kHurried = 100'000;
/// A scene before one that it must come after.
constexpr std::int64_t kOutOfOrder = 2'000'000;

}  // namespace

Sketch::Sketch(const SketchGround& ground)
    : ground_(ground),
      scenes_(ground.scenes.size()),
      rows_(ground.problem.production.units.size() * ground.days.size()),
      person_of_(ground.heads.size(), kNone),
      heads_of_(ground.weight.size()),
      helps_in_(ground.weight.size()),
      batches_of_(ground.scenes.size()),
      stays_(ground.weight.size() * ground.days.size()),
      row_dirty_(rows_.size(), 0),
      stay_dirty_(stays_.size(), 0) {
  for (const auto& day : ground.days) meals_.emplace_back(day.meals.size(), kNone);
  find_batches();
  hurried_of_.assign(batches_.size(), kNone);
  for (std::size_t b = 0; b < hurried_of_.size(); ++b) {
    if (batches_[b].off) continue;
    hurried_of_[b] = static_cast<std::int32_t>(batches_.size());
    Batch hurried;
    hurried.scene = batches_[b].scene;
    hurried.hurried = true;
    hurried.places = batches_[b].places;
    batches_.push_back(hurried);
  }
  find_wearers();
}

void Sketch::find_wearers() {
  const std::size_t looks = ground_.wearers.size();
  wearers_of_.assign(ground_.scenes.size() * looks, kNone);
  for (std::size_t look = 0; look < looks; ++look) {
    if (ground_.wearers[look] >= static_cast<Int>(ground_.weight.size())) continue;
    for (std::size_t scene = 0; scene < ground_.scenes.size(); ++scene) {
      Batch batch;
      batch.scene = static_cast<Int>(scene);
      batch.wearers = true;
      batch.places = ground_.wearers[look];
      wearers_of_[scene * looks + look] = static_cast<std::int32_t>(batches_.size());
      batches_.push_back(batch);
    }
  }
}

void Sketch::find_batches() {
  std::map<std::tuple<Int, Int, bool>, std::int32_t> known;
  batch_of_.assign(ground_.heads.size(), {kNone, kNone});
  if (ground_.days.empty()) return;
  for (std::size_t h = 0; h < ground_.heads.size(); ++h) {
    const auto& head = ground_.heads[h];
    if (head.look < 0) continue;
    for (const bool off : {false, true}) {
      const auto& chain =
          off ? ground_.days[0].off[at(head.look)] : ground_.days[0].on[at(head.look)];
      if (chain.station < 0) continue;
      const auto [found, fresh] = known.try_emplace({head.scene, chain.station, off},
                                                    static_cast<std::int32_t>(batches_.size()));
      if (fresh) {
        Batch batch;
        batch.scene = head.scene;
        batch.station = chain.station;
        batch.off = off;
        batch.places = chain.places;
        batches_of_[at(head.scene)].push_back(found->second);
        batches_.push_back(batch);
      }
      Batch& batch = batches_[static_cast<std::size_t>(found->second)];
      batch.step = std::max(batch.step, chain.step);
      batch.wait = std::max(batch.wait, chain.wait);
      if (batch.staff.empty()) batch.staff = chain.staff;
      batch_of_[h][off ? 1 : 0] = found->second;
    }
  }
  for (std::size_t b = 0; b < batches_.size(); ++b) {
    Batch& batch = batches_[b];
    if (batch.staff.empty()) continue;
    batch.helpers = batch.staff;
    batch.helpers.resize(std::min(batch.staff.size(), at(batch.places)));
    for (const Int who : batch.helpers) helps_in_[at(who)].push_back(static_cast<std::int32_t>(b));
  }
}

bool Sketch::in_scene(Int person, Int scene) const {
  const auto& heads = heads_of_[at(person)];
  return std::any_of(
      heads.begin(), heads.end(), [&](Int head) { return ground_.heads[at(head)].scene == scene; });
}

void Sketch::mark(Int person, Int day) {
  const std::size_t stay = stay_number(person, day);
  if (stay_dirty_[stay] != 0) return;
  stay_dirty_[stay] = 1;
  dirty_stays_.push_back(stay);
}

/// Everybody whose day has to do with the scene.
void Sketch::mark_scene(Int scene, Int day) {
  const auto& spec = ground_.scenes[at(scene)];
  for (Int h = spec.first_head; h < spec.first_head + spec.heads; ++h) {
    if (person_of_[at(h)] != kNone) mark(person_of_[at(h)], day);
  }
  for (const std::int32_t b : batches_of_[at(scene)]) {
    const Batch& batch = batches_[at(b)];
    for (Int k = 0; k < working(batch); ++k) mark(batch.helpers[at(k)], day);
  }
}

void Sketch::mark_row(std::size_t row) {
  if (row_dirty_[row] != 0) return;
  row_dirty_[row] = 1;
  dirty_rows_.push_back(row);
}

void Sketch::swap_head(Int head, Int person) {
  const Int old = person_of_[at(head)];
  if (old != kNone) {
    auto& heads = heads_of_[at(old)];
    heads.erase(std::find(heads.begin(), heads.end(), head));
  }
  if (person != kNone) heads_of_[at(person)].push_back(head);
  person_of_[at(head)] = person;
}

void Sketch::put(Int head, Int person) {
  const Int old = person_of_[at(head)];
  if (old == person) return;
  const Int day = day_of(ground_.heads[at(head)].scene);
  journal_.push_back({Kind::head, at(head), 0, old});
  if (old == kNone && day != kNone) cost_ -= kNobody;
  if (person == kNone && day != kNone) cost_ += kNobody;
  swap_head(head, person);
  if (day == kNone) return;
  if (old != kNone) mark(old, day);
  if (person != kNone) mark(person, day);
}

void Sketch::order_row(Int unit, Int day, const std::vector<Int>& scenes) {
  const std::size_t row = row_number(unit, day);
  journal_.push_back({Kind::row, row});
  old_rows_.push_back(rows_[row]);
  rows_[row] = scenes;
  for (const Int scene : scenes) {
    if (day_of(scene) == day) continue;
    mark_scene(scene, day_of(scene));
    SceneState state = scenes_[at(scene)];
    state.day = day;
    state.set_at = state.shot_at = kNone;  // to be seen as changed
    set_scene(scene, state);
  }
  mark_row(row);
}

void Sketch::set_scene(Int scene, const SceneState& state) {
  journal_.push_back({Kind::scene, at(scene)});
  old_scenes_.push_back(scenes_[at(scene)]);
  cost_ += state.bad - scenes_[at(scene)].bad;
  scenes_[at(scene)] = state;
}

void Sketch::hold(Int scene, Int moment) {
  SceneState state = scenes_[at(scene)];
  state.hold = moment;
  set_scene(scene, state);
  mark_row(row_number(ground_.scenes[at(scene)].unit, state.day));
}

void Sketch::eat(Int day, Int meal, Int moment) {
  journal_.push_back({Kind::meal, at(day), at(meal), meals_[at(day)][at(meal)]});
  meals_[at(day)][at(meal)] = moment;
  for (std::size_t unit = 0; unit < rows_.size() / ground_.days.size(); ++unit) {
    mark_row(row_number(static_cast<Int>(unit), day));
  }
  for (std::size_t who = 0; who < ground_.weight.size(); ++who) {
    if (!heads_of_[who].empty() || !helps_in_[who].empty()) mark(static_cast<Int>(who), day);
  }
}

void Sketch::swap_helper(std::size_t batch, std::size_t place, Int person) {
  Int& helper = batches_[batch].helpers[place];
  const auto number = static_cast<std::int32_t>(batch);
  auto& old = helps_in_[at(helper)];
  old.erase(std::find(old.begin(), old.end(), number));
  helps_in_[at(person)].push_back(number);
  helper = person;
}

void Sketch::help(std::size_t batch, std::size_t place, Int person) {
  const Int old = batches_[batch].helpers[place];
  journal_.push_back({Kind::helper, batch, place, old});
  swap_helper(batch, place, person);
  const Int day = day_of(batches_[batch].scene);
  if (day == kNone) return;
  mark(old, day);
  mark(person, day);
}

/// One scene of a unit's day after the other, each as early as it can be.
void Sketch::time_row(std::size_t row) {
  const auto day = static_cast<Int>(row % ground_.days.size());
  const auto& frame = ground_.days[at(day)];
  Int before = kNone;
  for (const Int scene : rows_[row]) {
    const auto& spec = ground_.scenes[at(scene)];
    const bool same_set =
        before != kNone && spec.set >= 0 && ground_.scenes[at(before)].set == spec.set;
    const Int set_up = same_set ? spec.reset_minutes : spec.set_minutes;
    SceneState state = scenes_[at(scene)];
    Int shot = std::max(frame.first_shot, state.hold);
    if (before != kNone) {
      const Int way = ground_.way(ground_.scenes[at(before)].place[at(day)], spec.place[at(day)]);
      shot = std::max(shot, until(before) + way + set_up);
    }
    for (const Int other : spec.after) {
      if (day_of(other) == day) shot = std::max(shot, until(other));
    }
    state.bad = kOutOfHours;
    for (const auto& window : spec.windows[at(day)]) {
      Int here = std::max(shot, window.from);
      for (bool moved = true; moved;) {
        moved = false;
        for (std::size_t m = 0; m < frame.meals.size(); ++m) {
          const Int from = meals_[at(day)][m];
          const Int to = from + frame.meals[m].minutes;
          if (from == kNone || here - set_up >= to || here + spec.shoot_minutes <= from) continue;
          here = to + set_up;
          moved = true;
        }
      }
      if (here + spec.shoot_minutes > window.until) continue;
      shot = here;
      state.bad = 0;
      break;
    }
    state.shot_at = shot;
    state.set_at = shot - set_up;
    if (state != scenes_[at(scene)]) {
      set_scene(scene, state);
      mark_scene(scene, day);
    }
    before = scene;
  }
}

std::int64_t Sketch::order_cost() const {
  std::int64_t sum = 0;
  for (const Int scene : filmed_) {
    for (const Int other : ground_.scenes[at(scene)].after) {
      if (day_of(other) == kNone) continue;
      if (day_of(other) < day_of(scene)) continue;
      if (day_of(other) > day_of(scene) || until(other) > shot_at(scene)) sum += kOutOfOrder;
    }
  }
  return sum;
}

/// So many at once wait for nobody, as many a step's length, and so on.
std::int64_t Sketch::waiting(const Batch& batch) const {
  if (batch.hurried) return kHurried * std::max(0, batch.count - batch.places);
  if (batch.wearers) return kTooMany * std::max(0, batch.count - batch.places);
  const std::int64_t turns = batch.count / batch.places;
  const std::int64_t rest = batch.count % batch.places;
  return 1000 * batch.step * (batch.places * turns * (turns - 1) / 2 + rest * turns);
}

Int Sketch::working(const Batch& batch) const {
  return std::min(batch.count, static_cast<Int>(batch.helpers.size()));
}

void Sketch::count_in(std::int16_t b, Int by) {
  Batch& batch = batches_[static_cast<std::size_t>(b)];
  journal_.push_back({Kind::batch, static_cast<std::size_t>(b)});
  old_batches_.emplace_back(batch.count, batch.cost);
  const Int before = batch.count;
  batch.count += by;
  cost_ -= batch.cost;
  batch.cost = waiting(batch);
  cost_ += batch.cost;
  if (batch.helpers.empty()) return;
  // whoever helps is kept by how many there are
  const auto places = static_cast<Int>(batch.helpers.size());
  const bool same = before >= places && batch.count >= places &&
                    (before + places - 1) / places == (batch.count + places - 1) / places;
  if (!same) changed_batches_.push_back(b);
}

void Sketch::renew_stays() {
  for (std::size_t i = 0; i < dirty_stays_.size(); ++i) {
    const std::size_t number = dirty_stays_[i];
    stay_dirty_[number] = 0;
    Stay& stay = stays_[number];
    const Stay now = price(static_cast<Int>(number / ground_.days.size()),
                           static_cast<Int>(number % ground_.days.size()));
    journal_.push_back({Kind::stay, number});
    old_stays_.push_back(stay);
    cost_ += now.cost - stay.cost;
    const bool same = now.batches == stay.batches && now.in == stay.in;
    if (!same) {
      for (Int k = 0; k < stay.batches; ++k) count_in(stay.in[at(k)], -1);
      for (Int k = 0; k < now.batches; ++k) count_in(now.in[at(k)], 1);
    }
    stay = now;
  }
  dirty_stays_.clear();
}

std::int64_t Sketch::settle() {
  changed_batches_.clear();
  const bool rows = !dirty_rows_.empty();
  for (std::size_t i = 0; i < dirty_rows_.size(); ++i) {
    row_dirty_[dirty_rows_[i]] = 0;
    time_row(dirty_rows_[i]);
  }
  dirty_rows_.clear();
  if (rows) {
    const std::int64_t order = order_cost();
    cost_ += order - order_cost_;
    order_cost_ = order;
  }
  renew_stays();
  for (int pass = 0; !changed_batches_.empty() && pass < kMostPasses; ++pass) {
    for (const std::int16_t b : changed_batches_) {
      const Batch& batch = batches_[static_cast<std::size_t>(b)];
      for (const Int who : batch.helpers) mark(who, day_of(batch.scene));
    }
    changed_batches_.clear();
    renew_stays();
  }
  return cost_;
}

void Sketch::price_anew() {
  for (Batch& batch : batches_) {
    batch.count = 0;
    batch.cost = 0;
  }
  std::fill(stays_.begin(), stays_.end(), Stay{});
  cost_ = order_cost_;
  for (const Int scene : filmed_) {
    const auto& spec = ground_.scenes[at(scene)];
    cost_ += scenes_[at(scene)].bad;
    for (Int head = spec.first_head; head < spec.first_head + spec.heads; ++head) {
      if (person_of(head) == kNone) cost_ += kNobody;
    }
  }
  for (std::size_t who = 0; who < heads_of_.size(); ++who) {
    for (std::size_t day = 0; day < ground_.days.size(); ++day) {
      mark(static_cast<Int>(who), static_cast<Int>(day));
    }
  }
}

std::int64_t Sketch::recounted() const {
  Sketch anew = *this;
  anew.order_cost_ = order_cost();
  anew.price_anew();
  anew.settle();
  return anew.cost_ - anew.worn_out();
}

std::int64_t Sketch::worn_out() const {
  std::int64_t sum = 0;
  for (const Batch& batch : batches_) {
    if (batch.wearers) sum += batch.cost;
  }
  return sum;
}

void Sketch::keep() {
  journal_.clear();
  old_rows_.clear();
  old_scenes_.clear();
  old_stays_.clear();
  old_batches_.clear();
  old_cost_ = cost_;
  old_order_cost_ = order_cost_;
}

void Sketch::undo() {
  while (!journal_.empty()) {
    const Change change = journal_.back();
    journal_.pop_back();
    switch (change.kind) {
      case Kind::head:
        swap_head(static_cast<Int>(change.index), change.value);
        break;
      case Kind::row:
        rows_[change.index].swap(old_rows_.back());
        old_rows_.pop_back();
        break;
      case Kind::scene:
        scenes_[change.index] = old_scenes_.back();
        old_scenes_.pop_back();
        break;
      case Kind::meal:
        meals_[change.index][change.place] = change.value;
        break;
      case Kind::helper:
        swap_helper(change.index, change.place, change.value);
        break;
      case Kind::stay:
        stays_[change.index] = old_stays_.back();
        old_stays_.pop_back();
        break;
      case Kind::batch:
        std::tie(batches_[change.index].count, batches_[change.index].cost) = old_batches_.back();
        old_batches_.pop_back();
        break;
    }
  }
  cost_ = old_cost_;
  order_cost_ = old_order_cost_;
}

}  // namespace gp
