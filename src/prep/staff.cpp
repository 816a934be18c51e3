#include "prep/staff.h"

#include "model/skilled.h"

namespace gp {
StaffLists::StaffLists(const Production& production, Answers answers)
    : on_(production.looks.size()),
      off_(production.looks.size()),
      wanted_(production.people.size(), 0) {
  const auto fill = [&](const std::vector<Step>& chain, Lists& lists) {
    for (const Step& step : chain) {
      lists.push_back(able_helpers(production, answers, step));
      for (PersonId id : lists.back()) ++wanted_[id];
    }
  };
  for (LookId look : production.looks.ids()) {
    fill(production.looks[look].steps, on_[look]);
    fill(production.looks[look].off, off_[look]);
  }
}

}  // namespace gp
