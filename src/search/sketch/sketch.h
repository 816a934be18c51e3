#pragma once

#include "search/builder.h"
#include "search/recipe.h"
#include "search/sketch/sketch_ground.h"

#include <array>
#include <cstdint>
#include <vector>

namespace gp {

/// A plan as somebody would pencil it: which scene when, who is in it, who helps at the chairs, but
/// no chair and no step. People are there from the steps before their first scene to those after
/// their last; who is made ready for one scene waits for the others; what does not fit (somebody in
/// two places, hours, a missing meal) is not forbidden but dear. A change is priced by those whom
/// it concerns, fifty to a hundred times quicker than a recipe is built.
/// Threads: one sketch a thread.
class Sketch {
 public:
  using Int = SketchGround::Int;
  static constexpr Int kNone = -1;

  explicit Sketch(const SketchGround& ground);

  /// What the builder made of the recipe. Scenes that were not filmed are pencilled all the same,
  /// if they have a day: at its end, with whoever may.
  void load(const Builder& builder, const Recipe& recipe);
  /// The recipe with the sketch's days, order, times, people and meals.
  [[nodiscard]] Recipe unload(Recipe recipe) const;

  /// Weighted minutes on site in thousandths, and what does not fit.
  [[nodiscard]] std::int64_t cost() const { return cost_; }
  /// Of it, what it costs that there are not so many of a look. Roughly: who wears it is looked at
  /// again only when their own day changes.
  [[nodiscard]] std::int64_t worn_out() const;
  /// The same as cost() - worn_out(), everybody's day looked at anew: a check on all differences.
  [[nodiscard]] std::int64_t recounted() const;

  /// Engagements looked at since the beginning.
  [[nodiscard]] std::uint64_t work() const { return work_; }

  /// \name What is pencilled
  /// @{
  [[nodiscard]] const SketchGround& ground() const { return ground_; }
  /// Scenes that are in it.
  [[nodiscard]] const std::vector<Int>& filmed() const { return filmed_; }
  [[nodiscard]] Int day_of(Int scene) const { return scenes_[at(scene)].day; }
  [[nodiscard]] Int shot_at(Int scene) const { return scenes_[at(scene)].shot_at; }
  [[nodiscard]] Int set_at(Int scene) const { return scenes_[at(scene)].set_at; }
  [[nodiscard]] Int until(Int scene) const {
    return scenes_[at(scene)].shot_at + ground_.scenes[at(scene)].shoot_minutes;
  }
  [[nodiscard]] const std::vector<Int>& row(Int unit, Int day) const {
    return rows_[row_number(unit, day)];
  }
  [[nodiscard]] Int person_of(Int head) const { return person_of_[at(head)]; }
  [[nodiscard]] bool in_scene(Int person, Int scene) const;
  [[nodiscard]] const std::vector<Int>& heads_of(Int person) const { return heads_of_[at(person)]; }
  /// Start of a meal together; kNone: not held.
  [[nodiscard]] Int meal_at(Int day, Int meal) const { return meals_[at(day)][at(meal)]; }
  /// @}

  /// \name Changes: some of these, then settle(); undo() takes back all since the last settle()
  /// @{
  void put(Int head, Int person);
  void order_row(Int unit, Int day, const std::vector<Int>& scenes);
  /// Not before; kNone: as early as can be.
  void hold(Int scene, Int moment);
  void eat(Int day, Int meal, Int moment);
  /// Somebody who may helps at a chair: which of the batches, which of its helpers.
  void help(std::size_t batch, std::size_t place, Int person);
  /// \return the new cost
  std::int64_t settle();
  void keep();
  void undo();
  /// @}

  /// People made ready for one scene, or changed back after it, at one station; or those who wear
  /// a look while it is filmed.
  struct Batch {
    Int scene = 0, station = 0;
    bool off = false;
    Int step = 0, wait = 0, places = 1;
    bool hurried = false;      ///< only those who have no time to wait: `places` of them at most
    bool wearers = false;      ///< `places` is how many of the look there are
    std::vector<Int> staff;    ///< who may help; empty: it needs nobody
    std::vector<Int> helpers;  ///< as many as there are places, or of staff
    Int count = 0;             ///< people in it
    std::int64_t cost = 0;     ///< of their waiting
  };
  [[nodiscard]] const std::vector<Batch>& batches() const { return batches_; }

 private:
  /// What a head that nobody fills costs, in thousandths of a minute.
  static constexpr std::int64_t kNobody = 600'000;

  static std::size_t at(Int index) { return static_cast<std::size_t>(index); }
  [[nodiscard]] std::size_t row_number(Int unit, Int day) const {
    return at(unit) * ground_.days.size() + at(day);
  }

  struct SceneState {
    Int day = kNone, hold = kNone, set_at = 0, shot_at = 0;
    std::int64_t bad = 0;  ///< what its hours cost, if it is out of them
    bool operator==(const SceneState&) const = default;
  };
  /// One person's day.
  struct Stay {
    std::int64_t cost = 0;
    Int batches = 0;
    std::array<std::int16_t, 28> in{};  ///< those that the person is in
  };
  struct Engagement {
    Int start = 0, end = 0, place = 0, look = SketchGround::kAny;
    Int head = kNone;            ///< kNone: helps
    std::int32_t batch = kNone;  ///< helps there
  };

  [[nodiscard]] std::size_t stay_number(Int person, Int day) const {
    return at(person) * ground_.days.size() + at(day);
  }
  void find_batches();
  void find_wearers();
  /// Nothing is priced yet but what needs nobody's day; everybody is to be looked at.
  void price_anew();
  void load_scene(const Builder& builder, const Recipe& recipe, SceneId scene);
  void load_helpers(const Builder& builder);
  /// When its helpers work, as it stands.
  [[nodiscard]] SketchGround::Window working_hours(const Batch& batch) const;
  void gather(Int person, Int day);
  [[nodiscard]] Stay price(Int person, Int day);
  void time_row(std::size_t row);
  [[nodiscard]] std::int64_t order_cost() const;
  [[nodiscard]] std::int64_t waiting(const Batch& batch) const;
  [[nodiscard]] Int working(const Batch& batch) const;
  void mark(Int person, Int day);
  void mark_scene(Int scene, Int day);
  void mark_row(std::size_t row);
  void renew_stays();
  void count_in(std::int16_t batch, Int by);
  void set_scene(Int scene, const SceneState& state);
  void swap_head(Int head, Int person);
  void swap_helper(std::size_t batch, std::size_t place, Int person);

  const SketchGround& ground_;
  std::vector<Int> filmed_;
  std::vector<SceneState> scenes_;
  std::vector<std::vector<Int>> rows_;  ///< by unit and day
  std::vector<Int> person_of_;          ///< by head; kNone: nobody
  std::vector<std::vector<Int>> heads_of_;
  std::vector<std::vector<Int>> meals_;  ///< by day and meal
  std::vector<Batch> batches_;
  std::vector<std::array<std::int32_t, 2>> batch_of_;  ///< by head: on, off
  std::vector<std::int32_t> hurried_of_;  ///< by batch: those of it who cannot wait; kNone: any can
  std::vector<std::vector<std::int32_t>> helps_in_;    ///< by person: batch, once a place
  std::vector<std::vector<std::int32_t>> batches_of_;  ///< by scene
  /// By scene and look: its wearers, where they are limited.
  std::vector<std::int32_t> wearers_of_;
  std::vector<Stay> stays_;
  std::int64_t order_cost_ = 0;
  std::int64_t cost_ = 0;

  // what is to be settled
  std::vector<std::size_t> dirty_rows_, dirty_stays_;
  std::vector<char> row_dirty_, stay_dirty_;
  std::vector<std::int16_t> changed_batches_;

  // the journal
  enum class Kind : std::uint8_t { head, row, scene, meal, helper, stay, batch };
  struct Change {
    Kind kind;
    std::size_t index = 0, place = 0;
    Int value = 0;
  };
  std::vector<Change> journal_;
  std::vector<std::vector<Int>> old_rows_;
  std::vector<SceneState> old_scenes_;
  std::vector<Stay> old_stays_;
  std::vector<std::pair<Int, std::int64_t>> old_batches_;
  std::int64_t old_order_cost_ = 0, old_cost_ = 0;

  std::uint64_t work_ = 0;
  std::vector<Engagement> engagements_;  ///< work space
};

}  // namespace gp
