#include "web/site.h"

#include "base/errors.h"

#include <algorithm>
#include <exception>
#include <string_view>
#include <utility>

namespace gp {
namespace {

constexpr int kVisitorSeconds = 180 * 24 * 60 * 60;

std::vector<std::string_view> pieces_of(std::string_view path) {
  std::vector<std::string_view> pieces;
  std::size_t from = 1;
  while (from <= path.size()) {
    const std::size_t end = std::min(path.find('/', from), path.size());
    pieces.push_back(path.substr(from, end - from));
    from = end + 1;
  }
  return pieces;
}

/// What the `:name`s stand for; none: the path does not fit. A piece is never empty.
std::optional<std::vector<std::string>> fits(std::string_view pattern, std::string_view path) {
  const auto wanted = pieces_of(pattern);
  const auto given = pieces_of(path);
  if (wanted.size() != given.size()) return std::nullopt;
  std::vector<std::string> values;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (wanted[i].starts_with(':')) {
      if (given[i].empty()) return std::nullopt;
      values.emplace_back(given[i]);
    } else if (wanted[i] != given[i]) {
      return std::nullopt;
    }
  }
  return values;
}

std::string header(const HttpRequest& request, const std::string& name) {
  const auto found = request.headers.find(name);
  return found == request.headers.end() ? "" : found->second;
}

std::string cookie(const HttpRequest& request, std::string_view name) {
  const auto found = request.cookies.find(std::string(name));
  return found == request.cookies.end() ? "" : found->second;
}

/// Whether a form was sent by a page of our own, as far as the browser says.
/// Source: Fetch Metadata Request Headers (W3C), "Sec-Fetch-Site"; RFC 6454, "Origin".
bool from_our_pages(const HttpRequest& request) {
  const std::string site = header(request, "sec-fetch-site");
  if (!site.empty()) return site == "same-origin" || site == "none";
  const std::string origin = header(request, "origin");
  if (origin.empty()) return true;  // an old browser; the form's secret alone decides
  return origin == (request.tls ? "https://" : "http://") + header(request, "host");
}

bool is_loopback(const std::string& address) {
  return address.starts_with("127.") || address == "::1" || address.starts_with("::ffff:127.");
}

std::string contact_of(const Production& production) {
  const Contact& contact = production.contact;
  if (contact.name.empty() || contact.phone.empty()) return contact.name + contact.phone;
  return contact.name + ", " + contact.phone;
}

std::string room_of(const std::string& page) {
  return page.substr(0, page.find('/'));
}

}  // namespace

std::string personal_cookie(std::string_view sign_up) {
  return "me_" + std::string(sign_up);
}

std::string Visit::say(std::string_view room,
                       std::string_view key,
                       const std::vector<WordValue>& values) const {
  return site.views().say(room, language, key, values);
}

Site::Site(Parts parts) : parts_(std::move(parts)), plans_(parts_.book, parts_.templates_dir) {}

void Site::add(Route route) {
  routes_.push_back(std::move(route));
}

void Site::log(const std::string& what) const {
  if (parts_.log) parts_.log(what);
}

HttpAnswer Site::answer(const HttpRequest& request) {
  const UnixTime now = parts_.clock();
  Visit visit{*this, request, {}, "en", "", "", Access::anyone, now};
  HttpAnswer extra;  // its cookies go with whatever is answered
  HttpAnswer answer;
  try {
    visit.language = parts_.views.language_for(header(request, "accept-language"));
    // chosen by hand (friends/friends.cpp): before what the browser says
    const auto& known = parts_.views.languages();
    const std::string chosen = cookie(request, kLanguageCookie);
    if (std::find(known.begin(), known.end(), chosen) != known.end()) visit.language = chosen;
    visit.visitor = cookie(request, kVisitorCookie);
    if (!looks_like_secret(visit.visitor)) {
      visit.visitor = new_secret();
      extra.cookies.push_back({std::string(kVisitorCookie), visit.visitor, kVisitorSeconds});
    }
    visit.csrf = parts_.sessions.csrf_for(visit.visitor);
    try {
      answer = answer_in(visit);
    } catch (const WorldError& error) {
      log(std::string("could not answer: ") + error.what());
      answer = show_error(visit, 503);
    } catch (const std::exception& error) {
      log(std::string("a mistake of the program, please report it: ") + error.what());
      answer = show_error(visit, 500);
    }
  } catch (const std::exception& error) {
    // not even the page that says so: nothing of the cause goes out
    log(std::string("could not show an error: ") + error.what());
    answer = HttpAnswer();
    answer.status = 500;
    answer.type = "text/plain; charset=utf-8";
    answer.body = "Something went wrong here. Please try again.\n";
  }
  if (!answer.may_be_kept) {
    for (HttpCookie& one : extra.cookies) {
      const bool there = std::any_of(answer.cookies.begin(),
                                     answer.cookies.end(),
                                     [&](const HttpCookie& own) { return own.name == one.name; });
      if (!there) answer.cookies.push_back(std::move(one));
    }
  }
  return answer;
}

HttpAnswer Site::answer_in(Visit& visit) {
  const HttpRequest& request = visit.request;
  const std::string method = request.method == "HEAD" ? "GET" : request.method;
  if (method != "GET" && method != "POST") return show_error(visit, 405);
  bool other_method = false;
  for (const Route& route : routes_) {
    auto values = fits(route.pattern, request.path);
    if (!values) continue;
    if (route.method != method) {
      other_method = true;
      continue;
    }
    visit.path = std::move(*values);
    if (auto refused = refuse(visit, route)) return std::move(*refused);
    return route.answer(visit);
  }
  if (!other_method) return show_error(visit, 404);
  HttpAnswer answer = show_error(visit, 405);
  answer.headers.emplace_back("Allow", method == "GET" ? "POST" : "GET, HEAD");
  return answer;
}

std::optional<HttpAnswer> Site::refuse(Visit& visit, const Route& route) {
  const HttpRequest& request = visit.request;
  if (request.method == "POST") {
    if (!from_our_pages(request)) {
      log("refused a form sent from another site, from " + request.address);
      return show_error(visit, 403);
    }
    if (!parts_.sessions.csrf_right(visit.visitor, request.field("csrf"))) {
      log("refused a form without its secret, from " + request.address);
      return show_error(visit, 403);
    }
  }
  const auto role = parts_.sessions.role_of(cookie(request, kSessionCookie), visit.now);
  const bool organiser = role == Sessions::Role::organiser;
  if (organiser) visit.access = Access::organiser;
  if (role == Sessions::Role::door) visit.access = Access::door;
  const auto log_in = [&](const std::string& page) {
    // what was typed into a form is lost with the session; the page it belongs to is shown again
    return HttpAnswer::go_to(
        page + (request.method == "POST" ? "" : "?to=" + percent_encoded(request.path)));
  };
  switch (route.access) {
    case Access::anyone:
      return std::nullopt;
    case Access::organiser:
      if (organiser) return std::nullopt;
      return log_in("/log-in");
    case Access::door:
      if (role) return std::nullopt;
      return log_in("/door/log-in");
    case Access::person: {
      // wrong, expired, revoked, never there: one answer for all
      if (visit.path.empty()) return show_error(visit, 404);
      const std::string link = cookie(request, personal_cookie(visit.path.front()));
      if (!looks_like_secret(link) || parts_.book.opened_by(link) != visit.path.front()) {
        return show_error(visit, 404);
      }
      visit.access = Access::person;
      return std::nullopt;
    }
  }
  return show_error(visit, 404);
}

HttpAnswer Site::show(Visit& visit,
                      const std::string& page,
                      const std::string& title,
                      const ViewData& data,
                      int status) {
  const auto state = parts_.book.state();
  Views::Frame frame;
  frame.title = title;
  frame.language = visit.language;
  frame.room = room_of(page);
  frame.film = state->production->title;
  frame.contact = contact_of(*state->production);
  frame.csrf = visit.csrf;
  frame.organiser = visit.access == Access::organiser;
  frame.plain_http = !visit.request.tls && !is_loopback(visit.request.address);
  return HttpAnswer::page(parts_.views.page(page, data, frame), status);
}

HttpAnswer Site::show_error(Visit& visit, int status) {
  const std::string key = "error." + std::to_string(status);
  ViewData data;
  data.set("HEADING", visit.say("shared", key + ".heading"));
  data.set("TEXT", visit.say("shared", key + ".text"));
  data.set("CSRF", visit.csrf);
  return show(visit, "shared/error", visit.say("shared", key + ".heading"), data, status);
}

}  // namespace gp
