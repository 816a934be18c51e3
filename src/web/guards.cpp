#include "web/guards.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>

namespace gp {
namespace {

/// RFC 9110, section 5.6.2: the characters of a token.
bool is_token(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](unsigned char c) {
    return c < 0x80 && (std::isalnum(c) != 0 ||
                        std::string_view("!#$%&'*+-.^_`|~").find(static_cast<char>(c)) !=
                            std::string_view::npos);
  });
}

bool has_control(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](unsigned char c) {
    return (c < 0x20 && c != '\t') || c == 0x7F;
  });
}

std::string_view without_blanks(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), [](unsigned char c) {
    return static_cast<char>(std::tolower(c));
  });
  return out;
}

/// The host of a Host header: its port taken off, in lower case. "[::1]:8080" gives "[::1]".
std::string host_of(std::string_view header) {
  const std::size_t bracket = header.rfind(']');
  const std::size_t colon = header.rfind(':');
  if (colon != std::string_view::npos && (bracket == std::string_view::npos || colon > bracket)) {
    header = header.substr(0, colon);
  }
  return lower(header);
}

int read_request_line(std::string_view line, RequestHead& head) {
  const std::size_t first = line.find(' ');
  const std::size_t last = line.rfind(' ');
  if (first == std::string_view::npos || first == last) return 400;
  const std::string_view method = line.substr(0, first);
  const std::string_view target = line.substr(first + 1, last - first - 1);
  const std::string_view version = line.substr(last + 1);
  if (!is_token(method)) return 400;
  if (version != "HTTP/1.1" && version != "HTTP/1.0")
    return version.starts_with("HTTP/") ? 505 : 400;
  if (target.size() > kMostTargetBytes) return 414;
  // one address of ours; no proxy's, no blanks, nothing that is not ASCII
  if (!target.starts_with('/') || std::any_of(target.begin(), target.end(), [](unsigned char c) {
        return c <= 0x20 || c >= 0x7F;
      })) {
    return 400;
  }
  if (method != "GET" && method != "HEAD" && method != "POST") return 405;
  head.method = method;
  head.target = target;
  return 0;
}

int read_header_line(std::string_view line, RequestHead& head) {
  if (head.headers.size() == kMostHeaders) return 431;
  const std::size_t colon = line.find(':');
  if (colon == std::string_view::npos || !is_token(line.substr(0, colon))) return 400;
  const std::string_view value = without_blanks(line.substr(colon + 1));
  if (has_control(value)) return 400;
  head.headers.emplace_back(lower(line.substr(0, colon)), std::string(value));
  return 0;
}

int check_framing(RequestHead& head) {
  const auto how_many = [&](std::string_view name) {
    return std::count_if(head.headers.begin(), head.headers.end(), [&](const auto& one) {
      return one.first == name;
    });
  };
  // the library ignores its limit for chunked bodies (CVE-2025-46728, CVE-2026-45352)
  if (head.find("transfer-encoding") != nullptr) return 411;
  // and unpacks bodies without a limit (CVE-2026-22776, CVE-2026-28435)
  if (head.find("content-encoding") != nullptr) return 415;
  if (how_many("content-length") > 1) return 400;
  if (const std::string* length = head.find("content-length")) {
    const char* const end = length->data() + length->size();
    const auto [at, error] = std::from_chars(length->data(), end, head.body_bytes);
    if (error == std::errc::result_out_of_range) return 413;
    if (error != std::errc() || at != end) return 400;
  } else if (head.method == "POST") {
    return 411;
  }
  // a body that is left in the socket would be run as a request of its own (CVE-2026-34441)
  if (head.method != "POST" && head.body_bytes > 0) return 400;
  return head.body_bytes > kMostBodyBytes ? 413 : 0;
}

const char* reason_of(int status) {
  switch (status) {
    case 405:
      return "Method Not Allowed";
    case 408:
      return "Request Timeout";
    case 411:
      return "Length Required";
    case 413:
      return "Content Too Large";
    case 414:
      return "URI Too Long";
    case 415:
      return "Unsupported Media Type";
    case 421:
      return "Misdirected Request";
    case 431:
      return "Request Header Fields Too Large";
    case 500:
      return "Internal Server Error";
    case 503:
      return "Service Unavailable";
    case 505:
      return "HTTP Version Not Supported";
    default:
      return "Bad Request";
  }
}

const char* words_of(int status) {
  switch (status) {
    case 408:
      return "The request took too long to arrive. Please try again.";
    case 413:
      return "What you sent is too long. Go back, shorten it, and send it again.";
    case 421:
      return "These pages are not known under this name. Use the address on the poster.";
    case 500:
      return "Something went wrong here. Please try again.";
    case 503:
      return "Too much at once just now. Please try again.";
    default:
      return "This request cannot be answered.";
  }
}

}  // namespace

const std::string* RequestHead::find(std::string_view name) const {
  for (const auto& [key, value] : headers) {
    if (key == name) return &value;
  }
  return nullptr;
}

int read_head(std::string_view bytes, const std::vector<std::string>& hosts, RequestHead& head) {
  bool first = true;
  while (!bytes.empty()) {
    const std::size_t end = bytes.find("\r\n");
    if (end == std::string_view::npos) return 400;
    const std::string_view line = bytes.substr(0, end);
    bytes.remove_prefix(end + 2);
    if (line.find('\n') != std::string_view::npos || line.find('\r') != std::string_view::npos) {
      return 400;
    }
    if (!first && line.empty()) break;
    const int refused = first ? read_request_line(line, head) : read_header_line(line, head);
    if (refused != 0) return refused;
    first = false;
  }
  // a name of somebody else's that points here would make their page ours (DNS rebinding)
  if (std::count_if(head.headers.begin(), head.headers.end(), [](const auto& one) {
        return one.first == "host";
      }) != 1) {
    return 400;
  }
  if (std::find(hosts.begin(), hosts.end(), host_of(*head.find("host"))) == hosts.end()) return 421;
  return check_framing(head);
}

std::string vetted_request(const RequestHead& head, std::string_view body) {
  // Range (issue 1766 of the library), Expect, Connection, REMOTE_ADDR, X-Forwarded-For and all
  // others stay outside
  static constexpr std::array<std::string_view, 8> kWanted = {"host",
                                                              "cookie",
                                                              "accept-language",
                                                              "content-type",
                                                              "origin",
                                                              "sec-fetch-site",
                                                              "user-agent",
                                                              "referer"};
  std::string out = head.method + " " + head.target + " HTTP/1.1\r\n";
  for (const auto& [name, value] : head.headers) {
    if (std::find(kWanted.begin(), kWanted.end(), name) == kWanted.end()) continue;
    out += name;
    out += ": ";
    // the library decodes %XX in headers, line ends too (CVE-2026-45372): ours arrive as sent
    for (const char c : value) {
      if (c == '%') {
        out += "%25";
      } else {
        out += c;
      }
    }
    out += "\r\n";
  }
  // packing answers is for what holds no secret: a page that mirrors what was sent and a secret
  // besides would tell the secret by its length (BREACH)
  const std::string* packed = head.find("accept-encoding");
  const std::string_view path = std::string_view(head.target).substr(0, head.target.find('?'));
  if (packed != nullptr && packed->find("gzip") != std::string::npos &&
      (path.ends_with(".css") || path.ends_with(".js"))) {
    out += "accept-encoding: gzip\r\n";
  }
  if (head.method == "POST") out += "content-length: " + std::to_string(body.size()) + "\r\n";
  out += "connection: close\r\n\r\n";
  out += body;
  return out;
}

const std::vector<std::pair<std::string, std::string>>& safe_headers() {
  static const std::vector<std::pair<std::string, std::string>> all = {
      {"Content-Security-Policy",
       "default-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; "
       "form-action 'self'"},
      {"X-Content-Type-Options", "nosniff"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"X-Frame-Options", "DENY"},
      {"Permissions-Policy", "camera=(), microphone=(), geolocation=()"},
  };
  return all;
}

std::string plain_answer(int status) {
  const std::string body = std::string(words_of(status)) + "\n";
  std::string out = "HTTP/1.1 " + std::to_string(status) + " " + reason_of(status) + "\r\n";
  for (const auto& [name, value] : safe_headers()) out += name + ": " + value + "\r\n";
  if (status == 405) out += "Allow: GET, HEAD, POST\r\n";
  out +=
      "Referrer-Policy: same-origin\r\nCache-Control: no-store\r\n"
      "Content-Type: text/plain; charset=utf-8\r\nContent-Length: " +
      std::to_string(body.size()) + "\r\nConnection: close\r\n\r\n" + body;
  return out;
}

}  // namespace gp
