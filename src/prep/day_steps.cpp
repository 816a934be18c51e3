// Steps at the stations: a place, and whoever does it.
#include "prep/day_draft.h"

#include <algorithm>
#include <cassert>
#include <utility>

namespace gp {
namespace {

/// What a minute counts that a wearer must come earlier, against one that whoever helps stays
/// longer: the chairs are taken earlier too, for all who come before. (Measured on a crowd day of
/// two hundred: 1.4 % less time on site than by who can help latest; 1 is 3 % worse, 6 a little.)
constexpr std::int64_t kEarlier = 3;
/// What it counts for somebody [min] that they are to help, and how near to when they are to.
constexpr std::int64_t kHinted = 120;
constexpr Minutes kNear{15};

}  // namespace

std::optional<PlacedStep> DayDraft::find_step(
    Way way, PersonId who, const Step& step, Minute not_before, Minute not_after) {
  const StationId station = step.spec->at;
  const PlaceId place = frame_.station_place[station];
  const Minutes length = step.spec->minutes;
  Minute least = std::max(not_before, frame_.open[station].from);
  Minute most = std::min(not_after, frame_.open[station].until);
  // Wearer, chair and staff each move the step on until all three agree.
  while (least + length <= most) {
    const auto wearer =
        way == Way::backwards
            ? latest_start(
                  ground_, people_[who], frame_.free[who], length, place, least, most, work_)
            : earliest_start(
                  ground_, people_[who], frame_.free[who], length, place, least, most, work_);
    if (!wearer) return std::nullopt;
    ++work_;
    const auto chair = way == Way::backwards ? stations_[station].latest(*wearer, length, least)
                                             : stations_[station].earliest(*wearer, length, most);
    if (!chair) return std::nullopt;
    Minute start = chair->start;
    if (start == *wearer) {
      PersonId by;
      if (!step.spec->by.empty()) {
        const auto staff = way == Way::backwards ? find_staff(way, who, step, least, start + length)
                                                 : find_staff(way, who, step, start, most);
        if (!staff) return std::nullopt;
        start = staff->start;
        by = staff->who;
      }
      if (start == *wearer) return PlacedStep{{start, start + length}, station, chair->place, by};
    }
    if (way == Way::backwards) {
      most = start + length;
    } else {
      least = start;
    }
  }
  return std::nullopt;
}

/// Whoever can do the step for the least of anybody's time: theirs, and the wearer's who comes the
/// earlier for it; where the first call counts most, whoever can do it nearest to the far end of
/// the span.
std::optional<DayDraft::StaffFound> DayDraft::find_staff(
    Way way, PersonId wearer, const Step& step, Minute not_before, Minute not_after) {
  const Minutes length = step.spec->minutes;
  std::optional<StaffFound> best;
  std::pair<std::int64_t, std::int64_t> best_cost;
  for (PersonId who : *step.staff) {
    if (who == wearer || frame_.free[who].empty()) continue;
    const auto start = staff_start(way, who, step, not_before, not_after);
    if (!start) continue;
    const std::int64_t away =
        count(way == Way::backwards ? not_after - length - *start : *start - not_before);
    std::int64_t longer = estimate(who, LookId(), {*start, *start + length});
    const auto busy = static_cast<std::int64_t>(people_[who].engagements.size());
    if (hinted(step.spec->at, who, *start)) longer -= kHinted;
    const bool by_time = production_.aim == Aim::least_time;
    const std::pair cost{by_time ? longer + kEarlier * away : away,
                         (by_time ? away : longer) * 64 + busy};
    if (best && best_cost <= cost) continue;
    best = StaffFound{*start, who};
    best_cost = cost;
  }
  return best;
}

bool DayDraft::hinted(StationId station, PersonId who, Minute start) const {
  if (hints_ == nullptr) return false;
  const auto& hints = (*hints_)[station];
  return std::any_of(hints.begin(), hints.end(), [&](const HelpHint& hint) {
    return hint.who == who && start >= hint.when.from - kNear && start < hint.when.until + kNear;
  });
}

/// When they could do the step, nearest to the far end of the span, with the station got ready
/// before, by them: earlier than planned where that is in the way.
std::optional<Minute> DayDraft::staff_start(
    Way way, PersonId who, const Step& step, Minute not_before, Minute not_after) {
  const StationId station = step.spec->at;
  const PlaceId place = frame_.station_place[station];
  const Minutes length = step.spec->minutes;
  const auto& free = frame_.free[who];
  const PersonDay& day = people_[who];
  if (way == Way::forwards) {
    const auto start =
        earliest_start(ground_, day, free, length, place, not_before, not_after, work_);
    if (!start || !could_ready(day, who, station, *start)) return std::nullopt;
    return start;
  }
  auto start = latest_start(ground_, day, free, length, place, not_before, not_after, work_);
  if (start && !could_ready(day, who, station, *start)) start.reset();
  const auto ready = readying(day, station);
  if (ready == day.engagements.end() || (start && ready->when.until <= *start)) return start;
  PersonDay other = day;
  other.engagements.erase(other.engagements.begin() + (ready - day.engagements.begin()));
  const auto later =
      latest_start(ground_, other, free, length, place, not_before, not_after, work_);
  if (!later || (start && *later <= *start)) return start;
  return could_ready(other, who, station, *later) ? later : start;
}

std::vector<Engagement>::const_iterator DayDraft::readying(const PersonDay& day,
                                                           StationId station) {
  return std::find_if(day.engagements.begin(), day.engagements.end(), [&](const Engagement& row) {
    return row.doing == Doing::ready && row.what == station.index();
  });
}

/// Whether the station could be got ready by this person before a first step then.
bool DayDraft::could_ready(const PersonDay& day, PersonId who, StationId station, Minute before) {
  const Minutes needed = production_.stations[station].set_minutes;
  if (needed == Minutes{0}) return true;
  const auto ready = readying(day, station);
  if (ready != day.engagements.end() && ready->when.until <= before) return true;
  return latest_start(ground_,
                      day,
                      frame_.free[who],
                      needed,
                      frame_.station_place[station],
                      kAlwaysBefore,
                      before,
                      work_)
      .has_value();
}

bool DayDraft::take_step(PersonId who, const PlacedStep& placed) {
  const PlaceId place = frame_.station_place[placed.station];
  if (!engage(who, {placed.when, place, Doing::step, placed.station.index()})) return false;
  touch(placed.station).take(placed.place, placed.when);
  if (!placed.by.valid()) return true;
  drop_ready(placed.by, placed.station, placed.when.from);
  return engage(placed.by, {placed.when, place, Doing::staffing, placed.station.index()}) &&
         ensure_ready(placed.by, placed.station, placed.when.from);
}

void DayDraft::drop_step(PersonId who, const PlacedStep& placed) {
  const PlaceId place = frame_.station_place[placed.station];
  const std::size_t what = placed.station.index();
  const auto drop = [&](PersonId person, const Engagement& engagement) {
    auto& rows = touch(person).engagements;
    const auto at = std::find(rows.begin(), rows.end(), engagement);
    assert(at != rows.end());
    rows.erase(at);
  };
  drop(who, {placed.when, place, Doing::step, what});
  touch(placed.station).release(placed.place, placed.when);
  if (!placed.by.valid()) return;
  drop(placed.by, {placed.when, place, Doing::staffing, what});
  // Whoever does nothing more there need not get it ready.
  const auto& rows = people_[placed.by].engagements;
  const bool needed = std::any_of(rows.begin(), rows.end(), [&](const Engagement& row) {
    return row.doing == Doing::staffing && row.what == what;
  });
  if (!needed) drop_ready(placed.by, placed.station, kAlwaysBefore);
}

/// Where it would end after that.
void DayDraft::drop_ready(PersonId who, StationId station, Minute before) {
  const auto late = readying(people_[who], station);
  if (late == people_[who].engagements.end() || late->when.until <= before) return;
  const auto at = late - people_[who].engagements.begin();
  auto& rows = touch(who).engagements;
  rows.erase(rows.begin() + at);
}

bool DayDraft::ensure_ready(PersonId who, StationId station, Minute before) {
  const Minutes needed = production_.stations[station].set_minutes;
  if (needed == Minutes{0}) return true;
  if (readying(people_[who], station) != people_[who].engagements.end()) return true;
  const PlaceId place = frame_.station_place[station];
  const auto start = latest_start(
      ground_, people_[who], frame_.free[who], needed, place, kAlwaysBefore, before, work_);
  if (!start) return say(Snag::chair);
  return engage(who, {{*start, *start + needed}, place, Doing::ready, station.index()});
}

}  // namespace gp
