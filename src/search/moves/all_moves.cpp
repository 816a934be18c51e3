#include "search/move.h"

#include <array>

namespace gp {

std::span<const Move> all_moves() {
  static constexpr std::array<Move, 12> kMoves{{
      {"shift scenes", shift_scenes, 30, true},
      {"swap scenes", swap_scenes, 20, true},
      {"turn scenes", turn_scenes, 10, true},
      {"change day", change_day, 10},
      {"change part", change_part, 8},
      {"change turn", change_turn, 14},
      {"shift meal", shift_meal, 6},
      {"hold scene back", hold_scene_back, 6},
      {"change patience", change_patience, 3},
      {"lean", lean, 20},
      {"change stayers", change_stayers, 25},
      {"turn heads", turn_heads, 6},
  }};
  return kMoves;
}

}  // namespace gp
