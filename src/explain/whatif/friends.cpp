#include "explain/whatif/friends.h"

#include "explain/whatif/change.h"

#include <algorithm>

namespace gp::whatif {
namespace {

void add_once(std::vector<std::string>& names, const std::string& name) {
  if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
}

template <class Visit>
void each_step(const Production& production, const Visit& visit) {
  for (const Look& look : production.looks) {
    for (const Step& step : look.steps) visit(step);
    for (const Step& step : look.off) visit(step);
  }
}

/// Whoever is for the station can do all that is done there.
void join_station(const Production& production, StationId station, Friends& friends) {
  friends.stations.push_back(station);
  each_step(production, [&](const Step& step) {
    if (step.at == station && !step.by.empty()) add_once(friends.skills, step.by);
  });
}

void join_role(const Production& production, RoleId id, Friends& friends) {
  friends.roles.push_back(id);
  for (const std::string& skill : production.roles[id].needs) add_once(friends.skills, skill);
}

bool join_by_word(const Production& production, const std::string& word, Friends& friends) {
  bool found = false;
  for (const StationId id : production.stations.ids()) {
    if (production.stations[id].id != word) continue;
    join_station(production, id, friends);
    found = true;
  }
  bool is_skill = false;
  each_step(production, [&](const Step& step) {
    if (step.by != word) return;
    is_skill = true;
    // who can is of no use where only listed people may: one more is listed
    if (std::find(friends.stations.begin(), friends.stations.end(), step.at) ==
        friends.stations.end()) {
      friends.stations.push_back(step.at);
    }
  });
  const auto has = [&word](const Tags& tags) {
    return std::find(tags.begin(), tags.end(), word) != tags.end();
  };
  for (const CrewCall* call : all_crew(production)) {
    if (call->job == word) {
      for (const std::string& skill : call->needs) add_once(friends.skills, skill);
      add_once(friends.jobs, word);
      found = true;
    }
    if (has(call->needs)) {
      is_skill = true;
      add_once(friends.jobs, call->job);
    }
  }
  for (const Role& role : production.roles) is_skill = is_skill || has(role.needs);
  for (const Person& person : production.people) is_skill = is_skill || has(person.can);
  if (is_skill) add_once(friends.skills, word);
  return found || is_skill;
}

}  // namespace

std::vector<const CrewCall*> all_crew(const Production& production) {
  std::vector<const CrewCall*> all;
  for (const Unit& unit : production.units) {
    for (const CrewCall& call : unit.crew) all.push_back(&call);
  }
  for (const Scene& scene : production.scenes) {
    for (const CrewCall& call : scene.crew) all.push_back(&call);
  }
  return all;
}

std::vector<std::string> friend_purposes(const Production& production) {
  std::vector<std::string> names;
  for (const Role& role : production.roles) {
    if (role.crowd) add_once(names, role.id);
  }
  for (const Station& station : production.stations) add_once(names, station.id);
  each_step(production, [&](const Step& step) {
    if (!step.by.empty()) add_once(names, step.by);
  });
  for (const CrewCall* call : all_crew(production)) {
    for (const std::string& skill : call->needs) add_once(names, skill);
    add_once(names, call->job);
  }
  for (const Role& role : production.roles) {
    for (const std::string& skill : role.needs) add_once(names, skill);
  }
  for (const Person& person : production.people) {
    for (const std::string& skill : person.can) add_once(names, skill);
  }
  return names;
}

std::optional<Friends> friends_for(const Production& production, const std::string& what) {
  Friends friends;
  if (what.empty()) return friends;
  friends.what_for = what;
  for (const RoleId id : production.roles.ids()) {
    if (production.roles[id].id != what) continue;
    join_role(production, id, friends);
    friends.what_for = production.roles[id].shown();
    return friends;
  }
  if (!join_by_word(production, what, friends)) return std::nullopt;
  for (const Station& station : production.stations) {
    if (station.id == what) friends.what_for = station.shown();
  }
  return friends;
}

}  // namespace gp::whatif
