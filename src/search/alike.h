#pragma once

#include "search/between.h"

#include <vector>

namespace gp {

/// People between whom a bound need not tell: as free, of one weight, and asked for the same.
struct Alike {
  std::vector<Span> free;          ///< by day as in Problem::days; empty: not that day
  std::vector<std::size_t> nodes;  ///< of Between, that they could fill; ascending
  std::vector<std::size_t> works;  ///< lists of staff, as given, that they are on; ascending
  Thousandths weight = 0;
  int people = 0;
};

/// Everybody who comes, in groups; those who could do nothing are left out.
/// \param staffs  who may do each kind of work at a station
std::vector<Alike> people_alike(const Problem& problem,
                                const Between& between,
                                const std::vector<std::vector<PersonId>>& staffs);

}  // namespace gp
