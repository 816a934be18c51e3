#pragma once

#include "casting/turnout.h"
#include "model/production.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

namespace gp {

/// A chance, and how well it is known.
struct Likelihood {
  double chance = 1;  ///< 0 .. 1
  double error = 0;   ///< one standard error; 0 where it is exact
  bool exact = true;  ///< false: counted over random days
  bool operator==(const Likelihood&) const = default;
};

/// So many parties that may or may not come are gone through one by one; more of them are drawn.
inline constexpr std::size_t kMostGoneThrough = 14;
inline constexpr int kRandomDaysDrawn = 10'000;

/// Who came (by person), and the weight of that day; the weights of all days are 1 together.
using DayVisit = std::function<void(const std::vector<char>& came, double weight)>;

/// Goes through the days there can be, as to who of the parties comes: all of them where at most
/// kMostGoneThrough parties are neither sure to come nor sure not to, else kRandomDaysDrawn days
/// drawn from the seed. Whoever is in no party does not come.
/// \return whether it was all of them: then sums of weights are exact, else their standard error is
/// that of likelihood_of().
bool go_through_days(const Production& production,
                     const std::vector<PartyOfPeople>& parties,
                     std::uint64_t seed,
                     const DayVisit& visit);

/// \param share  the sum of the weights of the days on which it was so
Likelihood likelihood_of(double share, bool exact);

}  // namespace gp
