#pragma once

#include "base/stop.h"
#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"
#include "search/planner.h"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

// Which of the production's days to film on: each alone, and the best of one or several together,
// with as few people as can be who must come twice.

namespace gp {

/// What a scene comes to on one day alone.
enum class OnDay {
  filmed,  ///< in the plan of that day
  tried,   ///< not in it, though it has a time that day: with the others, or with these people, not
  shut     ///< it has no time on that day: its day, hours or light
};

struct DayTried {
  DayId day;
  Plan plan;  ///< of that day alone
  Price price;
  std::size_t people = 0;  ///< who are called
  Table<SceneId, OnDay> scenes;
};

/// One or several days, and what is filmed when.
struct DaysChoice {
  std::vector<DayId> days;  ///< in order of date; something is filmed on each
  Plan plan;                ///< of the production, with nothing on other days
  Price price;
  std::size_t people = 0;  ///< who are called at all
  std::size_t twice = 0;   ///< calls beyond the first of each person
};

struct DaysChosen {
  std::vector<DayTried> alone;      ///< as the days stand in the file
  std::vector<DaysChoice> choices;  ///< the best first; see better_days()
  bool stopped = false;             ///< some were not tried
  bool some_left_out = false;       ///< there were too many days for every choice of them
};

struct DaysWishes {
  Wishes planning;            ///< `only_day` is not looked at
  std::size_t most_days = 3;  ///< in one choice
};

/// Told before each plan: how many are made, of how many at most.
using DaysProgress = std::function<void(std::size_t made, std::size_t of)>;

/// Whether a choice is better: less worth lost, less optional worth lost, fewer places empty, fewer
/// people coming twice, fewer days, less time on site (weighted), in this order.
bool better_days(const DaysChoice& a, const DaysChoice& b);
/// How near the second is: 0 they are equal in all but time on site and that within 2 in 100; 1 the
/// same is filmed and filled and at most two more come twice; 2 further away.
int distance_of(const DaysChoice& best, const DaysChoice& other);

/// Plans every day alone, then choices of several: all of them where there are few, else those made
/// of the best smaller ones by one day more (a beam). Scenes go to days in two ways, and the better
/// plan counts: as the planner likes, and by a first allocation that keeps people's days together
/// (each scene to a day of the choice on which it was filmed alone, so that the people of parts and
/// those that only few could replace come on as few days as can be; improved one scene at a time),
/// given to the planner as fixed. Right plans only: every choice is a plan of the production.
/// Cost: one or two plans for each choice. Threads: pure, but for what make_plan() starts.
DaysChosen choose_days(const Production& production,
                       const DaysWishes& wishes,
                       Stop& stop,
                       const DaysProgress& progress = {});

/// As JSON (docs/who.md); ends in a newline.
std::string write_days(const Production& production, const DaysChosen& chosen);
/// As text; its lines are not broken.
std::string days_as_text(const Production& production, const DaysChosen& chosen);

}  // namespace gp
