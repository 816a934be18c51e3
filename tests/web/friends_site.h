#pragma once

#include "support/temporary_folder.h"
#include "web/planning.h"
#include "web/secrets.h"
#include "web/site.h"
#include "web/views.h"

#include <chrono>
#include <map>
#include <memory>
#include <stdexcept>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace gp::test {

/// A film that asks for everything: paint, latex, fog, a meal, costumes, skills.
inline std::string friends_film() {
  return R"json({"greasepaint": 1, "title": "The Lamp That Whistled", "language": "en-GB", "zone": "Europe/Dublin",
  "contact": {"name": "Ada", "phone": "01632 960002"},
  "days": [
    {"date": "2027-04-17", "base": "shed", "nobody_before": "09:00", "wrap_by": "15:00",
     "meals": [{"name": "soup", "minutes": 30, "between": "11:00-14:00"}]},
    {"date": "2027-04-18", "base": "shed", "nobody_before": "09:00", "wrap_by": "15:00"}],
  "places": [{"id": "shed", "name": "Shed", "lat": 53.35, "lon": -6.26}],
  "people": [{"id": "ada", "name": "Ada Quirke", "can": ["paint"], "no": ["latex"], "phone": "01632 960777", "skin": "nettle rash"}],
  "roles": [{"id": "lamp", "name": "The lamp", "look": "lamp"}, {"id": "moths", "name": "Moths", "crowd": true}],
  "looks": [{"id": "lamp", "name": "Lamp", "tags": ["face-paint", "latex"], "items": ["shade"], "wear": "black", "bring": "a torch",
             "steps": [{"at": "paint", "minutes": 20, "by": "paint"}]}],
  "stations": [{"id": "paint", "name": "Paint"}],
  "items": [{"id": "shade", "name": "Lampshade"}],
  "scenes": [{"id": "one", "name": "It whistles", "shoot_minutes": 20, "day": "2027-04-17",
              "cast": [{"role": "lamp"}], "hazards": ["fog"]}]})json";
}

using FormFields = std::vector<std::pair<std::string, std::string>>;

/// A book with the friends' pages around it, and one browser.
class FriendsSite {
 public:
  explicit FriendsSite(const std::string& production = friends_film())
      : book_(make(folder_.file("film.book"), production)),
        sessions_(*book_),
        planning_(*book_, [this] { return now; }),
        site_({*book_,
               views(),
               sessions_,
               planning_,
               std::string(GP_SOURCE_DIR) + "/templates",
               [this] { return now; },
               "http://192.168.1.20:8080",
               [](const std::string&) {}}) {
    add_shared_pages(site_);
    add_friends_pages(site_);
    cookies[std::string(kVisitorCookie)] = new_secret();
  }
  static Views& views() {
    static Views all(std::string(GP_SOURCE_DIR) + "/templates");
    return all;
  }
  Book& book() { return *book_; }

  HttpAnswer get(const std::string& address) { return send("GET", address, {}); }
  HttpAnswer post(const std::string& address, FormFields fields) {
    fields.emplace_back("csrf", sessions_.csrf_for(cookies[std::string(kVisitorCookie)]));
    return send("POST", address, std::move(fields));
  }
  /// The whole sign-up at once: what the check page sends.
  HttpAnswer signs_up(FormFields fields) {
    fields.emplace_back("step", "check");
    fields.emplace_back("go", "send");
    return post("/sign-up", std::move(fields));
  }
  std::shared_ptr<const SignUp> only() {
    const auto state = book_->state();
    if (state->sign_ups.size() != 1) throw std::runtime_error("not one sign-up");
    return state->sign_ups.front();
  }
  void set_settings(const Document& settings) {
    Change change;
    change.edits.push_back(
        {"settings", Document::array({{{"op", "add"}, {"path", ""}, {"value", settings}}})});
    change.who = "organiser";
    change.at = now;
    if (std::holds_alternative<Refusal>(book_->change(change))) throw std::runtime_error("refused");
  }
  void plan() {
    Wishes wishes;
    wishes.effort = 0.05;
    planning_.start(wishes);
    while (planning_.state().kind == Planning::State::Kind::running) {
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
  }

  UnixTime now = 1'807'351'200;  ///< 2027-04-10T10:00:00Z
  std::map<std::string, std::string> cookies;
  std::string accepts = "en";

 private:
  static std::unique_ptr<Book> make(const std::string& path, const std::string& production) {
    if (!Book::make(path, production, 1'807'000'000).empty()) throw std::runtime_error("bad film");
    return std::make_unique<Book>(path);
  }
  HttpAnswer send(const std::string& method, const std::string& address, FormFields fields) {
    HttpRequest request;
    request.method = method;
    const std::size_t mark = address.find('?');
    request.path = address.substr(0, mark);
    std::string rest = mark == std::string::npos ? "" : address.substr(mark + 1);
    while (!rest.empty()) {
      const std::string pair = rest.substr(0, rest.find('&'));
      rest = pair.size() == rest.size() ? "" : rest.substr(pair.size() + 1);
      request.query[pair.substr(0, pair.find('='))] = pair.substr(pair.find('=') + 1);
    }
    request.form = std::move(fields);
    request.cookies = cookies;
    request.address = "127.0.0.1";
    request.headers["host"] = "127.0.0.1:8080";
    request.headers["accept-language"] = accepts;
    HttpAnswer answer = site_.answer(request);
    for (const HttpCookie& cookie : answer.cookies) cookies[cookie.name] = cookie.value;
    return answer;
  }

  TemporaryFolder folder_;
  std::unique_ptr<Book> book_;
  Sessions sessions_;
  Planning planning_;
  Site site_;
};

inline bool says(const HttpAnswer& answer, const std::string& text) {
  return answer.body.find(text) != std::string::npos;
}
inline std::string leads_to(const HttpAnswer& answer) {
  for (const auto& [name, value] : answer.headers) {
    if (name == "Location") return value;
  }
  return "";
}
/// Right answers of an adult who comes alone.
inline FormFields right_answers(const std::string& form_key = new_secret()) {
  return {{"form_key", form_key},
          {"name", "Noor Haddad"},
          {"phone", "+44 (0)7700 900 982"},
          {"adult", "yes"},
          {"day_2027-04-17", "part"},
          {"from_2027-04-17", "10:00"},
          {"until_2027-04-17", "14:30"},
          {"day_2027-04-18", "not"},
          {"like", "lamp"},
          {"can", "paint"},
          {"no", "fog"},
          {"skin", "allergic to latex"},
          {"film", "yes"}};
}
inline FormFields but(FormFields fields, const std::string& name, const std::string& value) {
  std::erase_if(fields, [&](const auto& field) { return field.first == name; });
  fields.emplace_back(name, value);
  return fields;
}

}  // namespace gp::test
