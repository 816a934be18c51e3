#include "explain/conflict/least_change.h"

namespace gp::conflict {

ConflictFact least_change(const Fact& fact,
                          const Production& film,
                          const std::function<Verdict(const Production&)>& ask) {
  ConflictFact told;
  told.path = fact.path;
  told.words = fact.words;
  told.change = fact.wholly;
  const auto with = [&](int by) {
    Production loose = film;
    fact.loosen(loose, by);
    return ask(loose);
  };
  Production without = film;
  fact.relax(without);
  if (ask(without) != Verdict::possible) return told;
  told.enough = true;
  if (fact.most == 0) return told;
  int impossible = 0;  // as it is
  int possible = 0;
  if (fact.steady) {
    if (with(fact.most) != Verdict::possible) return told;
    possible = fact.most;
    while (possible - impossible > 1) {
      const int middle = impossible + (possible - impossible) / 2;
      (with(middle) == Verdict::possible ? possible : impossible) = middle;
    }
  } else {
    for (int by = 1; by <= fact.most && possible == 0; ++by) {
      if (with(by) == Verdict::possible) possible = by;
    }
    if (possible == 0) return told;
    impossible = possible - 1;
  }
  told.by = possible;
  told.change = fact.change(possible);
  told.least = impossible == 0 || with(impossible) == Verdict::impossible;
  return told;
}

}  // namespace gp::conflict
