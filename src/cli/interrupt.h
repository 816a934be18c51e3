#pragma once

#include <atomic>

namespace gp {

/// While it lives, the first Ctrl-C is noted instead of ending the program; a second one a third of
/// a second later or more ends it at once. One at a time. Threads: the note may be read from any.
class Interrupt {
 public:
  Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;
  ~Interrupt();

  [[nodiscard]] static bool came() { return note().load(std::memory_order_relaxed); }
  [[nodiscard]] static const std::atomic<bool>* flag() { return &note(); }

 private:
  static std::atomic<bool>& note();
};

}  // namespace gp
