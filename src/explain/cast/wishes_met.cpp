#include "explain/cast/cast_film.h"
#include "model/sizes.h"
#include "model/tags.h"

#include <algorithm>
#include <set>

// What a casting means to people: wishes met, and sizes nobody has asked for.

namespace gp {
void count_wishes(const Production& production,
                  const FilmCasting& casting,
                  Table<PersonId, CastLoad>& loads) {
  for (const SceneChoice& scene : casting.scenes) {
    std::vector<PersonId> here;
    for (const PlaceChoice& place : scene.places) {
      const std::string& what = place.role.valid() ? production.roles[place.role].id : place.job;
      for (const PersonId person : place.people) {
        here.push_back(person);
        if (has(production.people[person].likes, what)) ++loads[person].liked;
      }
    }
    for (const PersonId person : here) {
      const Tags& likes = production.people[person].likes;
      const bool friends = std::any_of(here.begin(), here.end(), [&](PersonId other) {
        return other != person && has(likes, production.people[other].id);
      });
      if (friends) ++loads[person].with_friends;
    }
  }
}

std::vector<SizeNotKnown> sizes_not_known(const Production& production,
                                          const FilmCasting& casting) {
  std::set<std::pair<PersonId, ItemId>> wanted;
  for (const SceneChoice& scene : casting.scenes) {
    for (const PlaceChoice& place : scene.places) {
      if (!place.role.valid() || !production.roles[place.role].look.valid()) continue;
      for (const ItemId item : production.looks[production.roles[place.role].look].items) {
        for (const PersonId person : place.people) wanted.insert({person, item});
      }
    }
  }
  std::vector<SizeNotKnown> list;
  for (const auto& [person, item] : wanted) {
    const Person& wearer = production.people[person];
    if (size_match_or_instead(production, item, wearer) != SizeMatch::not_known) continue;
    SizeNotKnown one{person, item, {}};
    for (const auto& [name, range] : production.items[item].fits) {
      if (!wearer.sizes.contains(name)) one.sizes.push_back(name);
    }
    if (!one.sizes.empty()) list.push_back(std::move(one));  // else: something worn instead
  }
  return list;
}

}  // namespace gp
