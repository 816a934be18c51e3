#pragma once

#include "web/site.h"

#include <chrono>
#include <memory>
#include <string>
#include <vector>

namespace gp {

struct ServerWishes {
  std::string host = "127.0.0.1";
  int port = 8080;                 ///< 0: any free one
  std::vector<std::string> hosts;  ///< names and addresses a Host header may have besides loopback
  std::string certificate, key;    ///< PEM files; empty: plain HTTP
  int threads = 32;                ///< that answer; connections cost no thread
  std::chrono::milliseconds to_arrive{10'000};  ///< a whole request, however slowly it is sent
};

/// The network's end: the HTTP library with all its known holes stopped (docs/security.md), every
/// request limited in size and time, safe headers on every answer. The sockets are our own
/// (gate.h): the library takes a thread for each connection and has no limit of time for a whole
/// request, so it gets requests only when they are there whole and were looked through (guards.h).
class WebServer {
 public:
  /// Binds the port. \throws WorldError  it is taken or may not be used, or the certificate is bad
  WebServer(Site& site, const ServerWishes& wishes);
  ~WebServer();
  WebServer(const WebServer&) = delete;
  WebServer& operator=(const WebServer&) = delete;

  [[nodiscard]] int port() const;
  void run();   ///< until stop()
  void stop();  ///< from any thread; requests being answered are finished

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace gp
