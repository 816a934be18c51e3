#include "model/reading.h"

#include <string>
#include <vector>

// What somebody likes is a role, somebody else or a job.

namespace gp {
namespace {

/// Something in the lists of names had a fault of its own: what seems to name nothing may not.
bool names_unread(const Reading& reading) {
  for (const KnownIds* known : {&reading.roles, &reading.people, &reading.units, &reading.scenes}) {
    if (known->unreadable()) return true;
  }
  return reading.crew_unread;
}

}  // namespace

void validate_likes(Reading& reading) {
  if (names_unread(reading)) return;
  std::vector<std::string> names;  // only where one is missed: this may be a long list
  for (const PersonId id : reading.production.people.ids()) {
    const Person& person = reading.production.people[id];
    const Origin& origin = reading.origins.people[id];
    if (!origin.clean || person.likes.empty()) continue;
    const Json& list = *origin.json->find("likes");
    for (std::size_t i = 0; i < person.likes.size(); ++i) {
      const std::string& like = person.likes[i];
      const bool somebody_else = reading.people.find(like) && like != person.id;
      if (somebody_else || reading.roles.find(like) || reading.jobs.contains(like)) continue;
      if (reading.faults.full()) return;
      if (names.empty()) {
        const auto all = reading.production.likeable();
        names.assign(all.begin(), all.end());
      }
      const bool self = like == person.id;
      reading.faults.add(list.items()[i].at(),
                         path_to_item(origin.path + ".likes", i),
                         quoted(like) + (self ? ", who they are" : ""),
                         "the id of a role or of somebody else, or a job of a crew",
                         self ? std::string() : reading.faults.nearest_of(like, names));
    }
  }
}

}  // namespace gp
