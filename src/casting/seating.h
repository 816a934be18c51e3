#pragma once

#include "base/ids.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace gp {

/// One place to fill, by one person.
struct Seat {
  const std::vector<PersonId>* who = nullptr;  ///< who may; must outlive the seat
  bool open = false;                           ///< anybody who is not in the file would do as well
};

/// Seats and who came, each person in one seat, matched by augmenting paths.
/// Source: Kuhn 1955, doi:10.1002/nav.3800020109. Cost: O(seats * candidates) a matching, mostly
/// far less. Threads: one each.
class Seating {
 public:
  explicit Seating(std::size_t people) : taken_(people, -1), asked_(people, 0) {}

  /// How many seats stay empty, all of them open; none: a seat that is not open stays empty. Where
  /// nothing is open: 0 or none. The open ones are filled last and nobody loses a seat again, so
  /// that no way of seating leaves fewer empty.
  [[nodiscard]] std::optional<int> empty_seats(const std::vector<Seat>& seats,
                                               const std::vector<char>& came);

 private:
  bool seat_somebody(const std::vector<Seat>& seats, int seat, const std::vector<char>& came);

  std::vector<int> taken_;       ///< by person: the seat; -1: free
  std::vector<unsigned> asked_;  ///< by person: the last round they were asked in
  unsigned round_ = 0;
};

}  // namespace gp
