#include "search/alike.h"

#include <map>
#include <tuple>
#include <utility>

namespace gp {
std::vector<Alike> people_alike(const Problem& problem,
                                const Between& between,
                                const std::vector<std::vector<PersonId>>& staffs) {
  const Production& film = problem.production;
  using Hours = std::vector<std::pair<Minute, Minute>>;
  using Numbers = std::vector<std::size_t>;
  Table<PersonId, Numbers> nodes(film.people.size());
  for (std::size_t n = 0; n < between.nodes().size(); ++n) {
    for (const PersonId who : between.nodes()[n].row.slot->candidates) nodes[who].push_back(n);
  }
  Table<PersonId, Numbers> works(film.people.size());
  for (std::size_t k = 0; k < staffs.size(); ++k) {
    for (const PersonId who : staffs[k]) works[who].push_back(k);
  }
  std::map<std::tuple<Hours, Numbers, Numbers, Thousandths>, std::size_t> known;
  std::vector<Alike> all;
  for (const PersonId who : film.people.ids()) {
    Alike one;
    Hours hours;
    for (const DayFrame& frame : problem.days) {
      const auto& free = frame.free[who];
      one.free.push_back(free.empty() ? Span{} : Span{free.front().from, free.back().until});
      hours.emplace_back(one.free.back().from, one.free.back().until);
    }
    one.nodes = std::move(nodes[who]);
    one.works = std::move(works[who]);
    if (one.nodes.empty() && one.works.empty()) continue;
    one.weight = film.people[who].weight;
    const auto key = std::make_tuple(std::move(hours), one.nodes, one.works, one.weight);
    const auto [at, fresh] = known.try_emplace(key, all.size());
    if (fresh) all.push_back(std::move(one));
    ++all[at->second].people;
  }
  return all;
}

}  // namespace gp
