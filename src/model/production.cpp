#include "model/production.h"

namespace gp {

std::string name_of(Answer answer) {
  switch (answer) {
    case Answer::asked:
      return "asked";
    case Answer::yes:
      return "yes";
    case Answer::maybe:
      return "maybe";
    case Answer::no:
      return "no";
  }
  return "";
}

Minutes Production::way(PlaceId a, PlaceId b) const {
  if (!a.valid() || !b.valid() || a == b) return Minutes{0};
  const auto& there = places[a].minutes_to;
  if (auto found = there.find(b.index()); found != there.end()) return found->second;
  const auto& back = places[b].minutes_to;
  if (auto found = back.find(a.index()); found != back.end()) return found->second;
  return Minutes{0};
}

Minutes work_minutes(const std::vector<Step>& chain) {
  Minutes sum{0};
  for (const Step& step : chain) sum += step.minutes;
  return sum;
}

Minutes whole_minutes(const std::vector<Step>& chain) {
  Minutes sum{0};
  for (const Step& step : chain) sum += step.minutes + step.then_wait;
  return sum;
}

std::vector<CrewCall> Production::crew_of(SceneId scene) const {
  std::vector<CrewCall> calls = scenes[scene].crew;
  const auto& units_own = units[scenes[scene].unit].crew;
  calls.insert(calls.end(), units_own.begin(), units_own.end());
  return calls;
}

PlaceId Production::place_of(SceneId scene, DayId day) const {
  return scenes[scene].place.valid() ? scenes[scene].place : days[day].base;
}

PlaceId Production::place_of(StationId station, DayId day) const {
  return stations[station].place.valid() ? stations[station].place : days[day].base;
}

std::set<std::string> Production::jobs() const {
  std::set<std::string> jobs;
  for (const Unit& unit : units) {
    for (const CrewCall& call : unit.crew) jobs.insert(call.job);
  }
  for (const Scene& scene : scenes) {
    for (const CrewCall& call : scene.crew) jobs.insert(call.job);
  }
  return jobs;
}

std::set<std::string> Production::likeable() const {
  std::set<std::string> words = jobs();
  for (const Role& role : roles) words.insert(role.id);
  for (const Person& person : people) words.insert(person.id);
  return words;
}

}  // namespace gp
