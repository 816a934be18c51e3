#include "casting/turnout.h"

#include "base/random.h"
#include "casting/seating.h"

#include <algorithm>
#include <cstddef>
#include <map>

namespace gp {
namespace {

constexpr int kMostAsked = 5000;
constexpr int kRandomDays = 2000;

/// Whom a person comes with: the last of their guardians, or themselves.
PersonId head_of_party(const Production& production, PersonId person) {
  PersonId head = person;
  // the reader refuses circles; the count is for productions that no reader has seen
  for (std::size_t up = 0; up < production.people.size(); ++up) {
    const PersonId guardian = production.people[head].guardian;
    if (!guardian.valid()) break;
    head = guardian;
  }
  return head;
}

/// The smallest chance among a person and those guardians who do not answer `no`.
double chance_with_guardians(const Production& production, PersonId person) {
  double chance = chance_of_coming(production.people[person]);
  PersonId guardian = production.people[person].guardian;
  for (std::size_t up = 0; guardian.valid() && up < production.people.size(); ++up) {
    const Person& adult = production.people[guardian];
    if (adult.answer != Answer::no) chance = std::min(chance, chance_of_coming(adult));
    guardian = adult.guardian;
  }
  return chance;
}

}  // namespace

double chance_of_coming(const Person& person) {
  if (person.answer == Answer::no) return 0;
  if (person.turnout) return std::clamp(*person.turnout, 0.0, 1.0);
  switch (person.answer) {
    case Answer::yes:
      return kTurnoutYes;
    case Answer::maybe:
      return kTurnoutMaybe;
    case Answer::asked:
      return kTurnoutAsked;
    case Answer::no:
      break;
  }
  return 0;
}

std::vector<PartyOfPeople> parties_by_name(const Production& production,
                                           const std::vector<PersonId>& people) {
  std::vector<PartyOfPeople> list;
  std::map<PersonId, std::size_t> by_head;
  for (const PersonId person : people) {
    const PersonId head = head_of_party(production, person);
    const auto [place, is_new] = by_head.try_emplace(head, list.size());
    if (is_new) list.emplace_back();
    PartyOfPeople& party = list[place->second];
    party.people.push_back(person);
    party.chance = std::min(party.chance, chance_with_guardians(production, person));
  }
  return list;
}

std::vector<Party> parties(const Production& production, const std::vector<PersonId>& people) {
  std::vector<Party> list;
  for (const PartyOfPeople& party : parties_by_name(production, people)) {
    list.push_back({static_cast<int>(party.people.size()), party.chance});
  }
  return list;
}

double chance_of_enough(const std::vector<Party>& parties, int wanted) {
  if (wanted <= 0) return 1;
  // came[j]: the chance that exactly j came, for j < wanted; whoever is more than enough is enough
  std::vector<double> came(static_cast<std::size_t>(wanted), 0.0);
  came[0] = 1;
  double enough = 0;
  for (const Party& party : parties) {
    if (party.heads <= 0) continue;
    const double chance = std::clamp(party.chance, 0.0, 1.0);
    const auto heads = static_cast<std::size_t>(party.heads);
    for (std::size_t j = came.size(); j-- > 0;) {
      const double with_them = came[j] * chance;
      came[j] -= with_them;
      if (j + heads < came.size()) {
        came[j + heads] += with_them;
      } else {
        enough += with_them;
      }
    }
  }
  return std::clamp(enough, 0.0, 1.0);
}

std::optional<int> how_many_to_ask(int wanted, double each, double sure) {
  if (wanted <= 0 || sure <= 0) return 0;
  const double chance = std::clamp(each, 0.0, 1.0);
  if (chance <= 0) return std::nullopt;
  std::vector<double> came(static_cast<std::size_t>(wanted), 0.0);
  came[0] = 1;
  double enough = 0;
  for (int asked = 1; asked <= kMostAsked; ++asked) {
    enough += came.back() * chance;
    for (std::size_t j = came.size(); j-- > 0;) {
      came[j] = came[j] * (1 - chance) + (j > 0 ? came[j - 1] * chance : 0.0);
    }
    if (enough >= sure) return asked;
  }
  return std::nullopt;
}

double chance_of_scene(const Production& production,
                       const std::vector<Slot>& slots,
                       std::uint64_t seed) {
  std::vector<PersonId> everybody;
  for (const Slot& slot : slots) {
    if (slot.people > 0 && slot.candidates.size() < static_cast<std::size_t>(slot.people)) return 0;
    everybody.insert(everybody.end(), slot.candidates.begin(), slot.candidates.end());
  }
  std::sort(everybody.begin(), everybody.end());
  everybody.erase(std::unique(everybody.begin(), everybody.end()), everybody.end());
  if (everybody.empty()) return 1;  // nobody is needed
  const std::vector<PartyOfPeople> all = parties_by_name(production, everybody);

  Random random(seed);
  Seating seating(production.people.size());
  std::vector<Seat> seats;
  for (const Slot& slot : slots) {
    seats.insert(seats.end(),
                 static_cast<std::size_t>(std::max(slot.people, 0)),
                 Seat{&slot.candidates, false});
  }
  std::vector<char> came(production.people.size());
  int enough = 0;
  for (int day = 0; day < kRandomDays; ++day) {
    for (const PartyOfPeople& party : all) {
      const char here = random.unit() < party.chance ? 1 : 0;
      for (const PersonId person : party.people) came[person.index()] = here;
    }
    if (seating.empty_seats(seats, came) == 0) ++enough;
  }
  return static_cast<double>(enough) / kRandomDays;
}

}  // namespace gp
