#pragma once

#include "bench/measure.h"
#include "bench/options.h"
#include "casting/cast_problem.h"

#include <functional>
#include <string>
#include <vector>

namespace gp::bench {

/// One part of docs/benchmarks.md.
struct Section {
  std::string name;      ///< for --only
  std::string title;     ///< its heading
  std::string to_reach;  ///< what was wanted, for 2 cores; empty: nothing in particular
  double seconds = 0;    ///< the limit of one run, where none is asked for
  /// Measures and writes what stands below the heading.
  std::function<std::string(const Options&, double seconds)> body;
};

/// All of them, in the order of the page.
std::vector<Section> sections();

std::vector<Section> published_sections();  ///< problems of the literature, and made-up ones alike
std::vector<Section> day_sections();        ///< shooting days of all sizes
Section solver_section();                   ///< against a general constraint solver
Section by_hand_section();                  ///< against the plan a careful person makes
Section page_section();                     ///< the book and the pages
Section casting_section();                  ///< casting alone, before there is an order

/// No casting of the problem without friends costs less.
std::int64_t casting_bound(const CastProblem& problem);

/// Measures the tasks and writes their table under a line that sums them up.
/// \param outcomes  what was measured is added here, for the verdict
std::string measured(const std::vector<Task>& tasks,
                     const Options& options,
                     double seconds,
                     std::vector<Outcome>& outcomes);

/// "**Reached.** why" or "**Not reached.** why".
std::string verdict(bool reached, const std::string& why);

/// The whole file; throws WorldError where there is none.
std::string file_text(const std::string& path);
/// The production of that text; throws std::runtime_error where it has faults.
Production production_of_text(const std::string& text);

/// The first so many, where so many were asked for.
template <class T>
void keep_first(std::vector<T>& items, const Options& options) {
  if (options.most_instances && items.size() > *options.most_instances) {
    items.erase(items.begin() + static_cast<std::ptrdiff_t>(*options.most_instances), items.end());
  }
}

}  // namespace gp::bench
