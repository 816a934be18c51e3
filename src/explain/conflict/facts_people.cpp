// Facts of people: when they are free, what they will not do, how many there are, who may what.
#include "casting/slots.h"
#include "explain/conflict/facts.h"
#include "time/clock.h"

#include <algorithm>
#include <map>
#include <set>

namespace gp::conflict {
namespace {

bool has_tag(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}
bool has_all_tags(const Tags& tags, const Tags& needed) {
  return std::all_of(
      needed.begin(), needed.end(), [&](const std::string& tag) { return has_tag(tags, tag); });
}

std::string listed(const Tags& tags) {
  std::string text;
  for (const std::string& tag : tags) text += (text.empty() ? "" : " and ") + tag;
  return text;
}

/// What is asked of whoever fills a place of the scene.
struct Wanted {
  RoleId role;       ///< none: behind the camera
  PersonId person;   ///< the part is theirs
  Tags needs, asks;  ///< asks: what they must not refuse
  const std::vector<PersonId>* from = nullptr;
  int people = 1;
  std::string what;  ///< "queen", "light"
};

class PeopleFacts {
 public:
  PeopleFacts(const FactGround& ground, std::vector<Fact>& facts)
      : ground_(ground),
        film_(*ground.film),
        crew_(film_.crew_of(ground.question.scene)),
        facts_(facts) {
    gather();
  }

  void add() {
    add_asked();
    add_calls();
    for (const PersonId who : concerned_) add_person(who);
    add_numbers();
    if (!concerned_.empty()) add_sign_in();
  }

 private:
  void gather() {
    const Scene& scene = ground_.scene();
    for (const CastCall& call : scene.cast) {
      const Role& role = film_.roles[call.role];
      if (role.crowd && call.role != ground_.question.role) continue;
      Wanted wanted;
      wanted.role = call.role;
      if (!role.crowd) wanted.person = role.person;
      wanted.needs = role.needs;
      wanted.asks = role.tags;
      wanted.asks.insert(wanted.asks.end(), scene.hazards.begin(), scene.hazards.end());
      if (role.look_kind == LookKind::look) {
        const Look& look = film_.looks[role.look];
        wanted.asks.insert(wanted.asks.end(), look.tags.begin(), look.tags.end());
        for (const auto* chain : {&look.steps, &look.off}) {
          for (const Step& step : *chain) {
            if (!step.by.empty()) hands_.insert({step.at, step.by});
          }
        }
      }
      if (role.from) wanted.from = &*role.from;
      wanted.people = call.people;
      wanted.what = role.shown();
      wanted_.push_back(std::move(wanted));
    }
    for (const CrewCall& call : crew_) {
      if (ground_.question.job.empty() || call.job != ground_.question.job) continue;
      Wanted wanted;
      wanted.needs = call.needs;
      wanted.asks = scene.hazards;
      if (!call.from.empty()) wanted.from = &call.from;
      wanted.people = call.people;
      wanted.what = call.job;
      wanted_.push_back(std::move(wanted));
    }
    for (const Wanted& wanted : wanted_) heads_ += wanted.people;
    for (const PersonId who : film_.people.ids()) {
      const Person& person = film_.people[who];
      const bool wanted = std::any_of(wanted_.begin(), wanted_.end(), [&](const Wanted& w) {
        if (w.person.valid()) return w.person == who;
        const bool among =
            w.from == nullptr || std::find(w.from->begin(), w.from->end(), who) != w.from->end();
        return among && has_all_tags(person.can, w.needs);
      });
      const bool hands = std::any_of(hands_.begin(), hands_.end(), [&](const auto& hand) {
        const auto& staff = film_.stations[hand.first].staff;
        const bool among = !staff || std::find(staff->begin(), staff->end(), who) != staff->end();
        return among && has_tag(person.can, hand.second);
      });
      if (wanted || hands) concerned_.push_back(who);
    }
  }

  /// How many heads the scene asks for, where that is what cannot be had.
  void add_asked() {
    const SceneId id = ground_.question.scene;
    const Scene& scene = ground_.scene();
    const std::string name = scene.shown();
    const auto add = [&](const std::string& path, int was, const std::string& what, auto set) {
      if (was < 1) return;
      facts_.push_back({path,
                        name + " asks for " + std::to_string(was) + " " + what,
                        [=](Production& film) { set(film, 0); },
                        "if " + name + " asked for no " + what,
                        was,
                        [=](Production& film, int by) { set(film, was - by); },
                        [=](int by) {
                          return "if " + name + " asked for " + std::to_string(was - by) + " " +
                                 what + " instead of " + std::to_string(was);
                        },
                        true});
    };
    for (std::size_t c = 0; c < scene.cast.size(); ++c) {
      if (!ground_.question.role.valid() || scene.cast[c].role != ground_.question.role) continue;
      if (!film_.roles[scene.cast[c].role].crowd) continue;
      add(ground_.scene_path(entry_path("cast", c)) + ".people",
          scene.cast[c].people,
          film_.roles[scene.cast[c].role].shown(),
          [=](Production& film, int people) { film.scenes[id].cast[c].people = people; });
    }
    for (std::size_t c = 0; c < crew_.size(); ++c) {
      if (ground_.question.job.empty() || crew_[c].job != ground_.question.job) continue;
      const auto call = crew_of(c);
      add(crew_path(c) + ".people",
          crew_[c].people,
          crew_[c].job,
          [call](Production& film, int people) { call(film).people = people; });
    }
  }

  [[nodiscard]] std::string crew_path(std::size_t call) const {
    const Scene& scene = ground_.scene();
    if (call < scene.crew.size()) return ground_.scene_path(entry_path("crew", call));
    return key_path(entry_path("units", scene.unit.index()),
                    entry_path("crew", call - scene.crew.size()));
  }
  [[nodiscard]] std::function<CrewCall&(Production&)> crew_of(std::size_t call) const {
    const SceneId id = ground_.question.scene;
    return [=](Production& film) -> CrewCall& {
      Scene& scene = film.scenes[id];
      if (call < scene.crew.size()) return scene.crew[call];
      return film.units[scene.unit].crew[call - scene.crew.size()];
    };
  }

  void add_whole(std::string path,
                 std::string words,
                 std::function<void(Production&)> relax,
                 std::string wholly) {
    facts_.push_back(
        {std::move(path), std::move(words), std::move(relax), std::move(wholly), 0, {}, {}, true});
  }

  /// Who may: `person`, `from` and `needs` of the roles and jobs.
  void add_calls() {
    std::set<RoleId> told;
    for (const Wanted& wanted : wanted_) {
      if (!wanted.role.valid() || !told.insert(wanted.role).second) continue;
      const RoleId id = wanted.role;
      const std::string path = entry_path("roles", id.index());
      const std::string what = wanted.what;
      if (const PersonId person = wanted.person; person.valid()) {
        const Tags asks = wanted.asks;
        const Tags needs = wanted.needs;
        add_whole(
            path + ".person",
            film_.people[person].shown() + " plays " + what,
            [=](Production& film) {
              // Anybody else, or that person still.
              film.roles[id].person = PersonId();
              Person& self = film.people[person];
              std::erase_if(self.no, [&](const std::string& tag) { return has_tag(asks, tag); });
              for (const std::string& need : needs) {
                if (!has_tag(self.can, need)) self.can.push_back(need);
              }
              auto& from = film.roles[id].from;
              if (from && std::find(from->begin(), from->end(), person) == from->end()) {
                from->push_back(person);
              }
            },
            "if somebody else might play " + what);
        continue;
      }
      if (wanted.from != nullptr) {
        add_whole(
            path + ".from",
            what + " is one of " + std::to_string(wanted.from->size()) + " named",
            [=](Production& film) { film.roles[id].from.reset(); },
            "if others than those named might be " + what);
      }
      for (std::size_t n = 0; n < wanted.needs.size(); ++n) {
        const std::string need = wanted.needs[n];
        add_whole(
            path + "." + entry_path("needs", n),
            what + " needs " + need,
            [=](Production& film) { std::erase(film.roles[id].needs, need); },
            "if " + what + " did not need " + need);
      }
    }
    for (std::size_t c = 0; c < crew_.size(); ++c) {
      if (ground_.question.job.empty() || crew_[c].job != ground_.question.job) continue;
      const auto call = crew_of(c);
      const std::string job = crew_[c].job;
      if (!crew_[c].from.empty()) {
        add_whole(
            crew_path(c) + ".from",
            job + " is one of " + std::to_string(crew_[c].from.size()) + " named",
            [=](Production& film) { call(film).from.clear(); },
            "if others than those named might do " + job);
      }
      for (std::size_t n = 0; n < crew_[c].needs.size(); ++n) {
        const std::string need = crew_[c].needs[n];
        add_whole(
            crew_path(c) + "." + entry_path("needs", n),
            job + " needs " + need,
            [=](Production& film) { std::erase(call(film).needs, need); },
            "if " + job + " did not need " + need);
      }
    }
  }

  void add_person(PersonId who) {
    const Person& person = film_.people[who];
    const std::string path = entry_path("people", who.index());
    const std::string& name = person.shown();
    if (!ground_.terms.answers.include(person.answer)) {
      add_whole(
          path + ".answer",
          name + (person.answer == Answer::no ? " does not come" : " has not said yes"),
          [=](Production& film) { film.people[who].answer = Answer::yes; },
          person.answer == Answer::no ? "if " + name + " could come after all"
                                      : "if " + name + " said yes");
    }
    for (std::size_t n = 0; n < person.no.size(); ++n) {
      const std::string tag = person.no[n];
      const bool bars = std::any_of(wanted_.begin(), wanted_.end(), [&](const Wanted& wanted) {
        return !wanted.person.valid() && has_tag(wanted.asks, tag);
      });
      if (!bars) continue;
      add_whole(
          path + "." + entry_path("no", n),
          name + " has said no to " + tag,
          [=](Production& film) { std::erase(film.people[who].no, tag); },
          "if somebody like " + name + " came who does not mind " + tag + " (" + name +
              "'s no stands)");
    }
    if (!person.free) return;
    for (const DayId day : ground_.days()) add_free(who, day);
  }

  void add_free(PersonId who, DayId day) {
    const Person& person = film_.people[who];
    const std::string path = entry_path("people", who.index());
    const std::string& name = person.shown();
    const std::string on = ground_.on(day);
    const Date date = film_.days[day].date;
    bool some = false;
    for (std::size_t f = 0; f < person.free->size(); ++f) {
      const FreeTime& entry = (*person.free)[f];
      if (entry.date != date) continue;
      some = true;
      if (!entry.hours) continue;
      const WallSpan was = *entry.hours;
      const std::string here = path + "." + entry_path("free", f);
      const auto clamp = [](int minutes) {
        return WallTime{std::clamp(minutes, 0, kLatestWallTime.minutes)};
      };
      facts_.push_back({here,
                        name + " is free from " + format(was.from) + on,
                        [=](Production& film) { (*film.people[who].free)[f].hours->from = {0}; },
                        "if " + name + " could come earlier" + on,
                        was.from.minutes,
                        [=](Production& film, int by) {
                          (*film.people[who].free)[f].hours->from = clamp(was.from.minutes - by);
                        },
                        [=](int by) {
                          return "if " + name + " could come at " +
                                 format(clamp(was.from.minutes - by)) + " instead of " +
                                 format(was.from) + on;
                        },
                        true});
      facts_.push_back(
          {here,
           name + " is free until " + format(was.until) + on,
           [=](Production& film) { (*film.people[who].free)[f].hours->until = kLatestWallTime; },
           "if " + name + " could stay longer" + on,
           1440,
           [=](Production& film, int by) {
             (*film.people[who].free)[f].hours->until = clamp(was.until.minutes + by);
           },
           [=](int by) {
             return "if " + name + " could stay until " + format(clamp(was.until.minutes + by)) +
                    " instead of " + format(was.until) + on;
           },
           true});
    }
    if (some) return;
    add_whole(
        path + ".free",
        name + " is not free" + (on.empty() ? " on " + format(date) : on),
        [=](Production& film) {
          film.people[who].free->push_back({date, std::nullopt});
        },
        "if " + name + " could come" + (on.empty() ? " on " + format(date) : on));
  }

  /// How many there are who can what the scene wants of them.
  void add_numbers() {
    // A newcomer for each set of skills, able to fill a place or to do a step.
    std::map<Tags, bool> wanted;
    for (const Wanted& row : wanted_) {
      if (row.person.valid() || row.from != nullptr) continue;
      Tags needs = row.needs;
      std::sort(needs.begin(), needs.end());
      wanted.try_emplace(std::move(needs), true);
    }
    for (const auto& [station, skill] : hands_) wanted.try_emplace(Tags{skill}, true);
    for (const auto& entry : wanted) {
      const Tags skills = entry.first;
      std::int64_t now = 0;
      for (const Person& person : film_.people) {
        if (ground_.terms.answers.include(person.answer) && has_all_tags(person.can, skills)) ++now;
      }
      std::vector<StationId> staffed;
      for (const auto& [station, skill] : hands_) {
        if (has_tag(skills, skill) && film_.stations[station].staff &&
            std::find(staffed.begin(), staffed.end(), station) == staffed.end()) {
          staffed.push_back(station);
        }
      }
      const auto come = [=](Production& film, int more) {
        for (int i = 0; i < more; ++i) {
          Person person;
          person.id = "newcomer-" + std::to_string(film.people.size());
          person.can = skills;
          const PersonId id = film.people.add(std::move(person));
          for (const StationId station : staffed) {
            if (film.stations[station].staff) film.stations[station].staff->push_back(id);
          }
        }
      };
      const int most = std::min(heads_ + 1, 64);
      const std::string can = skills.empty() ? std::string() : " who can " + listed(skills);
      facts_.push_back({"people",
                        (now == 1 ? "1 person" : std::to_string(now) + " people") +
                            (skills.empty() ? (now == 1 ? " comes" : " come")
                                            : (now == 1 ? " comes" : " come") + can),
                        [=](Production& film) { come(film, most); },
                        "if many more people came" + can,
                        most,
                        [=](Production& film, int by) { come(film, by); },
                        [=](int by) {
                          return by == 1 ? "if one more person came" + can
                                         : "if " + std::to_string(by) + " more people came" + can;
                        },
                        true});
    }
  }

  void add_sign_in() {
    if (const int was = count(film_.sign_in); was > 0) {
      facts_.push_back({"sign_in_minutes",
                        "signing in takes " + minutes_text(was),
                        [](Production& film) { film.sign_in = Minutes{0}; },
                        "if signing in took no time",
                        was,
                        [=](Production& film, int by) { film.sign_in = Minutes{was - by}; },
                        [=](int by) {
                          return "if signing in took " + std::to_string(was - by) +
                                 " minutes instead of " + std::to_string(was);
                        },
                        true});
    }
    if (film_.round_to > Minutes{1}) {
      add_whole(
          "round_to",
          "calls are multiples of " + minutes_text(count(film_.round_to)),
          [](Production& film) { film.round_to = Minutes{1}; },
          "if calls were to the minute");
    }
  }

  const FactGround& ground_;
  const Production& film_;
  std::vector<CrewCall> crew_;
  std::vector<Fact>& facts_;
  std::vector<Wanted> wanted_;
  std::set<std::pair<StationId, std::string>> hands_;
  std::vector<PersonId> concerned_;
  int heads_ = 0;
};

}  // namespace

void add_people_facts(const FactGround& ground, std::vector<Fact>& facts) {
  PeopleFacts(ground, facts).add();
}

}  // namespace gp::conflict
