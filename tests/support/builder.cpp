#include "support/builder.h"

#include "model/engagements.h"
#include "model/plan_json.h"
#include "model/price.h"
#include "model/read_production.h"
#include "time/clock.h"
#include "time/day_clock.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <variant>

namespace gp::test {
namespace {

template <class T>
T or_throw(std::variant<T, std::vector<Fault>> read, const char* what) {
  if (auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    std::string text = std::string(what) + " has faults:";
    for (const Fault& fault : *faults) {
      text += "\n  " + std::to_string(fault.line) + ":" + std::to_string(fault.column) + " " +
              fault.path + ": found " + fault.found + ", expected " + fault.expected;
    }
    throw std::runtime_error(text);
  }
  return std::get<T>(std::move(read));
}

template <class IdType, class T>
IdType by_id(const Table<IdType, T>& table, const std::string& id) {
  for (const IdType row : table.ids()) {
    if (table[row].id == id) return row;
  }
  throw std::runtime_error("no " + id);
}

template <class Rows, class Is>
auto& the(Rows& rows, Is is, const std::string& what) {
  const auto found = std::find_if(rows.begin(), rows.end(), is);
  if (found == rows.end()) throw std::runtime_error("no " + what);
  return *found;
}

/// The latest call on a multiple of round_to that leaves `lead` before `first`.
Minute latest_call(const CalendarDay& calendar, Minute first, Minutes lead, Minutes round_to) {
  Minute call = first - lead;
  for (Minutes back{0}; back < round_to; ++back) {
    const auto reading = calendar.wall(call - back);
    if (reading && reading->minutes % round_to.count() == 0) return call - back;
  }
  return call;
}

}  // namespace

std::string data_text(const std::string& path) {
  std::ifstream file(std::string(GP_TEST_DATA) + "/" + path, std::ios::binary);
  if (!file) throw std::runtime_error("no test data " + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Production production_of(const std::string& text) {
  return or_throw(read_production(text), "the production");
}
Plan plan_of(const std::string& text, const Production& production) {
  return or_throw(read_plan(text, production), "the plan");
}

PersonId Planned::person(const std::string& id) const {
  return by_id(production.people, id);
}
SceneId Planned::scene(const std::string& id) const {
  return by_id(production.scenes, id);
}
RoleId Planned::role(const std::string& id) const {
  return by_id(production.roles, id);
}
LookId Planned::look(const std::string& id) const {
  return by_id(production.looks, id);
}
StationId Planned::station(const std::string& id) const {
  return by_id(production.stations, id);
}
ItemId Planned::item(const std::string& id) const {
  return by_id(production.items, id);
}
UnitId Planned::unit(const std::string& id) const {
  return by_id(production.units, id);
}

PlannedScene& Planned::planned(const std::string& scene_id, std::size_t number) {
  const SceneId wanted = scene(scene_id);
  return the(
      day(number).scenes, [&](const PlannedScene& row) { return row.scene == wanted; }, scene_id);
}
std::vector<PersonId>& Planned::cast(const std::string& scene_id, const std::string& role_id) {
  const RoleId wanted = role(role_id);
  return the(
             planned(scene_id).cast,
             [&](const CastEntry& row) { return row.role == wanted; },
             role_id)
      .people;
}
std::vector<PersonId>& Planned::crew(const std::string& scene_id, const std::string& job) {
  return the(
             planned(scene_id).crew, [&](const CrewEntry& row) { return row.job == job; }, job)
      .people;
}
PlannedStep& Planned::step(const std::string& person_id, ChainPart part, int number) {
  const PersonId who = person(person_id);
  return the(
      day().steps,
      [&](const PlannedStep& row) {
        return row.person == who && row.part == part && row.step == number;
      },
      "step of " + person_id);
}
Wear& Planned::wear(const std::string& person_id) {
  const PersonId who = person(person_id);
  return the(
      day().wears, [&](const Wear& row) { return row.person == who; }, "wear of " + person_id);
}
PlannedMeal& Planned::meal(const std::string& name) {
  return the(
      day().meals, [&](const PlannedMeal& row) { return row.meal == name; }, name);
}
Stay& Planned::stay(const std::string& person_id) {
  const PersonId who = person(person_id);
  return the(
      day().people, [&](const Stay& row) { return row.person == who; }, "stay of " + person_id);
}

void Planned::recount() {
  recount_stays(production, plan);
}

std::set<int> Planned::broken(Answers answers) const {
  return rules(check(production, plan, answers));
}

void recount_stays(const Production& production, Plan& plan) {
  for (DayPlan& day : plan.days) {
    const CalendarDay calendar(production.days[day.day].date, production.zone);
    day.people.clear();
    for (const auto& [who, rows] : engagements(production, day)) {
      Stay stay;
      stay.person = who;
      PlaceId first_place;
      stay.released = rows.front().time.until;
      for (const BusyRow& row : rows) {
        if (!first_place.valid()) first_place = row.place;
        stay.released = std::max(stay.released, row.time.until);
        stay.busy += row.time.length();
      }
      const Minutes lead =
          production.sign_in + production.way(production.days[day.day].base, first_place);
      stay.call = latest_call(calendar, rows.front().time.from, lead, production.round_to);
      stay.on_site = stay.released - stay.call;
      stay.waiting = stay.on_site - stay.busy;
      day.people.push_back(stay);
    }
    day.first_shot.reset();
    day.wrap.reset();
    for (const PlannedScene& scene : day.scenes) {
      day.first_shot = std::min(day.first_shot.value_or(kNever), scene.shoot_at);
      day.wrap = std::max(day.wrap.value_or(kAlwaysBefore), scene.until);
    }
  }
  const Price counted = price(production, plan);
  plan.totals.on_site = counted.on_site;
  plan.totals.weighted_on_site = counted.weighted_on_site;
  plan.totals.waiting = counted.waiting;
  plan.totals.bound.reset();
}

std::set<int> rules(const std::vector<Broken>& findings) {
  std::set<int> numbers;
  for (const Broken& broken : findings) numbers.insert(broken.rule);
  return numbers;
}

namespace {

Planned read_pair(const std::string& name) {
  Planned pair;
  pair.production = production_of(data_text("plans/" + name + ".json"));
  pair.plan = plan_of(data_text("plans/" + name + ".plan.json"), pair.production);
  return pair;
}

}  // namespace

Planned lamp() {
  return read_pair("lamp");
}
Planned kettle() {
  return read_pair("kettle");
}

Minute at(const std::string& time) {
  const auto reading = parse_wall_time(time);
  if (!reading) throw std::runtime_error("no time: " + time);
  return minute(reading->minutes);
}

}  // namespace gp::test
