#include "support/break_ways.h"

namespace gp::test {
namespace {

const auto kAnyStep = [](const PlannedStep&) { return true; };
const auto kWithSomebody = [](const PlannedStep& row) { return row.by.valid(); };

void move(PlannedStep& step, int minutes) {
  step.from += Minutes{minutes};
  step.until += Minutes{minutes};
}

/// Does something to a random step that is fit for it.
template <class Fit, class Do>
bool to_a_step(Breaking& it, Fit fit, Do change) {
  PlannedStep* step = it.row(&DayPlan::steps, fit);
  if (step == nullptr) return false;
  change(*step);
  return true;
}

template <class Do>
bool to_a_wear(Breaking& it, Do change) {
  Wear* wear = it.row(&DayPlan::wears);
  if (wear == nullptr) return false;
  change(*wear);
  return true;
}

template <class Do>
bool to_a_ready(Breaking& it, Do change) {
  Ready* ready = it.row(&DayPlan::ready);
  if (ready == nullptr) return false;
  change(*ready);
  return true;
}

bool step_left_out(Breaking& it) {
  PlannedStep* step = it.row(&DayPlan::steps);
  if (step == nullptr) return false;
  drop(it, &DayPlan::steps, step);
  return true;
}
bool step_earlier(Breaking& it) {
  return to_a_step(it, kAnyStep, [&](PlannedStep& step) { move(step, -it.random.between(1, 9)); });
}
bool step_later(Breaking& it) {
  return to_a_step(it, kAnyStep, [&](PlannedStep& step) { move(step, it.random.between(1, 9)); });
}
bool step_shorter(Breaking& it) {
  return to_a_step(it, kAnyStep, [](PlannedStep& step) { step.until -= Minutes{1}; });
}
bool step_longer(Breaking& it) {
  return to_a_step(it, kAnyStep, [](PlannedStep& step) { step.from -= Minutes{1}; });
}
bool step_elsewhere(Breaking& it) {
  return to_a_step(it, kAnyStep, [&](PlannedStep& step) {
    step.station = StationId(it.random.index(it.production.stations.size()));
  });
}
bool no_such_step(Breaking& it) {
  return to_a_step(it, kAnyStep, [&](PlannedStep& step) { step.step += it.random.between(1, 4); });
}
bool off_for_on(Breaking& it) {
  return to_a_step(it, kAnyStep, [](PlannedStep& step) {
    step.part = step.part == ChainPart::on ? ChainPart::off : ChainPart::on;
  });
}
bool step_of_another_look(Breaking& it) {
  return to_a_step(it, kAnyStep, [&](PlannedStep& step) {
    step.look = LookId(it.random.index(it.production.looks.size()));
  });
}
bool wear_left_out(Breaking& it) {
  Wear* wear = it.row(&DayPlan::wears);
  if (wear == nullptr) return false;
  drop(it, &DayPlan::wears, wear);
  return true;
}
bool wear_of_another_look(Breaking& it) {
  return to_a_wear(
      it, [&](Wear& wear) { wear.look = LookId(it.random.index(it.production.looks.size())); });
}
bool wear_longer(Breaking& it) {
  return to_a_wear(it, [&](Wear& wear) { wear.until += Minutes{it.random.between(1, 60)}; });
}
bool wear_from_later(Breaking& it) {
  return to_a_wear(it, [](Wear& wear) { wear.from += Minutes{1}; });
}
bool wear_from_earlier(Breaking& it) {
  return to_a_wear(it, [&](Wear& wear) { wear.from -= Minutes{it.random.between(1, 60)}; });
}

bool other_chair(Breaking& it) {
  return to_a_step(it, kAnyStep, [&](PlannedStep& step) { step.place = it.random.between(0, 4); });
}
bool all_in_one_chair(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr || day->steps.empty()) return false;
  for (PlannedStep& step : day->steps) step.place = 1;
  return true;
}
bool nobody_does_it(Breaking& it) {
  return to_a_step(it, kWithSomebody, [](PlannedStep& step) { step.by = PersonId(); });
}
bool their_own(Breaking& it) {
  return to_a_step(it, kWithSomebody, [](PlannedStep& step) { step.by = step.person; });
}
bool by_somebody_else(Breaking& it) {
  return to_a_step(it, kWithSomebody, [&](PlannedStep& step) { step.by = it.anybody(); });
}
bool helped_for_nothing(Breaking& it) {
  const auto alone = [](const PlannedStep& row) { return !row.by.valid(); };
  return to_a_step(it, alone, [&](PlannedStep& step) { step.by = it.anybody(); });
}
bool not_ready(Breaking& it) {
  Ready* ready = it.row(&DayPlan::ready);
  if (ready == nullptr) return false;
  drop(it, &DayPlan::ready, ready);
  return true;
}
bool ready_late(Breaking& it) {
  return to_a_ready(it, [](Ready& row) {
    row.from += Minutes{1};
    row.until += Minutes{1};
  });
}
bool ready_quickly(Breaking& it) {
  return to_a_ready(it, [](Ready& row) { row.from += Minutes{1}; });
}
bool readied_by_another(Breaking& it) {
  return to_a_ready(it, [&](Ready& row) { row.person = it.anybody(); });
}
bool readied_twice(Breaking& it) {
  for (DayPlan& day : it.plan.days) {
    if (day.ready.empty()) continue;
    Ready again = day.ready.front();
    const Minutes earlier = again.until - again.from;
    again.from -= earlier;
    again.until -= earlier;
    day.ready.push_back(again);
    return true;
  }
  return false;
}

bool other_item(Breaking& it) {
  if (it.production.items.empty()) return false;
  Wear* wear = it.row(&DayPlan::wears, [](const Wear& row) { return !row.items.empty(); });
  if (wear == nullptr) return false;
  wear->items.front() = ItemId(it.random.index(it.production.items.size()));
  return true;
}
bool item_left_at_home(Breaking& it) {
  Wear* wear = it.row(&DayPlan::wears, [](const Wear& row) { return !row.items.empty(); });
  if (wear == nullptr) return false;
  wear->items.pop_back();
  return true;
}
bool item_too_many(Breaking& it) {
  if (it.production.items.empty()) return false;
  return to_a_wear(it, [&](Wear& wear) {
    wear.items.push_back(ItemId(it.random.index(it.production.items.size())));
  });
}
/// Everyone in a look takes what the first of them took.
bool all_take_one(Breaking& it) {
  bool changed = false;
  for (DayPlan& day : it.plan.days) {
    for (Wear& one : day.wears) {
      for (const Wear& first : day.wears) {
        if (first.look != one.look || first.items == one.items) continue;
        one.items = first.items;
        changed = true;
        break;
      }
    }
  }
  return changed;
}

}  // namespace

const std::vector<Way>& ways_of_looks() {
  static const std::vector<Way> ways = {{6, "a step left out", step_left_out},
                                        {6, "a step earlier", step_earlier},
                                        {6, "a step later", step_later},
                                        {6, "a step shorter", step_shorter},
                                        {6, "a step longer", step_longer},
                                        {6, "a step at another station", step_elsewhere},
                                        {6, "a step that the chain does not have", no_such_step},
                                        {6, "a step of the other chain", off_for_on},
                                        {6, "a step of another look", step_of_another_look},
                                        {6, "a wear left out", wear_left_out},
                                        {6, "a wear of another look", wear_of_another_look},
                                        {6, "a wear that ends later", wear_longer},
                                        {6, "a wear that begins later", wear_from_later},
                                        {6, "a wear that begins earlier", wear_from_earlier},
                                        {7, "another chair", other_chair},
                                        {7, "all in one chair", all_in_one_chair},
                                        {7, "nobody does it", nobody_does_it},
                                        {7, "does their own", their_own},
                                        {7, "done by somebody else", by_somebody_else},
                                        {7, "helped where nobody is needed", helped_for_nothing},
                                        {7, "a station not got ready", not_ready},
                                        {7, "a station ready late", ready_late},
                                        {7, "a station ready too quickly", ready_quickly},
                                        {7, "a station readied by another", readied_by_another},
                                        {7, "a station readied twice", readied_twice},
                                        {8, "another item", other_item},
                                        {8, "an item left at home", item_left_at_home},
                                        {8, "an item too many", item_too_many},
                                        {8, "all take the same item", all_take_one}};
  return ways;
}

}  // namespace gp::test
