#include "web/server.h"

#include "base/errors.h"
#include "web/gate.h"
#include "web/guards.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <string_view>
#include <system_error>
#include <utility>

#include <httplib.h>
#include <netdb.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

namespace gp {
namespace {

constexpr int kBacklog = 512;
constexpr std::string_view kTlsPrefix = "__Host-";

/// One vetted request in, its answer out: the library never sees a socket.
class Exchange final : public httplib::Stream {
 public:
  Exchange(const std::string& request, const std::string& address)
      : request_(request), address_(address) {}

  std::string answer;

  using httplib::Stream::write;
  [[nodiscard]] bool is_readable() const override { return at_ < request_.size(); }
  [[nodiscard]] bool is_writable() const override { return true; }
  ssize_t read(char* to, std::size_t size) override {
    const std::size_t some = std::min(size, request_.size() - at_);
    std::memcpy(to, request_.data() + at_, some);
    at_ += some;
    return static_cast<ssize_t>(some);
  }
  ssize_t write(const char* from, std::size_t size) override {
    answer.append(from, size);
    return static_cast<ssize_t>(size);
  }
  void get_remote_ip_and_port(std::string& ip, int& port) const override {
    ip = address_;
    port = 0;
  }
  void get_local_ip_and_port(std::string& ip, int& port) const override {
    ip.clear();
    port = 0;
  }
  [[nodiscard]] socket_t socket() const override { return 0; }

 private:
  const std::string& request_;
  const std::string& address_;
  std::size_t at_ = 0;
};

/// The library's reading of requests and writing of answers, without its sockets and threads.
class Library final : public httplib::Server {
 public:
  Library(Site& site, bool tls) : site_(site), tls_(tls) {
    set_payload_max_length(kMostBodyBytes);
    set_keep_alive_max_count(1);
    httplib::Headers headers;
    for (const auto& [name, value] : safe_headers()) headers.emplace(name, value);
    set_default_headers(headers);
    // all but forms; the library's own routes are regular expressions and are not needed
    set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
      if (request.method == "POST") return HandlerResponse::Unhandled;
      respond(request, "", response);
      return HandlerResponse::Handled;
    });
    // a reader of our own: the library takes no form above 8 KB
    Post("/.*",
         [this](const httplib::Request& request,
                httplib::Response& response,
                const httplib::ContentReader& read) {
           std::string body;
           read([&](const char* data, std::size_t size) {
             body.append(data, size);
             return body.size() <= kMostBodyBytes;
           });
           respond(request, body, response);
         });
    // without it the library sends what the exception says in a header (CVE-2026-28434)
    set_exception_handler([](const httplib::Request& /*request*/,
                             httplib::Response& response,
                             const std::exception_ptr& /*cause*/) { response.status = 500; });
    set_error_handler([](const httplib::Request& /*request*/, httplib::Response& response) {
      if (!response.body.empty() || response.status < 400) return;
      response.set_content("This request cannot be answered.\n", "text/plain; charset=utf-8");
    });
  }

  std::string answer(const std::string& request, const std::string& address) {
    Exchange exchange(request, address);
    bool closed = true;
    try {
      process_request(exchange, true, closed, [](httplib::Request&) {});
    } catch (const std::exception& error) {
      site_.log(std::string("could not answer: ") + error.what());
    }
    return exchange.answer.empty() ? plain_answer(500) : std::move(exchange.answer);
  }

 private:
  void respond(const httplib::Request& from, const std::string& body, httplib::Response& response) {
    HttpRequest request;
    if (!read_request(from, body, request)) {
      response.status = 400;
      response.set_content("That did not arrive whole. Go back, and send it again.\n",
                           "text/plain; charset=utf-8");
      response.set_header("Cache-Control", "no-store");
      response.set_header("Referrer-Policy", "same-origin");
      return;
    }
    HttpAnswer answer = site_.answer(request);
    response.status = answer.status;
    if (answer.status != 303 && answer.status != 304) {
      response.set_content(std::move(answer.body), answer.type);
    } else {
      response.set_header("Content-Length", "0");
    }
    bool has_policy = false;
    bool has_cache = false;  // the sign-up's pages: "Back" must find what was typed
    for (const auto& [name, value] : answer.headers) {
      has_policy = has_policy || name == "Referrer-Policy";
      has_cache = has_cache || name == "Cache-Control";
      response.set_header(name, value);
    }
    // "same-origin", not "no-referrer": with the latter browsers send a form's Origin as "null"
    // (Fetch, "serializing a request origin"), and the check of the Origin could not be made
    if (!has_policy) response.set_header("Referrer-Policy", "same-origin");
    if (!has_cache) {
      response.set_header("Cache-Control",
                          answer.may_be_kept ? "private, max-age=600" : "no-store");
    }
    for (const HttpCookie& cookie : answer.cookies) {
      response.headers.emplace("Set-Cookie", cookie_text(cookie));
    }
  }

  bool read_request(const httplib::Request& from, const std::string& body, HttpRequest& to) const {
    to.method = from.method;
    to.address = from.remote_addr;
    to.tls = tls_;
    const std::size_t question = from.target.find('?');
    const auto path = percent_decoded(std::string_view(from.target).substr(0, question), false);
    if (!path) return false;
    const auto clean_path = cleaned_text(*path);
    if (!clean_path || *clean_path != *path) return false;  // a control character, or no UTF-8
    to.path = *clean_path;
    if (question != std::string::npos) {
      const auto query = read_form(std::string_view(from.target).substr(question + 1));
      if (!query) return false;
      for (const auto& [name, value] : *query) to.query.emplace(name, value);
    }
    for (const auto& [name, value] : from.headers) {
      std::string lower = name;
      std::transform(lower.begin(), lower.end(), lower.begin(), [](unsigned char c) {
        return static_cast<char>(std::tolower(c));
      });
      // put in by the library itself; the address stands in its own field
      if (lower.starts_with("remote_") || lower.starts_with("local_")) continue;
      if (lower == "cookie") {
        read_own_cookies(value, to);
      } else {
        to.headers.emplace(std::move(lower), value);
      }
    }
    if (from.method != "POST") return true;
    const auto type = to.headers.find("content-type");
    const bool is_form =
        type != to.headers.end() && type->second.starts_with("application/x-www-form-urlencoded");
    if (!is_form) return body.empty();
    auto form = read_form(body);
    if (!form) return false;
    to.form = std::move(*form);
    return true;
  }

  /// Over TLS only those that a page of ours wrote over TLS count.
  void read_own_cookies(const std::string& header, HttpRequest& to) const {
    for (auto& [name, value] : read_cookies(header)) {
      const bool prefixed = name.starts_with(kTlsPrefix);
      if (prefixed != tls_) continue;
      to.cookies.emplace(prefixed ? name.substr(kTlsPrefix.size()) : name, value);
    }
  }

  [[nodiscard]] std::string cookie_text(const HttpCookie& cookie) const {
    std::string text = tls_ ? std::string(kTlsPrefix) : "";
    text += cookie.name + "=" + cookie.value + "; Path=/; HttpOnly; SameSite=Lax";
    if (tls_) text += "; Secure";
    if (cookie.seconds) text += "; Max-Age=" + std::to_string(*cookie.seconds);
    return text;
  }

  Site& site_;
  bool tls_;
};

[[noreturn]] void cannot_listen(const ServerWishes& wishes, int error) {
  throw WorldError("cannot show pages at " + wishes.host + " port " + std::to_string(wishes.port) +
                   "; choose another with --port: " + std::generic_category().message(error));
}

/// A socket that listens. SO_REUSEADDR alone: with SO_REUSEPORT, which the library sets, a second
/// server would take half of the first one's visitors.
int listening_socket(const ServerWishes& wishes) {
  addrinfo hints{};
  hints.ai_family = AF_UNSPEC;
  hints.ai_socktype = SOCK_STREAM;
  hints.ai_flags = AI_PASSIVE | AI_NUMERICSERV;
  addrinfo* found = nullptr;
  const std::string port = std::to_string(wishes.port);
  if (const int error = ::getaddrinfo(wishes.host.c_str(), port.c_str(), &hints, &found);
      error != 0) {
    throw WorldError("cannot show pages at " + wishes.host +
                     "; give an address of this computer: " + ::gai_strerror(error));
  }
  int last_error = 0;
  int socket = -1;
  for (const addrinfo* one = found; one != nullptr && socket < 0; one = one->ai_next) {
    socket = ::socket(one->ai_family, one->ai_socktype | SOCK_NONBLOCK | SOCK_CLOEXEC, 0);
    if (socket < 0) {
      last_error = errno;
      continue;
    }
    const int on = 1;
    const int off = 0;
    ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &on, sizeof on);
    if (one->ai_family == AF_INET6) {
      ::setsockopt(socket, IPPROTO_IPV6, IPV6_V6ONLY, &off, sizeof off);
    }
    if (::bind(socket, one->ai_addr, one->ai_addrlen) != 0 || ::listen(socket, kBacklog) != 0) {
      last_error = errno;
      ::close(socket);
      socket = -1;
    }
  }
  ::freeaddrinfo(found);
  if (socket < 0) cannot_listen(wishes, last_error);
  return socket;
}

int port_of(int socket) {
  sockaddr_storage address{};
  socklen_t size = sizeof address;
  ::getsockname(socket, reinterpret_cast<sockaddr*>(&address), &size);
  std::uint16_t port = 0;
  if (address.ss_family == AF_INET) {
    sockaddr_in four{};
    std::memcpy(&four, &address, sizeof four);
    port = four.sin_port;
  } else {
    sockaddr_in6 six{};
    std::memcpy(&six, &address, sizeof six);
    port = six.sin6_port;
  }
  return ntohs(port);
}

/// Shells give a program 1,024 descriptors; a busy evening may need more.
void raise_descriptor_limit() {
  rlimit limit{};
  if (::getrlimit(RLIMIT_NOFILE, &limit) != 0) return;
  const rlim_t wanted = std::min<rlim_t>(limit.rlim_max, 4096);
  if (limit.rlim_cur >= wanted) return;
  limit.rlim_cur = wanted;
  ::setrlimit(RLIMIT_NOFILE, &limit);
}

std::vector<std::string> allowed_hosts(const ServerWishes& wishes) {
  std::vector<std::string> hosts = {"localhost", "127.0.0.1", "[::1]"};
  for (std::string host : wishes.hosts) {
    std::transform(host.begin(), host.end(), host.begin(), [](unsigned char c) {
      return static_cast<char>(std::tolower(c));
    });
    if (host.find(':') != std::string::npos && !host.starts_with('[')) host = "[" + host + "]";
    hosts.push_back(std::move(host));
  }
  return hosts;
}

}  // namespace

class WebServer::Inside {
 public:
  Inside(Site& site, const ServerWishes& wishes) : library_(site, !wishes.certificate.empty()) {
    raise_descriptor_limit();
    // OpenSSL writes to sockets whose other end is gone: that must not end the program
    std::signal(SIGPIPE, SIG_IGN);
    Gate::Wishes gate;
    gate.hosts = allowed_hosts(wishes);
    gate.threads = wishes.threads;
    gate.limits.to_arrive = wishes.to_arrive;
    if (!wishes.certificate.empty()) {
      gate.tls = std::make_shared<TlsContext>(wishes.certificate, wishes.key);
    }
    gate.answer = [this](const std::string& request, const std::string& address) {
      return library_.answer(request, address);
    };
    gate.log = [&site](const std::string& what) { site.log(what); };
    const int socket = listening_socket(wishes);
    port_ = port_of(socket);
    gate_ = std::make_unique<Gate>(socket, std::move(gate));
  }

  Library library_;
  int port_ = 0;
  std::unique_ptr<Gate> gate_;
};

WebServer::WebServer(Site& site, const ServerWishes& wishes)
    : inside_(std::make_unique<Inside>(site, wishes)) {}
WebServer::~WebServer() = default;

int WebServer::port() const {
  return inside_->port_;
}
void WebServer::run() {
  inside_->gate_->run();
}
void WebServer::stop() {
  inside_->gate_->stop();
}

}  // namespace gp
