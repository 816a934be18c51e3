#include "web/organiser/plan_day.h"

#include "text/dates.h"
#include "web/organiser/common.h"
#include "web/organiser/lanes.h"

#include <algorithm>
#include <array>
#include <map>

namespace gp {
namespace {

constexpr int kHour = 60;

const std::string& place_name(const Production& production, PlaceId place) {
  static const std::string kNone;
  if (!place.valid()) return kNone;
  const Place& found = production.places[place];
  return found.name.empty() ? found.id : found.name;
}

class DayPicture {
 public:
  DayPicture(Visit& visit, const DayFacts& facts)
      : visit_(visit), facts_(facts), production_(facts.production()) {}

  LanePicture picture() {
    LanePicture result;
    const std::string day = long_date(facts_.day().date, date_tongue(visit_));
    result.title = organiser_words(visit_, "picture.title", {{"day", day}});
    result.description = organiser_words(visit_, "picture.description");
    result.clock = [&facts = facts_](int at) { return facts.clock(minute(at)); };  // outlives this
    add_units(result.lanes);
    add_stations(result.lanes);
    add_meals(result.lanes);
    return result;
  }

 private:
  [[nodiscard]] std::string who(PersonId person) const {
    return production_.people[person].shown();
  }
  [[nodiscard]] std::string told(const std::string& what, Minute from, Minute until) const {
    return what + ", " + facts_.clocks(from, until);
  }
  void add(std::vector<Lane>& lanes, std::vector<Lane> more) const {
    for (Lane& lane : more) lanes.push_back(std::move(lane));
  }

  void add_units(std::vector<Lane>& lanes) const {
    for (const UnitId unit : production_.units.ids()) {
      std::vector<LaneBlock> blocks;
      for (const PlannedScene& scene : facts_.plan().scenes) {
        if (scene.unit != unit) continue;
        const std::string name = production_.scenes[scene.scene].shown();
        if (scene.set_at < scene.shoot_at) {
          blocks.push_back({BlockKind::set_up,
                            count(scene.set_at),
                            count(scene.shoot_at),
                            organiser_words(visit_, "picture.set_up"),
                            told(organiser_words(visit_, "picture.set_up_of", {{"scene", name}}),
                                 scene.set_at,
                                 scene.shoot_at)});
        }
        blocks.push_back({BlockKind::shot,
                          count(scene.shoot_at),
                          count(scene.until),
                          name,
                          told(name, scene.shoot_at, scene.until)});
      }
      if (blocks.empty()) continue;
      add(lanes,
          packed(
              organiser_words(visit_, "picture.unit", {{"unit", production_.units[unit].shown()}}),
              std::move(blocks)));
    }
  }

  void add_stations(std::vector<Lane>& lanes) const {
    for (const StationId station : production_.stations.ids()) {
      const std::string name = production_.stations[station].shown();
      std::map<int, std::vector<LaneBlock>> places;
      for (const PlannedStep& step : facts_.plan().steps) {
        if (step.station != station) continue;
        const std::string look = production_.looks[step.look].shown();
        const char* const key = step.part == ChainPart::on ? "picture.on" : "picture.off";
        std::string text =
            organiser_words(visit_, key, {{"name", who(step.person)}, {"look", look}});
        if (step.by.valid()) {
          text = organiser_words(visit_, "picture.by", {{"what", text}, {"name", who(step.by)}});
        }
        places[step.place].push_back({step.part == ChainPart::on ? BlockKind::on : BlockKind::off,
                                      count(step.from),
                                      count(step.until),
                                      who(step.person),
                                      told(text, step.from, step.until)});
      }
      for (auto& [place, blocks] : places) {
        add(lanes,
            packed(
                organiser_words(
                    visit_, "picture.place", {{"station", name}, {"place", std::int64_t{place}}}),
                std::move(blocks)));
      }
      std::vector<LaneBlock> ready;
      for (const Ready& one : facts_.plan().ready) {
        if (one.station != station) continue;
        ready.push_back(
            {BlockKind::ready,
             count(one.from),
             count(one.until),
             who(one.person),
             told(organiser_words(visit_, "picture.ready_by", {{"name", who(one.person)}}),
                  one.from,
                  one.until)});
      }
      if (ready.empty()) continue;
      add(lanes,
          packed(organiser_words(visit_, "picture.ready", {{"station", name}}), std::move(ready)));
    }
  }

  void add_meals(std::vector<Lane>& lanes) const {
    std::vector<LaneBlock> blocks;
    for (const PlannedMeal& meal : facts_.plan().meals) {
      const std::string text = organiser_words(
          visit_,
          "picture.meal",
          {{"meal", meal.meal}, {"count", static_cast<std::int64_t>(meal.people.size())}});
      blocks.push_back({BlockKind::meal,
                        count(meal.from),
                        count(meal.until),
                        text,
                        told(text, meal.from, meal.until)});
    }
    if (blocks.empty()) return;
    add(lanes, packed(organiser_words(visit_, "picture.meals"), std::move(blocks)));
  }

  Visit& visit_;
  const DayFacts& facts_;
  const Production& production_;
};

std::string names(const Production& production, const std::vector<PersonId>& people) {
  std::vector<std::string> list;
  for (const PersonId person : people) list.push_back(production.people[person].shown());
  return listed(list);
}

void add_scene_rows(ViewData& data, const DayFacts& facts) {
  const Production& production = facts.production();
  for (const PlannedScene& scene : facts.plan().scenes) {
    std::vector<std::string> who;
    for (const CastEntry& entry : scene.cast) {
      who.push_back(production.roles[entry.role].shown() + ": " + names(production, entry.people));
    }
    for (const CrewEntry& entry : scene.crew) {
      if (!entry.people.empty()) who.push_back(entry.job + ": " + names(production, entry.people));
    }
    std::string all;
    for (const std::string& one : who) all += (all.empty() ? "" : "; ") + one;
    data.add("PLANNED_SCENE")
        .set("SET_AT", facts.clock(scene.set_at))
        .set("SHOOT_AT", facts.clock(scene.shoot_at))
        .set("UNTIL", facts.clock(scene.until))
        .set("SCENE_NAME", production.scenes[scene.scene].shown())
        .set("WHERE", place_name(production, production.place_of(scene.scene, facts.plan().day)))
        .set("WHO", all);
  }
}

void add_station_rows(Visit& visit, ViewData& data, const DayFacts& facts) {
  const Production& production = facts.production();
  if (facts.plan().steps.empty()) return;
  ViewData& section = data.add("STEPS");
  for (const PlannedStep& step : facts.plan().steps) {
    section.add("STEP")
        .set("TIME", facts.clocks(step.from, step.until))
        .set("STATION",
             organiser_words(visit,
                             "picture.place",
                             {{"station", production.stations[step.station].shown()},
                              {"place", std::int64_t{step.place}}}))
        .set("PERSON", production.people[step.person].shown())
        .set("LOOK",
             organiser_words(visit,
                             step.part == ChainPart::on ? "picture.puts_on" : "picture.takes_off",
                             {{"look", production.looks[step.look].shown()}}))
        .set("BY", step.by.valid() ? production.people[step.by].shown() : "");
  }
}

void add_calls(ViewData& data, const DayFacts& facts) {
  for (const Stay& stay : facts.plan().people) {
    const Person& person = facts.production().people[stay.person];
    data.add("STAY")
        .set("CALL", facts.clock(stay.call))
        .set("PERSON", person.shown())
        .set("KEY", person_key(person.id))
        .set("RELEASED", facts.clock(stay.released))
        .set("PARTS", listed(facts.parts(stay.person)));
  }
}

}  // namespace

std::string length_words(const Visit& visit, std::int64_t minutes) {
  return organiser_words(
      visit, "length", {{"hours", minutes / kHour}, {"minutes", minutes % kHour}});
}

void add_plan_day(Visit& visit, ViewData& data, const DayFacts& facts, const std::string& key) {
  ViewData& day = data.add("DAY");
  day.set("DATE", long_date(facts.day().date, date_tongue(visit))).set("ANCHOR", key);
  const DayPlan& plan = facts.plan();
  if (plan.scenes.empty()) {
    day.show("NOTHING");
    return;
  }
  ViewData& full = day.add("FULL");
  const LanePicture picture = DayPicture(visit, facts).picture();
  // made by draw_lanes(), which escapes every text
  full.set_markup("PICTURE", draw_lanes(picture, key));
  full.set("PICTURE_NAME", picture.title);
  static constexpr std::array<std::pair<BlockKind, const char*>, 6> kKinds = {
      {{BlockKind::set_up, "legend.set_up"},
       {BlockKind::shot, "legend.shot"},
       {BlockKind::on, "legend.on"},
       {BlockKind::off, "legend.off"},
       {BlockKind::ready, "legend.ready"},
       {BlockKind::meal, "legend.meal"}}};
  for (const auto& [kind, words] : kKinds) {
    const bool there =
        std::any_of(picture.lanes.begin(), picture.lanes.end(), [kind = kind](const Lane& lane) {
          return std::any_of(lane.blocks.begin(),
                             lane.blocks.end(),
                             [kind](const LaneBlock& block) { return block.kind == kind; });
        });
    if (!there) continue;
    // drawn by draw_swatch() without any text
    full.add("LEGEND")
        .set_markup("SWATCH", draw_swatch(kind, key))
        .set("TEXT", organiser_words(visit, words));
  }
  if (!plan.people.empty()) full.set("FIRST_CALL", facts.clock(plan.people.front().call));
  if (plan.first_shot) full.set("FIRST_SHOT", facts.clock(*plan.first_shot));
  if (plan.wrap) full.set("WRAP", facts.clock(*plan.wrap));
  full.set("PEOPLE_COUNT", static_cast<std::int64_t>(plan.people.size()));
  add_scene_rows(full, facts);
  add_station_rows(visit, full, facts);
  add_calls(full, facts);
}

}  // namespace gp
