#include "model/reading.h"

#include <algorithm>
#include <set>
#include <string>

// Parts nobody may play. A crowd may come out short, and who comes when is the plan's to say.

namespace gp {
namespace {

using Words = std::set<std::string>;

std::string listed(const Words& words) {
  std::string result;
  std::size_t named = 0;
  constexpr std::size_t kMostNamed = 6;
  for (const std::string& word : words) {
    if (!result.empty()) result += ", ";
    if (++named > kMostNamed) return result + "…";
    result += quoted(word);
  }
  return result;
}

/// What a person in this role must put up with: its own tags and its look's.
Words tags_of(const Production& production, const Role& role) {
  Words tags(role.tags.begin(), role.tags.end());
  if (role.look.valid()) {
    const Tags& more = production.looks[role.look].tags;
    tags.insert(more.begin(), more.end());
  }
  return tags;
}

bool may_play(const Person& person, const Role& role, const Words& tags) {
  if (person.answer == Answer::no) return false;
  for (const std::string& skill : role.needs) {
    if (std::find(person.can.begin(), person.can.end(), skill) == person.can.end()) return false;
  }
  return std::none_of(person.no.begin(), person.no.end(), [&](const std::string& tag) {
    return tags.contains(tag);
  });
}

std::string wanted(const Role& role, const Words& tags) {
  std::string result = role.from ? "one of its \"from\"" : "somebody";
  if (!role.needs.empty()) {
    result += " with " + listed(Words(role.needs.begin(), role.needs.end())) + " in \"can\"";
  }
  if (!tags.empty()) {
    result += std::string(role.needs.empty() ? " with" : " and") + " none of " + listed(tags) +
              " in \"no\"";
  }
  return result + ", whose answer is not \"no\"";
}

}  // namespace

void validate_parts(Reading& reading) {
  const Production& production = reading.production;
  if (production.people.empty()) return;  // nobody has been asked yet
  for (const RoleId id : production.roles.ids()) {
    if (reading.faults.full()) return;
    const Role& role = production.roles[id];
    const Origin& origin = reading.origins.roles[id];
    if (role.crowd || !origin.clean) continue;
    if (role.look.valid() && !reading.origins.looks[role.look].clean) continue;
    const Words tags = tags_of(production, role);
    // Whoever a part is given to plays it; where they have said no to something in it, the plan
    // warns.
    if (role.person.valid()) continue;
    const auto may = [&](PersonId person) {
      // of somebody whose entry has a fault the best is believed
      return !reading.origins.people[person].clean ||
             may_play(production.people[person], role, tags);
    };
    bool somebody = false;
    if (role.from) {
      somebody = std::any_of(role.from->begin(), role.from->end(), may);
    } else {
      for (const PersonId person : production.people.ids()) somebody = somebody || may(person);
    }
    if (!somebody) {
      reading.faults.add(
          origin.json->at(), origin.path, "a part nobody may play", wanted(role, tags));
    }
  }
}

}  // namespace gp
