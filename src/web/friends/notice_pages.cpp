#include "base/utf8.h"
#include "store/enrol.h"
#include "text/dates.h"
#include "time/clock.h"
#include "web/friends/birth_date.h"
#include "web/friends/own_pages.h"
#include "web/friends/sign_up_flow.h"
#include "web/likes.h"

#include <algorithm>

// What a friend tells through the personal link: late, cannot come, other answers, taken back. All
// of it by forms; opening a link changes nothing.

namespace gp {
namespace {

constexpr int kMostMinutesLate = 600;

std::string own_address(const SignUp& sign_up, const std::string& done = "") {
  return "/me/" + sign_up.id + (done.empty() ? "" : "?done=" + done);
}

/// Keeps a change, and goes back to the personal page.
HttpAnswer kept_or_refused(Visit& visit, Change change, const SignUp& sign_up, const char* done) {
  const auto result = visit.site.book().change(std::move(change));
  if (std::holds_alternative<Refusal>(result)) return show_refused(visit, own_address(sign_up));
  return HttpAnswer::go_to(own_address(sign_up, done));
}

/// One of the production's days from a field or the address; none: no such day.
std::optional<Date> day_given(const Visit& visit, const Production& production) {
  std::string text = visit.request.field("day");
  if (const auto found = visit.request.query.find("day");
      text.empty() && found != visit.request.query.end()) {
    text = found->second;
  }
  const auto date = parse_date(text);
  for (const Day& day : production.days) {
    if (date == day.date) return date;
  }
  return std::nullopt;
}

struct Asking {
  std::shared_ptr<const BookState> state;
  std::shared_ptr<const SignUp> sign_up;
  std::optional<Date> day;
};

/// Runs a page that needs the sign-up, and one that needs a day of the production besides.
template <class Page>
HttpAnswer with_sign_up(Visit& visit, Page page) {
  Asking asking{visit.site.book().state(), nullptr, std::nullopt};
  asking.sign_up = own_sign_up(visit, *asking.state);
  if (asking.sign_up == nullptr) return visit.site.show_error(visit, 404);
  return page(asking);
}
template <class Page>
HttpAnswer with_day(Visit& visit, Page page) {
  return with_sign_up(visit, [&](Asking& asking) {
    asking.day = day_given(visit, *asking.state->production);
    if (!asking.day) return visit.site.show_error(visit, 404);
    return page(asking);
  });
}

std::string day_words(const Visit& visit, const Asking& asking) {
  return long_date(*asking.day, date_language(*asking.state->production, visit.language));
}

/// The form for "I'll be late".
HttpAnswer show_late(Visit& visit, const Asking& asking, const std::string& minutes_wrong) {
  const SayFriends say = sayer(visit);
  const std::string title = say("late.title", {});
  ViewData data;
  data.set("OWN_ID", asking.sign_up->id)
      .set("CSRF", visit.csrf)
      .set("HEADING", title)
      .set("DATE", format(*asking.day))
      .set("DAY_LABEL", day_words(visit, asking))
      .set("MINUTES", visit.request.field("minutes"))
      .set("WORDS_TYPED", visit.request.field("words"));
  if (!minutes_wrong.empty()) {
    data.add("PROBLEM").set("WHAT", minutes_wrong);
    data.add("MINUTES_WRONG").set("WHAT", minutes_wrong);
  }
  return visit.site.show(
      visit,
      "friends/late",
      minutes_wrong.empty() ? title : visit.say("friends", "error.prefix", {{"title", title}}),
      data,
      minutes_wrong.empty() ? 200 : 422);
}

HttpAnswer take_late(Visit& visit) {
  return with_day(visit, [&](Asking& asking) {
    const auto minutes = typed_number(visit.request.field("minutes"));
    if (!minutes || *minutes < 1 || *minutes > kMostMinutesLate) {
      return show_late(
          visit,
          asking,
          visit.say("friends", "fault.minutes", {{"most", std::int64_t{kMostMinutesLate}}}));
    }
    Notice notice;
    notice.day = *asking.day;
    notice.minutes_late = *minutes;
    notice.words = shortened(tidy_text(visit.request.field("words")), kMostTextLength);
    notice.at = visit.now;
    return kept_or_refused(visit,
                           give_notice(*asking.state, *asking.sign_up, notice, visit.now),
                           *asking.sign_up,
                           "late");
  });
}

/// A question with one dangerous answer: what happens, do it, or go back.
struct Question {
  std::string words;   ///< "cannot": cannot.title, cannot.text, cannot.do, cannot.back
  std::string action;  ///< "/cannot", after the personal address
  bool with_words = false;
};

HttpAnswer ask(Visit& visit, const Asking& asking, const Question& question) {
  const SayFriends say = sayer(visit);
  const auto words = [&](const char* key) { return say(question.words + "." + key, {}); };
  ViewData data;
  data.set("OWN_ID", asking.sign_up->id)
      .set("CSRF", visit.csrf)
      .set("HEADING", words("title"))
      .set("TEXT", words("text"))
      .set("DO", words("do"))
      .set("NOT", words("not"))
      .set("ACTION", "/me/" + asking.sign_up->id + question.action);
  if (asking.day) {
    data.add("FOR_DAY").set("DATE", format(*asking.day)).set("DAY_LABEL", day_words(visit, asking));
  }
  if (question.with_words) data.show("WITH_WORDS");
  return visit.site.show(visit, "friends/confirm", words("title"), data);
}

HttpAnswer take_cannot(Visit& visit) {
  return with_day(visit, [&](Asking& asking) {
    if (notice_of(*asking.sign_up, *asking.day, true) != nullptr) {
      return HttpAnswer::go_to(own_address(*asking.sign_up, "cannot"));  // sent twice
    }
    Notice notice;
    notice.day = *asking.day;
    notice.cannot_come = true;
    notice.words = shortened(tidy_text(visit.request.field("words")), kMostTextLength);
    notice.at = visit.now;
    return kept_or_refused(visit,
                           give_notice(*asking.state, *asking.sign_up, notice, visit.now),
                           *asking.sign_up,
                           "cannot");
  });
}

/// The free time that a day had before "I can't come" took it away: as the book knew it then, or
/// the whole day where it did not know the person yet.
std::vector<FreeTime> free_before(Visit& visit, const SignUp& sign_up, Date day, UnixTime told_at) {
  const auto before = visit.site.book().state_at(visit.site.book().revision_at(told_at - 1));
  const auto then = before->sign_up(sign_up.id);
  std::vector<FreeTime> found;
  if (then != nullptr && then->free) {
    for (const FreeTime& free : *then->free) {
      if (free.date == day) found.push_back(free);
    }
  }
  if (found.empty()) found.push_back({day, std::nullopt});
  return found;
}

/// Gives the day back to the free time, in order; none at all where that is every day again.
void give_back_day(SignUp& sign_up,
                   const std::vector<FreeTime>& day,
                   const Production& production) {
  if (!sign_up.free) return;
  std::vector<FreeTime> free = *sign_up.free;
  std::erase_if(free, [&](const FreeTime& one) { return one.date == day.front().date; });
  free.insert(free.end(), day.begin(), day.end());
  std::stable_sort(free.begin(), free.end(), [](const FreeTime& a, const FreeTime& b) {
    return a.date < b.date;
  });
  const bool every_day =
      free.size() == production.days.size() &&
      std::none_of(free.begin(), free.end(), [](const FreeTime& one) { return one.hours; });
  sign_up.free = every_day ? std::nullopt : std::optional(std::move(free));
}

/// Takes a notice back: the answers as they were before it, and the production after them.
HttpAnswer take_back_notice(Visit& visit, bool cannot_come, const char* done) {
  return with_day(visit, [&](Asking& asking) {
    const Notice* const told = notice_of(*asking.sign_up, *asking.day, cannot_come);
    if (told == nullptr) return HttpAnswer::go_to(own_address(*asking.sign_up, done));
    SignUp changed = *asking.sign_up;
    std::erase_if(changed.notices, [&](const Notice& notice) {
      return notice.day == *asking.day && notice.cannot_come == cannot_come;
    });
    if (cannot_come) {
      give_back_day(changed,
                    free_before(visit, *asking.sign_up, *asking.day, told->at),
                    *asking.state->production);
    }
    return kept_or_refused(
        visit, change_answers(*asking.state, changed, visit.now), *asking.sign_up, done);
  });
}

HttpAnswer take_withdrawal(Visit& visit, bool forget) {
  return with_sign_up(visit, [&](Asking& asking) {
    const SignUp& sign_up = *asking.sign_up;
    if (forget) {
      SignUp changed = sign_up;
      // for the organiser, in the words field that is shown with every sign-up
      const std::string wish =
          visit.site.views().say("friends", asking.state->production->language, "forget.wish");
      if (changed.words.find(wish) == std::string::npos) {
        changed.words =
            shortened(wish + (changed.words.empty() ? "" : "\n" + changed.words), kMostTextLength);
        changed.seen = false;
        changed.changed_at = visit.now;
        const auto said =
            visit.site.book().change(change_answers(*asking.state, changed, visit.now));
        if (std::holds_alternative<Refusal>(said)) return show_refused(visit, own_address(sign_up));
      }
    }
    const auto state = visit.site.book().state();
    const auto newest = state->sign_up(sign_up.id);
    if (newest == nullptr) return visit.site.show_error(visit, 404);
    const char* const done = forget ? "forget" : "withdrawn";
    if (newest->state == SignUpState::withdrawn) {
      return HttpAnswer::go_to(own_address(sign_up, done));
    }
    return kept_or_refused(
        visit,
        set_state(*state, *newest, SignUpState::withdrawn, sign_up.id, visit.now),
        sign_up,
        done);
  });
}

HttpAnswer take_return(Visit& visit) {
  return with_sign_up(visit, [&](Asking& asking) {
    if (asking.sign_up->state != SignUpState::withdrawn) {
      return HttpAnswer::go_to(own_address(*asking.sign_up));
    }
    const SignUpState wanted = is_full(*asking.state) ? SignUpState::waiting : SignUpState::fresh;
    return kept_or_refused(
        visit,
        set_state(*asking.state, *asking.sign_up, wanted, asking.sign_up->id, visit.now),
        *asking.sign_up,
        "returned");
  });
}

/// Whom somebody likes is not told: an id is made of a name, and who else has come in is nobody's
/// business but the organiser's.
Document without_others(Document person, const Document& everybody) {
  const auto likes = person.find("likes");
  if (likes == person.end() || !likes->is_array()) return person;
  std::erase_if(likes->get_ref<Document::array_t&>(), [&](const Document& like) {
    return std::any_of(everybody.begin(), everybody.end(), [&](const Document& one) {
      return one.contains("id") && one["id"] == like;
    });
  });
  if (likes->empty()) person.erase("likes");
  return person;
}

/// Everything kept about the person, as it is kept, but for names of others.
HttpAnswer send_data(Visit& visit) {
  return with_sign_up(visit, [&](Asking& asking) {
    Document data;
    data["sign_up"] = write_sign_up(*asking.sign_up);
    std::vector<std::string> ids{asking.sign_up->person};
    for (const Companion& one : asking.sign_up->brings) ids.push_back(one.person);
    const auto mine = [&](const std::string& id) {
      return !id.empty() && std::find(ids.begin(), ids.end(), id) != ids.end();
    };
    const Document& production = *asking.state->production_document;
    if (production.contains("people")) {
      const Document& everybody = production["people"];
      for (const Document& person : everybody) {
        if (mine(person.value("id", "")))
          data["people"].push_back(without_others(person, everybody));
      }
    }
    for (const Told& told : visit.site.book().told()) {
      if (!mine(told.person)) continue;
      data["told"].push_back(
          {{"person", told.person}, {"day", told.day}, {"call", told.call}, {"how", told.how}});
    }
    visit.site.log("a person took out their own data");
    return HttpAnswer::download(
        "application/json; charset=utf-8", "my-data.json", data.dump(2) + "\n");
  });
}

/// Other answers of an old sign-up.
class ChangedAnswers : public SignUpKeeper {
 public:
  explicit ChangedAnswers(const SignUp& sign_up) : before_(sign_up) {}
  std::string address() const override { return "/me/" + before_.id + "/answers"; }
  std::string form_key() const override { return ""; }
  SignUp before() const override { return before_; }

  HttpAnswer keep(Visit& visit, SignUp sign_up) override {
    if (sign_up == before_) return HttpAnswer::go_to(own_address(before_));
    sign_up.changed_at = visit.now;
    sign_up.seen = false;
    sign_up.language = visit.language;
    const auto state = visit.site.book().state();
    return kept_or_refused(
        visit, with_likes(*state, change_answers(*state, sign_up, visit.now)), before_, "changed");
  }

 private:
  SignUp before_;
};

HttpAnswer show_welcome(Visit& visit) {
  return with_sign_up(visit, [&](Asking& asking) {
    const SayFriends say = sayer(visit);
    const bool waiting = asking.sign_up->state == SignUpState::waiting;
    const std::string title = say(waiting ? "welcome.title_waiting" : "welcome.title",
                                  {{"name", first_name(asking.sign_up->name)}});
    const auto link = visit.request.cookies.find(personal_cookie(asking.sign_up->id));
    ViewData data;
    data.set("HEADING", title).set("OWN_ID", asking.sign_up->id);
    std::string next = "welcome.next";
    if (waiting) next = "welcome.next_waiting";
    if (asking.sign_up->state == SignUpState::accepted) next = "welcome.next_accepted";
    data.set("NEXT", say(next, {}));
    if (link != visit.request.cookies.end()) {
      data.set("LINK", visit.site.parts().address + "/p/" + link->second);
    }
    if (!asking.sign_up->adult) data.show("FOR_GUARDIAN");
    return visit.site.show(visit, "friends/welcome", say("welcome.window", {}), data);
  });
}

}  // namespace

void add_own_pages(Site& site) {
  const auto room = std::make_shared<OwnRoom>(site.parts().templates_dir);
  const auto person = Access::person;
  site.add(
      {"GET", "/me/:id", person, [room](Visit& visit) { return show_own_page(visit, *room); }});
  site.add({"GET", "/me/:id/calendar", person, [room](Visit& visit) {
              return send_calendar(visit, *room);
            }});
  site.add({"GET", "/me/:id/welcome", person, show_welcome});
  site.add({"GET", "/me/:id/data", person, send_data});
  site.add({"GET", "/me/:id/answers", person, [](Visit& visit) {
              return with_sign_up(visit, [&](Asking& asking) {
                ChangedAnswers keeper(*asking.sign_up);
                return begin_flow(visit, keeper, SignUpStep::check);
              });
            }});
  site.add({"POST", "/me/:id/answers", person, [](Visit& visit) {
              return with_sign_up(visit, [&](Asking& asking) {
                ChangedAnswers keeper(*asking.sign_up);
                return go_on_with_flow(visit, keeper);
              });
            }});
}

void add_notice_pages(Site& site) {
  const auto person = Access::person;
  site.add({"GET", "/me/:id/late", person, [](Visit& visit) {
              return with_day(visit, [&](Asking& asking) { return show_late(visit, asking, ""); });
            }});
  site.add({"POST", "/me/:id/late", person, take_late});
  site.add({"POST", "/me/:id/on-time", person, [](Visit& visit) {
              return take_back_notice(visit, false, "on-time");
            }});
  site.add({"GET", "/me/:id/cannot", person, [](Visit& visit) {
              return with_day(visit, [&](Asking& asking) {
                return ask(visit, asking, {"cannot", "/cannot", true});
              });
            }});
  site.add({"POST", "/me/:id/cannot", person, take_cannot});
  site.add({"POST", "/me/:id/can", person, [](Visit& visit) {
              return take_back_notice(visit, true, "can");
            }});
  site.add({"GET", "/me/:id/withdraw", person, [](Visit& visit) {
              return with_sign_up(visit, [&](Asking& asking) {
                return ask(visit, asking, {"withdraw", "/withdraw", false});
              });
            }});
  site.add({"POST", "/me/:id/withdraw", person, [](Visit& visit) {
              return take_withdrawal(visit, false);
            }});
  site.add({"POST", "/me/:id/return", person, take_return});
  site.add({"GET", "/me/:id/forget", person, [](Visit& visit) {
              return with_sign_up(visit, [&](Asking& asking) {
                return ask(visit, asking, {"forget", "/forget", false});
              });
            }});
  site.add({"POST", "/me/:id/forget", person, [](Visit& visit) {
              return take_withdrawal(visit, true);
            }});
}

}  // namespace gp
