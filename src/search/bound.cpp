#include "search/bound.h"

#include "search/filled_slots.h"
#include "search/flow_bound.h"
#include "search/string_bound.h"

#include <algorithm>
#include <map>
#include <set>
#include <vector>

namespace gp {
namespace {

using Weights = std::vector<Thousandths>;

/// Of more, pairs are not looked at.
constexpr std::size_t kMostSlots = 250;

/// The `n` least of the weights of these people, summed.
Thousandths least_weights(const Production& film, const std::vector<PersonId>& people, int n) {
  Weights weights;
  weights.reserve(people.size());
  for (PersonId who : people) weights.push_back(film.people[who].weight);
  const auto taken = std::min(static_cast<std::size_t>(std::max(n, 0)), weights.size());
  std::partial_sort(
      weights.begin(), weights.begin() + static_cast<std::ptrdiff_t>(taken), weights.end());
  Thousandths sum = 0;
  for (std::size_t i = 0; i < taken; ++i) sum += weights[i];
  return sum;
}

class Bounding {
 public:
  Bounding(const Problem& problem, const Plan& plan)
      : problem_(problem), film_(problem.production), plan_(plan), filmed_(filmed_scenes(plan)) {
    for (PersonId who : film_.people.ids()) {
      if (problem.wishes.answers.include(film_.people[who].answer)) coming_.push_back(who);
    }
  }

  /// \param waiting  that no order of the scenes avoids
  Thousandths weighted(Thousandths waiting, Stop& stop) {
    Thousandths scenes = 0;
    std::vector<FilledSlot> slots;
    for (SceneId scene : filmed_) {
      const auto here = filled(scene);
      scenes += scene_minutes(scene, here);
      slots.insert(slots.end(), here.begin(), here.end());
    }
    const Thousandths apart = scenes + chains() + sign_ins() + waiting;
    if (slots.size() > kMostSlots) return apart;
    const Between between(problem_, slots);
    const auto flow = least_flow(problem_, between, stop);
    if (flow && !stop.now_exactly()) return std::max(apart, *flow);
    const Thousandths strung = least_between(problem_, between) * least_weights(film_, coming_, 1);
    return std::max({apart, scenes + strung, flow.value_or(0)});
  }

 private:
  [[nodiscard]] std::vector<FilledSlot> filled(SceneId scene) const {
    return filled_slots(problem_, plan_, scene);
  }

  Thousandths scene_minutes(SceneId scene, const std::vector<FilledSlot>& slots) const {
    Thousandths sum = 0;
    const Minutes shoot = film_.scenes[scene].shoot_minutes;
    for (const FilledSlot& row : slots) {
      const Minutes length =
          row.slot->kind == Slot::Kind::crew ? shoot + least_set_up(film_.scenes[scene]) : shoot;
      sum += count(length) * least_weights(film_, row.slot->candidates, row.heads);
    }
    return sum;
  }

  /// People certain to be there, because a part is theirs; and how many there are at once at least.
  struct Wearers {
    std::set<PersonId> certain;
    int at_once = 0;
  };

  [[nodiscard]] std::map<LookId, Wearers> wearers() const {
    std::map<LookId, Wearers> result;
    for (SceneId scene : filmed_) {
      std::map<LookId, int> here;
      for (const FilledSlot& row : filled(scene)) {
        if (row.slot->kind == Slot::Kind::crew) continue;
        const Role& role = film_.roles[row.slot->role];
        if (role.look_kind != LookKind::look) continue;
        here[role.look] += row.heads;
        if (!role.crowd && role.person.valid()) result[role.look].certain.insert(role.person);
      }
      for (const auto& [look, heads] : here) {
        result[look].at_once = std::max(result[look].at_once, heads);
      }
    }
    return result;
  }

  Thousandths at_least(const Wearers& wearers) const {
    Thousandths sum = 0;
    for (PersonId who : wearers.certain) sum += film_.people[who].weight;
    std::vector<PersonId> others;
    for (PersonId who : coming_) {
      if (!wearers.certain.contains(who)) others.push_back(who);
    }
    return sum +
           least_weights(film_, others, wearers.at_once - static_cast<int>(wearers.certain.size()));
  }

  Thousandths chains() const {
    Thousandths sum = 0;
    std::set<StationId> readied;
    for (const auto& [look, who] : wearers()) {
      const Look& spec = film_.looks[look];
      const int people = std::max(who.at_once, static_cast<int>(who.certain.size()));
      Minutes own{0};
      const auto add = [&](const Step& step, const std::vector<PersonId>& staff) {
        own += step.minutes;
        if (step.by.empty() || staff.empty() || people == 0) return;
        const Thousandths dear = least_weights(film_, staff, 1);
        sum += dear * count(step.minutes) * people;
        if (readied.insert(step.at).second) {
          sum += dear * count(film_.stations[step.at].set_minutes);
        }
      };
      for (std::size_t k = 0; k < spec.steps.size(); ++k) {
        add(spec.steps[k], problem_.staff.on(look, k));
      }
      for (std::size_t k = 0; k < spec.off.size(); ++k) {
        add(spec.off[k], problem_.staff.off(look, k));
      }
      sum += count(own) * at_least(who);
    }
    return sum;
  }

  Thousandths sign_ins() const {
    Wearers there;
    for (SceneId scene : filmed_) {
      int heads = 0;
      for (const FilledSlot& row : filled(scene)) {
        heads += row.heads;
        if (row.slot->kind != Slot::Kind::part) continue;
        const Role& role = film_.roles[row.slot->role];
        if (role.person.valid()) there.certain.insert(role.person);
      }
      there.at_once = std::max(there.at_once, heads);
    }
    return count(film_.sign_in) * at_least(there);
  }

  const Problem& problem_;
  const Production& film_;
  const Plan& plan_;
  std::vector<SceneId> filmed_;
  std::vector<PersonId> coming_;
};

}  // namespace

Thousandths lower_bound(const Problem& problem,
                        const Plan& plan,
                        const std::vector<SolvedPart>& waiting,
                        Stop& stop) {
  Thousandths unavoidable = 0;
  for (const SolvedPart& part : waiting) unavoidable += part.waiting;
  return Bounding(problem, plan).weighted(unavoidable, stop);
}

}  // namespace gp
