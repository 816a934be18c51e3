#include "support/break_ways.h"

namespace gp::test {
namespace {

std::vector<Minute*> moments(Plan& plan) {
  std::vector<Minute*> all;
  for (DayPlan& day : plan.days) {
    for (PlannedScene& row : day.scenes) {
      for (Minute* moment : {&row.set_at, &row.shoot_at, &row.until}) all.push_back(moment);
    }
    const auto add = [&all](auto& rows) {
      for (auto& row : rows) {
        all.push_back(&row.from);
        all.push_back(&row.until);
      }
    };
    add(day.wears);
    add(day.steps);
    add(day.ready);
    add(day.meals);
    for (Stay& row : day.people) {
      all.push_back(&row.call);
      all.push_back(&row.released);
    }
  }
  return all;
}

bool moments_moved(Breaking& it, int number) {
  const std::vector<Minute*> all = moments(it.plan);
  if (all.empty()) return false;
  for (int i = 0; i < number; ++i) {
    *all[it.random.index(all.size())] += Minutes{it.random.between(-45, 45)};
  }
  return true;
}
bool a_moment(Breaking& it) {
  return moments_moved(it, 1);
}
bool three_moments(Breaking& it) {
  return moments_moved(it, 3);
}

template <class Row>
bool doubled(Breaking& it, std::vector<Row> DayPlan::*list) {
  for (DayPlan& day : it.plan.days) {
    auto& rows = day.*list;
    if (rows.empty()) continue;
    rows.push_back(Row(rows[it.random.index(rows.size())]));
    return true;
  }
  return false;
}
bool row_doubled(Breaking& it) {
  switch (it.random.below(6)) {
    case 0:
      return doubled(it, &DayPlan::scenes);
    case 1:
      return doubled(it, &DayPlan::wears);
    case 2:
      return doubled(it, &DayPlan::steps);
    case 3:
      return doubled(it, &DayPlan::ready);
    case 4:
      return doubled(it, &DayPlan::meals);
    default:
      return doubled(it, &DayPlan::people);
  }
}

bool person_of_a_row(Breaking& it) {
  switch (it.random.below(4)) {
    case 0:
      if (Wear* row = it.row(&DayPlan::wears)) return row->person = it.anybody(), true;
      return false;
    case 1:
      if (PlannedStep* row = it.row(&DayPlan::steps)) return row->person = it.anybody(), true;
      return false;
    case 2:
      if (Ready* row = it.row(&DayPlan::ready)) return row->person = it.anybody(), true;
      return false;
    default:
      if (Stay* row = it.row(&DayPlan::people)) return row->person = it.anybody(), true;
      return false;
  }
}

bool nothing_filmed(Breaking& it) {
  for (DayPlan& day : it.plan.days) day.scenes.clear();
  return true;
}
bool no_day_listed(Breaking& it) {
  it.plan.days.clear();
  return true;
}

}  // namespace

const std::vector<Way>& ways_of_any_kind() {
  static const std::vector<Way> ways = {{0, "a moment moved", a_moment},
                                        {0, "three moments moved", three_moments},
                                        {0, "three other moments moved", three_moments},
                                        {0, "a row doubled", row_doubled},
                                        {0, "another row doubled", row_doubled},
                                        {0, "somebody else in a row", person_of_a_row},
                                        {0, "no scene", nothing_filmed},
                                        {0, "no day", no_day_listed}};
  return ways;
}

}  // namespace gp::test
