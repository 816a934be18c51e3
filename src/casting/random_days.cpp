#include "casting/random_days.h"

#include "base/random.h"

#include <algorithm>
#include <cmath>

namespace gp {
namespace {

void set_all(std::vector<char>& came, const PartyOfPeople& party, bool here) {
  for (const PersonId person : party.people) came[person.index()] = here ? 1 : 0;
}

}  // namespace

bool go_through_days(const Production& production,
                     const std::vector<PartyOfPeople>& parties,
                     std::uint64_t seed,
                     const DayVisit& visit) {
  std::vector<char> came(production.people.size(), 0);
  std::vector<const PartyOfPeople*> open;
  for (const PartyOfPeople& party : parties) {
    if (party.chance >= 1) {
      set_all(came, party, true);
    } else if (party.chance > 0) {
      open.push_back(&party);
    }
  }
  if (open.size() <= kMostGoneThrough) {
    for (std::size_t set = 0; set < (std::size_t{1} << open.size()); ++set) {
      double weight = 1;
      for (std::size_t i = 0; i < open.size(); ++i) {
        const bool here = ((set >> i) & 1U) != 0;
        set_all(came, *open[i], here);
        weight *= here ? open[i]->chance : 1 - open[i]->chance;
      }
      visit(came, weight);
    }
    return true;
  }
  Random random(seed);
  for (int day = 0; day < kRandomDaysDrawn; ++day) {
    for (const PartyOfPeople* party : open) set_all(came, *party, random.unit() < party->chance);
    visit(came, 1.0 / kRandomDaysDrawn);
  }
  return false;
}

Likelihood likelihood_of(double share, bool exact) {
  const double chance = std::clamp(share, 0.0, 1.0);
  if (exact) return {chance, 0, true};
  // a count of none or of all is no proof: one day more on either side (Laplace's rule of
  // succession) keeps the error above 0
  const double seen = (chance * kRandomDaysDrawn + 1) / (kRandomDaysDrawn + 2);
  return {chance, std::sqrt(seen * (1 - seen) / kRandomDaysDrawn), false};
}

}  // namespace gp
