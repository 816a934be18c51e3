#define DOCTEST_CONFIG_IMPLEMENT
#include "support/seed.h"

#include <cstdlib>
#include <iostream>
#include <string>

#include <doctest/doctest.h>

// The one main of every test program: doctest's, plus --seed=N, announced so that a red run can be
// run again exactly.
int main(int argc, char** argv) {
  const std::string option = "--seed=";
  for (int i = 1; i < argc; ++i) {
    const std::string argument = argv[i];
    if (argument.starts_with(option)) {
      gp::test::set_seed(std::strtoull(argument.c_str() + option.size(), nullptr, 10));
    }
  }
  std::cout << "seed " << gp::test::seed() << " (run again with --seed=" << gp::test::seed()
            << ")\n";
  doctest::Context context(argc, argv);
  return context.run();
}
