#include "base/errors.h"
#include "base/files.h"
#include "web/site.h"

#include <array>
#include <memory>

namespace gp {
namespace {

constexpr int kPersonalSeconds = 180 * 24 * 60 * 60;
constexpr std::size_t kMostFileBytes = 1'000'000;
constexpr std::size_t kMostPassphrase = 512;  // bytes looked at; far above what people type

/// An address of our own pages, so that nobody is led elsewhere after logging in.
bool is_local(const std::string& address) {
  return address.starts_with('/') && !address.starts_with("//") &&
         address.find('\\') == std::string::npos;
}

struct LogInPage {
  Sessions::Role role;
  const char* path;
  const char* words;  ///< the beginning of its keys
  const char* then;   ///< where to go when nothing else was asked for
};
constexpr LogInPage kOrganiserPage = {
    Sessions::Role::organiser, "/log-in", "log_in.organiser", "/organise"};
constexpr LogInPage kDoorPage = {Sessions::Role::door, "/door/log-in", "log_in.door", "/door"};

HttpAnswer show_log_in(Visit& visit,
                       const LogInPage& page,
                       const std::string& to,
                       const std::string& problem,
                       int status) {
  const std::string key = page.words;
  const std::string title = visit.say("shared", key + ".title");
  ViewData data;
  data.set("HEADING", title)
      .set("INTRO", visit.say("shared", key + ".intro"))
      .set("LABEL", visit.say("shared", key + ".label"))
      .set("ACTION", page.path)
      .set("TO", to)
      .set("CSRF", visit.csrf);
  if (!problem.empty()) data.add("PROBLEM").set("WHAT", problem);
  return visit.site.show(
      visit,
      "shared/log_in",
      problem.empty() ? title : visit.say("shared", "log_in.problem", {{"title", title}}),
      data,
      status);
}

std::string wanted_page(const std::string& given, const LogInPage& page) {
  return is_local(given) ? given : page.then;
}

HttpAnswer ask_for_secret(Visit& visit, const LogInPage& page) {
  const auto found = visit.request.query.find("to");
  return show_log_in(visit,
                     page,
                     wanted_page(found == visit.request.query.end() ? "" : found->second, page),
                     "",
                     200);
}

HttpAnswer take_secret(Visit& visit, const LogInPage& page) {
  const HttpRequest& request = visit.request;
  const std::string to = wanted_page(request.field("to"), page);
  const auto old = request.cookies.find(std::string(kSessionCookie));
  const Sessions::Entry entry =
      visit.site.sessions().log_in(page.role,
                                   request.field("secret").substr(0, kMostPassphrase),
                                   request.address,
                                   old == request.cookies.end() ? "" : old->second,
                                   visit.now);
  const std::string who = page.role == Sessions::Role::organiser ? "organiser" : "door";
  if (entry.result == Sessions::Try::too_often) {
    visit.site.log("log-in of the " + who + " refused: too many tries, from " + request.address);
    const std::int64_t minutes = (entry.wait + 59) / 60;
    HttpAnswer answer = show_log_in(
        visit, page, to, visit.say("shared", "log_in.too_often", {{"minutes", minutes}}), 429);
    answer.headers.emplace_back("Retry-After", std::to_string(entry.wait));
    return answer;
  }
  if (entry.result == Sessions::Try::wrong) {
    visit.site.log("log-in of the " + who + " failed, from " + request.address);
    return show_log_in(
        visit, page, to, visit.say("shared", std::string(page.words) + ".wrong"), 403);
  }
  visit.site.log("log-in of the " + who + ", from " + request.address);
  HttpAnswer answer = HttpAnswer::go_to(to);
  answer.cookies.push_back({std::string(kSessionCookie), entry.cookie, std::nullopt});
  // forms shown before the log-in are worth nothing after it
  answer.cookies.push_back({std::string(kVisitorCookie), new_secret(), std::nullopt});
  return answer;
}

HttpAnswer log_out(Visit& visit) {
  const auto found = visit.request.cookies.find(std::string(kSessionCookie));
  if (found != visit.request.cookies.end()) visit.site.sessions().log_out(found->second);
  visit.site.log("log-out, from " + visit.request.address);
  HttpAnswer answer = HttpAnswer::go_to("/");
  answer.cookies.push_back({std::string(kSessionCookie), "", 0});
  return answer;
}

/// A personal link: exchanged for a cookie at once, so that the secret leaves the address bar, the
/// history and whatever the page links to. Changes nothing: mail programs open links by themselves.
HttpAnswer open_link(Visit& visit) {
  const std::string& secret = visit.path.front();
  const auto sign_up =
      looks_like_secret(secret) ? visit.site.book().opened_by(secret) : std::nullopt;
  if (!sign_up) return visit.site.show_error(visit, 404);
  HttpAnswer answer = HttpAnswer::go_to("/me/" + percent_encoded(*sign_up));
  answer.cookies.push_back({personal_cookie(*sign_up), secret, kPersonalSeconds});
  answer.headers.emplace_back("Referrer-Policy", "no-referrer");
  return answer;
}

struct LookFile {
  const char* name;
  const char* type;
};
constexpr std::array<LookFile, 3> kLook = {{{"style.css", "text/css; charset=utf-8"},
                                            {"script.js", "text/javascript; charset=utf-8"},
                                            {"mark.svg", "image/svg+xml"}}};

}  // namespace

void add_shared_pages(Site& site) {
  for (const LookFile& file : kLook) {
    HttpAnswer answer;
    answer.type = file.type;
    answer.body = Disk().read(site.parts().templates_dir + "/pages/" + file.name, kMostFileBytes);
    answer.may_be_kept = true;
    site.add(
        {"GET", std::string("/") + file.name, Access::anyone, [answer](Visit&) { return answer; }});
  }
  for (const LogInPage& page : {kOrganiserPage, kDoorPage}) {
    site.add({"GET", page.path, Access::anyone, [page](Visit& visit) {
                return ask_for_secret(visit, page);
              }});
    site.add({"POST", page.path, Access::anyone, [page](Visit& visit) {
                return take_secret(visit, page);
              }});
  }
  site.add({"POST", "/log-out", Access::anyone, log_out});
  site.add({"GET", "/p/:secret", Access::anyone, open_link});
}

}  // namespace gp
