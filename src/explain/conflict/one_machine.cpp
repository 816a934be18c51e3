#include "explain/conflict/one_machine.h"

#include "explain/conflict/ground.h"

#include <algorithm>
#include <optional>
#include <set>

namespace gp::conflict {
namespace {

constexpr std::size_t kMostScenes = 12;

/// One scene by itself: when its shot could begin on each day, as far as its parts are concerned.
struct Starts {
  std::vector<std::vector<Minute>> on;  ///< by day, in order
  std::set<PersonId> certain;           ///< who must be in it
};

Starts starts_of(const Production& film,
                 SceneId scene,
                 const Terms& terms,
                 const std::vector<DayId>& days) {
  Starts starts;
  for (const DayId day : days) {
    const DayGround ground(film, {scene, RoleId(), {}}, terms, day);
    for (const Slot& slot : ground.slots) {
      if (slot.candidates.size() == 1) starts.certain.insert(slot.candidates.front());
    }
    starts.on.emplace_back();
    for (const Span& window : ground.windows) {
      for (Minute at = window.from; at + ground.shoot() <= window.until; at += Minutes{1}) {
        bool open = true;
        for (std::size_t s = 0; s < ground.slots.size() && open; ++s) {
          open = !ground.fitting(s, at).empty();
        }
        if (open) starts.on.back().push_back(at);
      }
    }
    std::sort(starts.on.back().begin(), starts.on.back().end());
  }
  return starts;
}

struct Ended {
  std::size_t day = 0;
  Minute at = kAlwaysBefore;
  auto operator<=>(const Ended&) const = default;
};

/// Whether the scenes can follow each other, each kept back by its least set-up.
bool can_follow(const Production& film,
                const Table<SceneId, Starts>& starts,
                const std::vector<SceneId>& scenes,
                bool set_ups) {
  const std::size_t n = scenes.size();
  std::vector<Minutes> set_up(n, Minutes{0});
  std::vector<std::size_t> before(n, 0);  // those that it comes after, as bits
  for (std::size_t j = 0; j < n; ++j) {
    const Scene& scene = film.scenes[scenes[j]];
    if (set_ups) set_up[j] = scene.set_minutes;
    for (std::size_t k = 0; k < n; ++k) {
      const Scene& other = film.scenes[scenes[k]];
      if (set_ups && k != j && !scene.set.empty() && scene.set == other.set) {
        set_up[j] = std::min(set_up[j], scene.reset_minutes);
      }
      if (std::find(scene.after.begin(), scene.after.end(), scenes[k]) != scene.after.end()) {
        before[j] |= std::size_t{1} << k;
      }
    }
  }
  std::vector<std::optional<Ended>> earliest(std::size_t{1} << n);
  earliest[0] = Ended{};
  for (std::size_t done = 0; done < earliest.size(); ++done) {
    if (!earliest[done]) continue;
    for (std::size_t j = 0; j < n; ++j) {
      const std::size_t bit = std::size_t{1} << j;
      if ((done & bit) != 0 || (before[j] & ~done) != 0) continue;
      for (std::size_t d = earliest[done]->day; d < starts[scenes[j]].on.size(); ++d) {
        const auto& at = starts[scenes[j]].on[d];
        const Minute least =
            d == earliest[done]->day ? earliest[done]->at + set_up[j] : kAlwaysBefore;
        const auto found = std::lower_bound(at.begin(), at.end(), least);
        if (found == at.end()) continue;
        const Ended ended{d, *found + film.scenes[scenes[j]].shoot_minutes};
        auto& known = earliest[done | bit];
        if (!known || ended < *known) known = ended;
        break;
      }
    }
  }
  return earliest.back().has_value();
}

}  // namespace

bool proven_too_much(const Production& film, const Terms& terms) {
  std::vector<DayId> days;
  for (const DayId day : film.days.ids()) {
    if (!terms.only_day || *terms.only_day == day) days.push_back(day);
  }
  Table<SceneId, Starts> starts;
  for (const SceneId scene : film.scenes.ids()) starts.add(starts_of(film, scene, terms, days));
  const auto too_many = [&](const std::vector<SceneId>& scenes, bool set_ups) {
    return !scenes.empty() && scenes.size() <= kMostScenes &&
           !can_follow(film, starts, scenes, set_ups);
  };
  for (const UnitId unit : film.units.ids()) {
    std::vector<SceneId> scenes;
    for (const SceneId scene : film.scenes.ids()) {
      if (film.scenes[scene].unit == unit) scenes.push_back(scene);
    }
    if (too_many(scenes, true)) return true;
  }
  for (const PersonId person : film.people.ids()) {
    std::vector<SceneId> scenes;
    for (const SceneId scene : film.scenes.ids()) {
      if (starts[scene].certain.contains(person)) scenes.push_back(scene);
    }
    if (too_many(scenes, false)) return true;
  }
  return false;
}

}  // namespace gp::conflict
