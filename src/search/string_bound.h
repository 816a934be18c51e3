#pragma once

#include "search/between.h"
#include "search/problem.h"

#include <cstdint>

namespace gp {

/// The least minutes that all who are in these scenes together spend on site outside them, where
/// there are too many for flow_bound.h: everybody counts as anybody, and any day as any other. The
/// cheapest way to string all heads together is a transportation problem; that its strings could
/// close into rings is kept in bounds by as many beginnings as there are heads at once in the
/// fullest scene, and by the same for each look, role and sort of crew through prices (Lagrangian
/// relaxation, Geoffrion 1974, doi:10.1007/BFb0120690). Chairs, staff, meals and who is free are
/// left out, so no right plan needs less. Source: successive shortest paths with potentials,
/// Edmonds and Karp 1972, doi:10.1145/321694.321699. Cost: O(slots² × pairs of slots joined).
std::int64_t least_between(const Problem& problem, const Between& between);

}  // namespace gp
