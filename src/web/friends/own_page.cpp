#include "base/errors.h"
#include "messages/calendar.h"
#include "store/settings.h"
#include "text/clean.h"
#include "text/dates.h"
#include "time/clock.h"
#include "web/friends/own_pages.h"
#include "web/friends/sign_up_flow.h"
#include "web/friends/step_view.h"

#include <algorithm>
#include <array>
#include <cstdio>

namespace gp {
namespace {

constexpr std::chrono::minutes kReminder{60};

std::string degrees_text(double value) {
  std::array<char, 32> text{};
  const int length = std::snprintf(text.data(), text.size(), "%.5f", value);
  return {text.data(), static_cast<std::size_t>(length)};
}

/// What may be dialled of a telephone number as it is written; empty: nothing.
std::string dialled(const std::string& phone) {
  std::string number;
  for (const char c : phone) {
    if (c >= '0' && c <= '9') number += c;
    if (c == '+' && number.empty()) number += c;
  }
  return number.size() < 4 ? "" : number;
}

/// Only as it was made: after everything private was forgotten, nobody is told a call any more.
std::shared_ptr<const ReadPlan> newest_plan(Visit& visit) {
  auto plan = visit.site.plans().newest();
  return plan != nullptr && plan->as_made ? plan : nullptr;
}

class OwnPage {
 public:
  OwnPage(Visit& visit, OwnRoom& room)
      : visit_(visit),
        room_(room),
        state_(visit.site.book().state()),
        sign_up_(own_sign_up(visit, *state_)),
        say_(sayer(visit)),
        dates_(date_language(*state_->production, visit.language)) {}

  HttpAnswer show() {
    if (sign_up_ == nullptr) return visit_.site.show_error(visit_, 404);
    const auto plan = newest_plan(visit_);
    data_.set("OWN_ID", sign_up_->id).set("CSRF", visit_.csrf);
    data_.set("HEADING", say_("own.title", {{"name", first_name(sign_up_->name)}}));
    fill_done();
    fill_state();
    const bool here = sign_up_->state == SignUpState::accepted;
    const PersonId person = here && plan != nullptr ? plan->person(sign_up_->person) : PersonId();
    if (person.valid()) fill_days(*plan, person);
    if (here && !called_) data_.show(plan == nullptr ? "NO_PLAN_YET" : "NOT_CALLED");
    fill_answers();
    fill_contact();
    fill_languages(data_, visit_, "/me/" + sign_up_->id);
    return visit_.site.show(visit_, "friends/own", say_("own.window", {}), data_);
  }

 private:
  /// What a form on this page just did; only words of our own.
  void fill_done() {
    const auto found = visit_.request.query.find("done");
    if (found == visit_.request.query.end()) return;
    for (const char* known :
         {"changed", "late", "on-time", "cannot", "can", "withdrawn", "returned", "forget"}) {
      if (found->second == known) {
        data_.add("DONE").set("WORDS", say_("own.done." + std::string(known), {}));
      }
    }
  }

  void fill_state() {
    std::string key;
    switch (sign_up_->state) {
      case SignUpState::fresh:
        key = "fresh";
        break;
      case SignUpState::accepted:
        key = "accepted";
        break;
      case SignUpState::waiting:
        key = "waiting";
        break;
      case SignUpState::declined:
        key = "declined";
        break;
      case SignUpState::withdrawn:
        key = "withdrawn";
        break;
    }
    data_.set("STATE_WORDS", say_("own.state." + key, {}));
    if (sign_up_->state == SignUpState::withdrawn) {
      data_.show("WITHDRAWN");
    } else if (sign_up_->state != SignUpState::declined) {
      data_.show("STANDING");
    }
    if (sign_up_->state != SignUpState::accepted) data_.show("STATE_FIRST");
  }

  void fill_days(const ReadPlan& plan, PersonId person) {
    std::vector<Told> told;
    const Date today = today_of(visit_, *plan.production);
    for (const auto& facts : plan.days) {
      const Date date = facts->day().date;
      const auto own = own_day(*facts, person, visit_.language, room_.words);
      Told call{sign_up_->person, format(date), own ? own->call : "", plan.kept->number, "page", 0};
      if (own) {
        called_ = true;
        fill_day(data_.add("DAY"), *own, date >= today);
        fill_with_you(plan, *facts, person, told);
      } else {
        data_.add("FREE_DAY")
            .set("WORDS", say_("own.not_needed", {{"day", long_date(date, dates_)}}));
      }
      told.push_back(std::move(call));
    }
    keep_told(std::move(told));
  }

  void fill_day(ViewData& day, const OwnDay& own, bool ahead) {
    const std::string date = format(own.date);
    day.set("DATE", date).set("DAY_LABEL", long_date(own.date, dates_));
    const Notice* const cannot = notice_of(*sign_up_, own.date, true);
    const Notice* const late = notice_of(*sign_up_, own.date, false);
    if (cannot != nullptr) {
      day.add("CANNOT").set("WORDS", say_("own.cannot_told", {}));
    } else if (late != nullptr) {
      day.add("LATE").set("WORDS",
                          say_("own.late_told", {{"minutes", std::int64_t{late->minutes_late}}}));
    }
    if (ahead && cannot == nullptr) day.show("CAN_TELL");
    day.set("CALL", own.call).set("RELEASED", say_("own.released", {{"time", own.released}}));
    if (!own.place.empty()) {
      ViewData& place = day.add("PLACE");
      place.set("PLACE_NAME", own.place);
      if (!own.address.empty()) place.add("ADDRESSED").set("ADDRESS", own.address);
      if (own.geo) {
        place.add("MAP")
            .set("LAT", degrees_text(own.geo->lat))
            .set("LON", degrees_text(own.geo->lon));
      }
    }
    fill_lines(day, own);
    fill_list(day, "WEAR", own.wear);
    fill_list(day, "BRING", own.bring);
    fill_list(day, "GIVEN", own.given);
    if (!own.guardian.empty()) {
      day.add("GUARDED").set(
          "WORDS", room_.words.say(visit_.language, "slip.guardian", {{"name", own.guardian}}));
    }
    if (!own.notes.empty()) day.add("NOTED").set("WORDS", own.notes);
    if (own.passes_midnight) {
      day.add("MIDNIGHT").set("WORDS", room_.words.say(visit_.language, "day.after_midnight"));
    }
    if (!own.cautions.empty()) {
      ViewData& care = day.add("CARE");
      for (const SlipWords::Caution& caution : own.cautions) {
        care.add("CAUTION").set("CARE_NAME", caution.name).set("CARE_TEXT", caution.text);
      }
      care.set("GENERAL", room_.words.say(visit_.language, "caution.general"));
    }
  }

  static void fill_lines(ViewData& day, const OwnDay& own) {
    for (const OwnLine& one : own.lines) {
      ViewData& line = day.add("OWN_LINE");
      line.set("FROM", one.from).set("UNTIL", one.until);
      line.add(one.strong ? "STRONG" : "USUAL").set("WHAT", one.what);
      if (!one.place.empty()) line.add("ELSEWHERE").set("AT", one.place);
    }
  }

  static void fill_list(ViewData& day, const char* section, const std::vector<std::string>& list) {
    if (list.empty()) return;
    ViewData& out = day.add(section);
    for (const std::string& one : list) out.add("THING").set("WORDS", one);
  }

  /// Whom they brought, and the children they look after: their calls stand on this page.
  void fill_with_you(const ReadPlan& plan,
                     const DayFacts& facts,
                     PersonId person,
                     std::vector<Told>& told) {
    std::vector<PersonId> with;
    for (const Stay* child : facts.children_of(person)) with.push_back(child->person);
    for (const Companion& one : sign_up_->brings) {
      const PersonId id = one.person.empty() ? PersonId() : plan.person(one.person);
      if (id.valid() && std::find(with.begin(), with.end(), id) == with.end()) with.push_back(id);
    }
    for (const PersonId one : with) {
      const auto own = own_day(facts, one, visit_.language, room_.words);
      if (!own) continue;
      const Person& companion = plan.production->people[one];
      ViewData& entry = data_.add("WITH_YOU");
      entry.set("WHO",
                say_("own.with_you",
                     {{"name", first_name(companion.shown())},
                      {"day", long_date(own->date, dates_)},
                      {"time", own->call}}));
      entry.set("RELEASED", say_("own.released", {{"time", own->released}}));
      fill_lines(entry, *own);
      fill_list(entry, "WEAR", own->wear);
      fill_list(entry, "BRING", own->bring);
      told.push_back({companion.id, format(own->date), own->call, plan.kept->number, "page", 0});
    }
  }

  /// A call shown to its person is a promise. Not where a machine only looks ahead, and never in
  /// the way of showing it.
  void keep_told(std::vector<Told> told) {
    const auto purpose = visit_.request.headers.find("sec-purpose");
    if (visit_.request.method == "HEAD" || purpose != visit_.request.headers.end()) return;
    for (Told& one : told) one.at = visit_.now;
    try {
      visit_.site.book().tell(told);
    } catch (const WorldError& error) {
      visit_.site.log(std::string("a shown call was not recorded: ") + error.what());
    }
  }

  void fill_answers() {
    const Asked asked = what_is_asked(*state_->production, visit_.language, say_);
    for (const AnswerRow& row : answer_rows(*sign_up_, asked, dates_, say_)) {
      ViewData& one = data_.add("ROW");
      one.set("ROW_LABEL", row.label);
      if (row.value.empty()) {
        one.show("ROW_EMPTY");
      } else {
        one.add("ROW_GIVEN").set("ROW_VALUE", row.value);
      }
    }
    data_.show(called_ ? "ANSWERS_FOLDED" : "ANSWERS_OPEN");
  }

  void fill_contact() {
    const Contact& contact = state_->production->contact;
    if (contact.name.empty() && contact.phone.empty()) return;
    ViewData& ask = data_.add("ASK");
    ask.set("ASK_NAME", contact.name);
    if (contact.phone.empty()) return;
    const std::string number = dialled(contact.phone);
    if (number.empty()) {
      ask.add("ASK_PHONE").set("PHONE", contact.phone);
    } else {
      // digits and a plus alone: nothing in it can be markup
      ask.add("ASK_DIAL").set("PHONE", contact.phone).set_markup("DIAL", number);
    }
  }

  Visit& visit_;
  OwnRoom& room_;
  std::shared_ptr<const BookState> state_;
  std::shared_ptr<const SignUp> sign_up_;
  SayFriends say_;
  std::string dates_;
  ViewData data_;
  bool called_ = false;
};

std::string calendar_words(const OwnDay& own) {
  std::string text;
  const auto line = [&](const std::string& words) {
    if (!text.empty()) text += "\n";
    text += words;
  };
  for (const OwnLine& one : own.lines) {
    line(one.from + " " + one.what + (one.place.empty() ? "" : " (" + one.place + ")"));
  }
  return without_isolates(text);
}

}  // namespace

std::shared_ptr<const SignUp> own_sign_up(Visit& visit, const BookState& state) {
  return state.sign_up(visit.path.front());
}

const Notice* notice_of(const SignUp& sign_up, Date day, bool cannot_come) {
  for (auto notice = sign_up.notices.rbegin(); notice != sign_up.notices.rend(); ++notice) {
    if (notice->day == day && notice->cannot_come == cannot_come) return &*notice;
  }
  return nullptr;
}

HttpAnswer show_own_page(Visit& visit, OwnRoom& room) {
  return OwnPage(visit, room).show();
}

HttpAnswer send_calendar(Visit& visit, OwnRoom& room) {
  const auto state = visit.site.book().state();
  const auto sign_up = own_sign_up(visit, *state);
  if (sign_up == nullptr) return visit.site.show_error(visit, 404);
  const auto plan = newest_plan(visit);
  const PersonId person = plan == nullptr ? PersonId() : plan->person(sign_up->person);
  std::vector<CalendarEvent> events;
  const SayFriends say = sayer(visit);
  for (std::size_t i = 0; person.valid() && i < plan->days.size(); ++i) {
    const DayFacts& facts = *plan->days[i];
    const auto own = own_day(facts, person, visit.language, room.words);
    if (!own) continue;
    CalendarEvent event;
    event.uid = uuid_of("call of " + sign_up->id + " on " + format(own->date));
    event.sequence = static_cast<int>(state->revision);  // rises with whatever changes
    event.cancelled =
        sign_up->state != SignUpState::accepted || notice_of(*sign_up, own->date, true) != nullptr;
    event.stamp = std::chrono::sys_seconds(std::chrono::seconds(visit.now));
    event.from = facts.calendar().utc(own->call_at);
    event.until = facts.calendar().utc(own->released_at);
    event.summary =
        without_isolates(say(event.cancelled ? "calendar.cancelled" : "calendar.summary",
                             {{"film", plan->production->title}}));
    event.place = own->place;
    if (!own->address.empty()) event.place += (own->place.empty() ? "" : ", ") + own->address;
    event.description = calendar_words(*own);
    event.geo = own->geo;
    event.alarm_before = kReminder;
    events.push_back(std::move(event));
  }
  if (events.empty()) {
    return show_message(visit,
                        say("calendar.none", {}),
                        {say("calendar.none_text", {})},
                        "/me/" + sign_up->id,
                        say("own.window", {}),
                        404);
  }
  return HttpAnswer::download(
      "text/calendar; charset=utf-8", "call.ics", calendar_file(events, visit.language));
}

}  // namespace gp
