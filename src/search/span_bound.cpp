#include "search/span_bound.h"

#include "ordering/chain_span.h"
#include "search/filled_slots.h"

#include <algorithm>
#include <limits>
#include <map>
#include <vector>

namespace gp {
namespace {

/// What must be done before one scene's shot, were it the first.
struct Before {
  ChainProblem chains;
  std::int32_t least = 0;  ///< what is known without asking for chairs and helpers
};

class FirstShots {
 public:
  FirstShots(const Problem& problem, const Plan& plan)
      : problem_(problem), film_(problem.production), plan_(plan), filmed_(filmed_scenes(plan)) {}

  /// Those of which one is the first of some day; none: one of them needs nobody.
  [[nodiscard]] std::optional<std::vector<Before>> all() const {
    std::vector<Before> result;
    for (const SceneId scene : filmed_) {
      if (!may_be_first(scene)) continue;
      auto before = before_shot(scene);
      if (!before) return std::nullopt;
      result.push_back(*std::move(before));
    }
    return result;
  }

 private:
  /// With one day: not what comes after another scene, nor what opens when another is over.
  [[nodiscard]] bool may_be_first(SceneId scene) const {
    if (problem_.days.size() != 1) return true;
    const auto& after = film_.scenes[scene].after;
    const auto& windows = problem_.windows.front();
    return std::none_of(filmed_.begin(), filmed_.end(), [&](SceneId other) {
      if (windows[scene].empty() || windows[other].empty()) return false;
      const Minutes shot = film_.scenes[other].shoot_minutes;
      if (shot > Minutes{0} && std::find(after.begin(), after.end(), other) != after.end()) {
        return true;
      }
      return windows[other].back().until - shot < windows[scene].front().from;
    });
  }

  [[nodiscard]] std::optional<Before> before_shot(SceneId scene) const {
    Before before;
    Resources resources(before.chains);
    bool anyone = false;
    for (const FilledSlot& row : filled_slots(problem_, plan_, scene)) {
      if (row.heads == 0) continue;
      anyone = true;
      auto least =
          sign_in_and([&](const DayFrame& day) { return way(day.base, day.scene_place[scene]); });
      if (row.slot->kind == Slot::Kind::crew) {
        least += minutes(film_.scenes[scene].set_minutes);
      } else if (const Role& role = film_.roles[row.slot->role];
                 role.look_kind == LookKind::look && !film_.looks[role.look].steps.empty()) {
        const auto chain = chain_of(scene, role.look, resources);
        before.chains.chains.insert(
            before.chains.chains.end(), static_cast<std::size_t>(row.heads), chain);
      }
      before.least = std::max(before.least, least);
    }
    if (!anyone) return std::nullopt;
    resources.share_helpers();
    return before;
  }

  /// Chairs and sorts of helpers, numbered as they are asked for.
  class Resources {
   public:
    explicit Resources(ChainProblem& chains) : chains_(chains) {}

    std::size_t chairs(StationId station, int places) {
      const auto [found, is_new] = stations_.try_emplace(station, chains_.capacity.size());
      if (is_new) chains_.capacity.push_back(places);
      return found->second;
    }
    std::size_t helpers(const std::vector<PersonId>& staff) {
      auto sorted = staff;
      std::sort(sorted.begin(), sorted.end());
      const auto [found, is_new] = staff_.try_emplace(sorted, chains_.capacity.size());
      if (is_new) chains_.capacity.push_back(static_cast<std::int32_t>(sorted.size()));
      return found->second;
    }
    /// Whoever is among more helpers cannot also be among those few.
    void share_helpers() {
      for (auto& chain : chains_.chains) {
        for (auto& task : chain) {
          const auto uses = task.uses;
          for (const auto& [few, of_few] : staff_) {
            if (std::find(uses.begin(), uses.end(), of_few) == uses.end()) continue;
            for (const auto& [more, of_more] : staff_) {
              if (of_more == of_few) continue;
              if (std::includes(more.begin(), more.end(), few.begin(), few.end())) {
                task.uses.push_back(of_more);
              }
            }
          }
        }
      }
    }

   private:
    ChainProblem& chains_;
    std::map<StationId, std::size_t> stations_;
    std::map<std::vector<PersonId>, std::size_t> staff_;
  };

  std::vector<ChainProblem::Task> chain_of(SceneId scene, LookId look, Resources& resources) const {
    std::vector<ChainProblem::Task> chain;
    const auto& steps = film_.looks[look].steps;
    for (std::size_t k = 0; k < steps.size(); ++k) {
      const Step& step = steps[k];
      const Station& station = film_.stations[step.at];
      ChainProblem::Task& task = chain.emplace_back();
      task.minutes = minutes(step.minutes);
      task.not_before = sign_in_and(
          [&](const DayFrame& day) { return way(day.base, day.station_place[step.at]); });
      const auto walk = least_of_days([&](const DayFrame& day) {
        const PlaceId to =
            k + 1 < steps.size() ? day.station_place[steps[k + 1].at] : day.scene_place[scene];
        return way(day.station_place[step.at], to);
      });
      task.then_wait = std::max(minutes(step.then_wait), walk);
      task.uses.push_back(resources.chairs(step.at, station.places));
      const auto& staff = problem_.staff.on(look, k);
      if (step.by.empty() || staff.empty()) continue;
      task.uses.push_back(resources.helpers(staff));
      task.not_before += minutes(station.set_minutes);  // whoever helps has readied it
    }
    return chain;
  }

  template <class Measure>
  [[nodiscard]] std::int32_t least_of_days(const Measure& measure) const {
    std::int32_t least = std::numeric_limits<std::int32_t>::max();
    for (const DayFrame& day : problem_.days) least = std::min(least, minutes(measure(day)));
    return least;
  }
  template <class Measure>
  [[nodiscard]] std::int32_t sign_in_and(const Measure& way_there) const {
    return minutes(film_.sign_in) + least_of_days(way_there);
  }
  [[nodiscard]] Minutes way(PlaceId a, PlaceId b) const { return problem_.ways.between(a, b); }
  static std::int32_t minutes(Minutes length) { return static_cast<std::int32_t>(count(length)); }

  const Problem& problem_;
  const Production& film_;
  const Plan& plan_;
  std::vector<SceneId> filmed_;
};

}  // namespace

std::optional<Thousandths> span_bound(
    const Problem& problem, const Plan& plan, std::int64_t at_most, std::int64_t work, Stop& stop) {
  const auto scenes = FirstShots(problem, plan).all();
  if (!scenes) return std::nullopt;
  // the scene that takes least decides: each is asked for more only where it does
  std::int32_t bound = scenes->empty() ? 0 : static_cast<std::int32_t>(at_most);
  const auto share = std::max<std::int64_t>(1, static_cast<std::int64_t>(scenes->size()));
  for (const Before& before : *scenes) {
    if (before.least >= bound) continue;
    const std::int32_t least = chain_span_bound(before.chains, bound, work / share, stop);
    bound = std::min(bound, std::max(before.least, least));
  }
  return Thousandths{bound} * 1000;
}

}  // namespace gp
