// Facts of looks and of the stations they are put on at.
#include "explain/conflict/facts.h"
#include "time/clock.h"

#include <algorithm>
#include <map>
#include <set>

namespace gp::conflict {
namespace {

/// The looks that the question's places wear, each once, in order, with how many wear it.
std::map<LookId, int> looks_asked(const FactGround& ground) {
  std::map<LookId, int> looks;
  for (const CastCall& call : ground.scene().cast) {
    const Role& role = ground.film->roles[call.role];
    if (role.look_kind != LookKind::look) continue;
    if (role.crowd && call.role != ground.question.role) continue;
    looks[role.look] += call.people;
  }
  return looks;
}

class LookFacts {
 public:
  LookFacts(const FactGround& ground, std::vector<Fact>& facts)
      : film_(*ground.film), ground_(ground), looks_(looks_asked(ground)), facts_(facts) {}

  void add() {
    for (const auto& entry : looks_) {
      add_chain(entry.first, &Look::steps, "steps");
      add_chain(entry.first, &Look::off, "off");
      add_holds(entry.first);
    }
    for (const StationId station : stations_) add_station(station);
  }

  void add_items() {
    const Scene& scene = ground_.scene();
    std::set<ItemId> items;
    for (const Prop& prop : scene.props) items.insert(prop.item);
    int heads = 0;
    for (const auto& [look, people] : looks_) {
      heads += people;
      for (const ItemId item : film_.looks[look].items) {
        items.insert(item);
        items.insert(film_.items[item].instead.begin(), film_.items[item].instead.end());
      }
    }
    for (const Prop& prop : scene.props) heads += prop.count;
    for (const ItemId id : items) {
      const int was = film_.items[id].count;
      const std::string name = film_.items[id].shown();
      const int most = std::max(1, heads);
      facts_.push_back(
          {key_path(entry_path("items", id.index()), "count"),
           "there " + std::string(was == 1 ? "is " : "are ") + std::to_string(was) + " of " + name,
           [=](Production& film) { film.items[id].count = was + most; },
           "if there were enough of " + name,
           most,
           [=](Production& film, int by) { film.items[id].count = was + by; },
           [=](int by) {
             return "if there were " + std::to_string(was + by) + " of " + name + " instead of " +
                    std::to_string(was);
           },
           true});
    }
    const SceneId id = ground_.question.scene;
    for (std::size_t p = 0; p < scene.props.size(); ++p) {
      const int was = scene.props[p].count;
      const std::string text = scene.shown() + " needs ";
      const std::string name = film_.items[scene.props[p].item].shown();
      facts_.push_back(
          {ground_.scene_path(entry_path("props", p)) + ".count",
           text + std::to_string(was) + " of " + name + " as props",
           [=](Production& film) { film.scenes[id].props[p].count = 0; },
           "if " + scene.shown() + " did without " + name,
           was,
           [=](Production& film, int by) { film.scenes[id].props[p].count = was - by; },
           [=, scene_name = scene.shown()](int by) {
             return "if " + scene_name + " needed " + std::to_string(was - by) + " of " + name +
                    " instead of " + std::to_string(was);
           },
           true});
    }
  }

 private:
  void add_minutes(const std::string& path,
                   int was,
                   const std::string& words,
                   const std::string& what,
                   const std::function<void(Production&, int)>& set) {
    if (was < 1) return;
    facts_.push_back({path,
                      words,
                      [=](Production& film) { set(film, 0); },
                      "if " + what + " took no time",
                      was,
                      [=](Production& film, int by) { set(film, was - by); },
                      [=](int by) {
                        return "if " + what + " took " + minutes_text(was - by) + " instead of " +
                               std::to_string(was);
                      },
                      true});
  }

  void add_chain(LookId id, std::vector<Step> Look::*chain, const std::string& key) {
    const Look& look = film_.looks[id];
    const std::string name = look.shown();
    const std::string verb = chain == &Look::steps ? "putting on " : "taking off ";
    for (std::size_t k = 0; k < (look.*chain).size(); ++k) {
      const Step& step = (look.*chain)[k];
      if (std::find(stations_.begin(), stations_.end(), step.at) == stations_.end()) {
        stations_.push_back(step.at);
      }
      const std::string where = film_.stations[step.at].shown();
      const std::string path = key_path(entry_path("looks", id.index()), entry_path(key, k));
      const std::string what = verb + name + " at " + where;
      add_minutes(path + ".minutes",
                  count(step.minutes),
                  what + " takes " + minutes_text(count(step.minutes)),
                  what,
                  [=](Production& film, int minutes) {
                    (film.looks[id].*chain)[k].minutes = Minutes{minutes};
                  });
      const std::string wait = "the wait after " + what;
      add_minutes(path + ".then_wait",
                  count(step.then_wait),
                  wait + " is " + minutes_text(count(step.then_wait)),
                  wait,
                  [=](Production& film, int minutes) {
                    (film.looks[id].*chain)[k].then_wait = Minutes{minutes};
                  });
    }
  }

  void add_holds(LookId id) {
    const Look& look = film_.looks[id];
    if (!look.holds_for) return;
    const int was = count(*look.holds_for);
    const std::string name = look.shown();
    facts_.push_back(
        {key_path(entry_path("looks", id.index()), "holds_for"),
         name + " holds for " + minutes_text(was),
         [=](Production& film) { film.looks[id].holds_for.reset(); },
         "if " + name + " held longer",
         1440,
         [=](Production& film, int by) { film.looks[id].holds_for = Minutes{was + by}; },
         [=](int by) {
           return "if " + name + " held for " + std::to_string(was + by) + " minutes instead of " +
                  std::to_string(was);
         },
         true});
  }

  void add_station(StationId id) {
    const Station& station = film_.stations[id];
    const std::string path = entry_path("stations", id.index());
    const std::string name = station.shown();
    int heads = 0;
    for (const auto& entry : looks_) heads += entry.second;
    if (const int was = station.places; was < heads) {
      facts_.push_back({path + ".places",
                        name + " has " + std::to_string(was) + (was == 1 ? " place" : " places"),
                        [=](Production& film) { film.stations[id].places = heads; },
                        "if " + name + " had a place for everybody",
                        heads - was,
                        [=](Production& film, int by) { film.stations[id].places = was + by; },
                        [=](int by) {
                          return "if " + name + " had " + std::to_string(was + by) +
                                 " places instead of " + std::to_string(was);
                        },
                        true});
    }
    if (station.open) add_open(id);
    if (station.staff && !station.staff->empty()) {
      facts_.push_back({path + ".staff",
                        name + " is staffed by " + std::to_string(station.staff->size()) + " named",
                        [=](Production& film) { film.stations[id].staff.reset(); },
                        "if anybody who can might work at " + name,
                        0,
                        {},
                        {},
                        true});
    }
    add_minutes(
        path + ".set_minutes",
        count(station.set_minutes),
        "getting " + name + " ready takes " + minutes_text(count(station.set_minutes)),
        "getting " + name + " ready",
        [=](Production& film, int minutes) { film.stations[id].set_minutes = Minutes{minutes}; });
  }

  void add_open(StationId id) {
    const WallSpan was = *film_.stations[id].open;
    const std::string path = key_path(entry_path("stations", id.index()), "open");
    const std::string name = film_.stations[id].shown();
    const auto at = [](int minutes) {
      return WallTime{std::clamp(minutes, 0, kLatestWallTime.minutes)};
    };
    facts_.push_back({path,
                      name + " opens at " + format(was.from),
                      [=](Production& film) { film.stations[id].open->from = WallTime{0}; },
                      "if " + name + " opened earlier",
                      was.from.minutes,
                      [=](Production& film, int by) {
                        film.stations[id].open->from = at(was.from.minutes - by);
                      },
                      [=](int by) {
                        return "if " + name + " opened at " + format(at(was.from.minutes - by)) +
                               " instead of " + format(was.from);
                      },
                      true});
    facts_.push_back({path,
                      name + " closes at " + format(was.until),
                      [=](Production& film) { film.stations[id].open->until = kLatestWallTime; },
                      "if " + name + " closed later",
                      1440,
                      [=](Production& film, int by) {
                        film.stations[id].open->until = at(was.until.minutes + by);
                      },
                      [=](int by) {
                        return "if " + name + " closed at " + format(at(was.until.minutes + by)) +
                               " instead of " + format(was.until);
                      },
                      true});
  }

  const Production& film_;
  const FactGround& ground_;
  std::map<LookId, int> looks_;
  std::vector<Fact>& facts_;
  std::vector<StationId> stations_;
};

}  // namespace

void add_look_facts(const FactGround& ground, std::vector<Fact>& facts) {
  LookFacts looks(ground, facts);
  looks.add();
  looks.add_items();
}

/// The ways between the places of the scene, its stations and the base.
void add_place_facts(const FactGround& ground, std::vector<Fact>& facts) {
  const Production& film = *ground.film;
  std::set<PlaceId> places;
  for (const DayId day : ground.days()) {
    places.insert(film.days[day].base);
    places.insert(film.place_of(ground.question.scene, day));
    for (const auto& entry : looks_asked(ground)) {
      for (const auto* chain : {&film.looks[entry.first].steps, &film.looks[entry.first].off}) {
        for (const Step& step : *chain) places.insert(film.place_of(step.at, day));
      }
    }
  }
  for (const PlaceId a : places) {
    for (const PlaceId b : places) {
      if (!a.valid() || !b.valid() || !(a < b)) continue;
      const int was = count(film.way(a, b));
      if (was < 1) continue;
      const bool at_a = film.places[a].minutes_to.contains(b.index());
      const PlaceId from = at_a ? a : b;
      const PlaceId to = at_a ? b : a;
      const auto set = [=](Production& loose, int minutes) {
        loose.places[a].minutes_to[b.index()] = Minutes{minutes};
        loose.places[b].minutes_to[a.index()] = Minutes{minutes};
      };
      const auto name = [&](PlaceId place) {
        const Place& row = film.places[place];
        return row.name.empty() ? row.id : row.name;
      };
      const std::string what = "the way between " + name(from) + " and " + name(to);
      facts.push_back(
          {key_path(key_path(entry_path("places", from.index()), "minutes_to"), film.places[to].id),
           what + " takes " + minutes_text(was),
           [=](Production& loose) { set(loose, 0); },
           "if " + what + " took no time",
           was,
           [=](Production& loose, int by) { set(loose, was - by); },
           [=](int by) {
             return "if " + what + " took " + minutes_text(was - by) + " instead of " +
                    std::to_string(was);
           },
           true});
    }
  }
}

}  // namespace gp::conflict
