#include "cli/flow.h"
#include "cli/show_plan.h"
#include "model/price.h"
#include "text/width.h"
#include "time/clock.h"

#include <algorithm>
#include <set>

namespace gp {
namespace {

std::string scene_name(const Production& production, SceneId id) {
  return harmless(production.scenes[id].shown());
}

std::set<PersonId> everyone_called(const Plan& plan) {
  std::set<PersonId> all;
  for (const DayPlan& day : plan.days) {
    for (const Stay& stay : day.people) all.insert(stay.person);
  }
  return all;
}

std::size_t scenes_filmed(const Plan& plan) {
  std::size_t filmed = 0;
  for (const DayPlan& day : plan.days) filmed += day.scenes.size();
  return filmed;
}

/// In tenths of a per cent, rounded up: "4.9".
std::string per_cent(Thousandths part, Thousandths whole) {
  const Thousandths tenths = (part * 1000 + whole - 1) / whole;
  return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10);
}

/// Where the weights are not all 1 the sum is no longer minutes.
bool all_weigh_the_same(const Production& production) {
  return std::all_of(production.people.begin(), production.people.end(), [](const Person& person) {
    return person.weight == 1000;
  });
}

/// What the aim counts, in minutes, and the bound of it; `what` names it.
struct Distance {
  std::string what;
  Thousandths reached = 0;
  std::optional<Thousandths> bound;
};

Distance distance_of(const Production& production, const Plan& plan) {
  if (production.aim == Aim::latest_first_call) {
    return {"time from first call to first shot",
            price(production, plan).span * 1000,
            plan.totals.bound};
  }
  return {all_weigh_the_same(production) ? "time on site" : "time on site (weighted)",
          plan.totals.weighted_on_site,
          plan.totals.bound};
}

std::string whole_minutes(Thousandths value) {
  return length_text((value + 999) / 1000);
}

/// How far the plan may be from the best, as one sentence.
std::string distance_from_best(const Production& production, const Plan& plan) {
  const Distance distance = distance_of(production, plan);
  if (plan.totals.proven) return "No right plan needs less " + distance.what + ": proven.";
  if (!distance.bound) return "How far it is from the best is not known.";
  const Thousandths bound = *distance.bound;
  std::string text =
      "No right plan can need less " + distance.what + " than " + whole_minutes(bound);
  if (distance.reached <= bound) return text + ", which this one needs.";
  text += "; this one needs " + whole_minutes(distance.reached);
  return text +
         (bound > 0 ? ", at most " + per_cent(distance.reached - bound, bound) + " % more." : ".");
}

std::string people_on_site(const Plan& plan) {
  const std::size_t number = everyone_called(plan).size();
  return length_text(plan.totals.on_site) + " on site by " + std::to_string(number) +
         (number == 1 ? " person" : " people");
}

std::string totals_line(const Plan& plan) {
  return people_on_site(plan) + ", " + length_text(plan.totals.waiting) + " of it waiting.";
}

std::string notes(const Plan& plan, const View& view) {
  if (plan.notes.empty()) return "";
  std::string text = "\n" + view.paint.heading("Notes") + "\n";
  for (const Note& note : plan.notes) {
    const std::string level = note.level == "warning" ? view.paint.warning(padded("warning", 9))
                                                      : padded(harmless(note.level), 9);
    text +=
        "  " + level + flow_text(harmless(note.about + ": " + note.text), 11, view.columns) + "\n";
  }
  return text;
}

}  // namespace

std::string length_text(std::int64_t minutes) {
  if (minutes < 60) return std::to_string(minutes) + " min";
  std::string text = std::to_string(minutes / 60) + " h";
  if (const std::int64_t rest = minutes % 60; rest > 0) {
    text += (rest < 10 ? " 0" : " ") + std::to_string(rest) + " min";
  }
  return text;
}

std::string show_losses(const Production& production, const Plan& plan, const View& view) {
  if (plan.not_filmed.empty() && plan.unfilled.empty()) return "";
  constexpr std::size_t kIndent = 14;
  std::string text = "\n" + view.paint.heading("Not possible") + "\n";
  for (const NotFilmed& lost : plan.not_filmed) {
    text +=
        "  " + view.paint.loss(padded("not filmed", kIndent - 2)) +
        flow_text(
            scene_name(production, lost.scene) + ": " + harmless(lost.why), kIndent, view.columns) +
        "\n";
  }
  for (const Unfilled& lost : plan.unfilled) {
    const std::string what = lost.role.valid() ? production.roles[lost.role].shown() : lost.job;
    text += "  " + view.paint.loss(padded(std::to_string(lost.missing) + " missing", kIndent - 2)) +
            flow_text(scene_name(production, lost.scene) + ", " + harmless(what) + ": " +
                          harmless(lost.why),
                      kIndent,
                      view.columns) +
            "\n";
  }
  const SceneId first =
      plan.not_filmed.empty() ? plan.unfilled.front().scene : plan.not_filmed.front().scene;
  return text + "  " +
         flow_text("What stands in the way: greasepaint why FILE " +
                       harmless(production.scenes[first].id),
                   2,
                   view.columns) +
         "\n";
}

std::string show_cost(const Production& production, const Plan& plan, const View& view) {
  return "\n" + view.paint.heading("Cost") + "\n  " +
         flow_text(totals_line(plan), 2, view.columns) + "\n  " +
         flow_text(distance_from_best(production, plan), 2, view.columns) + "\n";
}

std::string show_days(const Production& production, const Plan& plan, const View& view) {
  std::string text = view.paint.heading(flow_text(harmless(plan.title), 0, view.columns)) + "\n";
  for (const DayPlan& day : plan.days) {
    const DayText writer(production, day, view);
    text += "\n" + writer.heading() + writer.scenes() + writer.calls() + writer.meals() +
            writer.stations();
  }
  return text + show_losses(production, plan, view) + notes(plan, view) +
         show_cost(production, plan, view);
}

std::string show_short(const Production& production,
                       const Plan& plan,
                       const std::vector<std::string>& written) {
  std::string text = harmless(plan.title) + ": " + std::to_string(scenes_filmed(plan)) + " of " +
                     std::to_string(scenes_filmed(plan) + plan.not_filmed.size()) + " scenes";
  for (const DayPlan& day : plan.days) {
    if (!day.first_shot || !day.wrap) continue;
    const CalendarDay clock(production.days[day.day].date, production.zone);
    text += ", " + format(production.days[day.day].date) + " " +
            format(clock.shown(*day.first_shot)) + "-" + format(clock.shown(*day.wrap));
  }
  int missing = 0;
  for (const Unfilled& lost : plan.unfilled) missing += lost.missing;
  if (missing > 0) {
    text += ", " + std::to_string(missing) + (missing == 1 ? " head missing" : " heads missing");
  }
  text += "\n" + people_on_site(plan) + ", " + length_text(plan.totals.waiting) + " waiting; ";
  const Distance distance = distance_of(production, plan);
  if (plan.totals.proven) {
    text += "no plan needs less " + distance.what + ": proven";
  } else if (distance.bound) {
    text += "no plan needs less " + distance.what + " than " + whole_minutes(*distance.bound);
  } else {
    text += "how much less would do is not known";
  }
  text += "\nwritten:";
  for (const std::string& what : written)
    text += (text.ends_with(':') ? " " : ", ") + harmless(what);
  return text + (written.empty() ? " nothing (--json FILE and --out DIR write it)\n" : "\n");
}

}  // namespace gp
