#include "search/bound.h"

#include "search/between_bound.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace gp {
namespace {

using Weights = std::vector<Thousandths>;

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

int missing(const Plan& plan, SceneId scene, RoleId role, const std::string& job) {
  int sum = 0;
  for (const Unfilled& row : plan.unfilled) {
    if (row.scene == scene && row.role == role && row.job == job) sum += row.missing;
  }
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
  Thousandths weighted(Thousandths waiting) {
    Thousandths scenes = 0;
    std::vector<FilledSlot> slots;
    for (SceneId scene : filmed_) {
      const auto here = filled(scene);
      scenes += scene_minutes(scene, here);
      slots.insert(slots.end(), here.begin(), here.end());
    }
    const Thousandths between = least_between(problem_, slots) * least_weights(film_, coming_, 1);
    return scenes + std::max(chains() + sign_ins() + waiting, between);
  }

  std::optional<Thousandths> span() {
    std::optional<Minutes> least;
    for (SceneId scene : filmed_) {
      const auto before = before_first(scene);
      if (!before) return std::nullopt;
      if (!least || *before < *least) least = *before;
    }
    return least ? count(*least) * Thousandths{1000} : 0;
  }

 private:
  [[nodiscard]] std::vector<FilledSlot> filled(SceneId scene) const {
    std::vector<FilledSlot> result;
    const auto crew = film_.crew_of(scene);
    std::map<std::string, int> missing_jobs;
    std::map<RoleId, int> missing_roles;
    for (const Slot& slot : problem_.slots.of(scene)) {
      const bool is_crew = slot.kind == Slot::Kind::crew;
      // A role or job asked for twice is short as a whole: take it from each in turn.
      int& left = is_crew
                      ? missing_jobs
                            .try_emplace(crew[slot.call].job,
                                         missing(plan_, scene, RoleId(), crew[slot.call].job))
                            .first->second
                      : missing_roles.try_emplace(slot.role, missing(plan_, scene, slot.role, {}))
                            .first->second;
      const int without = std::min(left, slot.people);
      left -= without;
      result.push_back({scene, &slot, slot.people - without});
    }
    return result;
  }

  [[nodiscard]] Minutes least_set_up(SceneId scene) const {
    const Scene& spec = film_.scenes[scene];
    return spec.set.empty() ? spec.set_minutes : std::min(spec.set_minutes, spec.reset_minutes);
  }

  Thousandths scene_minutes(SceneId scene, const std::vector<FilledSlot>& slots) const {
    Thousandths sum = 0;
    const Minutes shoot = film_.scenes[scene].shoot_minutes;
    for (const FilledSlot& row : slots) {
      const Minutes length =
          row.slot->kind == Slot::Kind::crew ? shoot + least_set_up(scene) : shoot;
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

  /// The least from first call to this scene's shot, were it the day's first; none: it needs
  /// nobody, so the first call may come after it.
  std::optional<Minutes> before_first(SceneId scene) const {
    Minutes least{0};
    struct Work {
      Minutes sum{0}, before = Minutes{1'000'000}, after = Minutes{1'000'000};
      std::set<PersonId> staff;
    };
    std::map<StationId, Work> chairs;
    std::map<std::pair<StationId, std::string>, Work> hands;
    bool anyone = false;
    for (const FilledSlot& row : filled(scene)) {
      if (row.heads == 0) continue;
      anyone = true;
      if (row.slot->kind == Slot::Kind::crew) {
        least = std::max(least, least_set_up(scene));
        continue;
      }
      const Role& role = film_.roles[row.slot->role];
      if (role.look_kind != LookKind::look) continue;
      const auto& chain = film_.looks[role.look].steps;
      const Minutes whole = whole_minutes(chain);
      least = std::max(least, whole);
      Minutes before{0};
      for (std::size_t k = 0; k < chain.size(); ++k) {
        const Minutes after = whole - before - chain[k].minutes;
        const auto add = [&](Work& work) {
          work.sum += chain[k].minutes * row.heads;
          work.before = std::min(work.before, before);
          work.after = std::min(work.after, after);
        };
        add(chairs[chain[k].at]);
        if (!chain[k].by.empty()) {
          Work& work = hands[{chain[k].at, chain[k].by}];
          add(work);
          const auto& staff = problem_.staff.on(role.look, k);
          work.staff.insert(staff.begin(), staff.end());
        }
        before += chain[k].minutes + chain[k].then_wait;
      }
    }
    const auto share = [&](const Work& work, std::size_t among) {
      if (among == 0) return;
      const auto n = static_cast<std::int32_t>(among);
      least = std::max(least, work.before + Minutes{(count(work.sum) + n - 1) / n} + work.after);
    };
    for (const auto& [station, work] : chairs) {
      share(work, static_cast<std::size_t>(film_.stations[station].places));
    }
    for (const auto& [key, work] : hands) share(work, work.staff.size());
    if (!anyone) return std::nullopt;
    return least + film_.sign_in;
  }

  const Problem& problem_;
  const Production& film_;
  const Plan& plan_;
  std::vector<SceneId> filmed_;
  std::vector<PersonId> coming_;
};

}  // namespace

std::vector<SceneId> filmed_scenes(const Plan& plan) {
  std::vector<SceneId> filmed;
  for (const DayPlan& day : plan.days) {
    for (const PlannedScene& scene : day.scenes) filmed.push_back(scene.scene);
  }
  std::sort(filmed.begin(), filmed.end());
  return filmed;
}

std::optional<Thousandths> lower_bound(const Problem& problem,
                                       const Plan& plan,
                                       const std::vector<SolvedPart>& waiting) {
  Bounding bounding(problem, plan);
  if (problem.production.aim != Aim::least_time) return bounding.span();
  Thousandths unavoidable = 0;
  for (const SolvedPart& part : waiting) unavoidable += part.waiting;
  return bounding.weighted(unavoidable);
}

}  // namespace gp
