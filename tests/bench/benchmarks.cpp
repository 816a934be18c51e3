// Measures the planner and writes docs/benchmarks.md, section by section.
//
//     ninja -C build/release benchmarks book_commits pages_load
//     build/release/tests/bench/benchmarks [--only jobshop] [--seeds 3] [--seconds 10]
//
// Run it on a machine that does nothing else; the numbers are of this machine, the ratios travel.
#include "base/errors.h"
#include "base/files.h"
#include "bench/machine.h"
#include "bench/pages.h"
#include "bench/sections.h"

#include <cstdio>
#include <exception>
#include <optional>
#include <string>
#include <vector>

namespace {

using namespace gp::bench;

const char* const kHead =
    R"(# Benchmarks

What the planner finds and how long it takes, measured through `make_plan()` itself: problems of the literature are
written as productions first (`tests/data/published/README.md` says how, and where they and the best known values are
from). Every plan is checked against all rules before it counts. Each section says when, on what and from which commit
it was measured. The numbers are of that machine; gaps and ratios travel. The targets are for two cores at rest.

    ninja -C build/release benchmarks book_commits pages_load
    build/release/tests/bench/benchmarks                                     # all, ten seeds: some four hours
    build/release/tests/bench/benchmarks --only jobshop --seeds 3 --seconds 10

Only the sections measured are rewritten. Times to the first and to the best plan are as fine as the planner tells its
progress: some 20 ms. A gap is (found − best) / best, its mean is over the runs. The comparison with a general solver
needs Debian's `minizinc` (with Gecode) and is left out where that is not installed; nothing else needs it.
)";

/// None: the measurement died; what stands on the page stays.
std::optional<std::string> section_text(const Section& section, const Options& options) {
  const double seconds = options.seconds.value_or(section.seconds);
  const double busy = load();
  std::fprintf(stderr, "%s: %d seeds, %g s each\n", section.name.c_str(), options.seeds, seconds);
  const Apart apart = run_apart([&] { return section.body(options, seconds); });
  if (!apart.ended_well) {
    std::fprintf(stderr, "%s ended with an error; nothing was written\n", section.name.c_str());
    return std::nullopt;
  }
  std::string text = "## " + section.title + "\n";
  if (!section.to_reach.empty()) text += "To reach: " + section.to_reach + ".\n\n";
  text += apart.text;
  std::string how =
      "\nMeasured " + today() + ", commit " + commit_text() + ", " + machine_text() + "; ";
  how += how_long(section, options, seconds);
  how += "load " + decimal(busy, 1) + " when it began; " + decimal(apart.megabytes, 0) +
         " MB at most; " + seconds_text(apart.seconds) + " s in all.";
  return text + how + disturbed(section, options, seconds, busy) + "\n";
}

int run(const std::vector<std::string>& words) {
  const std::vector<Section> all = sections();
  std::vector<std::string> names;
  for (const Section& section : all) names.push_back(section.name);
  std::string message;
  const auto options = read_options(words, names, message);
  if (!options) {
    std::fputs(message.c_str(), stderr);
    return 64;
  }
  const std::string path =
      options->file.empty() ? std::string(GP_SOURCE_DIR) + "/docs/benchmarks.md" : options->file;
  gp::Disk disk;
  int status = 0;
  for (const Section& section : all) {
    if (!options->wants(section.name)) continue;
    const auto text = section_text(section, *options);
    if (!text) {
      status = 1;
      continue;
    }
    if (options->print) {
      std::fputs((*text + "\n").c_str(), stdout);
      continue;
    }
    // read anew each time: hours pass, and somebody may have written a sentence meanwhile
    std::string page = kHead;
    try {
      page = file_text(path);
    } catch (const gp::WorldError&) {
      std::fprintf(stderr, "%s is not there yet and begins anew\n", path.c_str());
    }
    disk.write(path, with_section(page, section.name, *text, names));
  }
  return status;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run({argv + 1, argv + argc});
  } catch (const std::exception& error) {
    std::fprintf(stderr, "benchmarks: %s\n", error.what());
    return 1;
  }
}
