// Shooting days as people have them, from twenty-six friends to a thousand.
#include "bench/machine.h"
#include "bench/pages.h"
#include "bench/sections.h"
#include "bench/thousand_day.h"

#include <algorithm>
#include <cstdio>

namespace gp::bench {
namespace {

struct DayGoal {
  std::optional<double> first_within;  ///< [s] a right plan, checked, must be there
  double most_gap = 0;                 ///< to our own bound, after the whole limit
  std::optional<double> most_megabytes;
};

/// What is left out, for a cell: "0", "2 scenes", "13 heads" …
std::string left_out(const Run& run) {
  const std::size_t scenes = run.plan.not_filmed.size();
  std::string text;
  if (scenes > 0) text = std::to_string(scenes) + (scenes == 1 ? " scene" : " scenes");
  if (run.price.unfilled > 0) {
    text += (text.empty() ? "" : ", ") + std::to_string(run.price.unfilled) +
            (run.price.unfilled == 1 ? " head" : " heads");
  }
  return text.empty() ? "0" : text;
}

std::string hours(Thousandths weighted_minutes) {
  return decimal(static_cast<double>(weighted_minutes) / 1000 / 60, 1);
}

double gap_of(const Run& run) {
  const Thousandths bound = run.plan.totals.bound.value_or(0);
  if (bound <= 0) return 1;
  return static_cast<double>(run.price.weighted_on_site - bound) / static_cast<double>(bound);
}

std::string day(const Production& film,
                const DayGoal& goal,
                const Options& options,
                double seconds) {
  std::vector<std::vector<std::string>> rows;
  std::string wrong;
  double worst_gap = 0;
  double gaps = 0;
  double longest_first = 0;
  int right = 0;
  int early_right = 0;
  for (int seed = 1; seed <= options.seeds; ++seed) {
    const auto number = static_cast<std::uint64_t>(seed);
    std::string early = "–";
    if (goal.first_within && *goal.first_within < seconds) {
      const Run quick = run_once(film, *goal.first_within, options.threads, number);
      const bool good = quick.wrong.empty() && quick.seconds <= *goal.first_within * 1.1 + 0.1;
      if (good) ++early_right;
      early = seconds_text(quick.seconds) + " s, " + (quick.wrong.empty() ? "" : "WRONG, ") +
              hours(quick.price.weighted_on_site) + " h, " + left_out(quick);
    }
    const Run run = run_once(film, seconds, options.threads, number);
    if (run.wrong.empty())
      ++right;
    else
      wrong += "- seed " + std::to_string(seed) + ": " + run.wrong + "\n";
    const double gap = gap_of(run);
    worst_gap = std::max(worst_gap, gap);
    gaps += gap;
    longest_first = std::max(longest_first, run.to_first);
    rows.push_back({std::to_string(seed),
                    early,
                    seconds_text(run.to_first),
                    seconds_text(run.to_best),
                    seconds_text(run.seconds),
                    left_out(run),
                    hours(run.price.weighted_on_site),
                    run.plan.totals.bound ? hours(*run.plan.totals.bound) : "–",
                    run.plan.totals.bound ? percent(gap) : "–"});
    std::fprintf(stderr,
                 "  seed %d: %s h, gap %s, left out %s, first after %.2f s\n",
                 seed,
                 rows.back()[6].c_str(),
                 rows.back()[8].c_str(),
                 rows.back()[5].c_str(),
                 run.to_first);
  }
  bool reached = right == options.seeds && worst_gap <= goal.most_gap;
  std::string why = std::to_string(right) + " of " + std::to_string(options.seeds) +
                    " plans right; " + percent(gaps / options.seeds) +
                    " above our bound on average, " + percent(worst_gap) + " at worst, after " +
                    seconds_text(seconds) + " s; the first right plan after at most " +
                    seconds_text(longest_first) + " s";
  if (goal.first_within && *goal.first_within < seconds) {
    reached = reached && early_right == options.seeds;
    why += "; stopped after " + seconds_text(*goal.first_within) +
           " s the plan was there in time and right " + std::to_string(early_right) + " of " +
           std::to_string(options.seeds) + " times";
  }
  if (goal.most_megabytes) {
    const double megabytes = peak_megabytes();
    reached = reached && megabytes < *goal.most_megabytes;
    why += "; " + decimal(megabytes, 0) + " MB held at most";
  }
  const std::string stopped =
      goal.first_within
          ? "stopped after " + seconds_text(*goal.first_within) + " s: took, hours, left out"
          : "stopped early";
  return verdict(reached, why + ".") +
         "Hours are people's weighted hours on site. The bound is for what that plan films and "
         "fills.\n\n" +
         table({"seed",
                stopped,
                "first right plan [s]",
                "best [s]",
                "whole run [s]",
                "left out",
                "hours",
                "our bound [h]",
                "gap"},
               rows) +
         (wrong.empty() ? "" : "\nNot right:\n" + wrong);
}

Production demo(const std::string& name) {
  return production_of_text(
      file_text(std::string(GP_SOURCE_DIR) + "/demo/" + name + "/production.json"));
}

}  // namespace

std::vector<Section> day_sections() {
  return {
      {"wedding",
       "The demo of 26 people (herring-wedding)",
       "within 5 % of our bound in 1 s",
       1,
       [](const Options& options, double seconds) {
         return day(demo("herring-wedding"), {std::nullopt, 0.05, std::nullopt}, options, seconds);
       }},
      {"derby",
       "The crowd day of 200 (snail-derby)",
       "a right plan in 1 s; within 10 % of our bound in 10 s",
       10,
       [](const Options& options, double seconds) {
         return day(demo("snail-derby"), {1.0, 0.10, std::nullopt}, options, seconds);
       }},
      {"thousand",
       "A made-up day of 1,000 with 40 chairs",
       "a right plan in 5 s; within 15 % of our bound in 60 s; under 500 MB",
       60,
       [](const Options& options, double seconds) {
         return day(production_of_text(thousand_day()), {5.0, 0.15, 500.0}, options, seconds);
       }}};
}

}  // namespace gp::bench
