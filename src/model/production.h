#pragma once

#include "base/ids.h"
#include "base/minutes.h"
#include "base/spans.h"

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

// One film, as the production file says it (docs/production-format.md): read once, checked once,
// const from then on. Everything after read_production() may trust it: every id points somewhere,
// every window ends after it begins.

namespace gp {

/// Thousandths, so that sums are exact: a `weight` of 1.5 is 1500.
using Thousandths = std::int64_t;

enum class Aim { least_time, latest_first_call };
enum class Paper { a4, letter };
enum class Answer { asked, yes, maybe, no };
/// As the production file writes it: "yes".
std::string name_of(Answer answer);

enum class Light { any, day, golden, dusk, dark };

using Tags = std::vector<std::string>;  ///< as written, in the file's order, no doubles

struct Contact {
  std::string name, phone;
  bool operator==(const Contact&) const = default;
};

struct Meal {
  std::string name;
  Minutes minutes{};
  WallSpan between;
  bool together = true;
  std::optional<int> seats;  ///< at once, >= 1; none: as many as there are
  bool operator==(const Meal&) const = default;
};

struct Day {
  Date date;
  PlaceId base;  ///< where people arrive; none: no place is given, every way from it takes 0
  WallTime nobody_before;
  std::optional<WallTime> first_shot;
  std::optional<WallTime> wrap_by;
  std::vector<Meal> meals;
  std::string first_aid, hospital, notes;
  bool operator==(const Day&) const = default;
};

struct Geo {
  double lat = 0;  ///< degrees north, -90 .. 90
  double lon = 0;  ///< degrees east, -180 .. 180
  bool operator==(const Geo&) const = default;
};

struct Place {
  std::string id, name, address;
  std::optional<Geo> geo;
  bool outdoors = false;
  std::map<std::size_t, Minutes> minutes_to;  ///< as written; ask Production::way() instead
  bool operator==(const Place&) const = default;
};

struct FreeTime {
  Date date;
  std::optional<WallSpan> hours;  ///< none: all day
  bool operator==(const FreeTime&) const = default;
};

struct Person {
  std::string id, name, phone, email, language;
  std::optional<std::vector<FreeTime>> free;  ///< none: all days, all day
  Tags can, no;
  Tags likes;  ///< ids of roles and people, and jobs: what and whom they would like; a wish only
  Thousandths weight = 1000;
  std::optional<Date> born;
  PersonId guardian;
  std::map<std::string, double> sizes;
  std::string food, skin;  ///< private
  Answer answer = Answer::yes;
  std::optional<double> turnout;  ///< 0 .. 1

  /// `name`, or the id where there is none.
  [[nodiscard]] const std::string& shown() const { return name.empty() ? id : name; }
  bool operator==(const Person&) const = default;
};

enum class LookKind { themselves, any, look };

struct Role {
  std::string id, name;
  bool crowd = false;
  PersonId person;  ///< who plays a part, fixed; none: the tool chooses
  LookKind look_kind = LookKind::themselves;
  LookId look;  ///< valid where look_kind is `look`
  std::optional<std::vector<PersonId>> from;
  Tags needs, tags;

  [[nodiscard]] const std::string& shown() const { return name.empty() ? id : name; }
  bool operator==(const Role&) const = default;
};

struct Step {
  StationId at;
  Minutes minutes{};
  std::string by;       ///< the skill it needs; empty: the person manages alone
  Minutes then_wait{};  ///< before the next step or scene
  bool operator==(const Step&) const = default;
};

/// The minutes of a chain's steps; what must pass between them left out.
Minutes work_minutes(const std::vector<Step>& chain);
/// The same with every `then_wait`: from its first step to what comes after it, at least.
Minutes whole_minutes(const std::vector<Step>& chain);

struct Look {
  std::string id, name;
  Tags tags;
  std::vector<Step> steps;  ///< puts it on
  std::vector<Step> off;    ///< takes it off
  std::optional<Minutes> holds_for;
  std::vector<ItemId> items;
  std::string wear, bring;

  [[nodiscard]] const std::string& shown() const { return name.empty() ? id : name; }
  bool operator==(const Look&) const = default;
};

struct Station {
  std::string id, name;
  PlaceId place;  ///< none: the day's base
  int places = 1;
  std::optional<WallSpan> open;
  std::optional<std::vector<PersonId>> staff;  ///< none: anyone planned who has the skill
  Minutes set_minutes{};

  [[nodiscard]] const std::string& shown() const { return name.empty() ? id : name; }
  bool operator==(const Station&) const = default;
};

/// Sizes an item fits: both ends belong to it.
struct SizeRange {
  double least = 0, most = 0;
  bool operator==(const SizeRange&) const = default;
};

struct Item {
  std::string id, name;
  int count = 1;
  std::map<std::string, SizeRange> fits;  ///< by the name of the size; none: everybody
  std::vector<ItemId> instead;            ///< what may be worn when all are out, best first
  PersonId lent_by;

  [[nodiscard]] const std::string& shown() const { return name.empty() ? id : name; }
  bool operator==(const Item&) const = default;
};

struct CrewCall {
  std::string job;
  int people = 1;
  Tags needs;
  std::vector<PersonId> from;  ///< empty: anybody
  bool operator==(const CrewCall&) const = default;
};

struct Unit {
  std::string id, name;
  std::vector<CrewCall> crew;  ///< of each of its scenes

  [[nodiscard]] const std::string& shown() const { return name.empty() ? id : name; }
  bool operator==(const Unit&) const = default;
};

struct CastCall {
  RoleId role;
  int people = 1;
  bool operator==(const CastCall&) const = default;
};

struct Prop {
  ItemId item;
  int count = 1;
  bool operator==(const Prop&) const = default;
};

struct Scene {
  std::string id, name;
  PlaceId place;  ///< none: the day's base
  UnitId unit;
  std::string set;  ///< empty: none shared with another scene
  Minutes set_minutes{}, reset_minutes{}, shoot_minutes{};
  std::vector<CastCall> cast;
  std::vector<CrewCall> crew;  ///< its own; the unit's come besides
  std::vector<Prop> props;
  Light light = Light::any;
  std::optional<WallSpan> between;
  std::optional<WallTime> at;
  std::vector<SceneId> after;
  DayId day;  ///< none: any
  Thousandths worth = 1000;
  bool optional = false;
  Tags hazards;
  std::string notes;

  [[nodiscard]] const std::string& shown() const { return name.empty() ? id : name; }
  bool operator==(const Scene&) const = default;
};

struct Production {
  std::string title;
  std::string language = "en";  ///< BCP 47
  std::string zone = "UTC";     ///< IANA
  Paper paper = Paper::a4;
  Contact contact;
  Aim aim = Aim::least_time;
  Minutes sign_in{5};
  Minutes round_to{5};
  Table<DayId, Day> days;  ///< in order of date
  Table<PlaceId, Place> places;
  Table<PersonId, Person> people;
  Table<RoleId, Role> roles;
  Table<LookId, Look> looks;
  Table<StationId, Station> stations;
  Table<ItemId, Item> items;
  Table<UnitId, Unit> units;  ///< never empty: one "main" where none was given
  Table<SceneId, Scene> scenes;

  /// Minutes on foot between two places, the same both ways; 0 where none is given or either place
  /// is none. The way written at `a` counts before the one written at `b`.
  [[nodiscard]] Minutes way(PlaceId a, PlaceId b) const;
  /// A scene's crew: its own first, then its unit's. One entry for each entry in the file.
  [[nodiscard]] std::vector<CrewCall> crew_of(SceneId scene) const;
  /// Where a scene is filmed and a station stands on that day.
  [[nodiscard]] PlaceId place_of(SceneId scene, DayId day) const;
  [[nodiscard]] PlaceId place_of(StationId station, DayId day) const;
  /// What crew is called for: the jobs of units and of scenes.
  [[nodiscard]] std::set<std::string> jobs() const;
  /// What somebody can like: the ids of roles and people, and the jobs of crews.
  [[nodiscard]] std::set<std::string> likeable() const;
  bool operator==(const Production&) const = default;
};

}  // namespace gp
