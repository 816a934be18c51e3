#include "model/friends.h"

#include <map>
#include <string>

namespace gp {

Table<PersonId, std::vector<PersonId>> friends_of_all(const Production& production) {
  std::map<std::string, PersonId> people;
  for (const PersonId id : production.people.ids()) people.emplace(production.people[id].id, id);
  Table<PersonId, std::vector<PersonId>> friends(production.people.size(), {});
  for (const PersonId id : production.people.ids()) {
    for (const std::string& like : production.people[id].likes) {
      const auto other = people.find(like);
      if (other != people.end() && other->second != id) friends[id].push_back(other->second);
    }
  }
  return friends;
}

}  // namespace gp
