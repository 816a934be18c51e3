#include "sheets/kit.h"

#include <algorithm>
#include <map>

namespace gp {
namespace {

/// Whether the wearer should be asked about their skin before this step: somebody puts something
/// on them, and they have left a note. What the note says is private and is not printed.
bool ask_about_skin(const Production& production, const PlannedStep& step) {
  return step.by.valid() && step.part == ChainPart::on &&
         !production.people[step.person].skin.empty();
}

class StationSheet {
 public:
  StationSheet(const DayFacts& facts, Kit& kit)
      : facts_(facts),
        tongue_(tongue(kit.book, facts.production().language)),
        pdf_(document_title(facts, tongue_, tongue_.words.say("sheet.stations")),
             tongue_.tag,
             kit.paper),
        brush_(pdf_, kit.set) {}

  std::string make();

 private:
  void station(StationId id, const std::vector<const PlannedStep*>& steps);
  void about(Flow& flow, StationId id, const std::vector<const PlannedStep*>& steps);

  const DayFacts& facts_;
  Tongue tongue_;
  Pdf pdf_;
  Brush brush_;
};

void StationSheet::about(Flow& flow, StationId id, const std::vector<const PlannedStep*>& steps) {
  const Production& production = facts_.production();
  const Station& station = production.stations[id];
  const Words& words = tongue_.words;
  Rich text;
  const PlaceId place = production.place_of(id, facts_.plan().day);
  if (place.valid()) {
    const Place& where = production.places[place];
    text.add_name(where.name.empty() ? where.id : where.name);
    text.add(" · ", kQuiet);
  }
  text.add(words.say("station.places", {{"count", std::int64_t{station.places}}}));
  if (station.open) {
    text.add(" · ", kQuiet).add(words.say("station.open") + " " + facts_.clocks(*station.open));
  }
  flow.move(brush_.draw(brush_.block(text, 9.5, flow.width()), flow.left(), flow.y()) - flow.y());

  // Who works here, from when to when.
  struct Shift {
    Minute from, until;
    bool makes_ready = false;
    Minute ready_from;
  };
  std::map<PersonId, Shift> staff;
  for (const PlannedStep* step : steps) {
    if (!step->by.valid()) continue;
    auto [entry, added] = staff.emplace(step->by, Shift{step->from, step->until, false, {}});
    entry->second.from = std::min(entry->second.from, step->from);
    entry->second.until = std::max(entry->second.until, step->until);
  }
  for (const Ready& ready : facts_.plan().ready) {
    if (ready.station != id) continue;
    auto [entry, added] = staff.emplace(ready.person, Shift{ready.from, ready.until, false, {}});
    entry->second.makes_ready = true;
    entry->second.ready_from = ready.from;
  }
  std::vector<std::pair<PersonId, Shift>> in_order(staff.begin(), staff.end());
  std::stable_sort(in_order.begin(), in_order.end(), [](const auto& a, const auto& b) {
    return a.second.from < b.second.from;
  });
  for (const auto& [person, shift] : in_order) {
    Rich line(label(words, words.say("station.staff")), kQuiet);
    line.add_name(production.people[person].shown(), kStrong);
    line.add(" " + facts_.clocks(shift.from, shift.until));
    if (shift.makes_ready) {
      line.add(" · " + words.say("station.ready", {{"time", facts_.clock(shift.ready_from)}}),
               kQuiet);
    }
    const TextBlock block = brush_.block(line, 9.5, flow.width());
    flow.need(block.height());
    flow.move(brush_.draw(block, flow.left(), flow.y()) - flow.y());
  }
  flow.move(8);
}

void StationSheet::station(StationId id, const std::vector<const PlannedStep*>& steps) {
  const Production& production = facts_.production();
  const Words& words = tongue_.words;
  const std::string& name = production.stations[id].shown();
  Flow flow(brush_, list_head(brush_, facts_, tongue_, name));
  flow.new_page();
  about(flow, id, steps);

  const bool with_staff = std::any_of(
      steps.begin(), steps.end(), [](const PlannedStep* step) { return step->by.valid(); });
  const double width = flow.width();
  const double box = 18;
  const double clock = 44;
  const double rest = width - box - 2 * clock;
  std::vector<Grid::Column> columns = {{box},
                                       {clock},
                                       {clock},
                                       {rest * (with_staff ? 0.38 : 0.5)},
                                       {rest * (with_staff ? 0.34 : 0.5)}};
  std::vector<std::string> names = {"",
                                    words.say("station.from"),
                                    words.say("station.until"),
                                    words.say("station.who"),
                                    words.say("station.look")};
  if (with_staff) {
    columns.push_back({rest * 0.28});
    names.push_back(words.say("station.by"));
  }
  Grid::Look look;
  look.size = 10;
  look.padding = 3;
  Grid grid(brush_, flow, columns, look);
  grid.names(names);

  std::map<int, std::vector<const PlannedStep*>> by_place;
  for (const PlannedStep* step : steps) by_place[step->place].push_back(step);
  for (auto& [place, list] : by_place) {
    std::stable_sort(list.begin(), list.end(), [](const PlannedStep* a, const PlannedStep* b) {
      return a->from < b->from;
    });
    if (production.stations[id].places > 1) {
      grid.heading(Rich(words.say("station.place", {{"place", std::int64_t{place}}}), kStrong), 11);
    }
    for (const PlannedStep* step : list) {
      Rich who;
      who.add_name(production.people[step->person].shown(), kStrong);
      if (ask_about_skin(production, *step)) {
        who.add(" · " + words.say("station.skin"), kQuiet);
      }
      Rich what;
      what.add_name(production.looks[step->look].shown());
      what.add(" · " + words.say(step->part == ChainPart::on ? "station.on" : "station.off"),
               kQuiet);
      std::vector<Rich> cells = {Rich(),
                                 Rich(facts_.clock(step->from), kStrong),
                                 Rich(facts_.clock(step->until)),
                                 who,
                                 what};
      if (with_staff) {
        Rich by;
        if (step->by.valid()) by.add_name(production.people[step->by].shown());
        cells.push_back(by);
      }
      grid.row(cells, true);
    }
  }
}

std::string StationSheet::make() {
  const Production& production = facts_.production();
  for (const StationId id : production.stations.ids()) {
    std::vector<const PlannedStep*> steps;
    for (const PlannedStep& step : facts_.plan().steps) {
      if (step.station == id) steps.push_back(&step);
    }
    if (!steps.empty()) station(id, steps);
  }
  if (pdf_.pages() == 0) return {};
  number_pages(brush_, tongue_, tongue_.words.say("sheet.stations"));
  return pdf_.bytes();
}

}  // namespace

std::string station_lists(const DayFacts& facts, Kit& kit) {
  return StationSheet(facts, kit).make();
}

}  // namespace gp
