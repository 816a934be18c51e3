// Facts of the scene and of the day: windows, lengths, meals.
#include "explain/conflict/facts.h"
#include "time/clock.h"

#include <algorithm>

namespace gp::conflict {
namespace {

constexpr int kDay = 1440;

WallTime plus(WallTime time, int minutes) {
  return {std::clamp(time.minutes + minutes, 0, kLatestWallTime.minutes)};
}

std::string light_words(Light light) {
  switch (light) {
    case Light::day:
      return "by daylight";
    case Light::golden:
      return "in the golden hour";
    case Light::dusk:
      return "at dusk";
    case Light::dark:
      return "in the dark";
    case Light::any:
      break;
  }
  return "in any light";
}

}  // namespace

std::string minutes_text(std::int64_t minutes) {
  return std::to_string(minutes) + (minutes == 1 ? " minute" : " minutes");
}
std::string entry_path(const std::string& list, std::size_t number) {
  return list + "[" + std::to_string(number) + "]";
}
std::string key_path(const std::string& path, const std::string& key) {
  return path + "." + key;
}

std::vector<DayId> FactGround::days() const {
  std::vector<DayId> list;
  for (const DayId day : film->days.ids()) {
    if (!terms.only_day || *terms.only_day == day) list.push_back(day);
  }
  return list;
}
std::string FactGround::on(DayId day) const {
  return days().size() > 1 ? " on " + format(film->days[day].date) : std::string();
}
std::string FactGround::scene_path(const std::string& key) const {
  return key_path(entry_path("scenes", scene_number), key);
}

std::vector<Fact> facts_of(const FactGround& ground) {
  std::vector<Fact> facts;
  add_scene_facts(ground, facts);
  add_day_facts(ground, facts);
  add_people_facts(ground, facts);
  add_look_facts(ground, facts);
  add_place_facts(ground, facts);
  return facts;
}

void add_scene_facts(const FactGround& ground, std::vector<Fact>& facts) {
  const SceneId id = ground.question.scene;
  const Scene& scene = ground.scene();
  const std::string name = scene.shown();
  const auto length = [&](const char* key, Minutes Scene::*field, int least, const char* verb) {
    const int was = count(scene.*field);
    if (was <= least) return;
    facts.push_back({ground.scene_path(key),
                     name + " " + verb + " " + minutes_text(was),
                     [=](Production& film) { film.scenes[id].*field = Minutes{least}; },
                     "if " + name + " did not take that long to " +
                         (field == &Scene::shoot_minutes ? "shoot" : "set up"),
                     was - least,
                     [=](Production& film, int by) { film.scenes[id].*field = Minutes{was - by}; },
                     [=](int by) {
                       return "if " + name + " took " + std::to_string(was - by) +
                              (field == &Scene::shoot_minutes ? " minutes to shoot instead of "
                                                              : " minutes to set up instead of ") +
                              std::to_string(was);
                     },
                     true});
  };
  length("shoot_minutes", &Scene::shoot_minutes, 1, "shoots for");
  length("set_minutes", &Scene::set_minutes, 0, "is set up in");
  if (scene.light != Light::any) {
    facts.push_back({ground.scene_path("light"),
                     name + " is filmed " + light_words(scene.light),
                     [=](Production& film) { film.scenes[id].light = Light::any; },
                     "if " + name + " need not be filmed " + light_words(scene.light),
                     0,
                     {},
                     {},
                     true});
  }
  if (scene.between) {
    const WallSpan was = *scene.between;
    facts.push_back(
        {ground.scene_path("between"),
         name + " may begin at " + format(was.from),
         [=](Production& film) { film.scenes[id].between->from = WallTime{0}; },
         "if " + name + " might begin earlier",
         was.from.minutes,
         [=](Production& film, int by) { film.scenes[id].between->from = plus(was.from, -by); },
         [=](int by) {
           return "if " + name + " might begin at " + format(plus(was.from, -by)) + " instead of " +
                  format(was.from);
         },
         true});
    facts.push_back(
        {ground.scene_path("between"),
         name + " must end by " + format(was.until),
         [=](Production& film) { film.scenes[id].between->until = kLatestWallTime; },
         "if " + name + " might end later",
         kDay,
         [=](Production& film, int by) { film.scenes[id].between->until = plus(was.until, by); },
         [=](int by) {
           return "if " + name + " might end at " + format(plus(was.until, by)) + " instead of " +
                  format(was.until);
         },
         true});
  }
  if (scene.at) {
    const WallTime was = *scene.at;
    facts.push_back({ground.scene_path("at"),
                     name + " begins at " + format(was),
                     [=](Production& film) { film.scenes[id].at.reset(); },
                     "if " + name + " might begin at another time",
                     kDay,
                     [=](Production& film, int by) {
                       Scene& loose = film.scenes[id];
                       loose.at.reset();
                       WallSpan span{plus(was, -by), plus(was, by + count(loose.shoot_minutes))};
                       if (loose.between) {
                         span.from = std::max(span.from, loose.between->from);
                         span.until = std::min(span.until, loose.between->until);
                       }
                       loose.between = span;
                     },
                     [=](int by) {
                       return "if " + name + " might begin " + minutes_text(by) +
                              " earlier or later than " + format(was);
                     },
                     true});
  }
  if (scene.day.valid()) {
    facts.push_back({ground.scene_path("day"),
                     name + " is filmed on " + format(ground.film->days[scene.day].date),
                     [=](Production& film) { film.scenes[id].day = DayId(); },
                     "if " + name + " might be filmed on another day",
                     0,
                     {},
                     {},
                     true});
  }
}

void add_day_facts(const FactGround& ground, std::vector<Fact>& facts) {
  for (const DayId id : ground.days()) {
    const Day& day = ground.film->days[id];
    const std::string path = entry_path("days", id.index());
    const std::string on = ground.on(id);
    if (const WallTime was = day.nobody_before; was.minutes > 0) {
      facts.push_back(
          {key_path(path, "nobody_before"),
           "nobody is called before " + format(was) + on,
           [=](Production& film) { film.days[id].nobody_before = WallTime{0}; },
           "if people might be called earlier" + on,
           was.minutes,
           [=](Production& film, int by) { film.days[id].nobody_before = plus(was, -by); },
           [=](int by) {
             return "if people might be called at " + format(plus(was, -by)) + " instead of " +
                    format(was) + on;
           },
           true});
    }
    if (day.first_shot) {
      const WallTime was = *day.first_shot;
      facts.push_back({key_path(path, "first_shot"),
                       "the first shot is at " + format(was) + on,
                       [=](Production& film) { film.days[id].first_shot.reset(); },
                       "if the first shot might be earlier" + on,
                       was.minutes,
                       [=](Production& film, int by) { film.days[id].first_shot = plus(was, -by); },
                       [=](int by) {
                         return "if the first shot might be at " + format(plus(was, -by)) +
                                " instead of " + format(was) + on;
                       },
                       true});
    }
    if (day.wrap_by) {
      const WallTime was = *day.wrap_by;
      facts.push_back({key_path(path, "wrap_by"),
                       "the day wraps by " + format(was) + on,
                       [=](Production& film) { film.days[id].wrap_by.reset(); },
                       "if the day might wrap later" + on,
                       kDay,
                       [=](Production& film, int by) { film.days[id].wrap_by = plus(was, by); },
                       [=](int by) {
                         return "if the day might wrap at " + format(plus(was, by)) +
                                " instead of " + format(was) + on;
                       },
                       true});
    }
    for (std::size_t m = 0; m < day.meals.size(); ++m) {
      const Meal& meal = day.meals[m];
      const int was = count(meal.minutes);
      const std::string name = meal.name;
      facts.push_back(
          {key_path(path, entry_path("meals", m)),
           name + " takes " + minutes_text(was) + " within " + format(meal.between) +
               (meal.together ? ", all together" : ", in turns") + on,
           [=](Production& film) {
             std::erase_if(film.days[id].meals, [&](const Meal& row) { return row.name == name; });
           },
           "if " + name + " were not held" + on,
           std::max(0, was - 1),
           [=](Production& film, int by) { film.days[id].meals[m].minutes = Minutes{was - by}; },
           [=](int by) {
             return "if " + name + " took " + std::to_string(was - by) + " minutes instead of " +
                    std::to_string(was) + on;
           },
           false});
    }
  }
}

}  // namespace gp::conflict
