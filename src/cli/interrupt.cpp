#include "cli/interrupt.h"

#include <signal.h>

namespace gp {
namespace {

// a signal handler reaches only what stands outside of every function
std::atomic<bool> interrupted{false};
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may not wait for a lock");

extern "C" void note_interrupt(int /*signal*/) {
  interrupted.store(true, std::memory_order_relaxed);
}

}  // namespace

std::atomic<bool>& Interrupt::note() {
  return interrupted;
}

Interrupt::Interrupt() {
  interrupted.store(false, std::memory_order_relaxed);
  struct sigaction action {};
  action.sa_handler = note_interrupt;
  // reset by the first: the second ends the program as it would without us; reads go on
  action.sa_flags = static_cast<int>(SA_RESETHAND) | SA_RESTART;
  sigemptyset(&action.sa_mask);
  ::sigaction(SIGINT, &action, nullptr);
}

Interrupt::~Interrupt() {
  ::signal(SIGINT, SIG_DFL);
}

}  // namespace gp
