#include "support/seed.h"

namespace gp::test {
namespace {
std::uint64_t current = 20270417;
}

std::uint64_t seed() {
  return current;
}
void set_seed(std::uint64_t value) {
  current = value;
}

}  // namespace gp::test
