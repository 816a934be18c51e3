#include "ordering/presence.h"

#include <cstddef>
#include <map>
#include <utility>

namespace gp {

std::int64_t presence(const PresenceProblem& problem, const std::vector<int>& order) {
  PeopleSet begun = 0;
  std::vector<PeopleSet> there;  // by place in the order: those who have been in a scene
  for (const int scene : order) {
    begun |= problem.cast[static_cast<std::size_t>(scene)];
    there.push_back(begun);
  }
  std::int64_t sum = 0;
  PeopleSet later = 0;
  for (std::size_t place = order.size(); place-- > 0;) {
    const auto scene = static_cast<std::size_t>(order[place]);
    later |= problem.cast[scene];
    const PeopleSet paid = problem.cast[scene] | (there[place] & later & ~problem.unpaid[scene]);
    for (std::size_t person = 0; person < problem.people(); ++person) {
      if ((paid >> person & 1U) != 0) sum += problem.minutes[scene] * problem.weight[person];
    }
  }
  return sum;
}

std::vector<int> ReducedPresence::original(const std::vector<int>& order) const {
  std::vector<int> all;
  for (const int merged : order) {
    const auto& group = scenes[static_cast<std::size_t>(merged)];
    all.insert(all.end(), group.begin(), group.end());
  }
  all.insert(all.end(), nobody.begin(), nobody.end());
  return all;
}

ReducedPresence reduced(const PresenceProblem& problem) {
  SceneSet ordered = 0;  // with an order asked of them, on either side
  for (std::size_t scene = 0; scene < problem.scenes(); ++scene) {
    if (problem.before[scene] != 0) ordered |= problem.before[scene] | SceneSet{1} << scene;
  }
  ReducedPresence result;
  result.problem.weight = problem.weight;
  std::map<std::pair<PeopleSet, PeopleSet>, std::size_t> same_people;
  std::vector<int> became(problem.scenes(), -1);
  for (std::size_t scene = 0; scene < problem.scenes(); ++scene) {
    const bool free = (ordered >> scene & 1U) == 0;
    if (free && problem.cast[scene] == 0) {
      result.nobody.push_back(static_cast<int>(scene));
      continue;
    }
    const std::size_t next = result.scenes.size();
    const std::size_t at =
        free ? same_people.try_emplace({problem.cast[scene], problem.unpaid[scene]}, next)
                   .first->second
             : next;
    if (at == next) {
      result.scenes.emplace_back();
      result.problem.minutes.push_back(0);
      result.problem.cast.push_back(problem.cast[scene]);
      result.problem.unpaid.push_back(problem.unpaid[scene]);
    }
    result.scenes[at].push_back(static_cast<int>(scene));
    result.problem.minutes[at] += problem.minutes[scene];
    became[scene] = static_cast<int>(at);
  }
  result.problem.before.assign(result.scenes.size(), 0);
  for (std::size_t scene = 0; scene < problem.scenes(); ++scene) {
    for (std::size_t other = 0; other < problem.scenes(); ++other) {
      if ((problem.before[scene] >> other & 1U) == 0) continue;
      result.problem.before[static_cast<std::size_t>(became[scene])] |=
          SceneSet{1} << static_cast<unsigned>(became[other]);
    }
  }
  return result;
}

}  // namespace gp
