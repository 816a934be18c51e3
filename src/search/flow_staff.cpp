#include "search/flow_staff.h"

#include <algorithm>
#include <set>

namespace gp {
FlowStaff::FlowStaff(const Problem& problem, const Between& between)
    : problem_(problem), between_(between) {
  std::set<Work> works;
  for (const Between::Node& node : between.nodes()) {
    for (const bool off : {false, true}) {
      const auto& chain = between.steps(node, off);
      for (std::size_t k = 0; k < chain.size(); ++k) {
        const auto& staff = problem.staff.of(node.look, off, k);
        if (!staff.empty()) works.insert({chain[k].at, staff});
      }
    }
  }
  works_.assign(works.begin(), works.end());
}

std::vector<std::vector<PersonId>> FlowStaff::lists() const {
  std::vector<std::vector<PersonId>> all;
  for (const Work& work : works_) all.push_back(work.staff);
  return all;
}

std::size_t FlowStaff::number_of(const Work& work) const {
  return static_cast<std::size_t>(std::lower_bound(works_.begin(), works_.end(), work) -
                                  works_.begin());
}

void FlowStaff::ask(const Between::Node& node, std::size_t day, bool off, std::size_t column) {
  const auto& chain = between_.steps(node, off);
  for (std::size_t k = 0; k < chain.size(); ++k) {
    const auto& staff = problem_.staff.of(node.look, off, k);
    if (staff.empty()) continue;
    const auto minutes = static_cast<double>(count(chain[k].minutes));
    asked_[{number_of({chain[k].at, staff}), day}].push_back({column, minutes});
  }
}

/// How long one of them can work at the station at most.
double FlowStaff::staffed(const Crew& crew, StationId station) const {
  const Span free = crew.people->free[crew.day];
  const Span open = problem_.days[crew.day].open[station];
  const Minutes both = std::min(free.until, open.until) - std::max(free.from, open.from);
  return std::max(0, count(both));
}

std::size_t FlowStaff::come(const Crew& crew, LinearProgram& program) {
  const Production& film = problem_.production;
  const double people = crew.people->people;
  Terms busy = crew.as_busy;
  const std::size_t alone = program.add_column(0, people);
  busy.push_back({alone, static_cast<double>(count(film.sign_in))});
  std::map<StationId, Terms> at_station;
  for (const std::size_t k : crew.people->works) {
    const std::size_t column = program.add_column(0, people * kLongest);
    done_[{k, crew.day}].push_back({column, 1});
    busy.push_back({column, 1});
    at_station[works_[k].station].push_back({column, 1});
  }
  for (auto& [station, done] : at_station) {
    const std::size_t ready = program.add_column(0, people);
    busy.push_back({ready, static_cast<double>(count(film.stations[station].set_minutes))});
    done.push_back({ready, -staffed(crew, station)});
    program.add_row(-LinearProgram::kNone, 0, done);
    Terms here{{ready, 1}, {alone, -1}};
    for (const auto& [column, factor] : crew.begins) here.push_back({column, -factor});
    program.add_row(-LinearProgram::kNone, 0, here);
    for (const std::size_t k : crew.people->works) {
      if (works_[k].station == station) readied_[k].push_back({ready, 1});
    }
  }
  const double weight = static_cast<double>(crew.people->weight) / 1000;
  const std::size_t time = program.add_column(weight, people * kLongest);
  for (const Terms& least : {crew.as_asked, busy}) {
    Terms row{{time, 1}};
    for (const auto& [column, factor] : least) row.push_back({column, -factor});
    program.add_row(0, LinearProgram::kNone, row);
  }
  return alone;
}

void FlowStaff::write(LinearProgram& program) const {
  std::set<std::size_t> needed;
  for (const auto& [key, asked] : asked_) {
    Terms all;
    if (const auto done = done_.find(key); done != done_.end()) all = done->second;
    for (const auto& [column, factor] : asked) all.push_back({column, -factor});
    program.add_row(0, LinearProgram::kNone, all);
    needed.insert(key.first);
  }
  // every look that is asked for is worn by somebody
  for (const std::size_t k : needed) {
    if (const auto readied = readied_.find(k); readied != readied_.end()) {
      program.add_row(1, LinearProgram::kNone, readied->second);
    }
  }
}

}  // namespace gp
