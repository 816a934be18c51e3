#pragma once

#include "search/problem.h"

#include <cstdint>
#include <vector>

namespace gp {

/// What a sketch of a plan asks again and again, in plain numbers: minutes, indices, and -1 for
/// none.
struct SketchGround {
  explicit SketchGround(const Problem& problem);

  using Int = std::int32_t;
  /// What somebody has on in a scene: a look's index, or one of these.
  static constexpr Int kAny = -1, kNoLook = -2;

  struct Window {
    Int from = 0, until = 0;
  };
  struct Head {
    Int scene = 0, slot = 0;
    Int look = kAny;
    Int role = -1;  ///< of a part; the heads of one part are one person
    bool crew = false;
  };
  struct Scene {
    Int unit = 0, set = -1;
    Int set_minutes = 0, reset_minutes = 0, shoot_minutes = 0;
    Int first_head = 0, heads = 0;
    std::vector<Int> after;
    std::vector<std::vector<Window>> windows;  ///< by day
    std::vector<Int> place;                    ///< by day
  };
  /// Putting a look on or taking it off, on one day.
  struct Chain {
    Int first = 0, last = 0;  ///< places of its first and its last step
    Int minutes = 0;          ///< from the first step to the end of the last
    Int wait = 0;             ///< after the last
    Int station = -1;         ///< of the step that takes longest for many; -1: there are no steps
    Int step = 0;             ///< its minutes
    Int places = 1;           ///< of it at once
    std::vector<Int> staff;   ///< who may do it; empty: it needs nobody
  };
  struct Meal {
    bool together = true;
    Int minutes = 0;
    Window between;
  };
  struct Day {
    Int base = 0, first_shot = 0;
    std::vector<std::vector<Window>> free;  ///< by person
    std::vector<Chain> on, off;             ///< by look
    std::vector<Meal> meals;
  };

  /// Whether the person may fill the head, by what they can, will and are asked for.
  [[nodiscard]] bool may(Int head, Int person) const {
    return may_fill[static_cast<std::size_t>(slot_of[static_cast<std::size_t>(head)]) *
                        weight.size() +
                    static_cast<std::size_t>(person)] != 0;
  }
  [[nodiscard]] Int way(Int a, Int b) const {
    return ways[static_cast<std::size_t>(a) * places + static_cast<std::size_t>(b)];
  }

  const Problem& problem;
  Int sign_in = 0, round_to = 1;
  std::vector<Scene> scenes;
  std::vector<Head> heads;
  std::vector<Day> days;
  std::vector<std::int64_t> weight;          ///< by person, thousandths
  std::vector<std::vector<Int>> part_heads;  ///< by role: its heads, for parts
  /// By look: how many can wear it at once; none: as many as like.
  std::vector<Int> wearers;
  std::vector<Int> set_up_minutes;              ///< by station: to get it ready
  std::vector<std::vector<Int>> station_place;  ///< by day and station
  std::vector<Int> slot_of;                     ///< by head: its slot, counted through all scenes
  std::vector<char> may_fill;                   ///< by slot and person
  std::size_t places = 1;
  std::vector<Int> ways;
};

}  // namespace gp
