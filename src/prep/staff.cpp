#include "prep/staff.h"

#include <algorithm>

namespace gp {
namespace {

std::vector<PersonId> able(const Production& production, Answers answers, const Step& step) {
  std::vector<PersonId> list;
  if (step.by.empty()) return list;
  const auto take = [&](PersonId id) {
    const Person& person = production.people[id];
    const bool can = std::find(person.can.begin(), person.can.end(), step.by) != person.can.end();
    if (can && answers.include(person.answer)) list.push_back(id);
  };
  if (const auto& staff = production.stations[step.at].staff) {
    for (PersonId id : *staff) take(id);
  } else {
    for (PersonId id : production.people.ids()) take(id);
  }
  return list;
}

}  // namespace

StaffLists::StaffLists(const Production& production, Answers answers)
    : on_(production.looks.size()),
      off_(production.looks.size()),
      wanted_(production.people.size(), 0) {
  const auto fill = [&](const std::vector<Step>& chain, Lists& lists) {
    for (const Step& step : chain) {
      lists.push_back(able(production, answers, step));
      for (PersonId id : lists.back()) ++wanted_[id];
    }
  };
  for (LookId look : production.looks.ids()) {
    fill(production.looks[look].steps, on_[look]);
    fill(production.looks[look].off, off_[look]);
  }
}

}  // namespace gp
