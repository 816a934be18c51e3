#include "store/enrol.h"
#include "store/settings.h"
#include "web/friends/friends_pages.h"
#include "web/friends/sign_up_flow.h"
#include "web/likes.h"
#include "web/secrets.h"

#include <utility>
#include <variant>

namespace gp {
namespace {

/// The personal link's secret, made of the form's own random key: the same form sent again, after a
/// lost answer, gives the same link. Whoever does not know the one learns nothing of it from the
/// other: it is an HMAC with the form's key.
std::string link_of(const std::string& form_key) {
  return keyed_hash(form_key, "greasepaint personal link").substr(0, form_key.size());
}

HttpAnswer show_start(Visit& visit) {
  const auto state = visit.site.book().state();
  const Production& production = *state->production;
  const Settings settings = read_settings(state->settings);
  const std::string dates = date_language(production, visit.language);
  const SayFriends say = sayer(visit);
  const Asked asked = what_is_asked(production, visit.language, say);
  ViewData data;
  data.set("HEADING", production.title.empty() ? say("start.title", {}) : production.title);
  std::string about = settings.about;
  while (!about.empty()) {
    const std::size_t end = about.find('\n');
    if (end != 0) data.add("ABOUT").set("WORDS", about.substr(0, end));
    about = end == std::string::npos ? "" : about.substr(end + 1);
  }
  if (settings.about.empty()) data.add("ABOUT").set("WORDS", say("start.about", {}));
  for (const AskedDay& day : asked.days) {
    data.add("DAY").set("LABEL", day.label).set("HINT", day.hint);
  }
  for (const auto& [name, link] : visit.request.cookies) {
    if (!name.starts_with("me_")) continue;
    const std::string id = name.substr(3);
    if (visit.site.book().opened_by(link) != id) continue;
    const auto sign_up = state->sign_up(id);
    if (sign_up) data.add("MINE").set("OWN_ID", id).set("OWN_NAME", sign_up->name);
  }
  data.show(settings.sign_ups_open ? "OPEN" : "CLOSED");
  if (settings.sign_ups_open && is_full(*state)) data.show("FULL");
  fill_languages(data, visit, "/");
  return visit.site.show(visit, "friends/start", say("start.window", {}), data);
}

HttpAnswer show_closed(Visit& visit) {
  return show_message(visit,
                      visit.say("friends", "closed.title"),
                      {visit.say("friends", "closed.text")},
                      "/",
                      visit.say("friends", "closed.on"));
}

/// Keeps a new sign-up and gives its person their link.
class NewSignUp : public SignUpKeeper {
 public:
  explicit NewSignUp(std::string form_key) : form_key_(std::move(form_key)) {}

  std::string address() const override { return "/sign-up"; }
  std::string form_key() const override { return form_key_; }
  SignUp before() const override { return {}; }

  HttpAnswer keep(Visit& visit, SignUp sign_up) override {
    Book& book = visit.site.book();
    const std::string link = link_of(form_key_);
    if (const auto known = book.opened_by(link)) {  // sent before
      // the server may have ended between keeping and accepting
      const auto before = book.state()->sign_up(*known);
      if (before && visit.now - before->sent_at < kSentAgain) accept_at_once(visit, *known);
      return welcome(*known, link);
    }
    if (!visit.site.sessions().may_sign_up(visit.request.address, visit.now)) {
      HttpAnswer answer = show_message(visit,
                                       visit.say("friends", "often.title"),
                                       {visit.say("friends", "often.text")},
                                       "/",
                                       visit.say("friends", "often.on"),
                                       429);
      answer.headers.emplace_back("Retry-After", "3600");
      return answer;
    }
    sign_up.id = new_id();
    sign_up.state = SignUpState::fresh;
    sign_up.sent_at = sign_up.changed_at = visit.now;
    sign_up.language = visit.language;
    const auto entered = book.enter(sign_up, form_key_, link, visit.now);
    if (std::holds_alternative<Refusal>(entered)) return show_refused(visit, "/sign-up");
    const auto& kept = std::get<Book::Entered>(entered);
    if (!kept.again && kept.state == SignUpState::fresh) accept_at_once(visit, kept.id);
    return welcome(kept.id, link);
  }

 private:
  static HttpAnswer welcome(const std::string& id, const std::string& link) {
    HttpAnswer answer = HttpAnswer::go_to("/me/" + id + "/welcome");
    answer.cookies.push_back({personal_cookie(id), link, kPersonalLinkSeconds});
    return answer;
  }

  /// Where the organiser wished it. A refusal leaves the sign-up as it is: the organiser decides.
  static void accept_at_once(Visit& visit, const std::string& id) {
    Book& book = visit.site.book();
    const auto state = book.state();
    if (!read_settings(state->settings).accept_at_once) return;
    const auto sign_up = state->sign_up(id);
    if (!sign_up || sign_up->state != SignUpState::fresh) return;
    const auto result = book.change(with_likes(*state, accept(*state, *sign_up, id, visit.now)));
    if (std::holds_alternative<Refusal>(result))
      visit.site.log("a sign-up was not accepted at once");
  }

  /// A form sent again so soon is the same try; later the organiser's word stands.
  static constexpr UnixTime kSentAgain = 10 * 60;
  std::string form_key_;
};

HttpAnswer begin_sign_up(Visit& visit) {
  const auto state = visit.site.book().state();
  if (!read_settings(state->settings).sign_ups_open) return show_closed(visit);
  NewSignUp keeper(new_secret());
  return begin_flow(visit, keeper, SignUpStep::you);
}

HttpAnswer go_on_with_sign_up(Visit& visit) {
  const auto state = visit.site.book().state();
  const std::string key = visit.request.field("form_key");
  // Whoever was let in finds their page again, also after the sign-up was closed.
  const bool known =
      looks_like_secret(key) && visit.site.book().opened_by(link_of(key)).has_value();
  if (!known && !read_settings(state->settings).sign_ups_open) return show_closed(visit);
  NewSignUp keeper(looks_like_secret(key) ? key : new_secret());
  return go_on_with_flow(visit, keeper);
}

}  // namespace

void add_sign_up_pages(Site& site) {
  site.add({"GET", "/", Access::anyone, show_start});
  site.add({"GET", "/sign-up", Access::anyone, begin_sign_up});
  site.add({"POST", "/sign-up", Access::anyone, go_on_with_sign_up});
}

}  // namespace gp
