#include "web/planning.h"

#include "base/sha256.h"
#include "model/check.h"
#include "model/plan_json.h"
#include "model/read_production.h"

#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <utility>

namespace gp {

class Planning::Inside {
 public:
  Inside(Book& book, std::function<UnixTime()> clock) : book_(book), clock_(std::move(clock)) {}
  ~Inside() {
    cancel_ = true;
    if (thread_.joinable()) thread_.join();
  }
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;

  bool start(const Wishes& wishes) {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (state_.kind == State::Kind::running) return false;
    if (thread_.joinable()) thread_.join();  // it has ended: only its handle is left
    cancel_ = false;
    state_ = State();
    state_.kind = State::Kind::running;
    thread_ = std::thread([this, wishes] { work(wishes); });
    return true;
  }

  void cancel() { cancel_ = true; }

  State state() {
    const std::lock_guard<std::mutex> lock(mutex_);
    return state_;
  }

 private:
  void work(const Wishes& wishes) {
    State end;
    try {
      end = plan(wishes);
    } catch (const std::exception& error) {
      end.kind = State::Kind::failed;
      end.text = error.what();
    }
    const std::lock_guard<std::mutex> lock(mutex_);
    end.seconds = state_.seconds;
    if (end.kind == State::Kind::failed) end.on_site = 0;
    state_ = end;
  }

  State plan(const Wishes& wishes) {
    const auto from = book_.state();
    const Production& production = *from->production;
    Stop stop(std::nullopt, &cancel_);
    Plan made = make_plan(production, wishes, stop, [this](const Progress& progress) {
      const std::lock_guard<std::mutex> lock(mutex_);
      state_.share = progress.share;
      state_.on_site = progress.best.on_site;
      state_.seconds = progress.seconds;
    });
    State end;
    const std::vector<Broken> broken = check(production, made, wishes.answers);
    if (!broken.empty()) {
      end.kind = State::Kind::failed;
      end.text = "the plan made breaks rule " + std::to_string(broken.front().rule) + " (" +
                 broken.front().where + "); it was not kept; please report it";
      return end;
    }
    const std::string digest = sha256(write_production(production));
    made.made_from = "sha256:" + digest;
    KeptPlan kept;
    kept.made_from = from->revision;
    kept.production_sha = digest;
    kept.at = clock_();
    kept.json = write_plan(production, made);
    end.on_site = made.totals.on_site;
    end.share = 1;
    end.plan = book_.keep_plan(std::move(kept));
    end.kind = cancel_ ? State::Kind::cancelled : State::Kind::done;
    return end;
  }

  Book& book_;
  std::function<UnixTime()> clock_;
  std::mutex mutex_;
  State state_;
  std::atomic<bool> cancel_{false};
  std::thread thread_;
};

Planning::Planning(Book& book, std::function<UnixTime()> clock)
    : inside_(std::make_unique<Inside>(book, std::move(clock))) {}
Planning::~Planning() = default;

bool Planning::start(const Wishes& wishes) {
  return inside_->start(wishes);
}
void Planning::cancel() {
  inside_->cancel();
}
Planning::State Planning::state() const {
  return inside_->state();
}

}  // namespace gp
