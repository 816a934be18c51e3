#include "base/random.h"

namespace gp {
namespace {

std::uint64_t rotate_left(std::uint64_t x, unsigned k) {
  return (x << k) | (x >> (64U - k));
}

std::uint64_t splitmix(std::uint64_t& x) {
  x += 0x9e3779b97f4a7c15ULL;
  std::uint64_t z = x;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31U);
}

}  // namespace

Random::Random(std::uint64_t seed) : state_{} {
  for (auto& word : state_) word = splitmix(seed);
}

std::uint64_t Random::next() {
  const std::uint64_t result = rotate_left(state_[1] * 5, 7) * 9;
  const std::uint64_t t = state_[1] << 17U;
  state_[2] ^= state_[0];
  state_[3] ^= state_[1];
  state_[1] ^= state_[2];
  state_[0] ^= state_[3];
  state_[2] ^= t;
  state_[3] = rotate_left(state_[3], 45);
  return result;
}

std::uint32_t Random::below(std::uint32_t below) {
  std::uint64_t product = (next() >> 32U) * below;
  auto low = static_cast<std::uint32_t>(product);
  if (low < below) {
    const std::uint32_t threshold = (0U - below) % below;
    while (low < threshold) {
      product = (next() >> 32U) * below;
      low = static_cast<std::uint32_t>(product);
    }
  }
  return static_cast<std::uint32_t>(product >> 32U);
}

}  // namespace gp
