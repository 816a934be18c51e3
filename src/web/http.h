#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// A request as the pages see it: decoded once, checked for size and for control characters.
struct HttpRequest {
  std::string method;  ///< GET, HEAD or POST
  std::string path;    ///< decoded, begins with '/'
  std::map<std::string, std::string> query;
  /// Fields of a form (application/x-www-form-urlencoded) in the order sent; a name may come again.
  std::vector<std::pair<std::string, std::string>> form;
  std::map<std::string, std::string> cookies;
  std::map<std::string, std::string> headers;  ///< names in lower case; no cookie among them
  std::string address;                         ///< of the other end; never from a header
  bool tls = false;

  /// The first value of a field; empty where there is none.
  [[nodiscard]] std::string field(std::string_view name) const;
  [[nodiscard]] std::vector<std::string> fields(std::string_view name) const;
  [[nodiscard]] bool has_field(std::string_view name) const;
};

struct HttpCookie {
  std::string name, value;
  std::optional<int> seconds;  ///< how long it lives; none: until the browser closes; 0: gone
};

struct HttpAnswer {
  int status = 200;
  std::string type = "text/html; charset=utf-8";
  std::string body;
  std::vector<std::pair<std::string, std::string>> headers;  ///< besides the safe ones all get
  std::vector<HttpCookie> cookies;  ///< HttpOnly, SameSite=Lax, Path=/, Secure with TLS
  bool may_be_kept = false;         ///< no personal data: the browser may keep it (style, script)

  static HttpAnswer page(std::string body, int status = 200);
  static HttpAnswer go_to(std::string address);  ///< 303, after a form
  static HttpAnswer download(std::string type, std::string name, std::string body);
  static HttpAnswer json(std::string body);
};

/// `%41` is `A`, once; none: a broken escape. \param plus_is_space  as in forms
std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_space);
/// Everything but RFC 3986's unreserved characters escaped: safe as one piece of an address.
std::string percent_encoded(std::string_view text);
/// What somebody typed: line ends become '\n', tabs spaces, other control characters are left out.
/// None: not UTF-8.
std::optional<std::string> cleaned_text(std::string_view text);
/// The fields of a form (application/x-www-form-urlencoded, WHATWG URL section 5.1), each cleaned.
/// None: a broken escape, not UTF-8, or more than 2,000 fields.
std::optional<std::vector<std::pair<std::string, std::string>>> read_form(std::string_view body);
/// A Cookie header (RFC 6265, section 4.2); values are taken as they stand.
std::map<std::string, std::string> read_cookies(std::string_view header);

}  // namespace gp
