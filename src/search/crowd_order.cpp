#include "search/crowd_order.h"

#include "ordering/presence_search.h"
#include "ordering/sequence.h"

#include <algorithm>
#include <array>
#include <bit>
#include <map>
#include <set>

namespace gp {
namespace {

constexpr std::size_t kFewestScenes = 3;
constexpr std::size_t kMostMembers = 64;
/// Orders tried, for each scene.
constexpr std::uint64_t kTriesAScene = 2'000;
/// Minutes from one day to the next, more than any day's clock goes.
constexpr std::int64_t kNextDay = 10'000;

/// People who are in the same scenes.
struct Row {
  SceneSet scenes = 0;
  std::int64_t weight = 0;
};

std::vector<Row> rows_of_parts(const Production& film, const Recipe& first) {
  std::map<PersonId, SceneSet> sets;
  for (const SceneId scene : film.scenes.ids()) {
    for (const CastCall& call : film.scenes[scene].cast) {
      if (film.roles[call.role].crowd || !first.part[call.role].valid()) continue;
      sets[first.part[call.role]] |= SceneSet{1} << scene.index();
    }
  }
  std::vector<Row> rows;
  rows.reserve(sets.size());
  for (const auto& [who, scenes] : sets) rows.push_back({scenes, film.people[who].weight});
  return rows;
}

/// A crowd's first so many heads are in each scene that needs as many.
std::vector<Row> rows_of_crowds(const Production& film) {
  std::map<LookId, std::vector<std::int64_t>> heads;  // by look (none: themselves) and scene
  for (const SceneId scene : film.scenes.ids()) {
    for (const CastCall& call : film.scenes[scene].cast) {
      const Role& role = film.roles[call.role];
      if (!role.crowd || role.look_kind == LookKind::any) continue;
      auto& here = heads[role.look_kind == LookKind::look ? role.look : LookId()];
      here.resize(film.scenes.size(), 0);
      here[scene.index()] += call.people;
    }
  }
  std::vector<Row> rows;
  for (const auto& [look, here] : heads) {
    std::int64_t below = 0;
    for (const std::int64_t level : std::set<std::int64_t>(here.begin(), here.end())) {
      Row row{0, (level - below) * 1000};
      for (std::size_t scene = 0; scene < here.size(); ++scene) {
        if (here[scene] >= level) row.scenes |= SceneSet{1} << scene;
      }
      if (level > 0) rows.push_back(row);
      below = level;
    }
  }
  return rows;
}

/// The scenes as listed, as far as `before` allows; fewer where it runs in a circle.
std::vector<int> listed(const std::vector<SceneSet>& before) {
  std::vector<int> order;
  SceneSet done = 0;
  for (bool more = true; more;) {
    more = false;
    for (std::size_t scene = 0; scene < before.size(); ++scene) {
      if ((done >> scene & 1U) != 0 || (before[scene] & ~done) != 0) continue;
      order.push_back(static_cast<int>(scene));
      done |= SceneSet{1} << scene;
      more = true;
    }
  }
  return order;
}

/// The first end and the last start of a scene's shot, in minutes of the whole shoot.
struct Reach {
  std::int64_t first_end = 0;
  std::int64_t last_start = 0;
};

std::optional<Reach> reach_of(const Problem& problem, SceneId scene) {
  std::optional<Reach> reach;
  const std::int64_t minutes = count(problem.production.scenes[scene].shoot_minutes);
  for (std::size_t day = 0; day < problem.days.size(); ++day) {
    if (!problem.open_on(scene, day)) continue;
    const auto& windows = problem.windows[day][scene];
    const std::int64_t midnight = static_cast<std::int64_t>(day) * kNextDay;
    if (!reach) reach = Reach{midnight + count(windows.front().from) + minutes, 0};
    reach->last_start = midnight + count(windows.back().until) - minutes;
  }
  return reach;
}

/// What must come before each scene: what it is `after`, and what could not come after it by the
/// hours they keep, unless that runs in a circle.
std::vector<SceneSet> before_each(const Problem& problem) {
  const Production& film = problem.production;
  std::vector<SceneSet> asked(film.scenes.size(), 0);
  for (const SceneId scene : film.scenes.ids()) {
    for (const SceneId other : film.scenes[scene].after) {
      asked[scene.index()] |= SceneSet{1} << other.index();
    }
  }
  Table<SceneId, std::optional<Reach>> reach(film.scenes.size());
  for (const SceneId scene : film.scenes.ids()) reach[scene] = reach_of(problem, scene);
  std::vector<SceneSet> with_hours = asked;
  for (const SceneId scene : film.scenes.ids()) {
    for (const SceneId other : film.scenes.ids()) {
      const auto& late = reach[scene];
      const auto& early = reach[other];
      if (scene != other && late && early && late->first_end > early->last_start) {
        with_hours[scene.index()] |= SceneSet{1} << other.index();
      }
    }
  }
  return listed(with_hours).size() == with_hours.size() ? with_hours : asked;
}

}  // namespace

CrowdPresence::CrowdPresence(const Problem& problem, const Recipe& first) : problem_(problem) {
  const Production& film = problem.production;
  const std::size_t size = film.scenes.size();
  if (size < kFewestScenes || size > kMostMembers) return;
  known_ = true;
  question_.cast.assign(size, 0);
  question_.unpaid.assign(size, 0);
  for (const Scene& scene : film.scenes) {
    question_.minutes.push_back(count(scene.shoot_minutes + least_set_up(scene)));
  }
  std::vector<Row> rows = rows_of_parts(film, first);
  for (const Row& row : rows_of_crowds(film)) rows.push_back(row);
  std::stable_sort(
      rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.weight > b.weight; });
  if (rows.size() > kMostMembers) rows.resize(kMostMembers);
  for (std::size_t person = 0; person < rows.size(); ++person) {
    question_.weight.push_back(rows[person].weight);
    for (std::size_t scene = 0; scene < size; ++scene) {
      if ((rows[person].scenes >> scene & 1U) != 0) {
        question_.cast[scene] |= PeopleSet{1} << person;
      }
    }
  }
  question_.before = before_each(problem);
}

std::int64_t CrowdPresence::of(const std::vector<SceneId>& order, const BuiltTimes& times) const {
  const Production& film = problem_.production;
  std::int64_t sum = 0;
  std::array<std::int64_t, kMostMembers> from{};
  std::array<std::int64_t, kMostMembers> until{};
  for (std::size_t day = 0; day < problem_.days.size(); ++day) {
    for (const UnitId unit : film.units.ids()) {
      std::int64_t now = 0;
      PeopleSet seen = 0;
      for (const SceneId scene : order) {
        const std::size_t on = times[scene] ? times[scene]->day : 0;
        if (film.scenes[scene].unit != unit || on != day) continue;
        const PeopleSet cast = question_.cast[scene.index()];
        const std::int64_t begun = now;
        now += question_.minutes[scene.index()];
        for (PeopleSet left = cast; left != 0; left &= left - 1) {
          const auto person = static_cast<std::size_t>(std::countr_zero(left));
          if ((seen >> person & 1U) == 0) from[person] = begun;
          until[person] = now;
        }
        seen |= cast;
      }
      for (; seen != 0; seen &= seen - 1) {
        const auto person = static_cast<std::size_t>(std::countr_zero(seen));
        sum += (until[person] - from[person]) * question_.weight[person];
      }
    }
  }
  return sum;
}

std::vector<SceneId> CrowdPresence::good_order(Stop& stop) const {
  Random random(problem_.wishes.seed);
  const std::uint64_t tries = kTriesAScene * question_.scenes();
  const PresenceOrder found =
      search_presence(question_, listed(question_.before), random, tries, stop);
  std::vector<SceneId> order;
  order.reserve(found.order.size());
  for (const int scene : found.order) order.emplace_back(static_cast<std::size_t>(scene));
  return forerunners_first(problem_.production, order);
}

}  // namespace gp
