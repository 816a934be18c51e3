#pragma once

#include "store/book.h"
#include "web/http.h"
#include "web/plan_shelf.h"
#include "web/planning.h"
#include "web/sessions.h"
#include "web/views.h"

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// Who may ask for a page.
enum class Access {
  anyone,
  person,     ///< holds the personal link of the sign-up named by `:id` in the path
  door,       ///< gave the helper's code, or is the organiser
  organiser,  ///< gave the passphrase
};

class Site;

/// One request on its way through the pages: all that a page may use.
struct Visit {
  Site& site;
  const HttpRequest& request;
  std::vector<std::string> path;   ///< what `:id` and the like stood for, in order
  std::string language;            ///< of the reader
  std::string csrf;                ///< put into every form as the field "csrf"
  std::string visitor;             ///< random name of this browser, not of a person
  Access access = Access::anyone;  ///< what the visitor is let in for
  UnixTime now = 0;

  [[nodiscard]] std::string say(std::string_view room,
                                std::string_view key,
                                const std::vector<WordValue>& values = {}) const;
};

struct Route {
  std::string method;   ///< GET (also answers HEAD) or POST
  std::string pattern;  ///< "/me/:id/late": `:name` stands for one piece without '/'
  Access access = Access::anyone;
  std::function<HttpAnswer(Visit&)> answer;
};

/// The pages, without a network: a request in, an answer out. Tests talk to it directly.
/// Finds the route (the one added first of several that fit); refuses who may not (a missing
/// passphrase goes to the log-in page, a wrong personal link is "not found"); refuses a POST from
/// another site or with a wrong "csrf" field; turns errors into pages.
/// Threads: answer() from any, once all routes are added.
class Site {
 public:
  struct Parts {
    Book& book;
    Views& views;
    Sessions& sessions;
    Planning& planning;
    std::string templates_dir;  ///< of the sheets
    std::function<UnixTime()> clock;
    std::string address;  ///< "http://192.168.1.20:8080", for links and the poster
    /// One line for the log on standard error: what happened, never a name, a secret or an answer.
    std::function<void(const std::string&)> log = {};
  };
  /// \throws WorldError  the files of the look are not there
  explicit Site(Parts parts);

  /// Never throws: what goes wrong is a page of its own, without details.
  HttpAnswer answer(const HttpRequest& request);

  void add(Route route);
  /// Once the port is known; before the first answer.
  void set_address(std::string address) { parts_.address = std::move(address); }
  /// Tells the log: log-ins, refusals, exports, deletions. No personal data, no secrets.
  void log(const std::string& what) const;
  [[nodiscard]] Book& book() { return parts_.book; }
  [[nodiscard]] Views& views() { return parts_.views; }
  [[nodiscard]] Sessions& sessions() { return parts_.sessions; }
  [[nodiscard]] Planning& planning() { return parts_.planning; }
  [[nodiscard]] PlanShelf& plans() { return plans_; }
  [[nodiscard]] const Parts& parts() const { return parts_; }

  /// A page in the layout, with everything the frame needs of the visit.
  HttpAnswer show(Visit& visit,
                  const std::string& page,
                  const std::string& title,
                  const ViewData& data,
                  int status = 200);

  /// A page that says why there is no other: 400, 403, 404, 405, 429, 500, 503.
  HttpAnswer show_error(Visit& visit, int status);

 private:
  HttpAnswer answer_in(Visit& visit);
  std::optional<HttpAnswer> refuse(Visit& visit, const Route& route);

  Parts parts_;
  PlanShelf plans_;
  std::vector<Route> routes_;
};

// Cookies, by their plain names (over TLS the server writes them as `__Host-…`).
inline constexpr std::string_view kVisitorCookie = "visitor";    ///< this browser, for its forms
inline constexpr std::string_view kLanguageCookie = "language";  ///< chosen by the reader
inline constexpr std::string_view kSessionCookie = "session";    ///< of Sessions::log_in()
/// "me_ID": the secret of the personal link of the sign-up ID.
std::string personal_cookie(std::string_view sign_up);

/// The rooms of the pages; each adds its routes. serve and the tests call all of them.
void add_shared_pages(Site& site);     ///< style, script, log-in, log-out, not found
void add_friends_pages(Site& site);    ///< sign-up, personal pages
void add_organiser_pages(Site& site);  ///< everything under /organise and /door

}  // namespace gp
