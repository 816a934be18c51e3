#pragma once

#include "casting/slots.h"
#include "explain/conflict/alone.h"
#include "model/day_frame.h"
#include "model/production.h"
#include "model/ways.h"

#include <cstddef>
#include <optional>
#include <vector>

// All that stands fixed for one scene alone on one day.

namespace gp::conflict {

/// One step of a chain that somebody must go through.
struct ChainStep {
  StationId station;
  PlaceId place;
  Minutes minutes{};
  Minutes then_wait{};
  Span open;
  bool by = false;              ///< somebody must do it
  std::vector<PersonId> staff;  ///< who could, the wearer among them
  Minutes ready{};              ///< what getting the station ready takes whoever staffs it
};

/// A place to be filled.
struct Head {
  std::size_t slot = 0;  ///< index into Ground::slots
  bool crew = false;
  LookId look;  ///< none: no chain
};

/// Somebody who may fill a place at one start of the shot, called within one of their free spans.
struct Fitting {
  PersonId who;
  std::size_t window = 0;  ///< index into frame.free[who]
  Span sure;               ///< in their stay whatever is chosen: call to release
};

/// One scene on one day.
struct DayGround {
  DayGround(const Production& the_film, const Question& question, const Terms& terms, DayId day);

  const Production* film;
  SceneId scene;
  DayFrame frame;
  std::vector<Span> windows;  ///< of the shot
  std::vector<Slot> slots;    ///< those whose heads must all be there
  std::vector<Head> heads;    ///< slot by slot
  /// Chains by head; empty where there is no look.
  std::vector<std::vector<ChainStep>> on, off;
  Table<PersonId, int> kind;  ///< people of the same number cannot be told apart here

  [[nodiscard]] Minutes shoot() const { return film->scenes[scene].shoot_minutes; }
  [[nodiscard]] Minutes set_up() const { return film->scenes[scene].set_minutes; }
  [[nodiscard]] PlaceId place() const { return frame.scene_place[scene]; }
  /// The shortest way round about: never more than the way itself.
  [[nodiscard]] Minutes way(PlaceId a, PlaceId b) const { return ways_.between(a, b); }
  [[nodiscard]] Minutes longest_way() const { return ways_.longest(); }
  /// The earliest that somebody called within that span can begin something there.
  [[nodiscard]] Minute reach(const Span& window, PlaceId place) const;
  [[nodiscard]] Minute call(Minute first, PlaceId place) const;

  /// Who may fill a place of the slot when the shot begins then; each looked at alone.
  [[nodiscard]] std::vector<Fitting> fitting(std::size_t slot, Minute shot) const;
  /// Whether the stations have the time for all heads, and their staff. False: impossible.
  [[nodiscard]] bool stations_suffice(Minute shot,
                                      const std::vector<std::vector<Fitting>>& who) const;

 private:
  void add_chain(const std::vector<Step>& chain,
                 const Terms& terms,
                 std::vector<ChainStep>& steps) const;
  void close_ways();
  void tell_apart();
  [[nodiscard]] bool somebody(const ChainStep& step, PersonId wearer, Minute from) const;
  [[nodiscard]] std::optional<Minute> chain_starts(std::size_t head,
                                                   PersonId who,
                                                   const Span& window,
                                                   Minute shot) const;
  [[nodiscard]] std::optional<Minute> chain_ends(std::size_t head,
                                                 PersonId who,
                                                 const Span& window,
                                                 Minute until) const;
  [[nodiscard]] bool meals_leave_room(const Span& sure, Minute shot, bool crew) const;
  [[nodiscard]] bool side_suffices(bool before,
                                   Minute shot,
                                   const std::vector<std::vector<Fitting>>& who) const;

  ShortestWays ways_;  ///< between the places of the scene, its chains and the base
};

/// Which item each head wears for each of its look's, so that there are enough of all with the
/// scene's props; none: there is no such choice.
std::optional<std::vector<std::vector<ItemId>>> share_items(const Production& film,
                                                            SceneId scene,
                                                            const std::vector<Head>& heads);

}  // namespace gp::conflict
