#include "search/project_order.h"

#include "ordering/project.h"
#include "ordering/sequence.h"
#include "search/each_thread.h"

#include <algorithm>
#include <map>

namespace gp {
namespace {

/// Minutes times resources that a schedule may take to write down; more is not worth it.
constexpr std::int64_t kMostCells = 4'000'000;

ProjectProblem project_of(const Problem& problem) {
  const Production& film = problem.production;
  ProjectProblem project;
  for (const Unit& unit : film.units) {
    static_cast<void>(unit);
    project.capacity.push_back(1);
  }
  const std::size_t first_item = project.capacity.size();
  for (const Item& item : film.items) project.capacity.push_back(item.count);
  std::map<PersonId, std::size_t> people;
  for (const SceneId id : film.scenes.ids()) {
    const Scene& scene = film.scenes[id];
    project.minutes.push_back(count(least_set_up(scene) + scene.shoot_minutes));
    auto& uses = project.uses.emplace_back();
    uses.push_back({scene.unit.index(), 1});
    for (const Prop& prop : scene.props) {
      // of more than there are the scene is not filmed at all: let it take what there is
      const int amount = std::min(prop.count, film.items[prop.item].count);
      if (amount > 0) uses.push_back({first_item + prop.item.index(), amount});
    }
    for (const Slot& slot : problem.slots.of(id)) {
      if (slot.candidates.size() != 1 || slot.people != 1) continue;
      const auto [entry, fresh] =
          people.try_emplace(slot.candidates.front(), project.capacity.size());
      if (fresh) project.capacity.push_back(1);
      const bool twice = std::any_of(uses.begin(), uses.end(), [&](const ProjectProblem::Use& use) {
        return use.resource == entry->second;
      });
      if (!twice) uses.push_back({entry->second, 1});
    }
    auto& before = project.before.emplace_back();
    for (const SceneId other : scene.after) before.push_back(other.index());
  }
  return project;
}

}  // namespace

std::optional<std::vector<SceneId>> project_order(const Problem& problem,
                                                  std::uint64_t most_schedules,
                                                  Stop& stop) {
  const Production& film = problem.production;
  if (film.units.size() < 2 || problem.days.size() != 1 || film.scenes.size() < 3) {
    return std::nullopt;
  }
  const ProjectProblem project = project_of(problem);
  std::int64_t minutes = 0;
  for (const std::int32_t length : project.minutes) minutes += length;
  if (minutes * static_cast<std::int64_t>(project.capacity.size()) > kMostCells) {
    return std::nullopt;
  }
  // each thread its own chances; of equals the first, so that two are never worse than one
  std::vector<ProjectSchedule> found(problem.threads());
  each_thread(found.size(), stop, [&](std::size_t t, Stop& limited) {
    Random random(problem.wishes.seed + t * 0x9e3779b97f4a7c15ULL);
    found[t] = search_project(project, random, most_schedules, limited);
  });
  const ProjectSchedule& schedule = *std::min_element(
      found.begin(), found.end(), [](const auto& a, const auto& b) { return a.until < b.until; });
  std::vector<SceneId> order;
  for (const SceneId scene : film.scenes.ids()) order.push_back(scene);
  std::stable_sort(order.begin(), order.end(), [&](SceneId a, SceneId b) {
    return schedule.start[a.index()] < schedule.start[b.index()];
  });
  return forerunners_first(film, order);
}

}  // namespace gp
