// Steps at the stations: a place, and whoever does it.
#include "prep/day_draft.h"

#include <algorithm>
#include <cassert>

namespace gp {

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

/// Whoever can do the step nearest to the far end of the span; among equals whoever it costs least.
std::optional<DayDraft::StaffFound> DayDraft::find_staff(
    Way way, PersonId wearer, const Step& step, Minute not_before, Minute not_after) {
  const StationId station = step.spec->at;
  const PlaceId place = frame_.station_place[station];
  const Minutes length = step.spec->minutes;
  std::optional<StaffFound> best;
  std::int64_t best_cost = 0;
  for (PersonId who : *step.staff) {
    if (who == wearer || frame_.free[who].empty()) continue;
    const auto start = way == Way::backwards ? latest_start(ground_,
                                                            people_[who],
                                                            frame_.free[who],
                                                            length,
                                                            place,
                                                            not_before,
                                                            not_after,
                                                            work_)
                                             : earliest_start(ground_,
                                                              people_[who],
                                                              frame_.free[who],
                                                              length,
                                                              place,
                                                              not_before,
                                                              not_after,
                                                              work_);
    if (!start) continue;
    const bool later = best && *start > best->start;
    const bool earlier = best && *start < best->start;
    if (way == Way::backwards ? earlier : later) continue;
    if (!could_ready(who, station, *start)) continue;
    const std::int64_t cost = estimate(who, LookId(), {*start, *start + length}) * 64 +
                              static_cast<std::int64_t>(people_[who].engagements.size());
    if (!best || (way == Way::backwards ? later : earlier) || cost < best_cost) {
      best = StaffFound{*start, who};
      best_cost = cost;
    }
  }
  return best;
}

/// Whether the station could be got ready by this person before a first step then.
bool DayDraft::could_ready(PersonId who, StationId station, Minute before) {
  const Minutes needed = production_.stations[station].set_minutes;
  if (needed == Minutes{0}) return true;
  for (const Engagement& row : people_[who].engagements) {
    if (row.doing == Doing::ready && row.what == station.index() && row.when.until <= before) {
      return true;
    }
  }
  return latest_start(ground_,
                      people_[who],
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
  auto& rows = touch(placed.by).engagements;
  const auto at = [&](Doing doing) {
    return std::find_if(rows.begin(), rows.end(), [&](const Engagement& row) {
      return row.doing == doing && row.what == what;
    });
  };
  if (at(Doing::staffing) == rows.end() && at(Doing::ready) != rows.end()) {
    rows.erase(at(Doing::ready));
  }
}

bool DayDraft::ensure_ready(PersonId who, StationId station, Minute before) {
  const Minutes needed = production_.stations[station].set_minutes;
  if (needed == Minutes{0}) return true;
  auto& rows = touch(who).engagements;
  const auto old = std::find_if(rows.begin(), rows.end(), [&](const Engagement& row) {
    return row.doing == Doing::ready && row.what == station.index();
  });
  if (old != rows.end()) {
    if (old->when.until <= before) return true;
    rows.erase(old);
  }
  const PlaceId place = frame_.station_place[station];
  const auto start = latest_start(
      ground_, people_[who], frame_.free[who], needed, place, kAlwaysBefore, before, work_);
  if (!start) return say(Snag::chair);
  return engage(who, {{*start, *start + needed}, place, Doing::ready, station.index()});
}

}  // namespace gp
