#include "web/sessions.h"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <thread>

namespace gp {
namespace {

constexpr UnixTime kWindow = 15 * 60;           // [s] in which wrong tries are counted
constexpr std::size_t kMostWrong = 5;           // of one address in the window
constexpr UnixTime kHour = 60 * 60;             // [s]
constexpr std::size_t kMostSignUps = 30;        // of one address in an hour
constexpr std::size_t kMostAddresses = 10'000;  // remembered; the oldest go first
constexpr std::size_t kMostSessions = 1'000;
constexpr int kMostHashings = 2;       // at once: two cores' work and 38 MiB
constexpr int kMostWaiting = 8;        // log-ins waiting for their turn; further ones are sent away
constexpr UnixTime kWaitWhenFull = 5;  // [s]

/// What happened lately at each address. Not safe on its own for threads.
class Recent {
 public:
  explicit Recent(UnixTime window) : window_(window) {}

  std::size_t count(const std::string& address, UnixTime now) {
    const auto found = at_.find(address);
    if (found == at_.end()) return 0;
    while (!found->second.empty() && found->second.front() <= now - window_) {
      found->second.pop_front();
    }
    if (found->second.empty()) {
      at_.erase(found);
      return 0;
    }
    return found->second.size();
  }
  void note(const std::string& address, UnixTime now) {
    if (at_.size() >= kMostAddresses && !at_.contains(address)) make_room(now);
    at_[address].push_back(now);
  }
  /// [s] until the oldest is out of the window.
  UnixTime wait(const std::string& address, UnixTime now) {
    const auto found = at_.find(address);
    return found == at_.end() ? 0 : std::max<UnixTime>(1, found->second.front() + window_ - now);
  }
  void clear(const std::string& address) { at_.erase(address); }

 private:
  void make_room(UnixTime now) {
    std::erase_if(at_, [&](const auto& entry) { return entry.second.back() <= now - window_; });
    if (at_.size() < kMostAddresses) return;
    at_.erase(std::min_element(at_.begin(), at_.end(), [](const auto& a, const auto& b) {
      return a.second.back() < b.second.back();
    }));
  }
  UnixTime window_;
  std::map<std::string, std::deque<UnixTime>> at_;
};

const char* secret_name(Sessions::Role role) {
  return role == Sessions::Role::organiser ? "passphrase" : "door-code";
}

/// IPv6 hands out whole networks: a /64 is one household, as one IPv4 address is.
std::string household(const std::string& address) {
  if (address.find(':') == std::string::npos) return address;
  std::size_t groups = 0;
  for (std::size_t at = 0; at < address.size(); ++at) {
    if (address[at] != ':') continue;
    if (at + 1 < address.size() && address[at + 1] == ':') return address.substr(0, at + 2);
    if (++groups == 4) return address.substr(0, at);
  }
  return address;
}

}  // namespace

class Sessions::Inside {
 public:
  struct Session {
    Role role = Role::door;
    UnixTime begun = 0;
    UnixTime last = 0;
    std::string hash;  ///< of the secret it was opened with: a new one ends the session
  };

  explicit Inside(Book& given) : book(given) {
    key = book.secret("server-key");
    if (key.size() < 24) {
      key = new_secret() + new_secret();
      book.set_secret("server-key", key);
    }
  }

  void end_old_sessions(UnixTime now) {
    std::erase_if(sessions, [&](const auto& entry) {
      return entry.second.last <= now - kIdle || entry.second.begun <= now - kLongest;
    });
    while (sessions.size() >= kMostSessions) {
      sessions.erase(std::min_element(sessions.begin(), sessions.end(), [](auto& a, auto& b) {
        return a.second.last < b.second.last;
      }));
    }
  }

  /// Waits for a turn at hashing; false: too many wait already.
  bool begin_hashing(std::unique_lock<std::mutex>& lock) {
    if (hashing >= kMostHashings) {
      if (waiting >= kMostWaiting) return false;
      ++waiting;
      turn.wait(lock, [&] { return hashing < kMostHashings; });
      --waiting;
    }
    ++hashing;
    return true;
  }
  void end_hashing() {
    --hashing;
    turn.notify_one();
  }

  Book& book;
  std::string key;
  std::mutex mutex;
  std::condition_variable turn;
  int hashing = 0;
  int waiting = 0;
  Recent wrong{kWindow};
  Recent wrong_by_all{kWindow};
  Recent sign_ups{kHour};
  std::size_t most_sign_ups = kMostSignUps;
  std::map<std::string, Session> sessions;  ///< by the cookie's keyed hash
};

Sessions::Sessions(Book& book) : inside_(std::make_unique<Inside>(book)) {}
Sessions::~Sessions() = default;

Sessions::Entry Sessions::log_in(Role role,
                                 const std::string& secret,
                                 const std::string& address,
                                 const std::string& old_cookie,
                                 UnixTime now) {
  Inside& in = *inside_;
  const std::string who = household(address);
  const std::string hash = in.book.secret(secret_name(role));
  std::unique_lock<std::mutex> lock(in.mutex);
  if (in.wrong.count(who, now) >= kMostWrong) {
    return {Try::too_often, "", in.wrong.wait(who, now)};
  }
  if (!in.begin_hashing(lock)) return {Try::too_often, "", kWaitWhenFull};
  // counted before the answer is known, so that tries sent at once are all counted
  in.wrong.note(who, now);
  const std::size_t by_all = in.wrong_by_all.count("", now);
  lock.unlock();

  const bool right =
      !hash.empty() && passphrase_right(hash, role == Role::door ? plain_code(secret) : secret);
  if (!right) {
    // guesses from many addresses are slowed together: up to one second each, two at a time
    const auto delay = std::chrono::milliseconds(std::min<std::size_t>(1000, 10 * by_all));
    std::this_thread::sleep_for(delay);
  }

  lock.lock();
  in.end_hashing();
  if (!right) {
    in.wrong_by_all.note("", now);
    return {Try::wrong, "", 0};
  }
  in.wrong.clear(who);
  in.end_old_sessions(now);
  if (!old_cookie.empty()) in.sessions.erase(keyed_hash(in.key, old_cookie));
  const std::string cookie = new_secret();
  in.sessions[keyed_hash(in.key, cookie)] = {role, now, now, hash};
  return {Try::let_in, cookie, 0};
}

void Sessions::log_out(const std::string& cookie) {
  const std::lock_guard<std::mutex> lock(inside_->mutex);
  inside_->sessions.erase(keyed_hash(inside_->key, cookie));
}

std::optional<Sessions::Role> Sessions::role_of(const std::string& cookie, UnixTime now) {
  if (!looks_like_secret(cookie)) return std::nullopt;
  const std::lock_guard<std::mutex> lock(inside_->mutex);
  const auto found = inside_->sessions.find(keyed_hash(inside_->key, cookie));
  if (found == inside_->sessions.end()) return std::nullopt;
  Inside::Session& session = found->second;
  if (session.last <= now - kIdle || session.begun <= now - kLongest ||
      session.hash != inside_->book.secret(secret_name(session.role))) {
    inside_->sessions.erase(found);
    return std::nullopt;
  }
  session.last = std::max(session.last, now);
  return session.role;
}

std::string Sessions::csrf_for(const std::string& visitor) const {
  return keyed_hash(inside_->key, "form:" + visitor);
}

bool Sessions::csrf_right(const std::string& visitor, const std::string& given) const {
  return same_secret(csrf_for(visitor), given);
}

bool Sessions::may_sign_up(const std::string& address, UnixTime now) {
  const std::lock_guard<std::mutex> lock(inside_->mutex);
  const std::string who = household(address);
  if (inside_->sign_ups.count(who, now) >= inside_->most_sign_ups) return false;
  inside_->sign_ups.note(who, now);
  return true;
}

void Sessions::set_most_sign_ups(std::size_t an_hour) {
  const std::lock_guard<std::mutex> lock(inside_->mutex);
  inside_->most_sign_ups = an_hour;
}

}  // namespace gp
