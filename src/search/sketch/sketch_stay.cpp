// What one person's day costs, as pencilled.
#include "search/sketch/sketch.h"

#include <algorithm>

namespace gp {
namespace {

using Int = SketchGround::Int;

/// What does not fit costs so much at once, and so much a minute that is missing, in thousandths.
constexpr std::int64_t kUnfit = 100'000;
constexpr std::int64_t kUnfitMinute = 10'000;
/// Somebody who is there all through a meal and cannot eat.
constexpr std::int64_t kHungry = 150'000;

Int floor_to(Int value, Int unit) {
  const Int rest = value % unit;
  return value - (rest < 0 ? rest + unit : rest);
}

}  // namespace

SketchGround::Window Sketch::working_hours(const Batch& batch) const {
  const Int day = day_of(batch.scene);
  const Int work = std::max(1, working(batch));
  const Int length = batch.step * ((batch.count + work - 1) / work);
  const Int station = ground_.station_place[at(day)][at(batch.station)];
  const Int way = ground_.way(station, ground_.scenes[at(batch.scene)].place[at(day)]);
  if (batch.off) return {until(batch.scene) + way, until(batch.scene) + way + length};
  const Int end = shot_at(batch.scene) - std::max(way, batch.wait);
  return {end - length, end};
}

/// Into engagements_, in order of time.
void Sketch::gather(Int person, Int day) {
  engagements_.clear();
  for (const Int head : heads_of_[at(person)]) {
    const auto& spec = ground_.heads[at(head)];
    const SceneState& scene = scenes_[at(spec.scene)];
    if (scene.day != day) continue;
    const auto& what = ground_.scenes[at(spec.scene)];
    engagements_.push_back({spec.crew ? scene.set_at : scene.shot_at,
                            scene.shot_at + what.shoot_minutes,
                            what.place[at(day)],
                            spec.look,
                            head,
                            kNone});
  }
  for (const std::int32_t b : helps_in_[at(person)]) {
    const Batch& batch = batches_[at(b)];
    if (batch.count == 0 || day_of(batch.scene) != day) continue;
    const Int work = working(batch);
    Int place = 0;
    while (batch.helpers[at(place)] != person) ++place;
    if (place >= work) continue;
    const auto hours = working_hours(batch);
    Engagement row;
    row.start = hours.from;
    row.end = hours.until;
    row.place = ground_.station_place[at(day)][at(batch.station)];
    row.batch = b;
    engagements_.push_back(row);
  }
  // few, and most of them in order
  const auto later = [](const Engagement& a, const Engagement& b) {
    if (a.start != b.start) return a.start > b.start;
    return a.head != b.head ? a.head > b.head : a.batch > b.batch;
  };
  for (std::size_t i = 1; i < engagements_.size(); ++i) {
    for (std::size_t k = i; k > 0 && later(engagements_[k - 1], engagements_[k]); --k) {
      std::swap(engagements_[k - 1], engagements_[k]);
    }
  }
  if (helps_in_[at(person)].empty()) return;
  // whoever helps gets the station ready first
  for (std::size_t i = 0; i < engagements_.size(); ++i) {
    Engagement& row = engagements_[i];
    if (row.batch == kNone) continue;
    const Int station = batches_[at(row.batch)].station;
    const auto before = engagements_.begin() + static_cast<std::ptrdiff_t>(i);
    const bool again = std::any_of(engagements_.begin(), before, [&](const Engagement& other) {
      return other.batch != kNone && batches_[at(other.batch)].station == station;
    });
    if (!again) row.start -= ground_.set_up_minutes[at(station)];
  }
}

Sketch::Stay Sketch::price(Int person, Int day) {
  Stay stay;
  gather(person, day);
  work_ += engagements_.size();
  if (engagements_.empty()) return stay;
  const auto& frame = ground_.days[at(day)];
  const auto& meals = meals_[at(day)];
  std::int64_t unfit = 0;
  const auto join = [&](Int head, bool off) {
    const std::int32_t batch = batch_of_[at(head)][off ? 1 : 0];
    if (batch == kNone || at(stay.batches) == stay.in.size()) return;
    stay.in[at(stay.batches++)] = static_cast<std::int16_t>(batch);
  };
  const auto eaten = [&](Int from, Int to) {
    Int sum = 0;
    for (std::size_t m = 0; m < meals.size(); ++m) {
      if (meals[m] == kNone) continue;
      sum +=
          std::max(0, std::min(to, meals[m] + frame.meals[m].minutes) - std::max(from, meals[m]));
    }
    return sum;
  };
  // from a place to a scene in a look
  const auto dress = [&](Int from, const Engagement& to) {
    const auto& chain = frame.on[at(to.look)];
    if (chain.station < 0) return ground_.way(from, to.place);
    return ground_.way(from, chain.first) + chain.minutes +
           std::max(ground_.way(chain.last, to.place), chain.wait);
  };
  // a look there are only so many of, in whatever is filmed meanwhile
  const auto wear = [&](Int look, Int from, Int to) {
    if (ground_.wearers[at(look)] >= static_cast<Int>(ground_.weight.size())) return;
    for (const Int scene : filmed_) {
      const std::int32_t b = wearers_of_[at(scene) * ground_.wearers.size() + at(look)];
      if (b == kNone || day_of(scene) != day || shot_at(scene) < from || shot_at(scene) >= to)
        continue;
      if (at(stay.batches) == stay.in.size()) return;
      stay.in[at(stay.batches++)] = static_cast<std::int16_t>(b);
    }
  };
  // who has no time to wait must be among the last at the chairs
  const auto hurry = [&](Int head, Int spare) {
    const std::int32_t batch = batch_of_[at(head)][0];
    if (batch == kNone || spare >= batches_[at(batch)].step) return;
    if (at(stay.batches) == stay.in.size()) return;
    stay.in[at(stay.batches++)] = static_cast<std::int16_t>(hurried_of_[at(batch)]);
  };
  Int worn = SketchGround::kNoLook;
  Int worn_from = 0;
  Int worn_head = kNone;
  Int call = 0, end = 0, place = frame.base;
  Int fed = 0;  // meals in turns that find a time, as bits
  for (std::size_t i = 0; i < engagements_.size(); ++i) {
    const Engagement& row = engagements_[i];
    const bool changes = row.look >= 0 && row.look != worn;
    if (i == 0) {
      const Int way = changes ? dress(place, row) : ground_.way(place, row.place);
      Int from = row.start - ground_.sign_in - way;
      from -= eaten(from, row.start);
      call = floor_to(from, ground_.round_to);
    } else {
      Int needed = 0;
      // a look that is worn again is kept on
      bool again = false;
      for (std::size_t k = i; k < engagements_.size() && worn >= 0; ++k) {
        if (engagements_[k].look == worn) again = true;
        if (engagements_[k].look != SketchGround::kAny) break;
      }
      const Int gap = row.start - end;
      if (worn >= 0 && !again) {
        const auto& chain = frame.off[at(worn)];
        const Int first = chain.station < 0 ? place : chain.first;
        const Int last = chain.station < 0 ? place : chain.last;
        Int off = ground_.way(place, first) + chain.minutes;
        off += changes ? chain.wait + dress(last, row)
                       : std::max(chain.wait, ground_.way(last, row.place));
        const bool must = row.look != SketchGround::kAny;
        if (must || off <= gap - eaten(end, row.start)) {
          needed = off;
          if (worn_head != kNone) join(worn_head, true);
          wear(worn, worn_from, end + off);
          worn = SketchGround::kNoLook;
          worn_head = kNone;
        } else {
          needed = ground_.way(place, row.place);
        }
      } else if (changes) {
        needed = dress(place, row);
      } else {
        needed = ground_.way(place, row.place);
      }
      const Engagement& before = engagements_[i - 1];
      const bool own_batch = row.head != kNone && before.batch != kNone &&
                             batches_[at(before.batch)].scene == ground_.heads[at(row.head)].scene;
      const bool batch_own = row.batch != kNone && before.head != kNone &&
                             batches_[at(row.batch)].scene == ground_.heads[at(before.head)].scene;
      if (own_batch || batch_own) {
        // who paints and is painted for one scene comes the earlier, or leaves the later
        if (own_batch && changes && i == 1) call -= frame.on[at(row.look)].minutes;
      } else {
        const Int room = gap - eaten(end, row.start);
        if (changes && room >= needed) hurry(row.head, room - needed);
        if (room < needed) unfit += kUnfit + kUnfitMinute * (needed - room);
        for (std::size_t m = 0; m < frame.meals.size(); ++m) {
          const auto& meal = frame.meals[m];
          if (meal.together || room - needed < meal.minutes) continue;
          const Int from = std::max(end, meal.between.from);
          if (std::min(row.start, meal.between.until) - from >= meal.minutes) fed |= 1 << m;
        }
      }
    }
    if (row.look >= 0 && row.look != worn) {
      join(row.head, false);
      worn = row.look;
      worn_from = row.start - frame.on[at(worn)].minutes;
    }
    if (row.look >= 0) worn_head = row.head;
    if (row.look == SketchGround::kNoLook) worn = SketchGround::kNoLook;
    if (row.end >= end) {
      end = row.end;
      place = row.place;
    }
  }
  if (worn >= 0) {
    wear(worn, worn_from, end + 1);
    const auto& chain = frame.off[at(worn)];
    if (chain.station >= 0) {
      const Int from = end;
      end += ground_.way(place, chain.first) + chain.minutes;
      end += eaten(from, end);
      if (worn_head != kNone) join(worn_head, true);
    }
  }
  Int short_by = -1;
  for (const auto& free : frame.free[at(person)]) {
    const Int here = std::max(0, free.from - call) + std::max(0, end - free.until);
    if (short_by < 0 || here < short_by) short_by = here;
  }
  if (short_by < 0) unfit += 20 * kUnfit;
  if (short_by > 0) unfit += kUnfit + kUnfitMinute * short_by;
  for (std::size_t m = 0; m < frame.meals.size(); ++m) {
    const auto& meal = frame.meals[m];
    if (call > meal.between.from || end < meal.between.until) continue;
    const bool eats = meal.together ? meals[m] != kNone : ((fed >> m) & 1) != 0;
    if (!eats) unfit += kHungry;
  }
  stay.cost = ground_.weight[at(person)] * (end - call) + unfit;
  return stay;
}

}  // namespace gp
