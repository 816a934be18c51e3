// Rules 1, 2, 4 (as far as scenes go: see check_people.cpp for the rest) and 5.
#include "model/check_day.h"
#include "time/clock.h"
#include "time/light.h"

#include <set>

namespace gp::checking {
namespace {

/// How long the set-up of a scene takes after `before` (null: the first of its unit that day).
Minutes set_up(const Scene& scene, const Scene* before) {
  const bool same_set = before != nullptr && !scene.set.empty() && scene.set == before->set;
  return same_set ? scene.reset_minutes : scene.set_minutes;
}

LightKind light_kind(Light light) {
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

const char* light_word(Light light) {
  switch (light) {
    case Light::any:
      return "any";
    case Light::day:
      return "day";
    case Light::golden:
      return "golden";
    case Light::dusk:
      return "dusk";
    case Light::dark:
      return "dark";
  }
  return "";
}

void filmed_once(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  std::set<SceneId> lost;
  for (const NotFilmed& entry : judged.plan->not_filmed) {
    lost.insert(entry.scene);
    if (entry.why.empty()) {
      findings.add(1, production.scenes[entry.scene].id, "is not filmed, and no reason is given");
    }
  }
  for (const SceneId scene : production.scenes.ids()) {
    const std::size_t times = judged.filmed[scene].size();
    const std::string& id = production.scenes[scene].id;
    const bool is_lost = lost.contains(scene);
    if (times > 1) findings.add(1, id, phrase("is filmed ", times, " times"));
    if (times == 0 && !is_lost) findings.add(1, id, "is neither filmed nor under not_filmed");
    if (times > 0 && is_lost) findings.add(1, id, "is filmed, and stands under not_filmed");
  }
}

}  // namespace

void rule_1_scenes(const Judged& judged, Findings& findings) {
  filmed_once(judged, findings);
  std::set<DayId> seen;
  for (const JudgedDay& day : judged.days) {
    if (!seen.insert(day.plan->day).second) {
      findings.add(1, format(day.day->date), "the day is listed twice");
    }
    for (const auto& [unit, rows] : day.units) {
      const Scene* before = nullptr;
      for (const PlannedScene* planned : rows) {
        const Scene& scene = judged.production->scenes[planned->scene];
        const Minutes shoots = planned->until - planned->shoot_at;
        if (shoots != scene.shoot_minutes) {
          findings.add(
              1, scene.id, phrase("shoots ", shoots, " minutes, not ", scene.shoot_minutes));
        }
        const Minutes sets_up = planned->shoot_at - planned->set_at;
        const Minutes needed = set_up(scene, before);
        if (sets_up != needed) {
          findings.add(1, scene.id, phrase("sets up in ", sets_up, " minutes, not ", needed));
        }
        before = &scene;
      }
    }
  }
}

void rule_2_units(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  for (const JudgedDay& day : judged.days) {
    for (const auto& [unit, rows] : day.units) {
      const PlannedScene* before = nullptr;
      for (const PlannedScene* planned : rows) {
        const Scene& scene = production.scenes[planned->scene];
        if (planned->unit != scene.unit) {
          findings.add(2,
                       scene.id,
                       phrase("is filmed by unit ",
                              production.units[planned->unit].id,
                              ", not by ",
                              production.units[scene.unit].id));
        }
        if (before != nullptr) {
          const Minutes way = production.way(production.place_of(before->scene, day.plan->day),
                                             production.place_of(planned->scene, day.plan->day));
          if (planned->set_at < before->until + way) {
            findings.add(2,
                         scene.id,
                         phrase("sets up at ",
                                day.clock(planned->set_at),
                                "; the unit is at ",
                                production.scenes[before->scene].id,
                                " until ",
                                day.clock(before->until),
                                ", and the way takes ",
                                way,
                                " minutes"));
          }
        }
        before = planned;
      }
    }
  }
}

namespace {

void scene_windows(const Judged& judged,
                   const JudgedDay& day,
                   const PlannedScene& planned,
                   Findings& findings) {
  const Production& production = *judged.production;
  const Scene& scene = production.scenes[planned.scene];
  if (scene.day.valid() && scene.day != day.plan->day) {
    findings.add(4,
                 scene.id,
                 phrase("is filmed on ",
                        format(day.day->date),
                        ", not on ",
                        format(production.days[scene.day].date)));
  }
  if (scene.at && planned.shoot_at != day.elapsed(*scene.at)) {
    findings.add(4,
                 scene.id,
                 phrase("shoots at ", day.clock(planned.shoot_at), ", not at ", format(*scene.at)));
  }
  const Span shot{planned.shoot_at, planned.until};
  if (scene.between) {
    const Span between = day.elapsed(*scene.between);
    if (shot.from < between.from || shot.until > between.until) {
      findings.add(
          4, scene.id, phrase("shoots ", day.clock(shot), ", outside of ", format(*scene.between)));
    }
  }
  if (day.day->first_shot && shot.from < day.elapsed(*day.day->first_shot)) {
    findings.add(4,
                 scene.id,
                 phrase("shoots at ",
                        day.clock(shot.from),
                        ", before the first shot at ",
                        format(*day.day->first_shot)));
  }
  if (day.day->wrap_by && shot.until > day.elapsed(*day.day->wrap_by)) {
    findings.add(
        4,
        scene.id,
        phrase(
            "ends at ", day.clock(shot.until), ", after the wrap by ", format(*day.day->wrap_by)));
  }
}

void scene_order(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  for (const SceneId later : production.scenes.ids()) {
    if (judged.filmed[later].empty()) continue;
    const Filming& second = judged.filmed[later].front();
    for (const SceneId earlier : production.scenes[later].after) {
      if (judged.filmed[earlier].empty()) continue;
      const Filming& first = judged.filmed[earlier].front();
      const bool in_order =
          first.day < second.day ||
          (first.day == second.day && first.planned->until <= second.planned->shoot_at);
      if (!in_order) {
        findings.add(4,
                     production.scenes[later].id,
                     phrase("shoots before ", production.scenes[earlier].id, " has ended"));
      }
    }
  }
}

}  // namespace

void windows_of_scenes(const Judged& judged, Findings& findings) {
  for (const JudgedDay& day : judged.days) {
    for (const PlannedScene& planned : day.plan->scenes) {
      scene_windows(judged, day, planned, findings);
    }
  }
  scene_order(judged, findings);
}

void rule_5_light(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  for (const JudgedDay& day : judged.days) {
    for (const PlannedScene& planned : day.plan->scenes) {
      const Scene& scene = production.scenes[planned.scene];
      if (scene.light == Light::any) continue;
      // The light of the scene's place; where nobody said where that lies, of the base.
      std::optional<Geo> geo;
      if (scene.place.valid()) geo = production.places[scene.place].geo;
      if (!geo && day.day->base.valid()) geo = production.places[day.day->base].geo;
      if (!geo) {
        findings.add(5, scene.id, "nobody said where on earth its place lies");
        continue;
      }
      bool lit = false;
      for (const Span& span :
           light_spans(light_kind(scene.light), day.calendar, geo->lat, geo->lon)) {
        // "To the minute": the spans are rounded inwards to whole minutes, sun tables differ by
        // one.
        const Span wide{span.from - Minutes{1}, span.until + Minutes{1}};
        lit = lit || wide.covers({planned.shoot_at, planned.until});
      }
      if (!lit) {
        findings.add(5,
                     scene.id,
                     phrase("shoots ",
                            day.clock({planned.shoot_at, planned.until}),
                            ", which is not all ",
                            light_word(scene.light)));
      }
    }
  }
}

}  // namespace gp::checking
