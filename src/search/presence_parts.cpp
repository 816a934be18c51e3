#include "search/presence_parts.h"

#include "ordering/sequence.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t kMostMembers = 64;
/// Orders tried before the exact search, for each scene: it is the faster the better it begins.
constexpr std::uint64_t kTriesAScene = 20'000;

class Parting {
 public:
  Parting(const Problem& problem, const std::vector<SceneId>& scenes, bool all_filled)
      : problem_(problem), film_(problem.production), scenes_(scenes), all_filled_(all_filled) {
    for (const SceneId scene : scenes) {
      for (const Slot& slot : problem.slots.of(scene)) note(scene, slot);
    }
  }

  /// \param changing  with those who change their look
  [[nodiscard]] std::vector<PresencePart> parts(bool changing) const {
    std::map<std::pair<std::size_t, UnitId>, std::vector<SceneId>> groups;
    for (const SceneId scene : scenes_) {
      if (const auto day = problem_.only_day(scene)) {
        groups[{*day, film_.scenes[scene].unit}].push_back(scene);
      }
    }
    std::vector<PresencePart> result;
    for (const auto& [key, group] : groups) {
      if (group.size() < 3) continue;  // two scenes have no order in which anybody waits
      if (auto part = part_of(group, changing)) result.push_back(*std::move(part));
    }
    return result;
  }

 private:
  struct Facts {
    std::set<SceneId> certain, maybe;
    std::set<UnitId> units;  ///< of all of these
    std::set<LookId> looks;  ///< in certain parts; an invalid id: as themselves
    bool otherwise = false;  ///< may be wanted in a way that this question leaves out
  };

  [[nodiscard]] bool is_certain(const Slot& slot) const {
    return slot.people == 1 && slot.candidates.size() == 1 &&
           (slot.kind == Slot::Kind::part || (slot.kind == Slot::Kind::crew && all_filled_));
  }

  void note(SceneId scene, const Slot& slot) {
    const bool certain = is_certain(slot);
    for (const PersonId who : slot.candidates) {
      Facts& facts = facts_[who];
      (certain ? facts.certain : facts.maybe).insert(scene);
      facts.units.insert(film_.scenes[scene].unit);
      if (slot.kind == Slot::Kind::crew) continue;
      const Role& role = film_.roles[slot.role];
      if (role.look_kind == LookKind::any) continue;
      if (certain) facts.looks.insert(role.look);
      if (!certain && role.look_kind == LookKind::look) facts.otherwise = true;
    }
  }

  /// All that the looks' chains take of their wearer [weight in thousandths × min].
  [[nodiscard]] Thousandths chains(PersonId who, const Facts& facts) const {
    Minutes sum{0};
    for (const LookId look : facts.looks) {
      if (!look.valid()) continue;
      sum += work_minutes(film_.looks[look].steps) + work_minutes(film_.looks[look].off);
    }
    return count(sum) * film_.people[who].weight;
  }

  [[nodiscard]] std::optional<PresencePart> part_of(const std::vector<SceneId>& group,
                                                    bool changing) const {
    if (group.size() > kMostMembers) return std::nullopt;
    std::vector<PersonId> people;
    for (const auto& [who, facts] : facts_) {
      const bool wanted = problem_.staff.wanted(who) > 0 || facts.otherwise;
      const bool changes = facts.looks.size() > 1;
      const auto here = std::count_if(
          group.begin(), group.end(), [&](SceneId scene) { return facts.certain.contains(scene); });
      if (here >= 2 && !wanted && facts.units.size() == 1 && (changing || !changes)) {
        people.push_back(who);
      }
    }
    if (people.empty()) return std::nullopt;
    std::stable_sort(people.begin(), people.end(), [&](PersonId a, PersonId b) {
      return film_.people[a].weight > film_.people[b].weight;
    });
    if (people.size() > kMostMembers) people.resize(kMostMembers);
    return made(group, people);
  }

  [[nodiscard]] PresencePart made(const std::vector<SceneId>& group,
                                  const std::vector<PersonId>& people) const {
    PresencePart part;
    part.scenes = group;
    PresenceProblem& question = part.problem;
    const std::size_t size = group.size();
    question.cast.assign(size, 0);
    question.unpaid.assign(size, 0);
    question.before.assign(size, 0);
    for (const SceneId scene : group) {
      question.minutes.push_back(count(film_.scenes[scene].shoot_minutes));
    }
    for (std::size_t person = 0; person < people.size(); ++person) {
      const Facts& facts = facts_.at(people[person]);
      const Thousandths weight = film_.people[people[person]].weight;
      question.weight.push_back(weight);
      if (facts.looks.size() > 1) part.changes += chains(people[person], facts);
      for (std::size_t scene = 0; scene < size; ++scene) {
        if (facts.certain.contains(group[scene])) {
          question.cast[scene] |= PeopleSet{1} << person;
          part.work += weight * question.minutes[scene];
        } else if (facts.maybe.contains(group[scene])) {
          question.unpaid[scene] |= PeopleSet{1} << person;
        }
      }
    }
    for (std::size_t scene = 0; scene < size; ++scene) {
      for (const SceneId before : film_.scenes[group[scene]].after) {
        const auto at = std::find(group.begin(), group.end(), before);
        if (at != group.end()) question.before[scene] |= SceneSet{1} << (at - group.begin());
      }
    }
    return part;
  }

  const Problem& problem_;
  const Production& film_;
  const std::vector<SceneId>& scenes_;
  bool all_filled_;
  std::map<PersonId, Facts> facts_;
};

/// An order that keeps every `before`, as near to the listed one as may be.
std::vector<int> listed(const PresenceProblem& problem) {
  std::vector<int> order;
  SceneSet done = 0;
  while (order.size() < problem.scenes()) {
    for (std::size_t scene = 0; scene < problem.scenes(); ++scene) {
      if ((done >> scene & 1U) != 0 || (problem.before[scene] & ~done) != 0) continue;
      order.push_back(static_cast<int>(scene));
      done |= SceneSet{1} << scene;
    }
  }
  return order;
}

SolvedPart solved(const Problem& problem, PresencePart part, std::uint64_t most_nodes, Stop& stop) {
  const ReducedPresence less = reduced(part.problem);
  Random random(problem.wishes.seed);
  const PresenceOrder start = search_presence(
      less.problem, listed(less.problem), random, kTriesAScene * less.scenes.size(), stop);
  const ExactPresence exact = exact_presence(less.problem, start, most_nodes, stop);
  SolvedPart result;
  for (const int scene : less.original(exact.best.order)) {
    result.order.push_back(part.scenes[static_cast<std::size_t>(scene)]);
  }
  result.waiting = std::max<Thousandths>(0, exact.bound - part.work - part.changes);
  result.part = std::move(part);
  return result;
}

}  // namespace

std::vector<SolvedPart> solve_presence(const Problem& problem,
                                       const std::vector<SceneId>& scenes,
                                       bool all_filled,
                                       std::uint64_t most_nodes,
                                       Stop& stop) {
  const Parting parting(problem, scenes, all_filled);
  std::vector<PresencePart> everyone = parting.parts(true);
  const bool anyone_changes = std::any_of(
      everyone.begin(), everyone.end(), [](const PresencePart& part) { return part.changes > 0; });
  const std::uint64_t nodes =
      most_nodes / std::max<std::size_t>(1, everyone.size() * (anyone_changes ? 2 : 1));
  std::vector<SolvedPart> result;
  result.reserve(everyone.size());
  for (PresencePart& part : everyone) {
    result.push_back(solved(problem, std::move(part), nodes, stop));
  }
  if (!anyone_changes) return result;
  // without those who change, less waits, but nothing is taken off for the changes
  for (PresencePart& part : parting.parts(false)) {
    const auto twin = std::find_if(result.begin(), result.end(), [&](const SolvedPart& other) {
      return other.part.scenes == part.scenes;
    });
    if (twin == result.end() || twin->part.changes == 0) continue;
    const SolvedPart without = solved(problem, std::move(part), nodes, stop);
    twin->waiting = std::max(twin->waiting, without.waiting);
  }
  return result;
}

std::vector<SceneId> in_presence_order(const Problem& problem,
                                       const std::vector<SceneId>& order,
                                       const std::vector<SolvedPart>& parts) {
  std::vector<SceneId> result = order;
  for (const SolvedPart& solved : parts) {
    const std::set<SceneId> own(solved.order.begin(), solved.order.end());
    auto next = solved.order.begin();
    for (SceneId& scene : result) {
      if (own.contains(scene)) scene = *next++;
    }
  }
  return forerunners_first(problem.production, result);
}

}  // namespace gp
