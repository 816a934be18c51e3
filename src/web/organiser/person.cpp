#include "model/tags.h"
#include "sheets/day_facts.h"
#include "store/enrol.h"
#include "store/json_diff.h"
#include "text/dates.h"
#include "web/likes.h"
#include "web/organiser/common.h"
#include "web/organiser/form.h"
#include "web/organiser/rows.h"

namespace gp {
namespace {

/// Whom a page is about: a sign-up, a person of the production, or both in one.
struct Whom {
  std::shared_ptr<const SignUp> sign_up;
  PersonId person;
  std::string key;  ///< of the address
};

std::optional<Whom> whom(const BookState& state, const std::string& key) {
  Whom found;
  found.key = key;
  if ((found.sign_up = state.sign_up(key)) != nullptr) {
    if (const auto person = person_by_id(*state.production, found.sign_up->person)) {
      found.person = *person;
    }
    return found;
  }
  const auto person = person_by_key(*state.production, key);
  if (!person) return std::nullopt;
  found.person = *person;
  found.sign_up = state.sign_up_of_person(state.production->people[*person].id);
  return found;
}

std::string address_of(const Whom& who) {
  return "/organise/people/" + (who.sign_up ? who.sign_up->id : who.key);
}

/// Facts as rows: what is asked for everybody, then what is private.
class Facts {
 public:
  Facts(Visit& visit, ViewData& data) : visit_(visit), data_(data) {}
  void add(const char* key, const std::string& text) {
    if (text.empty()) return;
    data_.add("FACT")
        .set("LABEL", organiser_words(visit_, std::string("person.fact.") + key))
        .set("TEXT", text);
  }
  void add_private(const char* key, const std::string& text) {
    if (text.empty()) return;
    if (private_ == nullptr) private_ = &data_.add("PRIVATE");
    private_->add("PRIVATE_FACT")
        .set("LABEL", organiser_words(visit_, std::string("person.fact.") + key))
        .set("TEXT", text);
  }

 private:
  Visit& visit_;
  ViewData& data_;
  ViewData* private_ = nullptr;
};

std::string sizes_words(const std::map<std::string, double>& sizes) {
  std::vector<std::string> list;
  for (const auto& [name, size] : sizes) list.push_back(name + " " + number_text(size));
  return listed(list);
}

/// "4 May 2019" is private; how old somebody is on the first day decides who looks after them.
std::string age_words(const Visit& visit, const Production& production, Date born) {
  if (production.days.empty()) return "";
  const Date on = production.days[DayId(0)].date;
  int years = static_cast<int>(on.year()) - static_cast<int>(born.year());
  const bool had_birthday = std::pair(on.month(), on.day()) >= std::pair(born.month(), born.day());
  if (!had_birthday) --years;
  return organiser_words(visit, "person.age", {{"years", std::int64_t{years}}});
}

/// What they would like as the production has it, once they are in it; what they wrote; and whom of
/// that they mean is not clear, so that it is not lost.
void add_likes(Facts& facts, Visit& visit, const BookState& state, const SignUp& s) {
  const Production& production = *state.production;
  const auto person = person_by_id(production, s.person);
  const Tags likes = person ? production.people[*person].likes : s.likes;
  const LikeWords words(production);
  facts.add("likes", listed(words.shown(likes)));
  if (s.friends.empty()) return;
  facts.add("friends", s.friends);
  auto named = FriendNames(*state.production_document).read(s.friends, s.person);
  if (!named.unclear.empty()) {
    facts.add("friends_unclear",
              organiser_words(visit, "person.unclear", {{"names", listed(named.unclear)}}));
  }
  if (!person) return;  // nobody is liked before the sign-up is accepted
  // taken out by the organiser, or come in by a list since
  std::erase_if(named.people, [&](const std::string& id) { return has(likes, id); });
  if (!named.people.empty()) {
    facts.add(
        "friends_left",
        organiser_words(visit, "person.not_liked", {{"names", listed(words.shown(named.people))}}));
  }
}

void add_sign_up_facts(Visit& visit, ViewData& data, const BookState& state, const SignUp& s) {
  const Production& production = *state.production;
  Facts facts(visit, data);
  facts.add("answer", organiser_words(visit, "answer." + name_of(s.answer)));
  facts.add("free", free_words(visit, production, s.free));
  facts.add("phone", s.phone);
  facts.add("email", s.email);
  facts.add("can", listed(s.can));
  add_likes(facts, visit, state, s);
  facts.add("no", listed(s.no));
  facts.add("words", s.words);
  facts.add("language", s.language);
  facts.add("adult", organiser_words(visit, s.adult ? "person.adult" : "person.minor"));
  facts.add("guardian", s.guardian);
  facts.add("guardian_phone", s.guardian_phone);
  facts.add("filmed",
            organiser_words(visit, s.may_be_filmed ? "person.filmed_yes" : "person.filmed_no"));
  facts.add("consent", s.consent_text);
  facts.add("sent", moment_words(production, s.sent_at, date_tongue(visit)));
  facts.add("changed", moment_words(production, s.changed_at, date_tongue(visit)));
  if (s.born) {
    facts.add_private("born",
                      long_date(*s.born, date_tongue(visit)) + " (" +
                          age_words(visit, production, *s.born) + ")");
  }
  facts.add_private("skin", s.skin);
  facts.add_private("food", s.food);
  facts.add_private("sizes", sizes_words(s.sizes));
  facts.add_private("need",
                    s.need_name.empty() || s.need_phone.empty()
                        ? s.need_name + s.need_phone
                        : s.need_name + ", " + s.need_phone);
  for (const Companion& companion : s.brings) {
    ViewData& row = data.add("COMPANION");
    row.set("NAME", companion.name)
        .set("KIND",
             organiser_words(visit, companion.child ? "person.is_child" : "person.is_adult"));
    std::vector<std::string> lines;
    if (companion.age) {
      lines.push_back(organiser_words(
          visit, "person.age", {{"years", static_cast<std::int64_t>(*companion.age)}}));
    }
    if (companion.born) lines.push_back(age_words(visit, production, *companion.born));
    if (!lines.empty()) row.add("AGE").set("TEXT", listed(lines));
    if (!companion.skin.empty()) row.add("SKIN").set("TEXT", companion.skin);
    if (!companion.food.empty()) row.add("FOOD").set("TEXT", companion.food);
    if (!companion.person.empty()) row.add("OWN").set("KEY", person_key(companion.person));
  }
}

void add_person_facts(Visit& visit, ViewData& data, const Production& production, PersonId id) {
  const Person& person = production.people[id];
  Facts facts(visit, data);
  facts.add("answer", organiser_words(visit, "answer." + name_of(person.answer)));
  facts.add("free", free_words(visit, production, person.free));
  facts.add("phone", person.phone);
  facts.add("email", person.email);
  facts.add("can", listed(person.can));
  facts.add("likes", listed(LikeWords(production).shown(person.likes)));
  facts.add("no", listed(person.no));
  facts.add("language", person.language);
  if (person.guardian.valid()) facts.add("guardian", production.people[person.guardian].shown());
  if (person.born) {
    facts.add_private("born",
                      long_date(*person.born, date_tongue(visit)) + " (" +
                          age_words(visit, production, *person.born) + ")");
  }
  facts.add_private("skin", person.skin);
  facts.add_private("food", person.food);
  facts.add_private("sizes", sizes_words(person.sizes));
}

/// What the newest plan says of them, day by day.
void add_calls(Visit& visit, ViewData& data, const std::string& person_id) {
  const auto read = visit.site.plans().newest();
  if (!read) return;
  const auto person = person_by_id(*read->production, person_id);
  if (!person) return;
  ViewData* section = nullptr;
  for (const auto& of_day : read->days) {
    const DayFacts& facts = *of_day;
    for (const Stay& stay : facts.plan().people) {
      if (stay.person != *person) continue;
      if (section == nullptr) section = &data.add("CALLS");
      section->add("CALL")
          .set("DAY", short_date(facts.day().date, date_tongue(visit)))
          .set("TIME", facts.clock(stay.call))
          .set("RELEASED", facts.clock(stay.released))
          .set("PARTS", listed(facts.parts(*person)));
    }
  }
}

void add_notices(Visit& visit, ViewData& data, const BookState& state, const SignUp& sign_up) {
  for (const Notice& notice : sign_up.notices) {
    const std::string day = short_date(notice.day, date_tongue(visit));
    ViewData& row = data.add("NOTICE");
    row.set("WHEN", moment_words(*state.production, notice.at, date_tongue(visit)))
        .set("WORDS", notice.words)
        .set("STATE_CLASS", notice.cannot_come ? "state-no" : "state-late")
        .set("STATE",
             notice.cannot_come
                 ? organiser_words(visit, "notice.cannot_come", {{"day", day}})
                 : organiser_words(visit,
                                   "notice.late",
                                   {{"minutes", static_cast<std::int64_t>(notice.minutes_late)},
                                    {"day", day}}));
  }
}

HttpAnswer show_person(Visit& visit, const std::string& link = "") {
  const auto state = visit.site.book().state();
  const auto who = whom(*state, visit.path.front());
  if (!who) return visit.site.show_error(visit, 404);
  const Production& production = *state->production;
  const std::string name = who->sign_up && !who->person.valid()
                               ? who->sign_up->name
                               : production.people[who->person].shown();
  ViewData data;
  show_done(visit, data);
  data.set("NAME", name).set("KEY", visit.path.front()).set("CSRF", visit.csrf);
  if (!link.empty()) data.add("LINK").set("LINK_TEXT", link);
  if (who->sign_up) {
    ViewData& section = data.add("SIGN_UP");
    add_sign_up_row(visit, section, *state, *who->sign_up, address_of(*who));
    if (!who->sign_up->seen) section.show("NOT_SEEN");
    add_notices(visit, data, *state, *who->sign_up);
    add_sign_up_facts(visit, data, *state, *who->sign_up);
    data.show("HAS_LINKS");
    if (who->person.valid()) add_calls(visit, data, who->sign_up->person);
  } else {
    add_person_facts(visit, data, production, who->person);
    add_calls(visit, data, production.people[who->person].id);
  }
  if (who->person.valid()) data.show("CHANGEABLE");
  return visit.site.show(visit, "organiser/person", name, data);
}

/// Replaces a sign-up's document by one that differs in what the organiser alone decides.
Change change_of(const SignUp& before, const SignUp& after, const std::string& why, UnixTime at) {
  Change change;
  change.edits.push_back(
      {"sign-up/" + before.id, difference(write_sign_up(before), write_sign_up(after))});
  change.who = "organiser";
  change.why = why;
  change.at = at;
  return change;
}

HttpAnswer mark_seen(Visit& visit) {
  const auto state = visit.site.book().state();
  const auto sign_up = state->sign_up(visit.path.front());
  if (!sign_up) return visit.site.show_error(visit, 404);
  SignUp seen = *sign_up;
  seen.seen = true;
  for (Notice& notice : seen.notices) notice.seen = true;
  const std::string back =
      visit.request.field("back") == "/organise" ? "/organise" : "/organise/people/" + sign_up->id;
  if (seen == *sign_up) return HttpAnswer::go_to(back);
  return after_change(
      visit, visit.site.book().change(change_of(*sign_up, seen, "looked at", visit.now)), back);
}

/// The page with the new link is the answer to the form: a link stands in no address and nowhere
/// else, so it is shown this once.
HttpAnswer make_link(Visit& visit) {
  const auto state = visit.site.book().state();
  const auto who = whom(*state, visit.path.front());
  if (!who) return visit.site.show_error(visit, 404);
  std::string id;
  if (who->sign_up) {
    id = who->sign_up->id;
  } else {
    id = new_id();
    const std::string person = state->production->people[who->person].id;
    const auto result =
        visit.site.book().change(sign_up_for_person(*state, person, id, "organiser", visit.now));
    if (const auto* refusal = std::get_if<Refusal>(&result)) {
      return show_refusal(visit, *refusal, address_of(*who));
    }
  }
  visit.site.book().revoke_links(id, visit.now);
  const std::string secret = new_secret();
  visit.site.book().add_link(id, secret, visit.now);
  visit.site.log("a personal link was made anew");
  return show_person(visit, visit.site.parts().address + "/p/" + secret);
}

HttpAnswer revoke_links(Visit& visit) {
  const auto state = visit.site.book().state();
  const auto sign_up = state->sign_up(visit.path.front());
  if (!sign_up) return visit.site.show_error(visit, 404);
  visit.site.book().revoke_links(sign_up->id, visit.now);
  visit.site.log("personal links were revoked");
  return HttpAnswer::go_to("/organise/people/" + sign_up->id + "?revoked=1");
}

}  // namespace

void add_person_pages(Site& site) {
  site.add({"GET", "/organise/people/:key", Access::organiser, [](Visit& visit) {
              return show_person(visit);
            }});
  site.add({"POST", "/organise/people/:key/seen", Access::organiser, mark_seen});
  site.add({"POST", "/organise/people/:key/link", Access::organiser, make_link});
  site.add({"POST", "/organise/people/:key/revoke", Access::organiser, revoke_links});
}

}  // namespace gp
