#include "model/circles.h"
#include "model/limits.h"
#include "model/reading.h"
#include "time/clock.h"

#include <algorithm>
#include <string>
#include <vector>

// Scenes against each other (`after` in a circle), against the sun (no place to reckon it for) and
// against the people fixed to their parts.

namespace gp {
namespace {

void check_order(Reading& reading) {
  const auto& scenes = reading.production.scenes;
  std::vector<std::vector<std::size_t>> arrows(scenes.size());
  for (const SceneId id : scenes.ids()) {
    if (!reading.origins.scenes[id].clean) continue;
    for (const SceneId before : scenes[id].after) arrows[id.index()].push_back(before.index());
  }
  for (const std::vector<std::size_t>& circle : circles(arrows)) {
    const SceneId first(circle.front());
    const Origin& origin = reading.origins.scenes[first];
    std::string found;
    if (circle.size() == 1) {
      found = quoted(scenes[first].id) + " after itself";
    } else {
      constexpr std::size_t kMostNamed = 8;
      found = "a circle: " + quoted(scenes[first].id);
      for (std::size_t i = 1; i < std::min(circle.size(), kMostNamed); ++i) {
        found += " after " + quoted(scenes[SceneId(circle[i])].id);
      }
      if (circle.size() > kMostNamed) found += " after …";
      found += " after " + quoted(scenes[first].id);
    }
    reading.faults.add(origin.json->find("after")->at(),
                       origin.path + ".after",
                       found,
                       "an order in which they can be filmed");
  }
}

/// The sun can be reckoned only for a place on the map: the scene's, or else the base of its day.
void check_light(Reading& reading, SceneId id) {
  const Production& production = reading.production;
  const Scene& scene = production.scenes[id];
  const Origin& origin = reading.origins.scenes[id];
  if (scene.light == Light::any) return;
  if (scene.place.valid() &&
      (production.places[scene.place].geo || !reading.origins.places[scene.place].clean)) {
    return;
  }
  for (const DayId day_id : production.days.ids()) {
    if (scene.day.valid() && scene.day != day_id) continue;
    const Day& day = production.days[day_id];
    if (!reading.origins.days[day_id].clean) continue;
    if (day.base.valid() &&
        (production.places[day.base].geo || !reading.origins.places[day.base].clean)) {
      continue;
    }
    const std::string base =
        day.base.valid() ? "the base " + quoted(production.places[day.base].id) : "no base";
    reading.faults.add(
        origin.json->find("light")->at(),
        origin.path + ".light",
        found_as(*origin.json->find("light")) +
            ", and no place on the map to reckon the sun for (" +
            (scene.place.valid() ? "its place " + quoted(production.places[scene.place].id) + ", "
                                 : "") +
            base + " on " + format(day.date) + ")",
        "\"lat\" and \"lon\" of the scene's place or of the day's base");
    return;
  }
}

/// Every call is asked of everybody, so what all scenes call for together is limited besides the
/// lists.
void check_calls(Reading& reading) {
  const Production& production = reading.production;
  std::size_t calls = 0;
  for (const SceneId id : production.scenes.ids()) {
    const Scene& scene = production.scenes[id];
    calls += scene.cast.size() + scene.crew.size();
    if (scene.unit.valid()) calls += production.units[scene.unit].crew.size();
    if (calls <= limits::kCalls) continue;
    reading.faults.add(reading.origins.scenes[id].json->at(),
                       reading.origins.scenes[id].path,
                       "more than " + std::to_string(limits::kCalls) +
                           " entries of cast and crew in all scenes so far (a unit's crew counts "
                           "in each of its scenes)",
                       "at most " + std::to_string(limits::kCalls));
    return;
  }
}

}  // namespace

void validate_scenes(Reading& reading) {
  check_order(reading);
  check_calls(reading);
  for (const SceneId id : reading.production.scenes.ids()) {
    if (reading.faults.full()) return;
    if (!reading.origins.scenes[id].clean) continue;
    check_light(reading, id);
  }
}

}  // namespace gp
