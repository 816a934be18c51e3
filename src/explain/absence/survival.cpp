#include "explain/absence/survival.h"

#include "casting/seating.h"

#include <algorithm>
#include <set>

namespace gp::absence {
namespace {

/// Whether whoever is missing from these duties can be replaced, one duty a stand-in.
bool replaced(const std::vector<const Duty*>& duties,
              const std::vector<char>& came,
              Seating& seating) {
  std::vector<Seat> missing;
  for (const Duty* duty : duties) {
    if (came[duty->person.index()] == 0) missing.push_back({&duty->stand_ins, false});
  }
  return missing.empty() || seating.empty_seats(missing, came).has_value();
}

Survival found(const Production& production,
               const Plan& plan,
               Answers answers,
               std::uint64_t seed,
               bool whole) {
  Survival result;
  result.duties = duties_of(production, plan, answers, !whole);
  std::set<PersonId> people;
  std::vector<const Duty*> deciding;
  for (const Duty& duty : result.duties) {
    if (!duty.decides()) continue;
    deciding.push_back(&duty);
    people.insert(duty.person);
    people.insert(duty.stand_ins.begin(), duty.stand_ins.end());
  }
  std::vector<std::vector<const Duty*>> of_scene;
  const auto one_seat_each = [](std::vector<const Duty*>& duties) {
    std::set<std::size_t> seen;
    std::erase_if(duties, [&](const Duty* duty) { return !seen.insert(duty->shared_with).second; });
  };
  for (const DayPlan& day : plan.days) {
    for (const PlannedScene& scene : day.scenes) {
      if (!whole) break;
      result.scenes.push_back({scene.scene, {}});
      of_scene.emplace_back();
      for (const Duty* duty : deciding) {
        const auto& in = duty->scenes;
        if (std::find(in.begin(), in.end(), scene.scene) != in.end()) {
          of_scene.back().push_back(duty);
        }
      }
      one_seat_each(of_scene.back());
    }
  }
  one_seat_each(deciding);
  Seating seating(production.people.size());
  std::vector<double> filmed(of_scene.size(), 0.0);
  double all = 0;
  const auto parties = parties_by_name(production, {people.begin(), people.end()});
  const bool exact =
      go_through_days(production, parties, seed, [&](const std::vector<char>& came, double weight) {
        if (replaced(deciding, came, seating)) all += weight;
        for (std::size_t i = 0; i < of_scene.size(); ++i) {
          if (replaced(of_scene[i], came, seating)) filmed[i] += weight;
        }
      });
  result.all_filmed = likelihood_of(all, exact);
  for (std::size_t i = 0; i < filmed.size(); ++i) {
    result.scenes[i].filmed = likelihood_of(filmed[i], exact);
  }
  std::stable_sort(result.scenes.begin(), result.scenes.end(), [](const auto& a, const auto& b) {
    return a.filmed.chance < b.filmed.chance - 1e-12;
  });
  return result;
}

}  // namespace

Survival survival_of(const Production& production,
                     const Plan& plan,
                     Answers answers,
                     std::uint64_t seed) {
  return found(production, plan, answers, seed, true);
}

Survival short_survival_of(const Production& production,
                           const Plan& plan,
                           Answers answers,
                           std::uint64_t seed) {
  return found(production, plan, answers, seed, false);
}

}  // namespace gp::absence
