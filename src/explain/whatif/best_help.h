#pragma once

#include "base/stop.h"
#include "explain/whatif/change.h"
#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"
#include "search/planner.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

// What one more friend, chair or helmet is worth: every small help tried, one at a time.

namespace gp::whatif {

/// What a help changed for the better, or for the worse where it is less than 0.
struct Gain {
  Thousandths won = 0;           ///< worth of scenes
  Thousandths optional_won = 0;  ///< worth of optional scenes
  int heads = 0;                 ///< filled
  std::int64_t early = 0;  ///< minutes by which the day may begin later; latest-first-call alone
  Thousandths weighted_saved = 0;  ///< minutes times weight, in thousandths
  std::int64_t saved = 0;          ///< minutes of people's time
  std::int64_t waiting_saved = 0;  ///< minutes of it
  bool operator==(const Gain&) const = default;
};

enum class Worth {
  better,   ///< by more than the search's own noise
  noise,    ///< better, but by no more than two searches for the same may differ
  nothing,  ///< no better plan was found
  worse,    ///< the plan found is worse; only where the help is no pure help (a later first shot)
};

struct TriedHelp {
  Change change;
  std::string text;     ///< for people
  std::string written;  ///< as `whatif` takes it; empty: only a program can say it
  Worth worth = Worth::nothing;
  Gain gain;
  Price price;                          ///< of the plan with it
  std::vector<std::string> scenes_won;  ///< their names
  std::vector<std::string> scenes_lost;
  int searches = 0;  ///< of three; less where it was interrupted
};

struct HelpRanking {
  Plan plan;                     ///< the best known without any help
  Price price;                   ///< of `plan`
  Gain noise;                    ///< by how much the searches for the production as it is differed
  int searches = 0;              ///< of the production as it is
  bool better_without = false;   ///< a plan found for some help would do without it, and is `plan`
  std::vector<TriedHelp> helps;  ///< best first; of equals in the order they were tried
  std::size_t to_try = 0;
  bool whole = true;  ///< all were tried
};

/// Told now and then: how many plans are made, of how many (0: still planning the production as it
/// is). \param best  in words; empty: nothing helped yet
using HelpProgress = std::function<void(std::size_t made, std::size_t of, const std::string& best)>;

/// Tries every one of small_helps(), each by itself, and ranks them: worth of scenes won first,
/// then heads filled, then hours of people's time saved (under latest-first-call, a later begin
/// before that).
///
/// The production as it is is planned three times with other seeds, and so is it with each help:
/// all once first, with the seed that was best, so that an interrupted ranking says something of
/// most. By how much the first three differ, any two plans may: that is the noise. A plan found for
/// some help that is right without it counts for the production as it is, so that luck of the
/// search is not taken for help; and a help that takes nothing away is never worse than nothing
/// (carry.h). \param wishes    as make_plan()'s, for each plan; each is made by one thread, and so
/// many threads
///                  make plans at once: the ranking is the same for any number of them
/// \param stop      when it says so, the ranking so far is given, marked as not whole
/// \param progress  called from the calling thread; may be empty
/// Cost: (1 + helps) × 3 × make_plan(); memory for three plans a help.
HelpRanking best_help(const Production& production,
                      const Wishes& wishes,
                      Stop& stop,
                      const HelpProgress& progress = {});

}  // namespace gp::whatif
