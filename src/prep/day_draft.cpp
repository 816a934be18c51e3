#include "prep/day_draft.h"

#include <algorithm>
#include <cassert>

namespace gp {

DayDraft::DayDraft(const Production& production, const DayFrame& frame, const StaffLists& staff)
    : production_(production),
      frame_(frame),
      staff_(staff),
      ground_(production, frame),
      people_(production.people.size()),
      units_(production.units.size()) {
  for (const Station& station : production.stations) stations_.add(StationDay(station.places));
  for (const Item& item : production.items) items_.add(CountedUse(item.count));
  for (const MealFrame& meal : frame.meals) {
    seats_.push_back(meal.together ? CountedUse() : CountedUse(meal.seats));
  }
}

DayDraft::Mark DayDraft::mark() {
  ++epoch_;
  return journal_.size();
}

void DayDraft::rollback(Mark to) {
  while (journal_.size() > to) {
    const Change& change = journal_.back();
    switch (change.kind) {
      case Kind::person:
        std::swap(people_[PersonId(change.index)], saved_people_[--people_saved_]);
        break;
      case Kind::station:
        std::swap(stations_[StationId(change.index)], saved_stations_[--stations_saved_]);
        break;
      case Kind::unit:
        units_[UnitId(change.index)] = saved_units_.back();
        saved_units_.pop_back();
        break;
      case Kind::item:
        items_[ItemId(change.index)].add(change.span, -change.amount);
        break;
      case Kind::seats:
        seats_[change.index].add(change.span, -change.amount);
        break;
    }
    journal_.pop_back();
  }
  ++epoch_;
}

void DayDraft::begin(const std::vector<std::optional<Minute>>& together,
                     const Table<PersonId, int>* reluctance,
                     const HelpHints* hints) {
  rollback(0);
  hints_ = hints;
  reluctance_ = reluctance;
  for (auto& meal : ground_.together) meal.reset();
  for (std::size_t m = 0; m < frame_.meals.size(); ++m) {
    const MealFrame& meal = frame_.meals[m];
    if (!meal.together || !together[m]) continue;
    // Nobody eats two meals at once: a later one in the list makes way for those before it.
    Span span{*together[m], *together[m] + meal.minutes};
    if (const Span* other = ground_.meal_in(span))
      span = {other->until, other->until + meal.minutes};
    const bool in_the_way = ground_.meal_in(span) != nullptr;
    const bool nameable = frame_.nameable(span.from) && frame_.nameable(span.until);
    if (!in_the_way && nameable && meal.between.covers(span)) ground_.together[m] = span;
  }
}

namespace {

/// Copies into the next free place, whose old memory is used again: journals are written far more
/// often than anything else is done.
template <class Day>
void save(std::vector<Day>& saved, std::size_t& in_use, const Day& day) {
  if (in_use == saved.size()) {
    saved.push_back(day);
  } else {
    saved[in_use] = day;
  }
  ++in_use;
}

}  // namespace

PersonDay& DayDraft::touch(PersonId who) {
  PersonDay& day = people_[who];
  if (day.saved_at != epoch_) {
    journal_.push_back({Kind::person, who.index(), {}, 0});
    save(saved_people_, people_saved_, day);
    day.saved_at = epoch_;
  }
  return day;
}

StationDay& DayDraft::touch(StationId which) {
  StationDay& day = stations_[which];
  if (day.saved_at != epoch_) {
    journal_.push_back({Kind::station, which.index(), {}, 0});
    save(saved_stations_, stations_saved_, day);
    day.saved_at = epoch_;
  }
  return day;
}

void DayDraft::use_item(ItemId item, Span span, int amount) {
  items_[item].add(span, amount);
  journal_.push_back({Kind::item, item.index(), span, amount});
}

void DayDraft::use_seats(std::size_t meal, Span span, int amount) {
  seats_[meal].add(span, amount);
  journal_.push_back({Kind::seats, meal, span, amount});
}

Minutes DayDraft::set_up(SceneId scene) const {
  const Scene& spec = production_.scenes[scene];
  const UnitDay& unit = units_[spec.unit];
  const bool same_set =
      unit.last.valid() && !spec.set.empty() && production_.scenes[unit.last].set == spec.set;
  return same_set ? spec.reset_minutes : spec.set_minutes;
}

Minute DayDraft::unit_free(SceneId scene) const {
  const UnitDay& unit = units_[production_.scenes[scene].unit];
  if (!unit.last.valid()) return frame_.nobody_before;
  return unit.until + production_.way(frame_.scene_place[unit.last], frame_.scene_place[scene]);
}

std::optional<Minute> DayDraft::props_out(SceneId scene, Span set_to_end) const {
  std::optional<Minute> last;
  for (const Prop& prop : production_.scenes[scene].props) {
    const Minute full = items_[prop.item].last_full(set_to_end, prop.count);
    if (full != kAlwaysBefore && (!last || full > *last)) last = full;
  }
  return last;
}

void DayDraft::take_props(SceneId scene, Span set_to_end) {
  for (const Prop& prop : production_.scenes[scene].props) {
    use_item(prop.item, set_to_end, prop.count);
  }
}

void DayDraft::take_unit(SceneId scene, Span shot) {
  const UnitId unit = production_.scenes[scene].unit;
  journal_.push_back({Kind::unit, unit.index(), {}, 0});
  saved_units_.push_back(units_[unit]);
  units_[unit] = {scene, shot.until};
}

bool DayDraft::add_cast(PersonId who, const Role& role, SceneId scene, Span shot) {
  const Mark start = mark();
  snag_ = Snag::none;
  retry_at_ = shot.from + Minutes{1};
  if (try_cast(who, role, scene, shot) && settle_since(start)) return true;
  rollback(start);
  return false;
}

bool DayDraft::add_crew(PersonId who, SceneId scene, Span set_to_end) {
  const Mark start = mark();
  snag_ = Snag::none;
  retry_at_ = set_to_end.from + Minutes{1};
  const Engagement work{set_to_end, frame_.scene_place[scene], Doing::crew, scene.index()};
  if (engage_around_looks(who, work, kDayEnd) && settle_since(start)) return true;
  rollback(start);
  return false;
}

bool DayDraft::engage(PersonId who, const Engagement& engagement) {
  const auto& free = frame_.free[who];
  const Span when = engagement.when;
  if (latest_start(ground_,
                   people_[who],
                   free,
                   when.length(),
                   engagement.place,
                   when.from,
                   when.until,
                   work_) != when.from) {
    const auto next = earliest_start(ground_,
                                     people_[who],
                                     free,
                                     when.length(),
                                     engagement.place,
                                     when.from + Minutes{1},
                                     kDayEnd,
                                     work_);
    retry_at_ = next.value_or(kNever);
    return say(Snag::busy);
  }
  PersonDay& day = touch(who);
  if (day.engagements.empty()) {
    const auto call = frame_.call_for(when.from, ground_.lead(engagement.place));
    for (std::size_t w = 0; w < free.size(); ++w) {
      if (call && free[w].covers({*call, when.until})) day.window = static_cast<int>(w);
    }
  }
  const auto at = std::upper_bound(
      day.engagements.begin(),
      day.engagements.end(),
      engagement,
      [](const Engagement& a, const Engagement& b) {
        return a.when.from != b.when.from ? a.when.from < b.when.from : a.when.until < b.when.until;
      });
  day.engagements.insert(at, engagement);
  return true;
}

std::int64_t DayDraft::estimate(PersonId who, LookId look, Span span) const {
  const PersonDay& day = people_[who];
  const Block* last = day.blocks.empty() ? nullptr : &day.blocks.back();
  const auto off_minutes = [&](LookId id) { return work_minutes(production_.looks[id].off); };
  Minutes before{0};
  Minutes after{0};
  Minutes chairs{0};
  if (look.valid()) {
    if (last == nullptr || last->look != look) {
      before = whole_minutes(production_.looks[look].steps);
      chairs = before / 2;
      // whoever is there already and changes takes chairs twice that others stand in line for
      if (last != nullptr) chairs = before + off_minutes(last->look);
    }
    after = off_minutes(look);
  }
  const Minute from = span.from - before;
  const Minute until = span.until + after;
  std::int64_t longer = 0;
  if (day.engagements.empty()) {
    longer = count(until - from) + count(production_.sign_in);
  } else {
    Minute end = day.engagements.back().when.until;
    // how long they stand in line to take a look off is not theirs: it is laid anew after the next
    // scene
    if (last != nullptr && !last->off.empty() && last->off.back().when.until == end) {
      end = last->last_scene_until() + off_minutes(last->look);
    }
    longer = std::max(0, count(day.engagements.front().when.from - from)) +
             std::max(0, count(until - end));
  }
  // Chairs are scarce even for those who would be waiting anyway.
  longer += count(chairs);
  if (look.valid() && staff_.wanted(who) > 0) longer += 60;
  const std::int64_t lean = reluctance_ != nullptr ? (*reluctance_)[who] : 0;
  return longer * production_.people[who].weight / 1000 + lean;
}

}  // namespace gp
