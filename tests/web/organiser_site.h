#pragma once

#include "support/temporary_folder.h"
#include "web/planning.h"
#include "web/secrets.h"
#include "web/site.h"
#include "web/views.h"

#include <chrono>
#include <memory>
#include <stdexcept>
#include <string>
#include <thread>
#include <utility>
#include <variant>
#include <vector>

namespace gp::test {

/// The templates, read once for all tests of this program: reading them takes a while.
inline Views& shared_views() {
  static Views views(std::string(GP_SOURCE_DIR) + "/templates");
  return views;
}

/// 2027-04-10T10:00:00Z, a Saturday: a week before the days of the film below.
inline constexpr UnixTime kNow = 1'807'351'200;

/// A film with a bit of everything that the organiser's pages show.
inline std::string small_film() {
  return R"json({
  "greasepaint": 1, "title": "The Borrowed Moon", "language": "en-GB", "zone": "Europe/Dublin",
  "contact": {"name": "Ada", "phone": "0131 496 0000"},
  "days": [
    {"date": "2027-04-17", "base": "hall", "nobody_before": "08:00", "first_shot": "09:30", "wrap_by": "17:00",
     "meals": [{"name": "lunch", "minutes": 40, "between": "12:00-14:30"}]},
    {"date": "2027-04-18", "base": "hall", "nobody_before": "08:00", "wrap_by": "17:00"}],
  "places": [{"id": "hall", "name": "Hall", "lat": 53.35, "lon": -6.26},
             {"id": "pier", "name": "Pier", "minutes_to": {"hall": 6}}],
  "people": [
    {"id": "ines", "name": "Inês", "can": ["paint"], "phone": "0131 496 0001"},
    {"id": "tom", "name": "Tom", "free": ["2027-04-17 08:00-13:00"]},
    {"id": "wen", "name": "Wen", "no": ["water"], "answer": "maybe"},
    {"id": "kit", "name": "Kit", "guardian": "tom", "skin": "nut oil", "food": "no milk"}],
  "roles": [{"id": "moon", "name": "The Moon", "person": "tom", "look": "moon"},
            {"id": "fisher", "name": "Fisherfolk", "crowd": true}],
  "looks": [{"id": "moon", "tags": ["face-paint"],
             "steps": [{"at": "paint", "minutes": 20, "by": "paint", "then_wait": 5}],
             "off": [{"at": "sink", "minutes": 10}], "items": ["cloak"]}],
  "stations": [{"id": "paint", "name": "Paint", "staff": ["ines"], "set_minutes": 10}, {"id": "sink", "name": "Sink"}],
  "items": [{"id": "cloak", "name": "Silver cloak", "count": 2}],
  "scenes": [
    {"id": "theft", "name": "The theft", "place": "pier", "set_minutes": 15, "shoot_minutes": 30,
     "cast": [{"role": "moon"}, {"role": "fisher", "people": 1}], "hazards": ["fog"]},
    {"id": "return", "name": "The return", "shoot_minutes": 20, "cast": [{"role": "moon"}], "after": ["theft"],
     "crew": [{"job": "light", "people": 1}]}]
})json";
}

/// A book with pages around it and an organiser who is logged in.
class OrganiserSite {
 public:
  explicit OrganiserSite(const std::string& production = small_film())
      : book_(make(folder_.file("film.book"), production)),
        sessions_(*book_),
        planning_(*book_, [this] { return now; }),
        site_({*book_,
               shared_views(),
               sessions_,
               planning_,
               std::string(GP_SOURCE_DIR) + "/templates",
               [this] { return now; },
               "http://192.168.1.20:8080",
               [this](const std::string& line) { log += line + "\n"; }}) {
    add_shared_pages(site_);
    add_organiser_pages(site_);
    visitor_ = new_secret();
  }

  Book& book() { return *book_; }
  Site& site() { return site_; }

  /// Gives the passphrase (or the door's code) and stays logged in.
  void log_in(Sessions::Role role = Sessions::Role::organiser) {
    static const std::string kHash = hash_passphrase("three wet herrings");
    static const std::string kCodeHash = hash_passphrase(plain_code("three wet herrings"));
    if (role == Sessions::Role::organiser) {
      book_->set_secret("passphrase", kHash);
    } else {
      book_->set_secret("door-code", kCodeHash);
    }
    const auto entry = sessions_.log_in(role, "three wet herrings", "127.0.0.1", "", now);
    if (entry.result != Sessions::Try::let_in) throw std::runtime_error("not let in");
    session_ = entry.cookie;
  }
  void log_out() { session_.clear(); }

  HttpAnswer get(const std::string& address) {
    HttpRequest request = made("GET", address);
    return site_.answer(request);
  }
  using Fields = std::vector<std::pair<std::string, std::string>>;
  /// A form of ours: with its secret.
  HttpAnswer post(const std::string& address, Fields fields) {
    HttpRequest request = made("POST", address);
    request.form = std::move(fields);
    request.form.emplace_back("csrf", sessions_.csrf_for(visitor_));
    return site_.answer(request);
  }
  HttpAnswer post_without_secret(const std::string& address, Fields fields) {
    HttpRequest request = made("POST", address);
    request.form = std::move(fields);
    return site_.answer(request);
  }

  /// A sign-up as it comes from the friends' pages. \return its id
  std::string signs_up(SignUp sign_up) {
    const auto entered = book_->enter(std::move(sign_up), new_secret(), new_secret(), now);
    if (!std::holds_alternative<Book::Entered>(entered)) throw std::runtime_error("refused");
    return std::get<Book::Entered>(entered).id;
  }
  std::string signs_up(const std::string& name) {
    SignUp sign_up;
    sign_up.name = name;
    sign_up.may_be_filmed = true;
    return signs_up(std::move(sign_up));
  }
  /// Plans and waits for it; nothing here takes longer than some seconds.
  void plan() {
    Wishes wishes;
    wishes.effort = 0.05;
    planning_.start(wishes);
    while (planning_.state().kind == Planning::State::Kind::running) {
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
  }

  UnixTime now = kNow;
  std::string log;

 private:
  static std::unique_ptr<Book> make(const std::string& path, const std::string& production) {
    if (!Book::make(path, production, kNow - 1000).empty()) throw std::runtime_error("bad film");
    return std::make_unique<Book>(path);
  }
  HttpRequest made(const std::string& method, const std::string& address) {
    HttpRequest request;
    request.method = method;
    const std::size_t mark = address.find('?');
    request.path = address.substr(0, mark);
    std::string rest = mark == std::string::npos ? "" : address.substr(mark + 1);
    rest = rest.substr(0, rest.find('#'));
    while (!rest.empty()) {
      const std::size_t end = rest.find('&');
      const std::string pair = rest.substr(0, end);
      const std::size_t equals = pair.find('=');
      request.query[pair.substr(0, equals)] =
          equals == std::string::npos ? "" : pair.substr(equals + 1);
      rest = end == std::string::npos ? "" : rest.substr(end + 1);
    }
    request.address = "127.0.0.1";
    request.cookies[std::string(kVisitorCookie)] = visitor_;
    if (!session_.empty()) request.cookies[std::string(kSessionCookie)] = session_;
    request.headers["host"] = "127.0.0.1:8080";
    return request;
  }

  TemporaryFolder folder_;
  std::unique_ptr<Book> book_;
  Sessions sessions_;
  Planning planning_;
  Site site_;
  std::string visitor_, session_;
};

inline bool holds(const HttpAnswer& answer, const std::string& text) {
  return answer.body.find(text) != std::string::npos;
}
inline std::string where_to(const HttpAnswer& answer) {
  for (const auto& [name, value] : answer.headers) {
    if (name == "Location") return value;
  }
  return "";
}

/// The text of an attribute or an element with its entities undone.
inline std::string unescaped(std::string text) {
  static const std::vector<std::pair<std::string, std::string>> kEntities = {
      {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}};
  for (const auto& [entity, character] : kEntities) {
    for (std::size_t at = text.find(entity); at != std::string::npos;
         at = text.find(entity, at + character.size())) {
      text.replace(at, entity.size(), character);
    }
  }
  return text;
}

inline std::string attribute(const std::string& tag, const std::string& name) {
  const std::size_t at = tag.find(" " + name + "=\"");
  if (at == std::string::npos) return "";
  const std::size_t from = at + name.size() + 3;
  return unescaped(tag.substr(from, tag.find('"', from) - from));
}

/// The fields of the form of a page that is posted to `action`, as a browser without a script would
/// send them. Throws where the page has no such form.
inline OrganiserSite::Fields fields_of(const std::string& page, const std::string& action) {
  std::size_t form = page.find("action=\"" + action + "\"");
  if (form == std::string::npos) throw std::runtime_error("no form for " + action);
  const std::size_t end = page.find("</form>", form);
  OrganiserSite::Fields fields;
  for (std::size_t at = page.find('<', form); at < end; at = page.find('<', at + 1)) {
    const std::string tag = page.substr(at, page.find('>', at) - at + 1);
    const std::string name = attribute(tag, "name");
    if (name.empty() || name == "csrf") continue;
    const std::size_t inside = at + tag.size();
    if (tag.starts_with("<input")) {
      const bool box = tag.find("type=\"checkbox\"") != std::string::npos;
      if (!box || tag.find(" checked") != std::string::npos) {
        fields.emplace_back(name, attribute(tag, "value"));
      }
    } else if (tag.starts_with("<textarea")) {
      fields.emplace_back(name, unescaped(page.substr(inside, page.find('<', inside) - inside)));
    } else if (tag.starts_with("<select")) {
      const std::string options = page.substr(inside, page.find("</select>", inside) - inside);
      const std::size_t chosen = options.find(" selected");
      if (chosen == std::string::npos) throw std::runtime_error("nothing chosen: " + name);
      const std::size_t option = options.rfind("<option", chosen);
      fields.emplace_back(name, attribute(options.substr(option, chosen - option), "value"));
    }
  }
  return fields;
}

inline OrganiserSite::Fields without(OrganiserSite::Fields fields, const std::string& name) {
  std::erase_if(fields, [&](const auto& field) { return field.first == name; });
  return fields;
}

/// The fields with one of them set (or, where there is none, added).
inline OrganiserSite::Fields with(OrganiserSite::Fields fields,
                                  const std::string& name,
                                  const std::string& value) {
  for (auto& field : fields) {
    if (field.first == name) {
      field.second = value;
      return fields;
    }
  }
  fields.emplace_back(name, value);
  return fields;
}

}  // namespace gp::test
