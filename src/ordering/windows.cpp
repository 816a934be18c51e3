#include "ordering/windows.h"

#include "time/light.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace gp {
LightKind kind_of(Light light) {
  switch (light) {
    case Light::golden:
      return LightKind::golden;
    case Light::dusk:
      return LightKind::dusk;
    case Light::dark:
      return LightKind::dark;
    case Light::day:
    case Light::any:
      break;
  }
  return LightKind::day;
}

namespace {

/// The sun asked once for each place and kind of light.
class LightOfDay {
 public:
  LightOfDay(const Production& production, const DayFrame& frame)
      : production_(production), frame_(frame) {}

  const std::vector<Span>& at(SceneId scene) {
    const Scene& spec = production_.scenes[scene];
    PlaceId place = frame_.scene_place[scene];
    if (!place.valid() || !production_.places[place].geo) place = frame_.base;
    const auto key = std::make_tuple(spec.light, place);
    auto found = known_.find(key);
    if (found == known_.end()) {
      std::vector<Span> spans;
      if (place.valid() && production_.places[place].geo) {
        const Geo geo = *production_.places[place].geo;
        spans = light_spans(kind_of(spec.light), frame_.clock, geo.lat, geo.lon);
      }
      found = known_.emplace(key, std::move(spans)).first;
    }
    return found->second;
  }

 private:
  const Production& production_;
  const DayFrame& frame_;
  std::map<std::tuple<Light, PlaceId>, std::vector<Span>> known_;
};

}  // namespace

Table<SceneId, std::vector<Span>> shot_windows(const Production& production,
                                               const DayFrame& frame) {
  Table<SceneId, std::vector<Span>> windows(production.scenes.size());
  LightOfDay light(production, frame);
  for (SceneId id : production.scenes.ids()) {
    const Scene& scene = production.scenes[id];
    if (scene.day.valid() && scene.day != frame.id) continue;
    Span span{frame.first_shot, frame.wrap_by};
    const auto narrow = [&](Span to) {
      span.from = std::max(span.from, to.from);
      span.until = std::min(span.until, to.until);
    };
    if (scene.between) narrow(frame.clock.elapsed(*scene.between));
    if (scene.at) {
      const Minute at = frame.clock.elapsed(*scene.at);
      narrow({at, at + scene.shoot_minutes});
    }
    const auto keep = [&](Span window) {
      if (window.length() >= scene.shoot_minutes) windows[id].push_back(window);
    };
    if (scene.light == Light::any) {
      keep(span);
      continue;
    }
    for (const Span& lit : light.at(id)) {
      keep({std::max(span.from, lit.from), std::min(span.until, lit.until)});
    }
  }
  return windows;
}

}  // namespace gp
