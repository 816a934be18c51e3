#include "web/gate.h"

#include "base/errors.h"
#include "web/guards.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <condition_variable>
#include <cstring>
#include <deque>
#include <map>
#include <mutex>
#include <string_view>
#include <thread>
#include <unordered_map>
#include <utility>

#include <arpa/inet.h>
#include <netinet/tcp.h>
#include <openssl/err.h>
#include <openssl/ssl.h>
#include <sys/epoll.h>
#include <sys/eventfd.h>
#include <sys/socket.h>
#include <unistd.h>

namespace gp {
namespace {

using SteadyClock = std::chrono::steady_clock;

constexpr std::chrono::milliseconds kToDrain{1'000};
constexpr std::chrono::milliseconds kTick{200};
constexpr std::chrono::seconds kToEnd{10};
constexpr std::size_t kMostDrained = 512 * 1024;

/// A connection's way: a request arrives, is answered by a thread, the answer leaves, and what the
/// other end still sends is read away, so that closing does not destroy the answer underway
/// (RFC 9112, section 9.6).
enum class Stage { shaking_hands, arriving, answering, leaving, draining };

struct Connection {
  int socket = -1;
  SSL* ssl = nullptr;
  std::uint64_t number = 0;  ///< rises; a number is never used again, unlike a descriptor
  Stage stage = Stage::arriving;
  std::string address;
  std::string in, out;
  std::size_t head_bytes = 0;  ///< 0: the head is not whole yet
  RequestHead head;
  std::size_t left = 0;     ///< bytes of `out` that have left
  std::size_t drained = 0;  ///< bytes
  bool wants_write = false;
  SteadyClock::time_point begun, until;
};

std::string address_of(const sockaddr_storage& address) {
  std::array<char, INET6_ADDRSTRLEN> text{};
  if (address.ss_family == AF_INET) {
    sockaddr_in four{};
    std::memcpy(&four, &address, sizeof four);
    ::inet_ntop(AF_INET, &four.sin_addr, text.data(), text.size());
  } else {
    sockaddr_in6 six{};
    std::memcpy(&six, &address, sizeof six);
    ::inet_ntop(AF_INET6, &six.sin6_addr, text.data(), text.size());
  }
  std::string out = text.data();
  if (out.starts_with("::ffff:")) out.erase(0, 7);
  return out;
}

enum class Moved { some, must_wait, ended };

struct Movement {
  Moved result = Moved::ended;
  std::size_t bytes = 0;
  bool wants_write = false;  ///< TLS: must write before it can read
};

}  // namespace

class Gate::Inside {
 public:
  Inside(int listening, Wishes wishes) : listening_(listening), wishes_(std::move(wishes)) {
    poll_ = ::epoll_create1(EPOLL_CLOEXEC);
    wake_ = ::eventfd(0, EFD_NONBLOCK | EFD_CLOEXEC);
    if (poll_ < 0 || wake_ < 0) {
      throw WorldError("cannot serve pages; close other programs: no file descriptors are left");
    }
    watch(listening_, kListening, EPOLLIN, EPOLL_CTL_ADD);
    watch(wake_, kWake, EPOLLIN, EPOLL_CTL_ADD);
  }
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;
  ~Inside() {
    if (listening_ >= 0) ::close(listening_);
    ::close(wake_);
    ::close(poll_);
  }

  void run() {
    std::vector<std::thread> threads;
    for (int i = 0; i < wishes_.threads; ++i) threads.emplace_back([this] { work(); });
    std::array<epoll_event, 128> events{};
    bool stopping = false;
    SteadyClock::time_point give_up{};
    while (!stopping || (!connections_.empty() && SteadyClock::now() < give_up)) {
      const int ready = ::epoll_wait(
          poll_, events.data(), static_cast<int>(events.size()), static_cast<int>(kTick.count()));
      for (int i = 0; i < ready; ++i) {
        const epoll_event& event = events.at(static_cast<std::size_t>(i));
        if (event.data.u64 == kListening) {
          accept_all();
        } else if (event.data.u64 == kWake) {
          std::uint64_t count = 0;
          [[maybe_unused]] const ssize_t got = ::read(wake_, &count, sizeof count);
        } else if (const auto found = connections_.find(event.data.u64);
                   found != connections_.end()) {
          go_on(found->second);
        }
      }
      take_answers();
      close_late_ones();
      if (stop_ && !stopping) {
        stopping = true;
        give_up = SteadyClock::now() + kToEnd;
        ::close(listening_);
        listening_ = -1;
      }
      if (stopping) close_idle_ones();
    }
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      ended_ = true;
    }
    more_work_.notify_all();
    for (std::thread& thread : threads) thread.join();
    while (!connections_.empty()) close(connections_.begin()->second);
  }

  void stop() {
    stop_ = true;
    wake();
  }

 private:
  static constexpr std::uint64_t kListening = 0;
  static constexpr std::uint64_t kWake = 1;

  struct Work {
    std::uint64_t number = 0;
    std::string request, address;
  };
  struct Done {
    std::uint64_t number = 0;
    std::string answer;
  };

  void wake() const {
    const std::uint64_t one = 1;
    [[maybe_unused]] const ssize_t put = ::write(wake_, &one, sizeof one);
  }

  void watch(int descriptor, std::uint64_t number, std::uint32_t what, int how) const {
    epoll_event event{};
    event.events = what;
    event.data.u64 = number;
    ::epoll_ctl(poll_, how, descriptor, &event);
  }

  void watch(const Connection& one) const {
    std::uint32_t what = one.wants_write ? EPOLLOUT : EPOLLIN;
    if (one.stage == Stage::answering) what = 0;  // a hang-up is told all the same
    watch(one.socket, one.number, what, EPOLL_CTL_MOD);
  }

  // --- the working threads -----------------------------------------------------------------------
  void work() {
    for (;;) {
      Work next;
      {
        std::unique_lock<std::mutex> lock(mutex_);
        more_work_.wait(lock, [&] { return ended_ || !work_.empty(); });
        if (work_.empty()) return;
        next = std::move(work_.front());
        work_.pop_front();
      }
      Done done{next.number, wishes_.answer(next.request, next.address)};
      {
        const std::lock_guard<std::mutex> lock(mutex_);
        done_.push_back(std::move(done));
      }
      wake();
    }
  }

  void take_answers() {
    std::vector<Done> done;
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      done.swap(done_);
    }
    for (Done& one : done) {
      const auto found = connections_.find(one.number);
      if (found != connections_.end()) send(found->second, std::move(one.answer));
    }
  }

  // --- coming and going --------------------------------------------------------------------------
  void accept_all() {
    for (;;) {
      sockaddr_storage from{};
      socklen_t size = sizeof from;
      const int socket = ::accept4(
          listening_, reinterpret_cast<sockaddr*>(&from), &size, SOCK_NONBLOCK | SOCK_CLOEXEC);
      if (socket < 0) {
        // out of descriptors: the slowest gives its place to the next
        if ((errno == EMFILE || errno == ENFILE) && close_slowest("")) continue;
        return;
      }
      const std::string address = address_of(from);
      if (open_of(address) >= wishes_.limits.most_of_address && !close_slowest(address)) {
        refuse_socket(socket);
        continue;
      }
      if (connections_.size() >= wishes_.limits.most_open && !close_slowest("")) {
        refuse_socket(socket);
        continue;
      }
      open(socket, address);
    }
  }

  [[nodiscard]] std::size_t open_of(const std::string& address) const {
    const auto found = of_address_.find(address);
    return found == of_address_.end() ? 0 : found->second;
  }

  void open(int socket, const std::string& address) {
    const int on = 1;
    ::setsockopt(socket, IPPROTO_TCP, TCP_NODELAY, &on, sizeof on);
    Connection one;
    one.socket = socket;
    one.number = ++last_number_;
    one.address = address;
    one.begun = SteadyClock::now();
    one.until = one.begun + wishes_.limits.to_arrive;
    if (wishes_.tls) {
      one.ssl = wishes_.tls->begin(socket);
      one.stage = Stage::shaking_hands;
      if (one.ssl == nullptr) {
        ::close(socket);
        return;
      }
    }
    ++of_address_[address];
    watch(socket, one.number, EPOLLIN, EPOLL_CTL_ADD);
    const std::uint64_t number = one.number;
    go_on(connections_.emplace(number, std::move(one)).first->second);
  }

  void refuse_socket(int socket) const {
    // without TLS there is time for one line; it fits any socket's buffer
    if (!wishes_.tls) {
      const std::string answer = plain_answer(503);
      [[maybe_unused]] const ssize_t put =
          ::send(socket, answer.data(), answer.size(), MSG_NOSIGNAL | MSG_DONTWAIT);
    }
    ::close(socket);
  }

  /// Of those whose request has not arrived, the one that began first. \param address  empty: of
  /// the address that has most open
  bool close_slowest(std::string address) {
    if (address.empty()) {
      const auto most = std::max_element(
          of_address_.begin(), of_address_.end(), [](const auto& a, const auto& b) {
            return a.second < b.second;
          });
      if (most == of_address_.end()) return false;
      address = most->first;
    }
    Connection* slowest = nullptr;
    for (auto& [number, one] : connections_) {
      if (one.address != address || one.stage == Stage::answering || one.stage == Stage::leaving) {
        continue;
      }
      if (slowest == nullptr || one.begun < slowest->begun) slowest = &one;
    }
    if (slowest == nullptr) return false;
    close(*slowest);
    return true;
  }

  void close(Connection& one) {
    if (one.ssl != nullptr) SSL_free(one.ssl);
    ::close(one.socket);
    const auto count = of_address_.find(one.address);
    if (count != of_address_.end() && --count->second == 0) of_address_.erase(count);
    connections_.erase(one.number);
  }

  void close_late_ones() {
    const auto now = SteadyClock::now();
    if (now < next_look_) return;
    next_look_ = now + kTick;
    std::vector<std::uint64_t> late;
    for (const auto& [number, one] : connections_) {
      if (one.stage != Stage::answering && one.until <= now) late.push_back(number);
    }
    for (const std::uint64_t number : late) {
      Connection& one = connections_.at(number);
      if (one.stage == Stage::arriving && !one.in.empty()) {
        if (wishes_.log) wishes_.log("refused a request that took too long, from " + one.address);
        send(one, plain_answer(408));
      } else {
        close(one);
      }
    }
  }

  void close_idle_ones() {
    std::vector<std::uint64_t> idle;
    for (const auto& [number, one] : connections_) {
      if (one.stage != Stage::answering && one.stage != Stage::leaving) idle.push_back(number);
    }
    for (const std::uint64_t number : idle) close(connections_.at(number));
  }

  // --- one connection ----------------------------------------------------------------------------
  static Movement moved(Connection& one, int result) {
    if (result > 0) return {Moved::some, static_cast<std::size_t>(result), false};
    const int error = SSL_get_error(one.ssl, result);
    ERR_clear_error();
    if (error == SSL_ERROR_WANT_READ) return {Moved::must_wait, 0, false};
    if (error == SSL_ERROR_WANT_WRITE) return {Moved::must_wait, 0, true};
    return {Moved::ended, 0, false};
  }
  static Movement moved(ssize_t result) {
    if (result > 0) return {Moved::some, static_cast<std::size_t>(result), false};
    const bool wait = result < 0 && (errno == EAGAIN || errno == EINTR);
    return {wait ? Moved::must_wait : Moved::ended, 0, false};
  }
  static Movement receive(Connection& one, char* to, std::size_t size) {
    if (one.ssl == nullptr) return moved(::recv(one.socket, to, size, 0));
    ERR_clear_error();
    return moved(one, SSL_read(one.ssl, to, static_cast<int>(size)));
  }
  static Movement transmit(Connection& one, const char* from, std::size_t size) {
    if (one.ssl == nullptr) {
      Movement movement = moved(::send(one.socket, from, size, MSG_NOSIGNAL));
      movement.wants_write = true;
      return movement;
    }
    ERR_clear_error();
    return moved(one,
                 SSL_write(one.ssl, from, static_cast<int>(std::min<std::size_t>(size, 65536))));
  }

  void wait_for(Connection& one, bool write) const {
    one.wants_write = write;
    watch(one);
  }

  void go_on(Connection& one) {
    switch (one.stage) {
      case Stage::shaking_hands:
        return shake_hands(one);
      case Stage::arriving:
        return arrive(one);
      case Stage::answering:
        return close(one);  // hung up: the answer has nobody to go to
      case Stage::leaving:
        return leave(one);
      case Stage::draining:
        return drain(one);
    }
  }

  void shake_hands(Connection& one) {
    ERR_clear_error();
    const int result = SSL_accept(one.ssl);
    const Movement movement = moved(one, result);
    if (movement.result == Moved::ended) return close(one);
    if (movement.result == Moved::must_wait) return wait_for(one, movement.wants_write);
    one.stage = Stage::arriving;
    arrive(one);
  }

  void arrive(Connection& one) {
    std::array<char, 16 * 1024> buffer{};
    for (;;) {
      const Movement movement = receive(one, buffer.data(), buffer.size());
      if (movement.result == Moved::ended) return close(one);
      if (movement.result == Moved::must_wait) return wait_for(one, movement.wants_write);
      one.in.append(buffer.data(), movement.bytes);
      if (one.head_bytes == 0) {
        const std::size_t end = one.in.find("\r\n\r\n");
        if (end == std::string::npos ? one.in.size() > kMostHeadBytes : end > kMostHeadBytes) {
          return refuse(one, 431);
        }
        if (end == std::string::npos) continue;
        one.head_bytes = end + 4;
        const int status =
            read_head(std::string_view(one.in).substr(0, one.head_bytes), wishes_.hosts, one.head);
        if (status != 0) return refuse(one, status);
      }
      // what comes after the request is never looked at: one request a connection
      if (one.in.size() >= one.head_bytes + one.head.body_bytes) return hand_over(one);
    }
  }

  void hand_over(Connection& one) {
    const std::string_view body =
        std::string_view(one.in).substr(one.head_bytes, one.head.body_bytes);
    Work work{one.number, vetted_request(one.head, body), one.address};
    one.in.clear();
    one.in.shrink_to_fit();
    one.stage = Stage::answering;
    watch(one);
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      work_.push_back(std::move(work));
    }
    more_work_.notify_one();
  }

  void refuse(Connection& one, int status) {
    if (wishes_.log) {
      wishes_.log("refused a request with " + std::to_string(status) + ", from " + one.address);
    }
    send(one, plain_answer(status));
  }

  void send(Connection& one, std::string answer) {
    one.out = std::move(answer);
    one.stage = Stage::leaving;
    one.until = SteadyClock::now() + wishes_.limits.to_leave;
    leave(one);
  }

  void leave(Connection& one) {
    while (one.left < one.out.size()) {
      const Movement movement = transmit(one, one.out.data() + one.left, one.out.size() - one.left);
      if (movement.result == Moved::ended) return close(one);
      if (movement.result == Moved::must_wait) return wait_for(one, movement.wants_write);
      one.left += movement.bytes;
    }
    if (one.ssl != nullptr) SSL_shutdown(one.ssl);
    ERR_clear_error();
    ::shutdown(one.socket, SHUT_WR);
    one.stage = Stage::draining;
    one.until = SteadyClock::now() + kToDrain;
    drain(one);
  }

  void drain(Connection& one) {
    std::array<char, 16 * 1024> buffer{};
    for (;;) {
      const Movement movement = moved(::recv(one.socket, buffer.data(), buffer.size(), 0));
      if (movement.result == Moved::must_wait) return wait_for(one, false);
      one.drained += movement.bytes;
      if (movement.result == Moved::ended || one.drained > kMostDrained) return close(one);
    }
  }

  int listening_;
  Wishes wishes_;
  int poll_ = -1;
  int wake_ = -1;
  std::atomic<bool> stop_{false};
  std::uint64_t last_number_ = kWake;
  SteadyClock::time_point next_look_{};
  std::unordered_map<std::uint64_t, Connection> connections_;
  std::map<std::string, std::size_t> of_address_;

  std::mutex mutex_;
  std::condition_variable more_work_;
  std::deque<Work> work_;
  std::vector<Done> done_;
  bool ended_ = false;
};

Gate::Gate(int listening, Wishes wishes)
    : inside_(std::make_unique<Inside>(listening, std::move(wishes))) {}
Gate::~Gate() = default;
void Gate::run() {
  inside_->run();
}
void Gate::stop() {
  inside_->stop();
}

}  // namespace gp
