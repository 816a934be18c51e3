#pragma once

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdint>
#include <optional>

namespace gp {

/// When to stop: a deadline, a request from outside (Ctrl-C, a page), or an amount of work. Asked
/// in every loop that can grow. Threads: `request()` may be called from any thread and from a
/// signal handler; each searching thread asks a copy of its own.
class Stop {
 public:
  using Clock = std::chrono::steady_clock;

  /// Never, unless requested.
  Stop() = default;
  explicit Stop(std::optional<Clock::time_point> deadline, const std::atomic<bool>* requested)
      : deadline_(deadline), requested_(requested) {}

  static Stop after(Clock::duration length, const std::atomic<bool>* requested = nullptr) {
    return Stop(Clock::now() + length, requested);
  }

  /// Cheap: reads the clock at most once in `kStride` calls.
  bool now() {
    if (stopped_) return true;
    if (requested_ != nullptr && requested_->load(std::memory_order_relaxed)) stopped_ = true;
    if (deadline_ && ++calls_ % kStride == 0 && Clock::now() >= *deadline_) stopped_ = true;
    return stopped_;
  }
  /// Reads the clock at once.
  bool now_exactly() {
    calls_ = kStride - 1;
    return now();
  }
  /// Stops at this moment too, where it comes before the deadline there is.
  void limit(Clock::time_point deadline) {
    if (!deadline_ || deadline < *deadline_) deadline_ = deadline;
  }
  /// A copy that stops so many seconds after `from` too; without seconds just a copy.
  [[nodiscard]] Stop within(std::optional<double> seconds,
                            Clock::time_point from = Clock::now()) const {
    Stop limited = *this;
    if (seconds) {
      limited.limit(from + std::chrono::duration_cast<Clock::duration>(
                               std::chrono::duration<double>(*seconds)));
    }
    return limited;
  }
  /// A copy that stops no sooner than in so many seconds, unless requested: for what must be begun
  /// although the time may be over.
  [[nodiscard]] Stop no_sooner(double seconds) const {
    if (!deadline_) return *this;
    const auto moment = Clock::now() + std::chrono::duration_cast<Clock::duration>(
                                           std::chrono::duration<double>(seconds));
    return Stop(std::max(*deadline_, moment), requested_);
  }
  /// The same but for the deadline: stops when requested, and after very much work (some minutes)
  /// all the same, so that nothing goes on for ever.
  [[nodiscard]] Stop without_deadline() const { return Stop(Clock::now() + kPatience, requested_); }
  /// Seconds until the deadline; none: there is none.
  [[nodiscard]] std::optional<double> seconds_left() const {
    if (!deadline_) return std::nullopt;
    return std::chrono::duration<double>(*deadline_ - Clock::now()).count();
  }
  [[nodiscard]] bool has_deadline() const { return deadline_.has_value(); }

 private:
  static constexpr std::uint32_t kStride = 16;
  static constexpr std::chrono::seconds kPatience{120};
  std::optional<Clock::time_point> deadline_;
  const std::atomic<bool>* requested_ = nullptr;
  std::uint32_t calls_ = 0;
  bool stopped_ = false;
};

}  // namespace gp
