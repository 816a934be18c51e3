// The same small productions by a general constraint solver, in the same time, in the same run.
#include "bench/general_solver.h"
#include "bench/machine.h"
#include "bench/pages.h"
#include "bench/sections.h"
#include "bench/small_days.h"
#include "model/check.h"
#include "support/published_instances.h"
#include "support/temporary_folder.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <future>

namespace gp::bench {
namespace {

struct Small {
  std::string name;
  Production production;
};

std::vector<Small> small_productions() {
  const std::string folder = std::string(GP_TEST_DATA) + "/published/";
  std::vector<Small> all;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    all.push_back({"small day " + std::to_string(seed), production_of_text(small_day(seed))});
  }
  for (const char* name :
       {"small", "concert", "film-10", "delabanda-example-12x6", "film105", "MobStory"}) {
    const std::string text = file_text(folder + "talent/" + name + ".json");
    all.push_back({name, production_of_text(test::talent_production(text))});
  }
  for (const char* name : {"ft06", "la01", "la05"}) {
    const std::string text = file_text(folder + "jobshop/" + name + ".txt");
    all.push_back({name, production_of_text(test::job_shop_production(text))});
  }
  const std::string text = file_text(folder + "jobshop/ft06.txt");
  all.push_back({"ft06, 4 helpers", production_of_text(test::job_shop_production(text, 1, 4))});
  return all;
}

std::int64_t value_of(const Production& production, const Plan& plan) {
  const Price counted = price(production, plan);
  return production.aim == Aim::least_time ? counted.weighted_on_site / 1000 : counted.span;
}

/// What the solver found, in two processes at once: with restarts and without.
struct Theirs {
  std::optional<std::int64_t> best;
  bool exhausted = false;
  std::string wrong;
};

Theirs theirs(const Production& production, double seconds) {
  const test::TemporaryFolder folder;
  const auto solve = [&](bool restarts) {
    return solve_generally(production, folder.path().string(), seconds, restarts);
  };
  auto other = std::async(std::launch::async, solve, true);
  std::array<Solved, 2> solved;
  solved[0] = solve(false);
  solved[1] = other.get();
  Theirs result;
  for (const Solved& one : solved) {
    result.exhausted = result.exhausted || one.exhausted;
    if (!one.plan) continue;
    const auto broken = check(production, *one.plan);
    if (!broken.empty()) {
      result.wrong =
          "rule " + std::to_string(broken[0].rule) + ": " + broken[0].where + ": " + broken[0].what;
      continue;
    }
    const std::int64_t value = value_of(production, *one.plan);
    result.best = result.best ? std::min(*result.best, value) : value;
  }
  return result;
}

const char* const kHow =
    R"(. It is told of the day in its own language
(`tests/bench/solver/day.mzn`). Two processes of it search at once, one with restarts and one without, for as long as
ours has with its threads; the better counts. Translating the model does not count as its time. Its plans are made into
plans of ours and checked against all rules before they count. Values: weighted minutes on site; of the job shops
minutes from first call to first shot. The ratio is our worst seed's to the solver's best; less than 1: ours is better.

)";

std::string body(const Options& options, double seconds) {
  const auto name = solver_name();
  if (!name) {
    return "Not measured: Debian's `minizinc` (with Gecode) is not installed here (`apt install "
           "minizinc`).\n";
  }
  std::vector<Small> all = small_productions();
  keep_first(all, options);
  std::vector<std::vector<std::string>> rows;
  std::string wrong;
  int as_good = 0;
  int better = 0;
  for (const Small& small : all) {
    const std::string beyond = beyond_model(small.production);
    if (!beyond.empty()) throw std::runtime_error(small.name + " is beyond the model: " + beyond);
    const Task task = {small.name,
                       small.production,
                       small.production.aim == Aim::least_time ? weighted : span,
                       true,
                       std::nullopt};
    const Outcome ours = measure(task, seconds, options.threads, options.seeds);
    const Theirs other = theirs(small.production, seconds);
    const bool good = ours.failed == 0 && (!other.best || *ours.worst <= *other.best);
    if (good) ++as_good;
    if (good && (!other.best || *ours.worst < *other.best)) ++better;
    if (!ours.wrong.empty()) wrong += "- ours, " + small.name + ": " + ours.wrong + "\n";
    if (!other.wrong.empty()) wrong += "- the solver's, " + small.name + ": " + other.wrong + "\n";
    const bool ratio = other.best && ours.worst && *other.best > 0;
    rows.push_back(
        {small.name,
         ours.best ? std::to_string(*ours.best) : "–",
         ours.worst ? std::to_string(*ours.worst) : "–",
         std::to_string(ours.proven) + " of " + std::to_string(ours.runs),
         seconds_text(median(ours.seconds)),
         other.best ? std::to_string(*other.best) : "nothing",
         other.exhausted ? "yes" : "no",
         ratio ? decimal(static_cast<double>(*ours.worst) / static_cast<double>(*other.best), 4)
               : "–"});
    std::fprintf(stderr, "  %-28s the solver %s\n", small.name.c_str(), rows.back()[5].c_str());
  }
  return verdict(static_cast<std::size_t>(as_good) == all.size() && wrong.empty(),
                 "Ours at least as good on " + std::to_string(as_good) + " of " +
                     std::to_string(all.size()) + " even with the worst seed, better on " +
                     std::to_string(better) + ".") +
         "The solver: " + *name + kHow +
         table({"production",
                "ours",
                "our worst",
                "proven",
                "whole run [s]",
                "solver",
                "it finished",
                "ratio"},
               rows) +
         (wrong.empty() ? "" : "\nNot right:\n" + wrong);
}

}  // namespace

Section solver_section() {
  return {"solver",
          "Beside a general constraint solver",
          "ours at least as good on each small production, in the same time, in the same run",
          10,
          body};
}

}  // namespace gp::bench
