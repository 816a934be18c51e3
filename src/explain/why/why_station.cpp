#include "explain/why/step_hold.h"
#include "explain/why/why.h"
#include "explain/why/why_day.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <tuple>

namespace gp {
namespace {

using why::PlannedDay;

std::string people_text(int number) {
  return number == 1 ? "one person" : std::to_string(number) + " people";
}

/// The day's steps at the station, by beginning.
std::vector<std::size_t> steps_at(const PlannedDay& day, StationId station) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < day.day.steps.size(); ++i) {
    if (day.day.steps[i].station == station) found.push_back(i);
  }
  std::stable_sort(found.begin(), found.end(), [&](std::size_t a, std::size_t b) {
    return day.day.steps[a].from < day.day.steps[b].from;
  });
  return found;
}

/// How many places are in use at once at most, and how long all of them are.
void count_use(const PlannedDay& day,
               const std::vector<std::size_t>& steps,
               int places,
               WhyBusy& busy) {
  std::map<Minute, int> changes;
  for (const std::size_t i : steps) {
    ++changes[day.day.steps[i].from];
    --changes[day.day.steps[i].until];
  }
  int used = 0;
  Minute since{};
  for (const auto& [at, by] : changes) {
    if (used == places) busy.all_taken += at - since;
    used += by;
    since = at;
    busy.most = std::max(busy.most, used);
  }
}

void count_what_for(const PlannedDay& day, const std::vector<std::size_t>& steps, WhyBusy& busy) {
  struct Whom {
    std::set<PersonId> people;
    Minute at{kNever};
  };
  std::map<SceneId, Whom> scenes;
  Whom off;
  for (const std::size_t i : steps) {
    const PlannedStep& step = day.day.steps[i];
    const why::StepFrame frame = day.frame_of(i);
    const bool on = step.part == ChainPart::on && frame.first != nullptr;
    Whom& whom = on ? scenes[frame.first->scene] : off;
    whom.people.insert(step.person);
    whom.at = std::min(whom.at, on ? frame.first->shoot_at : step.from);
  }
  for (const auto& [scene, whom] : scenes) {
    busy.what_for.push_back({scene, static_cast<int>(whom.people.size()), whom.at});
  }
  if (!off.people.empty()) {
    busy.what_for.push_back({SceneId(), static_cast<int>(off.people.size()), off.at});
  }
  std::stable_sort(busy.what_for.begin(),
                   busy.what_for.end(),
                   [](const WhyBusy::For& a, const WhyBusy::For& b) { return a.at < b.at; });
}

std::string text_of(const PlannedDay& day, const Station& station, const WhyBusy& busy) {
  std::vector<std::string> whom;
  for (const WhyBusy::For& one : busy.what_for) {
    whom.push_back(one.scene.valid()
                       ? people_text(one.people) + " for \"" + day.film.scenes[one.scene].shown() +
                             "\" (shot at " + day.at(one.at) + ")"
                       : people_text(one.people) + " whose look comes off (from " + day.at(one.at) +
                             ")");
  }
  std::string text = "Busy " + day.span(busy.time) + ": " + why::listed(whom) + ". ";
  if (busy.most == station.places) {
    text += station.places == 1
                ? "Its one place is in use for "
                : "All " + std::to_string(station.places) + " places are in use at once for ";
    text += why::minutes_text(busy.all_taken) + ".";
  } else {
    text += "At most " + std::to_string(busy.most) + " of " + std::to_string(station.places) +
            " places are in use at once.";
  }
  if (busy.steps > 0) {
    text += " Of " + std::to_string(busy.steps) + (busy.steps == 1 ? " step" : " steps") +
            " that put looks on, " + std::to_string(busy.held) +
            " cannot begin later, all else as it is.";
  }
  if (!busy.causes.empty()) {
    text += " The last of them stands where it does because of: ";
    for (std::size_t i = 0; i < busy.causes.size(); ++i) {
      text += (i > 0 ? "; " : "") + busy.causes[i].text;
    }
    text += ".";
  }
  return text;
}

WhyBusy busy_time(const PlannedDay& day,
                  const Station& station,
                  const std::vector<std::size_t>& steps) {
  WhyBusy busy;
  busy.time = {day.day.steps[steps.front()].from, day.day.steps[steps.front()].until};
  std::set<PersonId> people;
  for (const std::size_t i : steps) {
    const PlannedStep& step = day.day.steps[i];
    busy.time.until = std::max(busy.time.until, step.until);
    people.insert(step.person);
    if (step.part != ChainPart::on) continue;
    const why::StepHold hold = why::hold_of_step(day, i, PersonId());
    ++busy.steps;
    if (hold.options.empty()) ++busy.held;
    busy.causes = hold.options.empty() ? hold.causes : std::vector<WhyCause>();
  }
  busy.people = static_cast<int>(people.size());
  count_use(day, steps, station.places, busy);
  count_what_for(day, steps, busy);
  busy.text = text_of(day, station, busy);
  return busy;
}

}  // namespace

WhyStation why_station(const Production& film,
                       const Plan& plan,
                       Answers answers,
                       StationId station) {
  WhyStation found;
  found.station = station;
  const Station& record = film.stations[station];
  for (std::size_t d = 0; d < plan.days.size(); ++d) {
    const PlannedDay day(film, plan, d, answers);
    const std::vector<std::size_t> steps = steps_at(day, station);
    if (steps.empty()) continue;
    WhyStationDay used;
    used.day = day.day.day;
    std::vector<std::size_t> together;
    Minute until = kAlwaysBefore;
    for (const std::size_t i : steps) {
      if (!together.empty() && day.day.steps[i].from > until) {
        used.busy.push_back(busy_time(day, record, together));
        together.clear();
      }
      together.push_back(i);
      until = std::max(until, day.day.steps[i].until);
    }
    used.busy.push_back(busy_time(day, record, together));
    found.days.push_back(std::move(used));
  }
  if (found.days.empty()) {
    const bool wanted = std::any_of(film.looks.begin(), film.looks.end(), [&](const Look& look) {
      const auto here = [&](const Step& step) { return step.at == station; };
      return std::any_of(look.steps.begin(), look.steps.end(), here) ||
             std::any_of(look.off.begin(), look.off.end(), here);
    });
    found.text = wanted ? record.shown() +
                              " is not in use: nobody in this plan wears a look that "
                              "is put on or taken off there."
                        : record.shown() + " is not in use: no look has a step there.";
  }
  return found;
}

}  // namespace gp
