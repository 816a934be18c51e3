#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace gp {

/// Our own generator and our own bounded draws: the standard library's distributions differ between
/// libraries, and the same seed must give the same plan everywhere.
/// Source: xoshiro256** with splitmix64 seeding, Blackman and Vigna 2021,
/// doi:10.1145/3460772 (public domain reference code; constants from memory, held by a test).
class Random {
 public:
  explicit Random(std::uint64_t seed);

  std::uint64_t next();
  /// Evenly from 0 .. below-1, without bias (Lemire 2019, doi:10.1145/3230636). `below` >= 1.
  std::uint32_t below(std::uint32_t below);
  std::size_t index(std::size_t size) {
    return static_cast<std::size_t>(below(static_cast<std::uint32_t>(size)));
  }
  /// Evenly from `least` .. `most`, both included.
  std::int32_t between(std::int32_t least, std::int32_t most) {
    return least + static_cast<std::int32_t>(below(static_cast<std::uint32_t>(most - least) + 1U));
  }
  /// True `hits` times in `of` on average.
  bool chance(std::uint32_t hits, std::uint32_t of) { return below(of) < hits; }
  /// In [0, 1), 53 bits.
  double unit() { return static_cast<double>(next() >> 11U) * 0x1.0p-53; }

  template <class T>
  void shuffle(std::vector<T>& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[index(i)]);
  }

 private:
  std::uint64_t state_[4];
};

}  // namespace gp
