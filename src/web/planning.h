#pragma once

#include "search/planner.h"
#include "store/book.h"

#include <functional>
#include <memory>
#include <string>

namespace gp {

/// Planning in a thread of its own, one at a time, so that no page waits for it.
/// Threads: any.
class Planning {
 public:
  explicit Planning(Book& book, std::function<UnixTime()> clock);
  ~Planning();  ///< cancels and waits
  Planning(const Planning&) = delete;
  Planning& operator=(const Planning&) = delete;

  struct State {
    enum class Kind { idle, running, done, failed, cancelled } kind = Kind::idle;
    double share = 0;          ///< 0 .. 1 while running
    std::int64_t on_site = 0;  ///< minutes, best so far
    double seconds = 0;        ///< since it began
    std::int64_t plan = 0;     ///< number kept, when done
    std::string text;          ///< what went wrong, when failed
  };
  /// Plans the newest production; the plan is checked by the eleven rules before it is kept.
  /// \return false: one is running already
  bool start(const Wishes& wishes);
  void cancel();  ///< the best plan found until then is kept
  [[nodiscard]] State state() const;

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace gp
