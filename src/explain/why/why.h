#pragma once

#include "base/ids.h"
#include "base/minutes.h"
#include "base/spans.h"
#include "model/check.h"
#include "model/plan.h"
#include "model/production.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

// Why a plan is as it is: what holds a call, a shot or a station's busy time where it stands. Found
// from the finished plan and its production alone, so that a plan from anywhere can be explained.
//
// "All else as it is" means the same everywhere here: one engagement moves (to any free place of
// its station and any helper who is there, able and free); nobody else's engagement moves, and
// nobody is called earlier or released later than now. A shot takes its cast and crew with it, and
// their calls and releases follow.

namespace gp {

/// What stands in the way of an engagement beginning at another moment.
enum class WhyFact {
  next_step,       ///< the next step of the same chain begins (with the wait and the way)
  first_scene,     ///< the shot the look is put on for begins (with the wait and the way)
  next_look,       ///< the person's next look goes on
  first_staffed,   ///< a station must be ready for the person's first step there
  own_time,        ///< the person themselves is busy with something else
  station_closed,  ///< outside of the station's hours
  place_taken,     ///< one place of the station has no room for it
  helper_busy,     ///< somebody with the skill is busy, not there, or has not got the station ready
  nobody_able,     ///< nobody else who is there that day has the skill
  item_out,        ///< all of an item are in use
  stays_longer,    ///< somebody would have to stay longer than now
  clock_change,    ///< the clock shows no such moment (an hour that comes twice)
  meal_span,       ///< the meal's own hours
  meal_seats,      ///< all seats of the meal are taken
  meal_people,     ///< those who eat together are not all free
  fixed_time,      ///< the scene's `at`
  hours_wanted,    ///< the scene's `between`
  first_shot,      ///< the day's `first_shot`
  wrap_by,         ///< the day's `wrap_by`
  light,           ///< the light the scene wants
  unit_busy,       ///< its unit is with another scene, or on the way
  scene_order,     ///< `after`
  not_ready,       ///< somebody's look is not on (or not dry) before, or must come off at once
  look_holds,      ///< somebody's look does not hold longer
  not_free,        ///< somebody is not free then
};
/// As the JSON writes it: "place-taken".
std::string name_of(WhyFact fact);

/// One thing that stands in the way. Which of the ids are set depends on the fact.
struct WhyCause {
  WhyFact fact{};
  /// The beginnings that it rules out, in order. Empty: every one beyond the limit.
  std::vector<Span> starts;
  PersonId person;  ///< who is busy, not ready, not free …
  StationId station;
  int place = 0;  ///< from 1; 0: none
  SceneId scene;
  ItemId item;
  std::optional<Minute> moment;  ///< when the next thing begins, or until when this holds
  std::string text;              ///< a plain clause: "place 1 is taken until 08:10 (Bo, Li)"
};

enum class WhyEngagement { own_step, staffs, ready, meal, plays, crew };

/// One engagement on the way from a call to what holds it.
struct WhyLink {
  WhyEngagement kind{};
  PersonId person;  ///< whose engagement it is: the one asked about, or whom they prepare
  Span time;
  StationId station;
  int place = 0;
  LookId look;
  PersonId wearer, by;  ///< of a step
  SceneId scene;
  std::string meal;
  /// Whether it can begin no later, all else as it is. Otherwise the call is held by nothing but
  /// what the search found.
  bool held = false;
  Minute latest;                 ///< its latest beginning, all else as it is; held: its own
  PersonId instead;              ///< somebody else who could do it; none: nobody
  std::vector<WhyCause> causes;  ///< what stands in the way after `latest`
  std::string what;              ///< "Face paint, place 2 (Herring, by Noor)"
  std::string text;              ///< one or two sentences
};

/// Something small that lets the person come later, tried by planning again.
struct WhyRelief {
  std::string change;          ///< "one place more at Face paint"
  Minute call;                 ///< their call with it
  Minutes later{};             ///< > 0
  std::int64_t costs_all = 0;  ///< minutes on site more over everybody; < 0: fewer
};

/// What planning again gave.
struct WhyReliefs {
  bool tried = false;  ///< false: it was not asked for
  bool stopped = false;
  int changes = 0;  ///< how many were tried
  /// The same planning with nothing changed already lets them come later; none: it does not.
  std::optional<WhyRelief> unchanged;
  std::vector<WhyRelief> found;  ///< by how much later, then by cost
};

/// A call and what holds it.
struct WhyCall {
  DayId day;
  Stay stay;
  Minutes way{};  ///< from the base's door to the first engagement
  std::vector<WhyLink> chain;
  bool held = false;    ///< whether every link is held
  Minute latest;        ///< the latest call if the first engagement alone moved
  std::string because;  ///< the whole chain in one sentence
  WhyReliefs reliefs;
};

struct WhyPerson {
  PersonId person;
  std::vector<WhyCall> calls;           ///< one a day they are needed on
  std::vector<std::string> not_needed;  ///< why they are not called at all; empty: they are
};

/// How far a shot can be moved one way, its cast and crew with it, all else as it is.
struct WhyRoom {
  Minutes room{};                ///< 0: not by a minute
  std::vector<WhyCause> causes;  ///< what breaks one minute beyond; empty: nothing does
};

struct WhyScene {
  SceneId scene;
  DayId day;  ///< none: it is not filmed
  PlannedScene planned;
  WhyRoom earlier, later;
  std::string text;        ///< why it is then
  std::string not_filmed;  ///< the plan's reason; empty: it is filmed
};

/// A stretch in which a station is in use without a break.
struct WhyBusy {
  Span time;
  int most = 0;         ///< places in use at once
  Minutes all_taken{};  ///< minutes in which every place is in use
  int people = 0;       ///< who are prepared there
  int steps = 0;
  int held = 0;  ///< steps on that can begin no later
  struct For {
    SceneId scene;  ///< none: looks that come off
    int people = 0;
    Minute at;  ///< its shot; of looks that come off: the first of them
  };
  std::vector<For> what_for;     ///< by time
  std::vector<WhyCause> causes;  ///< what holds its last step on
  std::string text;
};

struct WhyStationDay {
  DayId day;
  std::vector<WhyBusy> busy;
};
struct WhyStation {
  StationId station;
  std::vector<WhyStationDay> days;  ///< those on which it is in use
  std::string text;                 ///< where it is in use on no day: why
};

/// \param plan  a right plan of the production (check() finds nothing)
/// Cost: for each link, the minutes of its room times the station's steps and helpers. Threads:
/// pure.
WhyPerson why_person(const Production& film, const Plan& plan, Answers answers, PersonId person);
WhyScene why_scene(const Production& film, const Plan& plan, Answers answers, SceneId scene);
WhyStation why_station(const Production& film,
                       const Plan& plan,
                       Answers answers,
                       StationId station);

}  // namespace gp
