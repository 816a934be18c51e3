#include "search/wishes/wish_points.h"

#include "casting/cast_costs.h"

#include <algorithm>
#include <map>
#include <string>

namespace gp {
namespace {

bool has(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

}  // namespace

WishPoints::WishPoints(const Production& production)
    : production_(production),
      concerns_(production.people.size(), 0),
      friends_(production.people.size(), {}) {
  std::map<std::string, PersonId> people;
  for (const PersonId id : production.people.ids()) people.emplace(production.people[id].id, id);
  for (const PersonId id : production.people.ids()) {
    for (const std::string& like : production.people[id].likes) {
      any_ = true;
      concerns_[id] = 1;
      const auto other = people.find(like);
      if (other == people.end() || other->second == id) continue;
      concerns_[other->second] = 1;
      friends_[id].push_back(other->second);
    }
  }
}

std::int64_t WishPoints::of(PersonId who, const std::string& what) const {
  return has(production_.people[who].likes, what) ? points::kLiked : 0;
}

std::int64_t WishPoints::of(const PlannedScene& scene, const Stands& stands) const {
  std::vector<PersonId> here;
  std::int64_t sum = 0;
  const auto add = [&](PersonId stood, const std::string& what) {
    const PersonId who = stands(stood);
    sum += of(who, what);
    here.push_back(who);
  };
  for (const CastEntry& entry : scene.cast) {
    for (const PersonId who : entry.people) add(who, production_.roles[entry.role].id);
  }
  for (const CrewEntry& entry : scene.crew) {
    for (const PersonId who : entry.people) add(who, entry.job);
  }
  std::sort(here.begin(), here.end());
  for (const PersonId who : here) {
    for (const PersonId other : friends_[who]) {
      if (std::binary_search(here.begin(), here.end(), other)) sum += points::kFriend;
    }
  }
  return sum;
}

}  // namespace gp
