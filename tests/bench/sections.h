#pragma once

#include "bench/measure.h"
#include "bench/options.h"

#include <functional>
#include <string>
#include <vector>

namespace gp::bench {

/// One part of docs/benchmarks.md.
struct Section {
  std::string name;      ///< for --only
  std::string title;     ///< its heading
  std::string to_reach;  ///< what was wanted, for 2 cores; empty: nothing in particular
  double seconds = 0;    ///< the limit of one run, where none is asked for; 0: there is none
  /// Measures and writes what stands below the heading.
  std::function<std::string(const Options&, double seconds)> body;
  bool by_seed = true;  ///< whether it is run with one seed after another
};

/// All of them, in the order of the page.
std::vector<Section> sections();

std::vector<Section> published_sections();  ///< problems of the literature, and made-up ones alike
std::vector<Section> day_sections();        ///< shooting days of all sizes
Section solver_section();                   ///< against a general constraint solver
Section by_hand_section();                  ///< against the plan a careful person makes
Section page_section();                     ///< the book and the pages
Section casting_section();                  ///< casting alone, before there is an order

/// Measures the tasks and writes their table under a line that sums them up.
/// \param outcomes  what was measured is added here, for the verdict
std::string measured(const std::vector<Task>& tasks,
                     const Options& options,
                     double seconds,
                     std::vector<Outcome>& outcomes);

constexpr int kSeeds = 10;   ///< of a whole measurement
constexpr double kBusy = 3;  ///< the most load at its beginning; a section before leaves a 2

/// How it was measured: "3 seeds, 10.0 s a run, 2 threads; "; as far as the section has these.
std::string how_long(const Section& section, const Options& options, double seconds);
/// That it was a short or a disturbed measurement; empty: it was not.
std::string disturbed(const Section& section, const Options& options, double seconds, double busy);

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
