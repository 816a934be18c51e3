#pragma once

#include "base/random.h"
#include "base/stop.h"
#include "search/sketch/sketch.h"

#include <cstdint>

namespace gp {

/// How warm, in thousandths of a minute.
struct Warmth {
  double from = 40'000, to = 1'500;
};

/// Makes a sketch cheaper: so many changes (fewer where there is a deadline that it would not
/// keep), each kept when it is no dearer or by chance, the less likely the colder it is. Source:
/// simulated annealing, Kirkpatrick, Gelatt and Vecchi 1983, doi:10.1126/science.220.4598.671.
/// \param most_work  in Sketch::work(): fewer changes where they would take more of it
void anneal(Sketch& sketch,
            std::uint64_t changes,
            std::uint64_t most_work,
            Warmth warmth,
            Random& random,
            Stop& stop);

}  // namespace gp
