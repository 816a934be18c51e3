#include "cli/flow.h"
#include "cli/show_plan.h"
#include "text/width.h"

#include <algorithm>
#include <array>
#include <set>

namespace gp {
namespace {

constexpr std::size_t kLaneIndent = 11;  // "  place 12 "

/// The quarter of an hour at or before a moment, as elapsed minutes (on the night of a change the
/// labels show what the clock does).
Minute quarter_before(Minute moment) {
  constexpr int kQuarter = 15;
  const int minutes = count(moment);
  return moment - Minutes{((minutes % kQuarter) + kQuarter) % kQuarter};
}

/// The minutes between two labels of the scale, so that there is some space between them.
Minutes between_labels(int minutes_a_cell) {
  constexpr std::array<int, 5> kSteps = {15, 30, 60, 120, 180};
  constexpr int kCells = 8;  // five of a label, three of space
  for (const int step : kSteps) {
    if (step / minutes_a_cell >= kCells) return Minutes{step};
  }
  return Minutes{360};
}

/// So many minutes a cell that the span fits: the least of those that divide an hour well.
int minutes_a_cell(Span shown, std::size_t room) {
  constexpr std::array<int, 9> kScales = {1, 2, 3, 5, 6, 10, 15, 20, 30};
  for (const int scale : kScales) {
    if (static_cast<std::size_t>(count(shown.length()) / scale) <= room) return scale;
  }
  return 60;
}

}  // namespace

std::string DayText::lane(StationId id, int place, Span shown, int minutes_a_cell) const {
  std::string text;
  std::size_t used = 0;
  for (const PlannedStep& step : day_.steps) {
    if (step.station != id || step.place != place) continue;
    const auto cell = [&](Minute moment) {
      return static_cast<std::size_t>(count(moment - shown.from) / minutes_a_cell);
    };
    const std::size_t from = std::max(cell(step.from), used);
    const std::size_t until = cell(step.until);
    if (until <= from) continue;  // too short to be seen at this scale; the list below has it
    const std::size_t room = until - from - 1;
    // three cells tell a name from another; fewer only show that the place is taken
    constexpr std::size_t kLeast = 3;
    text +=
        std::string(from - used, ' ') + "|" +
        (room < kLeast ? std::string(room, '#') : padded(cut_to(person(step.person), room), room));
    used = until;
  }
  return text + "|";
}

std::string DayText::lanes(StationId id) const {
  Span used{kNever, kAlwaysBefore};
  std::set<int> places;
  for (const PlannedStep& step : day_.steps) {
    if (step.station != id) continue;
    used.from = std::min(used.from, step.from);
    used.until = std::max(used.until, step.until);
    places.insert(step.place);
  }
  const std::size_t room =
      std::max(view_.columns, kLaneIndent + 20) - kLaneIndent - 1;  // one for the last bar
  const Span shown{quarter_before(used.from), used.until};
  const int scale = minutes_a_cell(shown, room);
  const Minutes apart = between_labels(scale);
  Minute label_at = quarter_before(shown.from);
  while (count(label_at) % count(apart) != 0) label_at += Minutes{15};
  std::string hours;
  std::size_t wide = 0;
  for (; label_at < shown.until; label_at += apart) {
    const auto cell = static_cast<std::size_t>(count(label_at - shown.from) / scale);
    const std::string label = at(label_at);
    if (cell + cells(label) > room) break;
    hours += std::string(cell - wide, ' ') + label;
    wide = cell + cells(label);
  }
  std::string text = std::string(kLaneIndent, ' ') + view_.paint.quiet(hours) + "\n";
  for (const int place : places) {
    text += "  " + padded("place " + std::to_string(place), kLaneIndent - 2) +
            lane(id, place, shown, scale) + "\n";
  }
  for (const int place : places) {
    std::vector<std::string> pieces;
    for (const PlannedStep& step : day_.steps) {
      if (step.station != id || step.place != place) continue;
      const std::string part = step.part == ChainPart::on ? " on" : " off";
      pieces.push_back(at(step.from) + "-" + at(step.until) + " " + person(step.person) + " (" +
                       harmless(production_.looks[step.look].shown()) + part +
                       (step.by.valid() ? ", by " + person(step.by) : "") + ")");
    }
    text += "  " + padded("place " + std::to_string(place), kLaneIndent - 2) +
            flow(pieces, ";", kLaneIndent, view_.columns) + "\n";
  }
  return text;
}

std::string DayText::station(StationId id) const {
  const Station& record = production_.stations[id];
  std::vector<std::string> facts = {harmless(record.shown())};
  if (const PlaceId place = production_.place_of(id, day_.day); place.valid()) {
    const Place& there = production_.places[place];
    facts.push_back(harmless(there.name.empty() ? there.id : there.name));
  }
  for (const Ready& ready : day_.ready) {
    if (ready.station != id) continue;
    facts.push_back(person(ready.person) + " gets it ready " + at(ready.from) + "-" +
                    at(ready.until));
  }
  return "\n" + view_.paint.heading("Station:") + " " + flow(facts, ",", 9, view_.columns) + "\n" +
         lanes(id);
}

std::string DayText::stations() const {
  std::string text;
  for (const StationId id : production_.stations.ids()) {
    const bool in_use = std::any_of(day_.steps.begin(), day_.steps.end(), [id](const auto& step) {
      return step.station == id;
    });
    if (in_use) text += station(id);
  }
  return text;
}

}  // namespace gp
