#pragma once

#include "support/temporary_folder.h"
#include "web/server.h"

#include <chrono>
#include <cstring>
#include <memory>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

namespace gp::test {

/// A bare connection to a port of this computer, to send what no browser would.
class RawClient {
 public:
  /// \param from  an address of the loopback network, so that one test can be many visitors
  explicit RawClient(int port, const std::string& from = "127.0.0.1")
      : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in own{};
    own.sin_family = AF_INET;
    ::inet_pton(AF_INET, from.c_str(), &own.sin_addr);
    sockaddr_in there = own;
    ::inet_pton(AF_INET, "127.0.0.1", &there.sin_addr);
    there.sin_port = htons(static_cast<std::uint16_t>(port));
    if (::bind(socket_, reinterpret_cast<sockaddr*>(&own), sizeof own) != 0 ||
        ::connect(socket_, reinterpret_cast<sockaddr*>(&there), sizeof there) != 0) {
      ::close(socket_);
      throw std::runtime_error("could not connect");
    }
  }
  RawClient(const RawClient&) = delete;
  RawClient& operator=(const RawClient&) = delete;
  RawClient(RawClient&& other) noexcept : socket_(other.socket_) { other.socket_ = -1; }
  ~RawClient() {
    if (socket_ >= 0) ::close(socket_);
  }

  void send(const std::string& bytes) const {
    std::size_t at = 0;
    while (at < bytes.size()) {
      const ssize_t put = ::send(socket_, bytes.data() + at, bytes.size() - at, MSG_NOSIGNAL);
      if (put <= 0) return;  // refused while sending: the answer says why
      at += static_cast<std::size_t>(put);
    }
  }
  /// All that comes until the other end closes, or until nothing came for so long.
  [[nodiscard]] std::string answer(int milliseconds = 5'000) const {
    std::string all;
    char buffer[16384];
    for (;;) {
      pollfd one{socket_, POLLIN, 0};
      if (::poll(&one, 1, milliseconds) <= 0) return all + "[nothing more came]";
      const ssize_t got = ::recv(socket_, buffer, sizeof buffer, 0);
      if (got <= 0) return all;
      all.append(buffer, static_cast<std::size_t>(got));
    }
  }

 private:
  int socket_;
};

/// The pages of a small book on a free port of this computer, served until the test ends.
class LiveServer {
 public:
  explicit LiveServer(std::chrono::milliseconds to_arrive = std::chrono::seconds(10))
      : book_(made_book(folder_.file("film.book"))),
        views_(std::string(GP_SOURCE_DIR) + "/templates"),
        sessions_(*book_),
        planning_(*book_, [] { return kMoment; }),
        site_({*book_,
               views_,
               sessions_,
               planning_,
               std::string(GP_SOURCE_DIR) + "/templates",
               [] { return kMoment; },
               "http://localhost",
               {}}) {
    add_shared_pages(site_);
    site_.add({"GET", "/hello", Access::anyone, [](Visit&) { return HttpAnswer::page("hello"); }});
    site_.add({"GET", "/throws", Access::anyone, [](Visit&) -> HttpAnswer {
                 throw std::runtime_error("secret cause");
               }});
    site_.add({"GET", "/seen", Access::anyone, [](Visit& visit) {
                 std::string text = "address=" + visit.request.address + "\n";
                 for (const auto& [name, value] : visit.request.headers) {
                   text += name + "=[" + value + "]\n";
                 }
                 for (const auto& [name, value] : visit.request.query) {
                   text += "?" + name + "=[" + value + "]\n";
                 }
                 return HttpAnswer::page(text);
               }});
    site_.add({"POST", "/echo", Access::anyone, [](Visit& visit) {
                 return HttpAnswer::page("got:" + std::to_string(visit.request.field("a").size()));
               }});
    ServerWishes wishes;
    wishes.port = 0;
    wishes.threads = 4;
    wishes.to_arrive = to_arrive;
    server_ = std::make_unique<WebServer>(site_, wishes);
    thread_ = std::thread([this] { server_->run(); });
  }
  LiveServer(const LiveServer&) = delete;
  LiveServer& operator=(const LiveServer&) = delete;
  ~LiveServer() {
    server_->stop();
    thread_.join();
  }

  [[nodiscard]] int port() const { return server_->port(); }
  [[nodiscard]] Site& site() { return site_; }
  [[nodiscard]] Book& book() { return *book_; }
  [[nodiscard]] Sessions& sessions() { return sessions_; }

  /// The whole answer to some bytes.
  [[nodiscard]] std::string says(const std::string& bytes) const {
    const RawClient client(port());
    client.send(bytes);
    return client.answer();
  }
  /// A GET with these lines besides the Host, each ending in CR LF.
  [[nodiscard]] std::string get(const std::string& target, const std::string& lines = "") const {
    return says("GET " + target + " HTTP/1.1\r\nHost: localhost\r\n" + lines + "\r\n");
  }

  static constexpr UnixTime kMoment = 1'807'351'200;  ///< 2027-04-10T10:00:00Z

 private:
  static std::unique_ptr<Book> made_book(const std::string& path) {
    const std::string film = R"({"greasepaint": 1, "title": "The Borrowed Moon",
      "days": [{"date": "2027-04-17"}], "people": [{"id": "ada"}],
      "roles": [{"id": "moon", "person": "ada"}],
      "scenes": [{"id": "theft", "shoot_minutes": 20, "cast": [{"role": "moon"}]}]})";
    if (!Book::make(path, film, kMoment).empty()) throw std::runtime_error("bad film");
    return std::make_unique<Book>(path);
  }

  TemporaryFolder folder_;
  std::unique_ptr<Book> book_;
  Views views_;
  Sessions sessions_;
  Planning planning_;
  Site site_;
  std::unique_ptr<WebServer> server_;
  std::thread thread_;
};

inline int status_of(const std::string& answer) {
  return answer.starts_with("HTTP/1.1 ") ? std::stoi(answer.substr(9, 3)) : 0;
}

}  // namespace gp::test
