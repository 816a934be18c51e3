#pragma once

#include "base/ids.h"
#include "base/minutes.h"
#include "model/production.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

// What the planner works out, complete: every sheet, page and message is made from a plan and its
// production alone. Equal to its JSON (docs/plan-format.md), except that moments here are elapsed
// minutes of their day, not what the wall clock shows.

namespace gp {

enum class ChainPart { on, off };

struct CastEntry {
  RoleId role;
  std::vector<PersonId> people;
  bool operator==(const CastEntry&) const = default;
};

struct CrewEntry {
  std::string job;
  std::vector<PersonId> people;
  bool operator==(const CrewEntry&) const = default;
};

struct PlannedScene {
  SceneId scene;
  UnitId unit;
  Minute set_at, shoot_at, until;
  std::vector<CastEntry> cast;  ///< one entry a role
  std::vector<CrewEntry> crew;  ///< one entry a job
  bool operator==(const PlannedScene&) const = default;
};

/// One stretch of a person in a look, from its first step (without one: its first scene) to the end
/// of its off chain (without one: its last scene).
struct Wear {
  PersonId person;
  LookId look;
  Minute from, until;
  std::vector<ItemId> items;  ///< one for each of the look's, in its order: that one or a stand-in
  bool operator==(const Wear&) const = default;
};

struct PlannedStep {
  PersonId person;
  LookId look;
  ChainPart part = ChainPart::on;
  int step = 0;  ///< in its chain, from 0
  StationId station;
  int place = 1;  ///< from 1
  PersonId by;    ///< none: needs nobody
  Minute from, until;
  bool operator==(const PlannedStep&) const = default;
};

/// A person getting a station ready before their first step there.
struct Ready {
  PersonId person;
  StationId station;
  Minute from, until;
  bool operator==(const Ready&) const = default;
};

struct PlannedMeal {
  std::string meal;
  Minute from, until;
  std::vector<PersonId> people;
  bool operator==(const PlannedMeal&) const = default;
};

struct Stay {
  PersonId person;
  Minute call, released;
  Minutes on_site{}, busy{}, waiting{};
  bool operator==(const Stay&) const = default;
};

struct DayPlan {
  DayId day;
  std::optional<Minute> first_shot;  ///< none: nothing is filmed
  std::optional<Minute> wrap;
  std::vector<PlannedScene> scenes;  ///< by set_at, then unit, then scene
  std::vector<Wear> wears;           ///< by from, then person
  std::vector<PlannedStep> steps;    ///< by from, then person
  std::vector<Ready> ready;
  std::vector<PlannedMeal> meals;
  std::vector<Stay> people;  ///< by call, then person
  bool operator==(const DayPlan&) const = default;
};

struct Unfilled {
  SceneId scene;
  RoleId role;      ///< none: `job` is short
  std::string job;  ///< empty: `role` is short
  int missing = 0;
  std::string why;
  bool operator==(const Unfilled&) const = default;
};

struct NotFilmed {
  SceneId scene;
  std::string why;
  bool operator==(const NotFilmed&) const = default;
};

struct Note {
  std::string level;  ///< "warning" or "hint"
  std::string about;  ///< a path into the production, e.g. "people.noor"
  std::string text;
  bool operator==(const Note&) const = default;
};

struct Totals {
  std::int64_t on_site = 0;          ///< minutes, over people and days
  Thousandths weighted_on_site = 0;  ///< minutes times weight, in thousandths
  std::int64_t waiting = 0;          ///< minutes
  std::optional<Thousandths> bound;  ///< least-time: as weighted_on_site; else minutes * 1000
  bool proven = false;
  double seconds = 0;  ///< spent planning
  bool operator==(const Totals&) const = default;
};

struct Plan {
  std::string title;
  std::string made_from;      ///< "sha256:…" of the production file's bytes; empty: not known
  std::vector<DayPlan> days;  ///< one for every day planned, in order of date
  std::vector<Unfilled> unfilled;
  std::vector<NotFilmed> not_filmed;
  std::vector<Note> notes;
  Totals totals;
  bool operator==(const Plan&) const = default;
};

}  // namespace gp
