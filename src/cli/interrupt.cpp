#include "cli/interrupt.h"

#include <cstdint>

#include <signal.h>
#include <time.h>

namespace gp {
namespace {

/// Two within this are one: whatever runs a program for others (`timeout` does) signals it and its
/// group, so one wish may come twice [ms].
constexpr std::int64_t kOneWish = 300;

// a signal handler reaches only what stands outside of every function
std::atomic<bool> interrupted{false};
std::atomic<std::int64_t> first_came{0};
static_assert(std::atomic<bool>::is_always_lock_free &&
                  std::atomic<std::int64_t>::is_always_lock_free,
              "a signal handler may not wait for a lock");

std::int64_t now_ms() {
  timespec now{};
  ::clock_gettime(CLOCK_MONOTONIC, &now);
  return std::int64_t{now.tv_sec} * 1000 + now.tv_nsec / 1'000'000;
}

extern "C" void note_interrupt(int signal) {
  const std::int64_t now = now_ms();
  if (!interrupted.exchange(true, std::memory_order_relaxed)) {
    first_came.store(now, std::memory_order_relaxed);
    return;
  }
  if (now - first_came.load(std::memory_order_relaxed) < kOneWish) return;
  ::signal(signal, SIG_DFL);
  ::raise(signal);
}

}  // namespace

std::atomic<bool>& Interrupt::note() {
  return interrupted;
}

Interrupt::Interrupt() {
  interrupted.store(false, std::memory_order_relaxed);
  struct sigaction action {};
  action.sa_handler = note_interrupt;
  action.sa_flags = SA_RESTART;  // reads go on
  sigemptyset(&action.sa_mask);
  ::sigaction(SIGINT, &action, nullptr);
}

Interrupt::~Interrupt() {
  ::signal(SIGINT, SIG_DFL);
}

}  // namespace gp
