// Rule 7: stations, their places and their staff.
#include "model/check_day.h"
#include "time/clock.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

namespace gp::checking {
namespace {

bool holds(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

/// Who does the step, where it needs somebody.
void check_by(const Judged& judged,
              const PlannedStep& planned,
              const Step& written,
              const std::string& where,
              Findings& findings) {
  const Production& production = *judged.production;
  if (!planned.by.valid()) {
    if (!written.by.empty()) findings.add(7, where, phrase("nobody who can ", written.by));
    return;
  }
  const Person& by = production.people[planned.by];
  if (written.by.empty()) {
    findings.add(7, where, phrase(by.id, " does what needs nobody"));
  } else if (!holds(by.can, written.by)) {
    findings.add(7, where, phrase(by.id, " cannot ", written.by));
  }
  if (planned.by == planned.person) findings.add(7, where, phrase(by.id, " does their own"));
  const auto& staff = production.stations[planned.station].staff;
  if (staff && std::find(staff->begin(), staff->end(), planned.by) == staff->end()) {
    findings.add(
        7,
        where,
        phrase(by.id, " is not of the staff of ", production.stations[planned.station].id));
  }
}

void check_places(const Judged& judged, const JudgedDay& day, Findings& findings) {
  const Production& production = *judged.production;
  std::map<std::pair<StationId, int>, std::vector<const PlannedStep*>> places;
  for (const JudgedStep& step : day.steps) {
    if (step.written == nullptr) continue;
    const PlannedStep& planned = *step.planned;
    const Station& station = production.stations[planned.station];
    const std::string where = phrase(production.people[planned.person].id, " at ", station.id);
    if (planned.place < 1 || planned.place > station.places) {
      findings.add(7, where, phrase("place ", planned.place, ", there are ", station.places));
    }
    if (station.open && !day.elapsed(*station.open).covers({planned.from, planned.until})) {
      findings.add(
          7,
          where,
          phrase(
              day.clock({planned.from, planned.until}), " is outside of ", format(*station.open)));
    }
    check_by(judged, planned, *step.written, where, findings);
    places[{planned.station, planned.place}].push_back(&planned);
  }
  for (auto& [place, rows] : places) {
    std::stable_sort(rows.begin(), rows.end(), [](const auto* a, const auto* b) {
      return std::tie(a->from, a->until) < std::tie(b->from, b->until);
    });
    for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
      if (rows[i + 1]->from < rows[i]->until) {
        findings.add(7,
                     phrase(production.stations[place.first].id, " place ", place.second),
                     phrase(production.people[rows[i]->person].id,
                            " until ",
                            day.clock(rows[i]->until),
                            " and ",
                            production.people[rows[i + 1]->person].id,
                            " from ",
                            day.clock(rows[i + 1]->from)));
      }
    }
  }
}

void check_ready(const Judged& judged, const JudgedDay& day, Findings& findings) {
  const Production& production = *judged.production;
  using Key = std::pair<PersonId, StationId>;
  std::map<Key, Minute> first_step;  // that the person staffs there
  for (const JudgedStep& step : day.steps) {
    if (step.written == nullptr || !step.planned->by.valid()) continue;
    const auto [found, fresh] =
        first_step.try_emplace({step.planned->by, step.planned->station}, step.planned->from);
    if (!fresh) found->second = std::min(found->second, step.planned->from);
  }
  std::map<Key, const Ready*> ready;
  for (const Ready& row : day.plan->ready) {
    const Key key{row.person, row.station};
    const std::string& who = production.people[row.person].id;
    const std::string& station = production.stations[row.station].id;
    if (ready.contains(key)) findings.add(7, station, phrase(who, " gets it ready twice"));
    if (!first_step.contains(key)) {
      findings.add(7, station, phrase(who, " gets it ready and staffs no step there"));
    }
    ready[key] = &row;
  }
  for (const auto& [key, start] : first_step) {
    const Station& station = production.stations[key.second];
    const std::string& who = production.people[key.first].id;
    if (station.set_minutes == Minutes{0}) continue;
    const auto found = ready.find(key);
    if (found == ready.end()) {
      findings.add(7, station.id, phrase(who, " does not get it ready"));
      continue;
    }
    const Span time{found->second->from, found->second->until};
    if (time.length() != station.set_minutes) {
      findings.add(
          7,
          station.id,
          phrase(who, " gets it ready in ", time.length(), " minutes, not ", station.set_minutes));
    }
    if (time.until > start) {
      findings.add(7,
                   station.id,
                   phrase(who,
                          " staffs a step at ",
                          day.clock(start),
                          " and has it ready at ",
                          day.clock(time.until)));
    }
  }
}

}  // namespace

void rule_7_stations(const Judged& judged, Findings& findings) {
  for (const JudgedDay& day : judged.days) {
    check_places(judged, day, findings);
    check_ready(judged, day, findings);
  }
}

}  // namespace gp::checking
