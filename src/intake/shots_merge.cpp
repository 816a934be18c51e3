#include "base/utf8.h"
#include "intake/shots.h"
#include "intake/values.h"
#include "model/known_ids.h"
#include "model/limits.h"
#include "model/texts.h"
#include "text/fold.h"
#include "time/clock.h"

#include <algorithm>
#include <map>
#include <set>

namespace gp {
namespace {

/// Rows of one table by id and by name.
template <class IdType>
class Names {
 public:
  explicit Names(const Folding& folding) : folding_(folding) {}

  void add(IdType id, const std::string& key, const std::string& name) {
    ids_.emplace(key, id);
    names_.emplace(folding_.words(key), id);
    if (!name.empty()) names_.emplace(folding_.words(name), id);
  }
  [[nodiscard]] IdType find(const std::string& text) const {
    if (const auto id = ids_.find(text); id != ids_.end()) return id->second;
    const std::string folded = folding_.words(text);
    const auto name = names_.find(folded);
    return name != names_.end() && !folded.empty() ? name->second : IdType();
  }
  [[nodiscard]] std::string free_id(const std::string& name, const std::string& otherwise) {
    std::string wanted = id_of_name(name);
    if (wanted.empty()) wanted = otherwise;
    std::string id = wanted;
    int& number = numbers_[wanted];
    if (number == 0) number = 1;
    while (ids_.contains(id)) id = wanted + "-" + std::to_string(++number);
    return id;
  }
  [[nodiscard]] bool has(const std::string& id) const { return ids_.contains(id); }

 private:
  const Folding& folding_;
  std::map<std::string, IdType> ids_, names_;
  std::map<std::string, int> numbers_;
};

class ShotsMerger {
 public:
  explicit ShotsMerger(const Production& production) {
    out_.production = production;
    Production& now = out_.production;
    for (const PlaceId id : now.places.ids())
      places_.add(id, now.places[id].id, now.places[id].name);
    for (const RoleId id : now.roles.ids()) roles_.add(id, now.roles[id].id, now.roles[id].name);
    for (const PersonId id : now.people.ids()) {
      people_.add(id, now.people[id].id, now.people[id].name);
    }
    for (const SceneId id : now.scenes.ids())
      scenes_.add(id, now.scenes[id].id, now.scenes[id].name);
    for (const RoleId id : now.roles.ids()) {
      if (now.roles[id].person.valid()) played_.emplace(now.roles[id].person, id);
    }
    for (const Scene& scene : now.scenes) calls_ += scene.cast.size() + scene.crew.size();
  }

  ShotsMerge merge(const std::vector<Shot>& shots, bool add_again) {
    for (const Shot& shot : shots) {
      const SceneId by_id = shot.id.empty() ? SceneId() : scenes_.find(shot.id);
      const SceneId there = by_id.valid() ? by_id : scenes_.find(shot.name);
      if (there.valid() && !add_again) {
        out_.held.push_back({shot.line, shot.name, there});
      } else {
        add(shot);
      }
    }
    return std::move(out_);
  }

 private:
  void add(const Shot& shot) {
    Production& production = out_.production;
    if (production.scenes.size() >= limits::kEntries ||
        calls_ + shot.cast.size() > limits::kCalls) {
      ++out_.no_room;
      return;
    }
    line_ = shot.line;
    notes_ = shot.notes;
    Scene scene;
    scene.unit = UnitId(0);
    scene.name = shot.name;
    if (count_characters(scene.name) > limits::kNameCharacters) {
      note(scene.name, "the name is longer than 200 characters");
      scene.name = shortened(scene.name, limits::kNameCharacters);
    }
    scene.id = scene_id(shot);
    if (!shot.place.empty()) scene.place = place_of(shot.place);
    for (const ShotCast& one : shot.cast) add_cast(one, scene);
    if (shot.minutes) {
      scene.shoot_minutes = *shot.minutes;
    } else {
      ++out_.without_minutes;
    }
    if (!shot.set.empty()) {
      if (count_characters(shot.set) > limits::kTagCharacters) {
        note("Set: " + shot.set, "the set's name is longer than 64 characters");
      } else {
        scene.set = shot.set;
      }
    }
    set_light(shot.light, scene);
    set_day(shot.day, scene);
    for (const std::string& text : notes_) scene.notes += (scene.notes.empty() ? "" : "\n") + text;
    if (count_characters(scene.notes) > limits::kNoteCharacters) {
      remark("its notes are longer than 2000 characters; cut off: \"" +
             scene.notes.substr(shortened(scene.notes, limits::kNoteCharacters).size() - 3) + "\"");
      scene.notes = shortened(scene.notes, limits::kNoteCharacters);
    }
    calls_ += scene.cast.size();
    const SceneId id = production.scenes.add(scene);
    scenes_.add(id, scene.id, scene.name);
    out_.added.push_back(id);
  }

  std::string scene_id(const Shot& shot) {
    if (!shot.id.empty() && is_id(shot.id) && !scenes_.has(shot.id)) return shot.id;
    if (!shot.id.empty()) note("Shot " + shot.id, "its number cannot be the scene's id");
    return scenes_.free_id(shot.name, "shot");
  }

  PlaceId place_of(const std::string& text) {
    const PlaceId there = places_.find(text);
    if (there.valid()) return there;
    if (count_characters(text) > limits::kNameCharacters ||
        out_.production.places.size() >= limits::kEntries) {
      note("Place: " + text, "no place can be made of it");
      return {};
    }
    Place place;
    place.id = places_.free_id(text, "place");
    if (place.id != text) place.name = text;
    const PlaceId id = out_.production.places.add(place);
    places_.add(id, place.id, text);
    out_.new_places.push_back(id);
    return id;
  }

  /// "guards" finds "guard".
  [[nodiscard]] RoleId role_named(const ShotCast& one) const {
    const RoleId there = roles_.find(one.name);
    if (there.valid() || !one.name.ends_with('s')) return there;
    return roles_.find(one.name.substr(0, one.name.size() - 1));
  }

  RoleId role_of(const ShotCast& one) {
    Production& production = out_.production;
    const std::string name = one.name.empty() ? "Crowd" : one.name;
    if (const RoleId there = role_named({name, one.people, one.counted}); there.valid())
      return there;
    const PersonId person = one.counted ? PersonId() : people_.find(name);
    if (person.valid()) {
      if (const auto part = played_.find(person); part != played_.end()) return part->second;
    }
    if (count_characters(name) > limits::kNameCharacters ||
        production.roles.size() >= limits::kEntries) {
      return {};
    }
    Role role;
    role.id = roles_.free_id(name, "part");
    if (role.id != name) role.name = name;
    role.crowd = one.counted && (one.people > 1 || one.name.empty());
    role.person = person;
    const RoleId id = production.roles.add(role);
    roles_.add(id, role.id, name);
    if (person.valid()) played_.emplace(person, id);
    out_.new_roles.push_back(id);
    return id;
  }

  void add_cast(const ShotCast& one, Scene& scene) {
    const std::string said =
        (one.counted ? std::to_string(one.people) + " " : std::string()) + one.name;
    const RoleId role = role_of(one);
    if (!role.valid()) return note("People: " + said, "no part can be made of it");
    const bool crowd = out_.production.roles[role].crowd;
    const int people = crowd ? one.people : 1;
    if (people != one.people) {
      note("People: " + said, out_.production.roles[role].id + " is a part, one person alone");
    }
    for (CastCall& call : scene.cast) {
      if (call.role != role) continue;
      if (crowd && call.people + people <= limits::kHeads) {
        call.people += people;
      } else {
        note("People: " + said, "named twice in this shot");
      }
      return;
    }
    scene.cast.push_back({role, people});
  }

  void set_light(const std::string& text, Scene& scene) {
    if (text.empty()) return;
    const std::string folded = folding_.words(text);
    if (folded == "any") return;
    if (folded == "day") {
      scene.light = Light::day;
    } else if (folded == "golden") {
      scene.light = Light::golden;
    } else if (folded == "dusk") {
      scene.light = Light::dusk;
    } else if (folded == "dark") {
      scene.light = Light::dark;
    } else {
      return note("Light: " + text, "the lights are any, day, golden, dusk and dark");
    }
    if (sun_known(scene)) return;
    scene.light = Light::any;
    note("Light: " + text, "no place on the map (lat, lon) to reckon the sun for");
  }

  [[nodiscard]] bool sun_known(const Scene& scene) const {
    const Production& production = out_.production;
    if (scene.place.valid() && production.places[scene.place].geo) return true;
    return std::all_of(production.days.begin(), production.days.end(), [&](const Day& day) {
      return day.base.valid() && production.places[day.base].geo.has_value();
    });
  }

  void set_day(const std::string& text, Scene& scene) {
    if (text.empty()) return;
    const auto date = date_of(text, DateOrder::unknown);
    for (const DayId id : out_.production.days.ids()) {
      if (date && out_.production.days[id].date == *date) {
        scene.day = id;
        return;
      }
    }
    note("Day: " + text, "the production has no such day");
  }

  void note(const std::string& text, const std::string& why) {
    notes_.push_back(text);
    remark("\"" + text + "\" went into its notes: " + why);
  }
  void remark(const std::string& text) {
    out_.remarks.push_back("line " + std::to_string(line_) + ": " + text);
  }

  Folding folding_;
  ShotsMerge out_;
  Names<PlaceId> places_{folding_};
  Names<RoleId> roles_{folding_};
  Names<PersonId> people_{folding_};
  Names<SceneId> scenes_{folding_};
  std::map<PersonId, RoleId> played_;
  std::size_t calls_ = 0;
  std::size_t line_ = 0;
  std::vector<std::string> notes_;
};

}  // namespace

ShotsMerge merge_shots(const Production& production,
                       const std::vector<Shot>& shots,
                       bool add_again) {
  return ShotsMerger(production).merge(shots, add_again);
}

}  // namespace gp
