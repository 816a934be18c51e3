// The work of the stations for one scene against the time there is: what shows at once that some
// starts of the shot are out of the question.
#include "explain/conflict/ground.h"

#include <algorithm>
#include <map>

namespace gp::conflict {
namespace {

/// All that one station must do before the shot, or after it.
struct Load {
  std::int64_t work = 0;     ///< [min]
  std::int64_t by_hand = 0;  ///< of it, what needs somebody [min]
  Minute from = kNever;
  Minute until = kAlwaysBefore;
  std::vector<PersonId> staff;  ///< whoever could do any of it
};

}  // namespace

/// Every step lies between the earliest that anybody for its place could begin it and the latest
/// that leaves the rest of its chain its time; all of them need the station's places, and those
/// with a skill the time of its staff. The sums alone: a bound that holds even if steps could be
/// broken off and gone on with (Carlier 1982, doi:10.1016/S0377-2217(82)80007-6).
bool DayGround::side_suffices(bool before,
                              Minute shot,
                              const std::vector<std::vector<Fitting>>& who) const {
  const Minute until_shot = shot + shoot();
  std::map<StationId, Load> loads;
  for (std::size_t h = 0; h < heads.size(); ++h) {
    const auto& chain = before ? on[h] : off[h];
    if (chain.empty()) continue;
    Minute opens = kNever;
    Minute closes = kAlwaysBefore;
    for (const Fitting& fits : who[heads[h].slot]) {
      const Span& window = frame.free[fits.who][fits.window];
      opens = std::min(opens, window.from + film->sign_in);
      closes = std::max(closes, window.until);
    }
    Minutes tail{0};  // from the end of the step to the shot, or from the shot to its start
    for (std::size_t i = 0; i < chain.size(); ++i) {
      const std::size_t k = before ? chain.size() - 1 - i : i;
      const ChainStep& step = chain[k];
      if (before) tail += step.then_wait;
      Load& load = loads[step.station];
      load.work += count(step.minutes);
      if (step.by) {
        load.by_hand += count(step.minutes);
        load.staff.insert(load.staff.end(), step.staff.begin(), step.staff.end());
      }
      const Minute from = before ? opens : std::max(opens, until_shot + tail);
      const Minute until = before ? std::min(closes, shot - tail) : closes;
      load.from = std::min(load.from, std::max(from, step.open.from));
      load.until = std::max(load.until, std::min(until, step.open.until));
      tail += step.minutes;
      if (!before) tail += step.then_wait;
    }
  }
  for (auto& [station, load] : loads) {
    const std::int64_t there = std::max(0, count(load.until - load.from));
    if (load.work > there * film->stations[station].places) return false;
    if (load.by_hand == 0) continue;
    std::sort(load.staff.begin(), load.staff.end());
    load.staff.erase(std::unique(load.staff.begin(), load.staff.end()), load.staff.end());
    std::int64_t hands = 0;
    for (const PersonId staff : load.staff) {
      std::int64_t most = 0;
      for (const Span& window : frame.free[staff]) {
        const Minute from = std::max(
            load.from,
            reach(window, frame.station_place[station]) + film->stations[station].set_minutes);
        most = std::max<std::int64_t>(most, count(std::min(load.until, window.until) - from));
      }
      hands += most;
    }
    if (load.by_hand > hands) return false;
  }
  return true;
}

bool DayGround::stations_suffice(Minute shot, const std::vector<std::vector<Fitting>>& who) const {
  return side_suffices(true, shot, who) && side_suffices(false, shot, who);
}

}  // namespace gp::conflict
