// Rules 3, 4 and 11: people's own time.
#include "model/check_day.h"
#include "time/clock.h"

#include <algorithm>
#include <cstdint>
#include <optional>
#include <set>

namespace gp::checking {
namespace {

/// The last stay listed for each person of the day.
std::map<PersonId, const Stay*> stays(const JudgedDay& day) {
  std::map<PersonId, const Stay*> listed;
  for (const Stay& stay : day.plan->people) listed[stay.person] = &stay;
  return listed;
}

/// Where the engagements that are somewhere stand among all, in order of time.
std::vector<std::size_t> placed(const std::vector<BusyRow>& rows) {
  std::vector<std::size_t> somewhere;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].place.valid()) somewhere.push_back(i);
  }
  return somewhere;
}

/// Minutes of the gap between two engagements that are taken by eating (or by what has no place):
/// by those that stand between the two in order of time. Whatever else reaches into the gap
/// overlaps one of the two, which is told anyway. 64 bits: a file may say the same meal a million
/// times.
std::int64_t taken_between(const std::vector<BusyRow>& rows, std::size_t one, std::size_t next) {
  const Span gap{rows[one].time.until, rows[next].time.from};
  std::int64_t taken = 0;
  for (std::size_t i = one + 1; i < next; ++i) {
    const Span time = rows[i].time;
    if (time.overlaps(gap)) {
      taken += (std::min(time.until, gap.until) - std::max(time.from, gap.from)).count();
    }
  }
  return taken;
}

bool free_for(const Person& person, const JudgedDay& day, Span stay) {
  if (!person.free) return true;
  for (const FreeTime& time : *person.free) {
    if (time.date != day.day->date) continue;
    if (!time.hours || day.elapsed(*time.hours).covers(stay)) return true;
  }
  return false;
}

std::string decimal(Thousandths value) {
  std::string text = std::to_string(value / 1000);
  if (value % 1000 != 0) {
    std::string fraction = std::to_string(1000 + value % 1000).substr(1);
    while (fraction.back() == '0') fraction.pop_back();
    text += "." + fraction;
  }
  return text;
}

}  // namespace

void rule_3_people(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  for (const JudgedDay& day : judged.days) {
    for (const auto& [who, rows] : day.engagements) {
      const std::string& id = production.people[who].id;
      for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
        if (rows[i + 1].time.from < rows[i].time.until) {
          findings.add(3,
                       id,
                       phrase(rows[i].what,
                              " (",
                              day.clock(rows[i].time),
                              ") and ",
                              rows[i + 1].what,
                              " (",
                              day.clock(rows[i + 1].time),
                              ") at once"));
        }
      }
      const auto somewhere = placed(rows);
      for (std::size_t i = 0; i + 1 < somewhere.size(); ++i) {
        const BusyRow& one = rows[somewhere[i]];
        const BusyRow& next = rows[somewhere[i + 1]];
        const Minutes way = production.way(one.place, next.place);
        const std::int64_t left = (next.time.from - one.time.until).count() -
                                  taken_between(rows, somewhere[i], somewhere[i + 1]);
        if (left < way.count()) {
          findings.add(
              3,
              id,
              phrase(left, " minutes from ", one.what, " to ", next.what, "; the way takes ", way));
        }
      }
    }
  }
}

void rule_4_windows(const Judged& judged, Findings& findings) {
  windows_of_scenes(judged, findings);
  const Production& production = *judged.production;
  for (const JudgedDay& day : judged.days) {
    // No engagement starts before the call (rule 11), so the call alone is held against the day's.
    const Minute opens = day.elapsed(day.day->nobody_before);
    for (const auto& [who, stay] : stays(day)) {
      if (!day.engagements.contains(who)) continue;
      const Person& person = production.people[who];
      if (stay->call < opens) {
        findings.add(4,
                     person.id,
                     phrase("is called at ",
                            day.clock(stay->call),
                            ", nobody may be before ",
                            format(day.day->nobody_before)));
      }
      if (!free_for(person, day, {stay->call, stay->released})) {
        findings.add(4,
                     person.id,
                     phrase("is not free from ",
                            day.clock(stay->call),
                            " to ",
                            day.clock(stay->released),
                            " on ",
                            format(day.day->date)));
      }
    }
  }
}

namespace {

/// What the plan's own sums should say.
struct Sums {
  std::int64_t on_site = 0;
  Thousandths weighted = 0;
  std::int64_t waiting = 0;
  std::int64_t to_first_shot = 0;  ///< minutes from the first call to the first shot, over days
};

void check_call(const Judged& judged,
                const JudgedDay& day,
                const std::vector<BusyRow>& rows,
                const Stay& stay,
                Findings& findings) {
  const Production& production = *judged.production;
  const std::string& id = production.people[stay.person].id;
  const auto somewhere = placed(rows);
  const PlaceId first_place = somewhere.empty() ? PlaceId() : rows[somewhere.front()].place;
  const Minutes lead = production.sign_in + production.way(day.day->base, first_place);
  const Minutes spare = rows.front().time.from - lead - stay.call;
  const auto reading = day.calendar.wall(stay.call);
  if (spare < Minutes{0}) {
    findings.add(11,
                 id,
                 phrase("the call at ",
                        day.clock(stay.call),
                        " leaves ",
                        rows.front().time.from - stay.call,
                        " minutes for signing in and the way, which take ",
                        lead));
  } else if (!reading || reading->minutes % production.round_to.count() != 0 ||
             spare >= production.round_to) {
    findings.add(11,
                 id,
                 phrase("the call at ",
                        day.clock(stay.call),
                        " is not the latest multiple of ",
                        production.round_to,
                        " minutes that is early enough"));
  }
}

void check_stay(const Judged& judged,
                const JudgedDay& day,
                const std::vector<BusyRow>& rows,
                const Stay& stay,
                Sums& sums,
                Findings& findings) {
  const Person& person = judged.production->people[stay.person];
  check_call(judged, day, rows, stay, findings);
  Minute end = rows.front().time.until;
  std::int64_t busy = 0;
  for (const BusyRow& row : rows) {
    end = std::max(end, row.time.until);
    busy += row.time.length().count();
  }
  if (stay.released != end) {
    findings.add(11,
                 person.id,
                 phrase("is released at ",
                        day.clock(stay.released),
                        ", the last engagement ends at ",
                        day.clock(end)));
  }
  const std::int64_t on_site = (stay.released - stay.call).count();
  const auto compare = [&](const char* name, Minutes said, std::int64_t counted) {
    if (said.count() != counted) {
      findings.add(11, person.id, phrase(name, " says ", said, ", counted ", counted));
    }
  };
  compare("on_site", stay.on_site, on_site);
  compare("busy", stay.busy, busy);
  compare("waiting", stay.waiting, on_site - busy);
  sums.on_site += on_site;
  sums.weighted += on_site * person.weight;
  sums.waiting += on_site - busy;
}

void check_day_ends(const JudgedDay& day,
                    std::optional<Minute> first_call,
                    Sums& sums,
                    Findings& findings) {
  std::optional<Minute> first_shot, wrap;
  for (const PlannedScene& scene : day.plan->scenes) {
    first_shot = first_shot ? std::min(*first_shot, scene.shoot_at) : scene.shoot_at;
    wrap = wrap ? std::max(*wrap, scene.until) : scene.until;
  }
  if (!first_shot || !wrap) return;
  if (day.plan->first_shot && *day.plan->first_shot != *first_shot) {
    findings.add(11,
                 format(day.day->date),
                 phrase("first_shot says ",
                        day.clock(*day.plan->first_shot),
                        ", the first scene shoots at ",
                        day.clock(*first_shot)));
  }
  if (day.plan->wrap && *day.plan->wrap != *wrap) {
    findings.add(11,
                 format(day.day->date),
                 phrase("wrap says ",
                        day.clock(*day.plan->wrap),
                        ", the last scene ends at ",
                        day.clock(*wrap)));
  }
  sums.to_first_shot += (*first_shot - first_call.value_or(*first_shot)).count();
}

void check_totals(const Judged& judged, const Sums& sums, Findings& findings) {
  const Totals& totals = judged.plan->totals;
  const auto compare = [&](const char* name, Thousandths said, Thousandths counted) {
    if (said != counted) {
      findings.add(11, name, phrase("says ", decimal(said), ", counted ", decimal(counted)));
    }
  };
  compare("totals.on_site", totals.on_site * 1000, sums.on_site * 1000);
  compare("totals.weighted_on_site", totals.weighted_on_site, sums.weighted);
  compare("totals.waiting", totals.waiting * 1000, sums.waiting * 1000);
  const Thousandths value =
      judged.production->aim == Aim::latest_first_call ? sums.to_first_shot * 1000 : sums.weighted;
  if (totals.bound && *totals.bound > value) {
    findings.add(11,
                 "totals.bound",
                 phrase("says ", decimal(*totals.bound), ", the plan itself has ", decimal(value)));
  }
}

}  // namespace

void rule_11_calls(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  Sums sums;
  for (const JudgedDay& day : judged.days) {
    const auto listed = stays(day);
    std::optional<Minute> first_call;
    for (const auto& [who, rows] : day.engagements) {
      const auto found = listed.find(who);
      if (found == listed.end()) {
        findings.add(11, production.people[who].id, "has engagements and no call");
        continue;
      }
      const Stay& stay = *found->second;
      check_stay(judged, day, rows, stay, sums, findings);
      first_call = first_call ? std::min(*first_call, stay.call) : stay.call;
    }
    for (const Stay& stay : day.plan->people) {
      const std::string& id = production.people[stay.person].id;
      if (!day.engagements.contains(stay.person)) findings.add(11, id, "is called for nothing");
      if (!(stay == *listed.at(stay.person))) findings.add(11, id, "is called twice");
    }
    check_day_ends(day, first_call, sums, findings);
  }
  check_totals(judged, sums, findings);
}

}  // namespace gp::checking
