#pragma once

#include "casting/slots.h"
#include "model/production.h"

#include <cstdint>
#include <optional>
#include <vector>

// Whether enough will come. People are thought to decide for themselves, except that a child comes
// with its guardian: a party comes whole or stays away whole. Other ties (a shared car, a couple)
// are not known here and make the true chance of a large crowd smaller: show it as "about".

namespace gp {

/// The chance that a person comes, by answer, where no `turnout` says otherwise. Our own guesses,
/// not measured: enter what your friends are like as `turnout`.
inline constexpr double kTurnoutYes = 0.9;
inline constexpr double kTurnoutMaybe = 0.5;
inline constexpr double kTurnoutAsked = 0.3;

/// 0 .. 1. Who answers `no` does not come, whatever `turnout` says.
double chance_of_coming(const Person& person);

/// People who come together or not at all.
struct Party {
  int heads = 1;
  double chance = 1;  ///< 0 .. 1
};

/// A party by name.
struct PartyOfPeople {
  std::vector<PersonId> people;
  double chance = 1;  ///< 0 .. 1
};

/// As parties(), with who is in each.
std::vector<PartyOfPeople> parties_by_name(const Production& production,
                                           const std::vector<PersonId>& people);

/// The people in parties: children with their guardian, and with their guardian's other children.
/// A party's chance is the smallest among its people and those guardians of theirs who do not
/// answer `no` (a child whose guardian stays away is thought to come with somebody else). Guardians
/// that are not among `people` are no heads. In the order of each party's first person.
std::vector<Party> parties(const Production& production, const std::vector<PersonId>& people);

/// The chance that at least `wanted` heads come; 1 for `wanted` <= 0.
/// Exact up to rounding: dynamic programming over the parties, O(parties * heads).
/// Source: the Poisson binomial distribution by its recursion, d[j] = d[j](1-p) + d[j-heads]p; e.g.
/// Chen and Liu 1997, Statistica Sinica 7, 875-892 (from memory).
double chance_of_enough(const std::vector<Party>& parties, int wanted);

/// The smallest number of people to ask, each coming with chance `each`, so that at least `wanted`
/// come with at least the chance `sure`. None: however many are asked it is not enough, or more
/// than 5000.
std::optional<int> how_many_to_ask(int wanted, double each, double sure);

/// The chance that all slots of a scene can be filled at once by different people, from 2,000
/// random days (the same seed, the same answer); two numbers in three lie within 1 per cent of the
/// truth. An upper limit: hours, stations and the rest of the day are the plan's business. Cost:
/// 2,000 bipartite matchings, some milliseconds for a scene of twenty.
double chance_of_scene(const Production& production,
                       const std::vector<Slot>& slots,
                       std::uint64_t seed = 1);

}  // namespace gp
