#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <vector>

namespace gp {

/// The lowest member of a set that is not empty, taken out of it.
inline int take_lowest(std::uint64_t& set) {
  const int lowest = std::countr_zero(set);
  set &= set - 1;
  return lowest;
}
/// The set of one member.
constexpr std::uint64_t just(int member) {
  return std::uint64_t{1} << static_cast<unsigned>(member);
}

/// Of each of so many members, the sets it is in, as a set of their numbers.
inline std::vector<std::uint64_t> sets_of_each(const std::vector<std::uint64_t>& sets,
                                               std::size_t members) {
  std::vector<std::uint64_t> result(members, 0);
  for (std::size_t set = 0; set < sets.size(); ++set) {
    for (std::uint64_t rest = sets[set]; rest != 0;) {
      result[static_cast<std::size_t>(take_lowest(rest))] |= just(static_cast<int>(set));
    }
  }
  return result;
}

/// The sum of values over any set of up to 64 things, a byte of the set at a time.
class SetSums {
 public:
  explicit SetSums(const std::vector<std::int64_t>& values) : bytes_((values.size() + 7) / 8) {
    for (std::size_t byte = 0; byte < bytes_; ++byte) {
      for (std::size_t bits = 1; bits < 256; ++bits) {
        std::int64_t sum = 0;
        for (std::size_t bit = 0; bit < 8 && byte * 8 + bit < values.size(); ++bit) {
          if ((bits >> bit & 1U) != 0) sum += values[byte * 8 + bit];
        }
        table_[byte][bits] = sum;
      }
    }
  }

  [[nodiscard]] std::int64_t operator()(std::uint64_t set) const {
    std::int64_t sum = 0;
    for (std::size_t byte = 0; byte < bytes_; ++byte, set >>= 8) sum += table_[byte][set & 0xffU];
    return sum;
  }

 private:
  std::size_t bytes_;
  std::array<std::array<std::int64_t, 256>, 8> table_{};
};

}  // namespace gp
