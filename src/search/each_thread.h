#pragma once

#include "base/stop.h"

#include <cstddef>
#include <thread>
#include <vector>

namespace gp {

/// Calls `run` with each number from 0, all at once, each with a stop of its own; returns when all
/// have ended. The first runs where it is called.
template <class Run>
void each_thread(std::size_t threads, const Stop& stop, const Run& run) {
  std::vector<Stop> stops(threads, stop);
  std::vector<std::jthread> others;
  for (std::size_t t = 1; t < threads; ++t) {
    others.emplace_back([&, t] { run(t, stops[t]); });
  }
  run(std::size_t{0}, stops[0]);
}

}  // namespace gp
