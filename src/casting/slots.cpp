#include "casting/slots.h"

#include "model/sizes.h"
#include "model/skilled.h"
#include "model/tags.h"

#include <algorithm>

namespace gp {
namespace {

bool has_all(const Tags& tags, const Tags& needed) {
  return std::all_of(
      needed.begin(), needed.end(), [&](const std::string& t) { return has(tags, t); });
}

bool has_any(const Tags& tags, const Tags& others) {
  return std::any_of(
      others.begin(), others.end(), [&](const std::string& t) { return has(tags, t); });
}

Tags tags_of(const Production& production, const Role& role) {
  Tags tags = role.tags;
  if (role.look_kind == LookKind::look) {
    const Tags& looks = production.looks[role.look].tags;
    tags.insert(tags.end(), looks.begin(), looks.end());
  }
  return tags;
}

std::vector<PersonId> players(const Production& production,
                              Answers answers,
                              const Role& role,
                              const Tags& hazards) {
  std::vector<PersonId> list;
  // Whoever a part is given to plays it: what they will not do was settled when it was given.
  if (!role.crowd && role.person.valid()) {
    if (answers.include(production.people[role.person].answer)) list.push_back(role.person);
    return list;
  }
  Tags asked_of = tags_of(production, role);
  asked_of.insert(asked_of.end(), hazards.begin(), hazards.end());
  std::vector<Alone> alone;
  if (role.look_kind == LookKind::look) {
    alone = alone_with_steps(production, answers, production.looks[role.look]);
  }
  const auto helps_alone = [&](PersonId id) {
    return std::any_of(
        alone.begin(), alone.end(), [&](const Alone& one) { return one.person == id; });
  };
  const auto take = [&](PersonId id) {
    const Person& person = production.people[id];
    if (answers.include(person.answer) && has_all(person.can, role.needs) &&
        !has_any(person.no, asked_of) && !helps_alone(id) &&
        size_match(production, role, person) != SizeMatch::does_not) {
      list.push_back(id);
    }
  };
  if (role.from) {
    for (PersonId id : *role.from) take(id);
  } else {
    for (PersonId id : production.people.ids()) take(id);
  }
  return list;
}

std::vector<PersonId> helpers(const Production& production,
                              Answers answers,
                              const CrewCall& call,
                              const Tags& hazards) {
  std::vector<PersonId> list;
  const auto take = [&](PersonId id) {
    const Person& person = production.people[id];
    if (answers.include(person.answer) && has_all(person.can, call.needs) &&
        !has_any(person.no, hazards)) {
      list.push_back(id);
    }
  };
  if (call.from.empty()) {
    for (PersonId id : production.people.ids()) take(id);
  } else {
    for (PersonId id : call.from) take(id);
  }
  return list;
}

/// Those of `more` that are not yet in the list.
void add_to(std::vector<PersonId>& list, const std::vector<PersonId>& more) {
  if (list == more) return;  // as in most productions, for all scenes but the first
  for (const PersonId who : more) {
    if (std::find(list.begin(), list.end(), who) == list.end()) list.push_back(who);
  }
}

}  // namespace

Slots::Slots(const Production& production, Answers answers)
    : slots_(production.scenes.size()),
      parts_(production.roles.size()),
      some_(production.roles.size()),
      scenes_(production.roles.size()) {
  Table<RoleId, Tags> hazards(production.roles.size());
  for (SceneId id : production.scenes.ids()) {
    const Scene& scene = production.scenes[id];
    for (const CastCall& call : scene.cast) {
      Tags& of_role = hazards[call.role];
      of_role.insert(of_role.end(), scene.hazards.begin(), scene.hazards.end());
      if (scenes_[call.role].empty() || scenes_[call.role].back() != id) {
        scenes_[call.role].push_back(id);
      }
    }
  }
  for (RoleId id : production.roles.ids()) {
    const Role& role = production.roles[id];
    if (!role.crowd) parts_[id] = players(production, answers, role, hazards[id]);
  }
  for (SceneId id : production.scenes.ids()) {
    const Scene& scene = production.scenes[id];
    std::vector<Slot>& slots = slots_[id];
    for (const CastCall& call : scene.cast) {
      const Role& role = production.roles[call.role];
      Slot slot;
      slot.kind = role.crowd ? Slot::Kind::crowd : Slot::Kind::part;
      slot.role = call.role;
      slot.people = call.people;
      slot.candidates = players(production, answers, role, scene.hazards);
      if (!role.crowd) add_to(some_[call.role], slot.candidates);
      slots.push_back(std::move(slot));
    }
    const auto crew = production.crew_of(id);
    for (std::size_t c = 0; c < crew.size(); ++c) {
      Slot slot;
      slot.kind = Slot::Kind::crew;
      slot.call = c;
      slot.people = crew[c].people;
      slot.candidates = helpers(production, answers, crew[c], scene.hazards);
      slots.push_back(std::move(slot));
    }
    const auto choice = [](const Slot& slot) {
      if (slot.kind == Slot::Kind::part) return static_cast<std::ptrdiff_t>(-1'000'000'000);
      return static_cast<std::ptrdiff_t>(slot.candidates.size()) - slot.people;
    };
    std::stable_sort(slots.begin(), slots.end(), [&](const Slot& a, const Slot& b) {
      return choice(a) < choice(b);
    });
  }
}

}  // namespace gp
