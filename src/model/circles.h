#pragma once

#include <cstddef>
#include <vector>

namespace gp {

/// Circles in a graph: for each knot of nodes that reach each other, the shortest way round from
/// its first node (by index) back to it, that node once at the front. A node with an arrow to
/// itself is a circle of one. In order of the first nodes. \param arrows  arrows[i]: the nodes that
/// node i points to Cost: O(nodes + arrows). Source: strongly connected components, Tarjan 1972,
/// doi:10.1137/0201010; then breadth first.
std::vector<std::vector<std::size_t>> circles(const std::vector<std::vector<std::size_t>>& arrows);

}  // namespace gp
