// Into a sketch from what was built, and out of it into a recipe.
#include "ordering/sequence.h"
#include "search/sketch/sketch.h"

#include <algorithm>
#include <memory>
#include <utility>

namespace gp {

namespace {

using Int = SketchGround::Int;

}  // namespace

void Sketch::load(const Builder& builder, const Recipe& recipe) {
  filmed_.clear();
  for (auto& row : rows_) row.clear();
  for (auto& heads : heads_of_) heads.clear();
  std::fill(person_of_.begin(), person_of_.end(), kNone);
  for (const SceneId scene : recipe.order) {
    load_scene(builder, recipe, scene);
  }
  std::sort(filmed_.begin(), filmed_.end());
  for (auto& row : rows_) {
    std::stable_sort(row.begin(), row.end(), [&](Int a, Int b) { return shot_at(a) < shot_at(b); });
  }
  for (std::size_t d = 0; d < meals_.size(); ++d) {
    for (std::size_t m = 0; m < meals_[d].size(); ++m) {
      const auto& span = builder.day(d).ground().together[m];
      meals_[d][m] = span ? count(span->from) : kNone;
    }
  }
  load_helpers(builder);
  order_cost_ = 0;  // until the rows are timed
  price_anew();
  for (std::size_t row = 0; row < rows_.size(); ++row) mark_row(row);
  settle();
  keep();
}

/// As filmed; what is not filmed, at the end of the day it was to be on or else of its first
/// possible one, with whoever comes first.
void Sketch::load_scene(const Builder& builder, const Recipe& recipe, SceneId scene) {
  const auto s = static_cast<Int>(scene.index());
  const auto& spec = ground_.scenes[at(s)];
  SceneState& state = scenes_[at(s)] = SceneState{};
  const auto& filmed = builder.filmed(scene);
  if (filmed) {
    state.day = static_cast<Int>(filmed->day);
    state.hold = state.shot_at = count(filmed->shoot_at);
  } else {
    const auto open = [&](int day) { return day >= 0 && !spec.windows[at(day)].empty(); };
    for (int d = static_cast<int>(spec.windows.size()); d-- > 0;) {
      if (open(d)) state.day = d;
    }
    if (open(recipe.day[scene])) state.day = recipe.day[scene];
    if (state.day == kNone) return;
    state.shot_at = spec.windows[at(state.day)].back().until - spec.shoot_minutes;
  }
  filmed_.push_back(s);
  rows_[row_number(spec.unit, state.day)].push_back(s);
  Int head = spec.first_head;
  const auto& slots = ground_.problem.slots.of(scene);
  for (std::size_t k = 0; k < slots.size(); ++k) {
    for (int i = 0; i < slots[k].people; ++i, ++head) {
      PersonId who;
      if (filmed) {
        if (static_cast<std::size_t>(i) < filmed->people[k].size()) {
          who = filmed->people[k][static_cast<std::size_t>(i)];
        }
      } else if (slots[k].kind == Slot::Kind::part) {
        who = builder.player(slots[k].role);
        if (!who.valid()) who = recipe.part[slots[k].role];
      } else {
        for (const PersonId other : slots[k].candidates) {
          const auto number = static_cast<Int>(other.index());
          if (ground_.days[at(state.day)].free[at(number)].empty() || in_scene(number, s)) continue;
          who = other;
          break;
        }
      }
      if (!who.valid()) continue;
      const auto number = static_cast<Int>(who.index());
      if (in_scene(number, s) || !ground_.may(head, number)) continue;
      person_of_[at(head)] = number;
      heads_of_[who.index()].push_back(head);
    }
  }
}

/// Who helped, as built.
void Sketch::load_helpers(const Builder& builder) {
  std::vector<std::vector<Int>> found(batches_.size());
  const auto note = [&](const std::vector<PlacedStep>& steps, std::int32_t b) {
    if (b == kNone) return;
    for (const PlacedStep& step : steps) {
      const auto station = static_cast<Int>(step.station.index());
      if (!step.by.valid() || station != batches_[at(b)].station) continue;
      const auto who = static_cast<Int>(step.by.index());
      auto& all = found[at(b)];
      if (std::find(all.begin(), all.end(), who) == all.end()) all.push_back(who);
    }
  };
  for (std::size_t who = 0; who < heads_of_.size(); ++who) {
    for (std::size_t d = 0; d < ground_.days.size(); ++d) {
      for (const Block& block : builder.day(d).person(PersonId(who)).blocks) {
        for (const Int head : heads_of_[who]) {
          const auto& spec = ground_.heads[at(head)];
          if (day_of(spec.scene) != static_cast<Int>(d) ||
              spec.look != static_cast<Int>(block.look.index())) {
            continue;
          }
          const Int shot = shot_at(spec.scene);
          if (shot == count(block.scenes.front().from)) note(block.on, batch_of_[at(head)][0]);
          if (shot == count(block.scenes.back().from)) note(block.off, batch_of_[at(head)][1]);
        }
      }
    }
  }
  for (std::size_t b = 0; b < batches_.size(); ++b) {
    Batch& batch = batches_[b];
    for (const Int who : batch.helpers) {
      auto& helps = helps_in_[at(who)];
      helps.erase(std::find(helps.begin(), helps.end(), static_cast<std::int32_t>(b)));
    }
    std::vector<Int> helpers = found[b];
    for (const Int who : batch.staff) {
      if (std::find(helpers.begin(), helpers.end(), who) == helpers.end()) helpers.push_back(who);
    }
    helpers.resize(batch.helpers.size());
    batch.helpers = helpers;
    for (const Int who : batch.helpers) helps_in_[at(who)].push_back(static_cast<std::int32_t>(b));
  }
}

Recipe Sketch::unload(Recipe recipe) const {
  const Problem& problem = ground_.problem;
  const auto when = [&](SceneId scene) {
    const auto s = static_cast<Int>(scene.index());
    const Int day = day_of(s);
    return std::pair(day == kNone ? static_cast<Int>(ground_.days.size()) : day,
                     day == kNone ? 0 : shot_at(s));
  };
  std::stable_sort(recipe.order.begin(), recipe.order.end(), [&](SceneId a, SceneId b) {
    return when(a) < when(b);
  });
  recipe.order = forerunners_first(problem.production, recipe.order);
  for (const Int s : filmed_) {
    const SceneId scene(at(s));
    recipe.day[scene] = day_of(s);
    recipe.hold_back[scene] = held_until(problem.days[at(day_of(s))], minute(shot_at(s)));
    for (Int h = 0; h < ground_.scenes[at(s)].heads; ++h) {
      const Int head = ground_.scenes[at(s)].first_head + h;
      const Int who = person_of(head);
      const Int role = ground_.heads[at(head)].role;
      if (role < 0) {
        recipe.picks[at(head)] = who == kNone ? PersonId() : PersonId(at(who));
      } else if (who != kNone) {
        recipe.part[RoleId(at(role))] = PersonId(at(who));
      }
    }
  }
  auto helpers = std::make_shared<std::vector<HelpHints>>(
      ground_.days.size(), HelpHints(problem.production.stations.size()));
  for (const Batch& batch : batches_) {
    if (batch.count == 0 || batch.helpers.empty()) continue;
    const auto hours = working_hours(batch);
    auto& hints = (*helpers)[at(day_of(batch.scene))][StationId(at(batch.station))];
    for (Int k = 0; k < working(batch); ++k) {
      hints.push_back(
          {PersonId(at(batch.helpers[at(k)])), {minute(hours.from), minute(hours.until)}});
    }
  }
  recipe.helpers = std::move(helpers);
  for (std::size_t d = 0; d < meals_.size(); ++d) {
    for (std::size_t m = 0; m < meals_[d].size(); ++m) {
      if (!ground_.days[d].meals[m].together) continue;
      recipe.meals[d][m].reset();
      if (meals_[d][m] != kNone) recipe.meals[d][m] = minute(meals_[d][m]);
    }
  }
  return recipe;
}

}  // namespace gp
