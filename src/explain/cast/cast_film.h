#pragma once

#include "base/stop.h"
#include "casting/film_cast.h"
#include "casting/solve_cast.h"
#include "model/check.h"
#include "model/production.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

// Casting alone, before there is an order: who has which part, who are the crowds and the crew, and
// where nobody is left, why and who comes nearest.

namespace gp {

struct CastWishes {
  Answers answers;
  std::optional<DayId> only_day;  ///< none: every day of the production
  CastEffort effort;
};

/// Who has a part.
struct PartChoice {
  RoleId role;
  PersonId person;     ///< none: nobody is left
  bool given = false;  ///< the production says so itself
  std::vector<SceneId> scenes;
};

/// Who is in one kind of place in a scene.
struct PlaceChoice {
  RoleId role;  ///< none: `job`
  std::string job;
  bool part = false;
  int wanted = 1;
  std::vector<PersonId> people;
};

struct SceneChoice {
  SceneId scene;
  DayId day;    ///< when it was looked at; none: it can stand at no time
  Minute shot;  ///< a beginning of the shot that suits all of these
  std::vector<PlaceChoice> places;
};

/// A place that stays empty.
struct EmptyPlace {
  SceneId scene;
  RoleId role;
  std::string job;
  int missing = 1;
  std::string why;     ///< "4 lack \"dance\", 2 are in the scene already"
  PersonId nearest;    ///< who would do if one thing were otherwise; none: nobody
  std::string change;  ///< "if Noor could stay until 20:45 instead of 20:30"
};

/// Something that the production fixes and that cannot be kept.
struct LockCollision {
  std::string lock;  ///< "Ana plays the vicar"
  std::string with;  ///< what it collides with
};

/// How many scenes somebody is in.
struct CastLoad {
  PersonId person;
  int scenes = 0;
  int liked = 0;         ///< of these, in a part, crowd or job they like
  int with_friends = 0;  ///< of these, with somebody they like to be with
};

/// Somebody of whom it is not written down whether what they would wear fits.
struct SizeNotKnown {
  PersonId person;
  ItemId item;
  std::vector<std::string> sizes;  ///< the names of those that are missing
};

struct FilmCasting {
  std::vector<PartChoice> parts;    ///< as the roles stand in the file; without scenes: left out
  std::vector<SceneChoice> scenes;  ///< as in the file
  std::vector<EmptyPlace> empty;
  std::vector<LockCollision> collisions;
  std::vector<CastLoad> loads;                ///< who is in any scene, as in the file
  std::vector<SizeNotKnown> sizes_not_known;  ///< each person and item once, as in the file
  std::int64_t points = 0;                    ///< what the filling costs, empty places apart
};

/// Casts the whole production. Every place the production fixes is kept, or told. Cost: that of
/// solve_cast() and, for what collides, of the reasons (explain/conflict/conflicts.h).
FilmCasting cast_film(const Production& production,
                      const CastWishes& wishes,
                      Stop& stop,
                      const CastProgress& progress = {});

/// The production with every part given to the one who has it here. Crowds are not held: the format
/// has heads for them, not names.
Production with_parts_kept(const Production& production, const FilmCasting& casting);

/// As JSON (docs/who.md); ends in a newline.
std::string write_casting(const Production& production, const FilmCasting& casting);
/// As text; its lines are not broken.
std::string casting_as_text(const Production& production, const FilmCasting& casting);

/// Whose sizes are not known though what they are cast in fits some only.
std::vector<SizeNotKnown> sizes_not_known(const Production& production, const FilmCasting& casting);
/// Counts the wishes met into the loads, of which there is one for each person.
void count_wishes(const Production& production,
                  const FilmCasting& casting,
                  Table<PersonId, CastLoad>& loads);

/// The days and windows that are cast for.
CastDays cast_days(const Production& production, Answers answers, std::optional<DayId> only_day);

/// Why places stay empty. \param solution  of the film's problem
std::vector<EmptyPlace> empty_places(const Production& production,
                                     const CastWishes& wishes,
                                     const CastDays& days,
                                     const FilmCast& film,
                                     const CastSolution& solution);
/// What is fixed and cannot be kept.
std::vector<LockCollision> lock_collisions(const Production& production,
                                           const CastWishes& wishes,
                                           const CastDays& days,
                                           const FilmCast& film,
                                           const CastSolution& solution,
                                           Stop& stop);

}  // namespace gp
