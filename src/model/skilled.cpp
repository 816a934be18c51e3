#include "model/skilled.h"

#include "model/tags.h"

namespace gp {

std::vector<PersonId> able_helpers(const Production& production,
                                   Answers answers,
                                   const Step& step) {
  std::vector<PersonId> list;
  if (step.by.empty()) return list;
  const auto take = [&](PersonId id) {
    const Person& person = production.people[id];
    if (has(person.can, step.by) && answers.include(person.answer)) list.push_back(id);
  };
  if (const auto& staff = production.stations[step.at].staff) {
    for (const PersonId id : *staff) take(id);
  } else {
    for (const PersonId id : production.people.ids()) take(id);
  }
  return list;
}

std::vector<Alone> alone_with_steps(const Production& production,
                                    Answers answers,
                                    const Look& look) {
  std::vector<Alone> list;
  for (const auto* chain : {&look.steps, &look.off}) {
    for (const Step& step : *chain) {
      const auto able = able_helpers(production, answers, step);
      if (able.size() == 1) list.push_back({able.front(), &step});
    }
  }
  return list;
}

}  // namespace gp
