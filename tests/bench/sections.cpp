#include "bench/sections.h"

#include "base/files.h"
#include "base/json.h"
#include "bench/pages.h"
#include "model/read_production.h"

#include <algorithm>
#include <stdexcept>
#include <variant>

namespace gp::bench {
namespace {

std::string text_of(const std::optional<std::int64_t>& value) {
  return value ? std::to_string(*value) : "–";
}

std::string of(int part, int whole) {
  return std::to_string(part) + " of " + std::to_string(whole);
}

std::vector<std::string> row_of(const Outcome& outcome, bool has_bound) {
  std::vector<std::string> row = {outcome.name,
                                  text_of(outcome.best_known),
                                  text_of(outcome.best),
                                  outcome.best ? decimal(outcome.mean, 1) : "–",
                                  text_of(outcome.worst),
                                  outcome.best_known && outcome.best ? percent(outcome.gap) : "–",
                                  outcome.best_known ? of(outcome.optimal, outcome.runs) : "–"};
  if (has_bound) {
    row.push_back(text_of(outcome.bound));
    row.push_back(outcome.bound ? percent(outcome.bound_gap) : "–");
    row.push_back(of(outcome.proven, outcome.runs));
  }
  for (const auto* times : {&outcome.to_first, &outcome.to_best, &outcome.seconds}) {
    row.push_back(seconds_text(median(*times)));
  }
  return row;
}

}  // namespace

std::vector<Section> sections() {
  std::vector<Section> all = published_sections();
  for (Section& section : day_sections()) all.push_back(std::move(section));
  all.push_back(solver_section());
  all.push_back(by_hand_section());
  all.push_back(casting_section());
  all.push_back(page_section());
  return all;
}

std::string measured(const std::vector<Task>& tasks,
                     const Options& options,
                     double seconds,
                     std::vector<Outcome>& outcomes) {
  bool has_bound = false;
  bool has_best = false;
  std::vector<double> whole;
  int runs = 0;
  int optimal = 0;
  int proven = 0;
  int failed = 0;
  double gap = 0;
  double worst_gap = 0;
  std::string wrong;
  for (const Task& task : tasks) {
    has_bound = has_bound || task.has_bound;
    has_best = has_best || task.best_known.has_value();
    outcomes.push_back(measure(task, seconds, options.threads, options.seeds));
    const Outcome& outcome = outcomes.back();
    runs += outcome.runs;
    optimal += outcome.optimal;
    proven += outcome.proven;
    failed += outcome.failed;
    gap += outcome.gap;
    worst_gap = std::max(worst_gap, outcome.worst_gap);
    whole.insert(whole.end(), outcome.seconds.begin(), outcome.seconds.end());
    if (!outcome.wrong.empty()) wrong += "- " + outcome.name + ": " + outcome.wrong + "\n";
  }
  std::string text =
      std::to_string(tasks.size()) + " instances, " + std::to_string(runs) + " runs: ";
  if (has_best) {
    text += "the best known found in " + std::to_string(optimal) + " (" +
            percent(runs == 0 ? 0 : static_cast<double>(optimal) / runs) + "), mean gap " +
            percent(tasks.empty() ? 0 : gap / static_cast<double>(tasks.size())) +
            ", the worst run's " + percent(worst_gap) + "; ";
  }
  if (has_bound) text += "proven in " + std::to_string(proven) + "; ";
  text += "a run took " + seconds_text(median(whole)) + " s (median), the longest " +
          seconds_text(most(whole)) + " s.";
  if (failed > 0) {
    text += " " + std::to_string(failed) + " runs gave no whole right plan and count in no gap.";
  }
  std::vector<std::string> headings = {
      "instance", "best known", "found", "mean", "worst", "mean gap", "best known found"};
  if (has_bound) {
    for (const char* heading : {"our bound", "gap to it", "proven"}) headings.emplace_back(heading);
  }
  for (const char* heading : {"first right plan [s]", "best [s]", "whole run [s]"}) {
    headings.emplace_back(heading);
  }
  std::vector<std::vector<std::string>> rows;
  rows.reserve(outcomes.size());
  for (const Outcome& outcome : outcomes) rows.push_back(row_of(outcome, has_bound));
  return text + "\n\n" + table(headings, rows) +
         (wrong.empty() ? "" : "\nNot whole or not right:\n" + wrong);
}

std::string how_long(const Section& section, const Options& options, double seconds) {
  if (!section.by_seed) return "";
  const std::string seeds =
      std::to_string(options.seeds) + (options.seeds == 1 ? " seed" : " seeds");
  if (section.seconds <= 0) return seeds + "; ";
  return seeds + ", " + seconds_text(seconds) + " s a run, " + std::to_string(options.threads) +
         " threads; ";
}

std::string disturbed(const Section& section, const Options& options, double seconds, double busy) {
  if (!section.by_seed) return "";
  if (options.seeds >= kSeeds && seconds >= section.seconds && !options.most_instances &&
      busy <= kBusy) {
    return "";
  }
  return " **A short or a disturbed measurement** (wanted: ten seeds, " +
         (section.seconds > 0 ? seconds_text(section.seconds) + " s a run, " : std::string()) +
         "all instances, nothing else running): what it says of the target is of itself alone.";
}

std::string verdict(bool reached, const std::string& why) {
  return (reached ? "**Reached.** " : "**Not reached.** ") + why + "\n\n";
}

std::string file_text(const std::string& path) {
  Disk disk;
  return disk.read(path, kMostJsonBytes);
}

Production production_of_text(const std::string& text) {
  auto read = read_production(text);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    throw std::runtime_error(faults->front().path + ": expected " + faults->front().expected);
  }
  return std::get<Production>(std::move(read));
}

}  // namespace gp::bench
