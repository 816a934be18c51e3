// Casting alone: made-up productions of 40, 200 and 1,000 people against lower bounds, of ours and
// of a general-purpose solver, and small ones against what a constraint solver has proven.
#include "bench/casting_bound.h"
#include "bench/made_up_casting.h"
#include "bench/pages.h"
#include "bench/sections.h"
#include "explain/cast/cast_film.h"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <sstream>

namespace gp::bench {
namespace {

struct CastingRun {
  CastSolution solution;
  double seconds = 0;
};

CastingRun cast_timed(const CastProblem& problem, std::uint64_t seed) {
  CastingRun run;
  Stop stop;
  const auto begin = std::chrono::steady_clock::now();
  run.solution = solve_cast(problem, {seed, 1}, stop);
  run.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return run;
}

int heads_of(const CastProblem& problem) {
  int heads = 0;
  for (const auto& scene : problem.scenes) {
    for (const auto& places : scene.places) heads += places.people;
  }
  return heads;
}

int empty_of(const CastProblem& problem, const CastSolution& solution) {
  int filled = 0;
  for (const auto& scene : solution.filled) {
    for (const auto& who : scene) filled += static_cast<int>(who.size());
  }
  return heads_of(problem) - filled;
}

const char* const kHowCast =
    R"(Productions of a generator with a fixed seed (`tests/bench/made_up_casting.h`): two days, hours, skills, refusals, sizes
and likes of parts and jobs, with and without friends. One casting with effort 1 a seed; no threads. Points as in
[who](who.md), without empty places. No casting costs less than the bound, but the best may cost more, so that the true
gap is at most what is shown. It is the largest of three. Two are ours, with everybody who may at any moment of a scene in
it, and without friends: a part may be another person in each scene; or each part stands alone, and crowds and crew cost
what they cost without parts. The third is what the general-purpose solver HiGHS says of exactly the same problem
(`tests/bench/solver/casting.py`, `tests/data/casting/solved.txt`); beside it the best casting that it found itself.

)";

std::string small_ones() {
  const std::string folder = std::string(GP_TEST_DATA) + "/casting/";
  std::istringstream lines(file_text(folder + "optimum.txt"));
  std::string name;
  int cases = 0;
  int optimal = 0;
  for (std::int64_t least = 0; lines >> name >> least; ++cases) {
    const Production production = production_of_text(file_text(folder + name + ".json"));
    Stop stop;
    const FilmCasting casting = cast_film(production, CastWishes{{}, {}, {1, 1}}, stop);
    if (casting.empty.empty() && casting.points == least) ++optimal;
  }
  return "Small productions (six people, three scenes) whose optimum a general constraint solver "
         "has "
         "proven (Gecode 6.2.0 through MiniZinc 2.6.4): " +
         std::to_string(optimal) + " of " + std::to_string(cases) + " at the optimum.\n";
}

std::string casting_body(const Options& options, double) {
  struct Asked {
    CastingSize size;
    bool friends = false;
  };
  std::vector<Asked> all;
  for (const bool friends : {false, true}) {
    all.push_back({{40, 8, 6, 9}, friends});
    all.push_back({{200, 40, 12, 25}, friends});
    if (!friends) all.push_back({{1000, 60, 20, 25}, friends});  // with friends: minutes
  }
  keep_first(all, options);
  std::vector<std::vector<std::string>> rows;
  for (const Asked& asked : all) {
    const Production production = made_up_casting(asked.size, 1, asked.friends);
    const CastDays days = cast_days(production, {}, std::nullopt);
    const FilmCast film(production, {}, days);
    const CastProblem& problem = film.problem();
    const auto solved = solved_casting(problem);
    std::int64_t bound = asked.friends ? 0 : casting_bound(problem);
    if (solved) bound = std::max(bound, solved->bound);
    std::vector<double> seconds;
    std::int64_t best = 0;
    std::int64_t worst = 0;
    int empty = 0;
    for (int seed = 1; seed <= options.seeds; ++seed) {
      const CastingRun run = cast_timed(problem, static_cast<std::uint64_t>(seed));
      if (!cast_right(problem, run.solution)) throw std::runtime_error("a casting that is wrong");
      best = seed == 1 ? run.solution.cost : std::min(best, run.solution.cost);
      worst = seed == 1 ? run.solution.cost : std::max(worst, run.solution.cost);
      empty = std::max(empty, empty_of(problem, run.solution));
      seconds.push_back(run.seconds);
    }
    const bool gap = empty == 0 && bound > 0;
    std::string theirs = solved && solved->found > 0 ? std::to_string(solved->found) : "–";
    if (solved && solved->found == solved->bound) theirs += ", proven";
    rows.push_back(
        {std::to_string(asked.size.people),
         std::to_string(asked.size.scenes),
         std::to_string(heads_of(problem)),
         asked.friends ? "yes" : "no",
         std::to_string(empty),
         empty == 0 ? std::to_string(best) : "–",
         empty == 0 ? std::to_string(worst) : "–",
         std::move(theirs),
         bound > 0 ? std::to_string(bound) : "–",
         gap ? percent(static_cast<double>(worst - bound) / static_cast<double>(bound)) : "–",
         seconds_text(median(seconds))});
    std::fprintf(stderr, "  %s people: %s s\n", rows.back()[0].c_str(), rows.back().back().c_str());
  }
  return kHowCast +
         table({"people",
                "scenes",
                "heads",
                "friends",
                "empty at worst",
                "points",
                "our worst",
                "HiGHS",
                "bound",
                "gap at most",
                "seconds"},
               rows) +
         "\n" + small_ones();
}

}  // namespace

Section casting_section() {
  return {"casting", "Casting alone", "", 0, casting_body};
}

}  // namespace gp::bench
