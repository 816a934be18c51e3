#include "sheets/day_facts.h"

#include "model/hazards.h"
#include "time/light.h"

#include <algorithm>
#include <chrono>

namespace gp {
namespace {

constexpr Minutes kStaffingGap{20};  ///< a longer pause between two they serve is told

void add_once(std::vector<std::string>& list, const std::string& text) {
  if (text.empty() || std::find(list.begin(), list.end(), text) != list.end()) return;
  list.push_back(text);
}

bool is_known(const std::string& caution) {
  const auto& known = known_cautions();
  return std::find(known.begin(), known.end(), caution) != known.end();
}

std::vector<std::string> in_order(const std::set<std::string>& found) {
  std::vector<std::string> ordered;
  for (const std::string& caution : known_cautions()) {
    if (found.contains(caution)) ordered.push_back(caution);
  }
  for (const std::string& caution : found) {
    if (!is_known(caution)) ordered.push_back(caution);
  }
  return ordered;
}

void add_known(std::set<std::string>& out, const Tags& tags) {
  for (const std::string& tag : tags) {
    if (is_known(tag)) out.insert(tag);
  }
}

}  // namespace

const std::vector<std::string>& known_cautions() {
  static const std::vector<std::string> known = [] {
    std::vector<std::string> all = known_hazards();
    // not hazards of a scene, but of what is done to people, of who they are, and of being outside
    all.insert(all.end(), {"face-paint", "painting", "children", "weather"});
    return all;
  }();
  return known;
}

std::string clock_text(WallTime wall) {
  constexpr std::int32_t kDay = 24 * 60;
  std::int32_t days = 0;
  std::int32_t minutes = wall.minutes;
  for (; minutes >= kDay; minutes -= kDay) ++days;
  for (; minutes < 0; minutes += kDay) --days;
  auto two = [](std::int32_t value) {
    return std::string(value < 10 ? "0" : "") + std::to_string(value);
  };
  std::string text = two(minutes / 60) + ":" + two(minutes % 60);
  if (days > 0) text += days == 1 ? "⁺¹" : "⁺²";
  if (days < 0) text += "⁻¹";
  return text;
}

DayFacts::DayFacts(const Production& production, const DayPlan& plan)
    : production_(production),
      plan_(plan),
      calendar_(production.days[plan.day].date, production.zone),
      engagements_(production.people.size()) {
  read_steps();
  read_scenes();
  for (const PlannedMeal& meal : plan.meals) {
    for (const PersonId person : meal.people) {
      DayEngagement one;
      one.kind = DayEngagement::Kind::meal;
      one.from = meal.from;
      one.until = meal.until;
      one.name = meal.meal;
      engagements_[person].push_back(one);
    }
  }
  for (auto& list : engagements_) {
    std::stable_sort(list.begin(), list.end(), [](const DayEngagement& a, const DayEngagement& b) {
      return a.from < b.from;
    });
  }
  merge_staffing();
}

void DayFacts::read_steps() {
  for (const PlannedStep& step : plan_.steps) {
    DayEngagement one;
    one.from = step.from;
    one.until = step.until;
    one.place = production_.place_of(step.station, plan_.day);
    one.station = step.station;
    one.look = step.look;
    one.part = step.part;
    DayEngagement own = one;
    own.kind = DayEngagement::Kind::step;
    own.station_place = step.place;
    own.by = step.by;
    engagements_[step.person].push_back(own);
    if (step.by.valid()) {
      one.kind = DayEngagement::Kind::staffing;
      one.people = 1;
      engagements_[step.by].push_back(one);
    }
  }
  for (const Ready& ready : plan_.ready) {
    DayEngagement one;
    one.kind = DayEngagement::Kind::ready;
    one.from = ready.from;
    one.until = ready.until;
    one.place = production_.place_of(ready.station, plan_.day);
    one.station = ready.station;
    engagements_[ready.person].push_back(one);
  }
}

void DayFacts::read_scenes() {
  for (const PlannedScene& scene : plan_.scenes) {
    DayEngagement one;
    one.scene = scene.scene;
    one.place = production_.place_of(scene.scene, plan_.day);
    one.until = scene.until;
    for (const CastEntry& cast : scene.cast) {
      one.kind = DayEngagement::Kind::cast;
      one.from = scene.shoot_at;
      one.role = cast.role;
      for (const PersonId person : cast.people) engagements_[person].push_back(one);
    }
    one.role = RoleId();
    for (const CrewEntry& crew : scene.crew) {
      one.kind = DayEngagement::Kind::crew;
      one.from = scene.set_at;
      one.name = crew.job;
      for (const PersonId person : crew.people) engagements_[person].push_back(one);
    }
  }
}

void DayFacts::merge_staffing() {
  for (auto& list : engagements_) {
    std::vector<DayEngagement> merged;
    for (const DayEngagement& one : list) {
      const bool goes_on = !merged.empty() && one.kind == DayEngagement::Kind::staffing &&
                           merged.back().kind == one.kind && merged.back().station == one.station &&
                           one.from - merged.back().until <= kStaffingGap;
      if (goes_on) {
        merged.back().until = std::max(merged.back().until, one.until);
        merged.back().people += one.people;
      } else {
        merged.push_back(one);
      }
    }
    list = std::move(merged);
  }
}

std::vector<std::string> DayFacts::parts(PersonId person) const {
  std::vector<std::string> roles;
  std::vector<std::string> jobs;
  std::vector<std::string> stations;
  for (const DayEngagement& one : engagements_[person]) {
    switch (one.kind) {
      case DayEngagement::Kind::cast:
        add_once(roles, production_.roles[one.role].shown());
        break;
      case DayEngagement::Kind::crew:
        add_once(jobs, one.name);
        break;
      case DayEngagement::Kind::staffing:
        add_once(stations, production_.stations[one.station].shown());
        break;
      case DayEngagement::Kind::step:
      case DayEngagement::Kind::ready:
      case DayEngagement::Kind::meal:
        break;
    }
  }
  for (const std::string& job : jobs) add_once(roles, job);
  for (const std::string& station : stations) add_once(roles, station);
  return roles;
}

RoleId DayFacts::first_crowd(PersonId person) const {
  RoleId crowd;
  for (const DayEngagement& one : engagements_[person]) {
    if (one.kind != DayEngagement::Kind::cast) continue;
    if (!production_.roles[one.role].crowd) return {};
    if (!crowd.valid()) crowd = one.role;
  }
  return crowd;
}

bool DayFacts::is_child(PersonId person) const {
  const Person& one = production_.people[person];
  if (one.guardian.valid()) return true;
  if (!one.born) return false;
  return *one.born + std::chrono::years(18) > day().date;
}

std::vector<const Stay*> DayFacts::children_of(PersonId guardian) const {
  std::vector<const Stay*> found;
  for (const Stay& stay : plan_.people) {
    if (production_.people[stay.person].guardian == guardian) found.push_back(&stay);
  }
  return found;
}

std::vector<std::string> DayFacts::cautions(PersonId person) const {
  std::set<std::string> found;
  if (is_child(person) || !children_of(person).empty()) found.insert("children");
  for (const DayEngagement& one : engagements_[person]) {
    if (one.kind == DayEngagement::Kind::cast || one.kind == DayEngagement::Kind::crew) {
      const Tags& hazards = production_.scenes[one.scene].hazards;
      found.insert(hazards.begin(), hazards.end());
    }
    if (one.kind == DayEngagement::Kind::cast) add_known(found, production_.roles[one.role].tags);
    if (one.kind == DayEngagement::Kind::step) add_known(found, production_.looks[one.look].tags);
    if (one.kind == DayEngagement::Kind::staffing) {
      std::set<std::string> of_look;
      add_known(of_look, production_.looks[one.look].tags);
      if (of_look.erase("face-paint") > 0) found.insert("painting");
      found.merge(of_look);
    }
    if (one.place.valid() && production_.places[one.place].outdoors) found.insert("weather");
  }
  return in_order(found);
}

std::vector<std::string> DayFacts::cautions() const {
  std::set<std::string> found;
  for (const Stay& stay : plan_.people) {
    for (std::string& caution : cautions(stay.person)) found.insert(std::move(caution));
  }
  // A scene's hazard concerns the day even where nobody is named in it.
  for (const PlannedScene& scene : plan_.scenes) {
    const Tags& hazards = production_.scenes[scene.scene].hazards;
    found.insert(hazards.begin(), hazards.end());
  }
  return in_order(found);
}

std::string DayFacts::clock(Minute moment) const {
  return clock_text(calendar_.shown(moment));
}

std::string DayFacts::clocks(Minute from, Minute until) const {
  return clock(from) + "–" + clock(until);
}

std::string DayFacts::clocks(WallSpan span) const {
  return clock_text(span.from) + "–" + clock_text(span.until);
}

bool DayFacts::passes_midnight() const {
  constexpr WallTime kMidnight{24 * 60};
  return std::any_of(plan_.people.begin(), plan_.people.end(), [&](const Stay& stay) {
    return calendar_.shown(stay.released) >= kMidnight;
  });
}

std::optional<Span> DayFacts::sun() const {
  const PlaceId base = day().base;
  if (!base.valid() || !production_.places[base].geo) return std::nullopt;
  const Geo geo = *production_.places[base].geo;
  // The span of daylight that the day's noon lies in.
  const Minute noon = calendar_.elapsed(WallTime{12 * 60});
  for (const Span span : light_spans(LightKind::day, calendar_, geo.lat, geo.lon)) {
    const bool whole = span.from > minute(-12 * 60) && span.until < minute(36 * 60);
    if (span.from <= noon && noon < span.until && whole) return span;
  }
  return std::nullopt;
}

}  // namespace gp
