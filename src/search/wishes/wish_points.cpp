#include "search/wishes/wish_points.h"

#include "casting/cast_costs.h"
#include "model/friends.h"
#include "model/tags.h"

#include <algorithm>
#include <string>

namespace gp {
WishPoints::WishPoints(const Production& production)
    : production_(production),
      concerns_(production.people.size(), 0),
      friends_(friends_of_all(production)) {
  for (const PersonId id : production.people.ids()) {
    if (production.people[id].likes.empty()) continue;
    any_ = true;
    concerns_[id] = 1;
    for (const PersonId other : friends_[id]) concerns_[other] = 1;
  }
}

std::int64_t WishPoints::of(const PlannedScene& scene, const Stands& stands) const {
  std::vector<PersonId> here;
  std::int64_t sum = 0;
  const auto add = [&](PersonId stood, const std::string& what) {
    const PersonId who = stands(stood);
    if (has(production_.people[who].likes, what)) sum += points::kLiked;
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
