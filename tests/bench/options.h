#pragma once

#include <optional>
#include <string>
#include <vector>

namespace gp::bench {

/// What was asked on the command line.
struct Options {
  std::vector<std::string> only;  ///< names of sections; empty: all
  int seeds = 10;
  std::optional<double> seconds;              ///< instead of each section's own limit [s]
  std::optional<std::size_t> most_instances;  ///< of each section; none: all
  int threads = 2;
  std::string file;    ///< what is rewritten; empty: docs/benchmarks.md of the sources
  bool print = false;  ///< to standard output instead of the file

  [[nodiscard]] bool wants(const std::string& section) const;
};

/// None: the words were wrong or help was asked; what to say is in `message`.
std::optional<Options> read_options(const std::vector<std::string>& words,
                                    const std::vector<std::string>& sections,
                                    std::string& message);

}  // namespace gp::bench
