#pragma once

#include "web/tls.h"

#include <chrono>
#include <cstddef>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace gp {

/// Where connections come in: one thread reads and writes all of them, and a request is handed to a
/// working thread only when it is there whole. So whoever sends slowly, reads slowly or not at all
/// takes a place in a list and nothing else.
class Gate {
 public:
  struct Limits {
    std::chrono::milliseconds to_arrive{10'000};  ///< a whole request, the TLS handshake with it
    std::chrono::milliseconds to_leave{30'000};   ///< a whole answer
    std::size_t most_open = 512;                  ///< connections; beyond it the slowest make room
    std::size_t most_of_address = 256;  ///< of one address; beyond it its own slowest makes room
  };
  struct Wishes {
    std::vector<std::string> hosts;  ///< what a Host header may say, in lower case
    int threads = 16;
    Limits limits;
    std::shared_ptr<TlsContext> tls;  ///< null: plain
    /// A vetted request's bytes and the address it came from; gives the answer's bytes. Called from
    /// several threads; must not throw.
    std::function<std::string(const std::string& request, const std::string& address)> answer;
    std::function<void(const std::string&)> log;
  };

  /// \param listening  a socket that listens; closed by the gate
  Gate(int listening, Wishes wishes);
  ~Gate();
  Gate(const Gate&) = delete;
  Gate& operator=(const Gate&) = delete;

  void run();   ///< until stop(); what is being answered is finished first
  void stop();  ///< from any thread

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace gp
