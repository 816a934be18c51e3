#include "model/reading.h"

#include <algorithm>
#include <map>
#include <utility>

// Chains nobody can do: a step asks for a skill that nobody who may staff its station has. What
// depends on who comes, and when, is the plan's to say.

namespace gp {
namespace {

/// Who can do a step. More than two are as good as two.
struct Able {
  int count = 0;
  PersonId first;
};

class Chains {
 public:
  explicit Chains(Reading& reading) : reading_(reading), production_(reading.production) {
    for (const PersonId id : production_.people.ids()) {
      const Person& person = production_.people[id];
      if (!reading_.origins.people[id].clean) unsure_ = true;
      if (person.answer == Answer::no) continue;
      for (const std::string& skill : person.can) add(anybody_[skill], id);
    }
    for (const RoleId id : production_.roles.ids()) {
      const Role& role = production_.roles[id];
      if (reading_.origins.roles[id].clean && role.person.valid() && role.look.valid()) {
        fixed_wearers_.emplace(std::pair(role.look, role.person), id);
      }
    }
  }

  void check() {
    if (production_.people.empty()) return;  // nobody has been asked yet
    for (const LookId id : production_.looks.ids()) {
      if (!reading_.origins.looks[id].clean) continue;
      check_chain(id, production_.looks[id].steps, "steps");
      check_chain(id, production_.looks[id].off, "off");
    }
  }

 private:
  static void add(Able& able, PersonId id) {
    if (able.count == 0) able.first = id;
    ++able.count;
  }

  const Able& able(StationId station_id, const std::string& skill) {
    static constexpr Able kNotSure{2, PersonId()};
    const Station& station = production_.stations[station_id];
    if (!station.staff) return unsure_ ? kNotSure : anybody_[skill];
    const auto [entry, fresh] = staffed_.emplace(std::pair(station_id, skill), Able{});
    if (fresh) {
      for (const PersonId id : *station.staff) {
        const Person& person = production_.people[id];
        // of somebody whose entry has a fault the best is believed
        if (!reading_.origins.people[id].clean) entry->second = kNotSure;
        if (person.answer == Answer::no) continue;
        if (std::find(person.can.begin(), person.can.end(), skill) != person.can.end()) {
          add(entry->second, id);
        }
      }
    }
    return entry->second;
  }

  void check_chain(LookId look, const std::vector<Step>& chain, const std::string& key) {
    const Origin& origin = reading_.origins.looks[look];
    for (std::size_t i = 0; i < chain.size(); ++i) {
      const Step& step = chain[i];
      if (step.by.empty() || !reading_.origins.stations[step.at].clean) continue;
      const Able& who = able(step.at, step.by);
      const Station& station = production_.stations[step.at];
      const Json& json = origin.json->find(key)->items()[i];
      const std::string path = path_to_item(origin.path + "." + key, i);
      const std::string among = station.staff ? "the staff of " + quoted(station.id) : "the people";
      if (who.count == 0) {
        reading_.faults.add(
            json.find("by")->at(),
            path + ".by",
            "a step nobody can do: none of " + among + " has " + quoted(step.by) + " in \"can\"",
            "a skill that one of them has",
            reading_.faults.nearest_of(step.by, skills_of(station)));
      } else if (who.count == 1) {
        check_only_one(look, who.first, step, path);
      }
    }
  }

  /// Nobody does their own: the only one who can must not be fixed to a part in this look.
  void check_only_one(LookId look, PersonId only, const Step& step, const std::string& path) {
    const auto wearer = fixed_wearers_.find(std::pair(look, only));
    if (wearer == fixed_wearers_.end()) return;
    const Origin& role = reading_.origins.roles[wearer->second];
    reading_.faults.add(role.json->find("person")->at(),
                        role.path + ".person",
                        quoted(production_.people[only].id) + ", the only one who can do " +
                            quoted(step.by) + " in " + path + ", in that very look",
                        "a second person who can, since nobody does their own");
  }

  /// Skills that would do at the station, for the hint.
  std::vector<std::string> skills_of(const Station& station) const {
    std::vector<std::string> result;
    if (!station.staff) {
      for (const auto& [skill, who] : anybody_) {
        if (who.count > 0) result.push_back(skill);
      }
    } else {
      for (const PersonId id : *station.staff) {
        const Person& person = production_.people[id];
        if (person.answer == Answer::no) continue;
        result.insert(result.end(), person.can.begin(), person.can.end());
      }
    }
    return result;
  }

  Reading& reading_;
  const Production& production_;
  bool unsure_ = false;  ///< somebody's entry has a fault: they may have any skill
  std::map<std::string, Able> anybody_;
  std::map<std::pair<StationId, std::string>, Able> staffed_;
  std::map<std::pair<LookId, PersonId>, RoleId> fixed_wearers_;
};

}  // namespace

void validate_chains(Reading& reading) {
  Chains(reading).check();
}

}  // namespace gp
