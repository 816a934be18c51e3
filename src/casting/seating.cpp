#include "casting/seating.h"

#include <algorithm>

namespace gp {

std::optional<int> Seating::empty_seats(const std::vector<Seat>& seats,
                                        const std::vector<char>& came) {
  std::fill(taken_.begin(), taken_.end(), -1);
  int empty = 0;
  for (const bool open : {false, true}) {
    for (std::size_t seat = 0; seat < seats.size(); ++seat) {
      if (seats[seat].open != open) continue;
      ++round_;
      if (seat_somebody(seats, static_cast<int>(seat), came)) continue;
      if (!open) return std::nullopt;
      ++empty;
    }
  }
  return empty;
}

bool Seating::seat_somebody(const std::vector<Seat>& seats,
                            int seat,
                            const std::vector<char>& came) {
  const std::vector<PersonId>& who = *seats[static_cast<std::size_t>(seat)].who;
  for (const PersonId person : who) {  // whoever sits nowhere first: most seats are filled so
    if (came[person.index()] != 0 && taken_[person.index()] < 0) {
      taken_[person.index()] = seat;
      return true;
    }
  }
  for (const PersonId person : who) {
    const std::size_t one = person.index();
    if (came[one] == 0 || asked_[one] == round_) continue;
    asked_[one] = round_;
    if (seat_somebody(seats, taken_[one], came)) {
      taken_[one] = seat;
      return true;
    }
  }
  return false;
}

}  // namespace gp
