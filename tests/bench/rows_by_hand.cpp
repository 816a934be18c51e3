// What a careful person would have made, beside what the planner makes: hours of people's time.
#include "bench/by_hand.h"
#include "bench/pages.h"
#include "bench/sections.h"

#include <algorithm>
#include <cstdio>
#include <set>

namespace gp::bench {
namespace {

std::string hours(double weighted_minutes) {
  return decimal(weighted_minutes / 1000 / 60, 1);
}

std::string lost(const Plan& plan) {
  int heads = 0;
  for (const Unfilled& one : plan.unfilled) heads += one.missing;
  return std::to_string(plan.not_filmed.size()) + " / " + std::to_string(heads);
}

/// People who come, over all days.
std::size_t called(const Plan& plan) {
  std::set<PersonId> people;
  for (const DayPlan& day : plan.days) {
    for (const Stay& stay : day.people) people.insert(stay.person);
  }
  return people.size();
}

const char* const kHow =
    R"(The plan made by hand has the scenes in the order of the list, each as early as it can be, and calls everybody who
begins the day in the same look at the same time (whoever is not free yet: as soon as they are); without a look each has
a call of their own. Its chairs and who helps are what the planner finds while it is held to that order: its first
choice, or, where that loses something, a longer search. That is more than a person with a list has time for, so the
comparison is kind to them. It is checked against all rules. Hours are people's weighted hours on site. Who films fewer
scenes or leaves heads out needs fewer hours: where the columns differ, the saving is more than the table says.

)";

std::string body(const Options& options, double seconds) {
  std::vector<std::vector<std::string>> rows;
  std::string turns;
  bool all_saved = true;
  std::vector<std::string> demos = {"first-day", "herring-wedding", "snail-derby"};
  keep_first(demos, options);
  for (const std::string& name : demos) {
    const Production film = production_of_text(
        file_text(std::string(GP_SOURCE_DIR) + "/demo/" + name + "/production.json"));
    const ByHand theirs = by_hand(film);
    std::vector<double> ours;
    std::string left;
    std::size_t people = 0;
    for (int seed = 1; seed <= options.seeds; ++seed) {
      const Run run = run_once(film, seconds, options.threads, static_cast<std::uint64_t>(seed));
      if (!run.wrong.empty()) throw std::runtime_error(name + ": " + run.wrong);
      ours.push_back(static_cast<double>(run.price.weighted_on_site));
      if (seed == 1) {
        left = lost(run.plan);
        people = called(run.plan);
      }
    }
    const auto hand = static_cast<double>(theirs.weighted_on_site);
    const double half = median(ours);
    all_saved = all_saved && most(ours) < hand;
    rows.push_back(
        {name,
         hours(hand),
         lost(theirs.plan),
         hours(half),
         left,
         hours(hand - half),
         percent((hand - half) / hand),
         decimal((hand - half) / 1000 / static_cast<double>(std::max<std::size_t>(people, 1)), 0)});
    turns += "- " + name + ": ";
    if (theirs.out_of_turn.empty()) {
      turns += "every scene in the list's order.\n";
    } else {
      turns += "taken out of turn, because they could not be filmed otherwise: ";
      for (std::size_t i = 0; i < theirs.out_of_turn.size(); ++i) {
        turns += (i == 0 ? "" : ", ") + film.scenes[theirs.out_of_turn[i]].id;
      }
      turns += ".\n";
    }
    std::fprintf(stderr,
                 "  %-28s by hand %s h, ours %s h\n",
                 name.c_str(),
                 rows.back()[1].c_str(),
                 rows.back()[3].c_str());
  }
  return verdict(all_saved, "Hours saved on each demo are in the table, of the median of ours.") +
         kHow +
         table({"demo",
                "by hand [h]",
                "scenes lost / heads short",
                "ours [h]",
                "scenes lost / heads short",
                "saved [h]",
                "saved",
                "saved a person [min]"},
               rows) +
         "\n" + turns;
}

}  // namespace

Section by_hand_section() {
  return {"by-hand",
          "Beside the plan a careful person makes",
          "hours of people's time saved, on each demo",
          10,
          body};
}

}  // namespace gp::bench
