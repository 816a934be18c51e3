#include "store/enrol.h"
#include "web/friends/asked.h"
#include "web/friends/birth_date.h"
#include "web/friends/sign_up_form.h"

#include "friends_site.h"
#include <doctest/doctest.h>

using namespace gp;
using namespace gp::test;

namespace {

Date date(int year, unsigned month, unsigned day) {
  return Date{std::chrono::year(year), std::chrono::month(month), std::chrono::day(day)};
}

/// Accepts the only sign-up as the organiser would, and plans.
void accept_and_plan(FriendsSite& site) {
  const auto state = site.book().state();
  const auto result = site.book().change(accept(*state, *site.only(), "organiser", site.now));
  REQUIRE(std::holds_alternative<Kept>(result));
  site.plan();
  REQUIRE(site.book().state()->plan != nullptr);
}

}  // namespace

TEST_SUITE("web/friends") {
  TEST_CASE("a sign-up arrives as it was answered, and its person gets a page") {
    FriendsSite site;
    const HttpAnswer answer = site.signs_up(right_answers());
    const auto sign_up = site.only();
    CHECK(answer.status == 303);
    CHECK(leads_to(answer) == "/me/" + sign_up->id + "/welcome");
    CHECK(sign_up->state == SignUpState::fresh);
    CHECK(sign_up->name == "Noor Haddad");
    REQUIRE(sign_up->free.has_value());
    REQUIRE(sign_up->free->size() == 1);
    CHECK(sign_up->free->front() ==
          FreeTime{date(2027, 4, 17), WallSpan{WallTime{600}, WallTime{870}}});
    CHECK(sign_up->likes == Tags{"lamp"});
    CHECK(sign_up->can == Tags{"paint"});
    CHECK(sign_up->no == Tags{"fog"});
    CHECK(sign_up->may_be_filmed);
    CHECK(sign_up->consent_text.find("The Lamp That Whistled") != std::string::npos);
    CHECK(says(site.get("/me/" + sign_up->id + "/welcome"), "http://192.168.1.20:8080/p/"));
    CHECK(says(site.get("/me/" + sign_up->id), "Hello, "));
  }

  TEST_CASE("the same form sent twice makes one person, with the same link") {
    FriendsSite site;
    const std::string key = new_secret();
    const HttpAnswer first = site.signs_up(right_answers(key));
    const auto link = site.cookies;
    const HttpAnswer again = site.signs_up(right_answers(key));
    CHECK(leads_to(first) == leads_to(again));
    CHECK(site.book().state()->sign_ups.size() == 1);
    CHECK(site.cookies == link);
    site.signs_up(right_answers());  // another form is another person
    CHECK(site.book().state()->sign_ups.size() == 2);
  }

  TEST_CASE("every field wrong is told in words, and nothing is kept") {
    struct Wrong {
      const char *field, *value, *step, *words;
    };
    const std::string long_name(121, 'x');
    const std::string long_text(1001, 'x');
    for (const Wrong& wrong :
         std::vector<Wrong>{{"name", "", "you", "Enter your name"},
                            {"name", "\xC2\xA0 \xE2\x80\x8B", "you", "Enter your name"},
                            {"name", long_name.c_str(), "you", "at most 120 characters"},
                            {"phone", "", "you", "Enter a phone number or a mail address"},
                            {"phone", "ring me", "you", "5 to 20 digits"},
                            {"phone", "12", "you", "5 to 20 digits"},
                            {"email", "no at sign", "you", "name@example.org"},
                            {"adult", "", "you", "18 or over"},
                            {"adult", "perhaps", "you", "18 or over"},
                            {"day_2027-04-17", "", "when", "Choose whether you can come"},
                            {"day_2027-04-17", "not", "when", "at least one day"},
                            {"until_2027-04-17", "09:00", "when", "end after they begin"},
                            {"until_2027-04-17", "25h", "when", "end after they begin"},
                            {"size_height_cm", "tall", "sizes", "enter a number"},
                            {"size_height_cm", "-4", "sizes", "enter a number"},
                            {"size_height_cm", "1e9", "sizes", "enter a number"},
                            {"skin", long_text.c_str(), "care", "at most 1,000 characters"},
                            {"need_name", "Ivo", "need", "phone number of the person to call"},
                            {"need_phone", "01632 960001", "need", "name of the person to call"},
                            {"film", "", "film", "Choose whether we may film you"},
                            {"words", long_text.c_str(), "check", "at most 1,000 characters"},
                            {"c0_name", "Mina", "companion", "under 18"}}) {
      CAPTURE(wrong.field);
      CAPTURE(std::string(wrong.value).substr(0, 30));
      FriendsSite site;
      const HttpAnswer answer = site.signs_up(but(right_answers(), wrong.field, wrong.value));
      CHECK(answer.status == 422);
      CHECK(says(answer, "<title>Error: "));
      CHECK(says(answer, "name=\"step\" value=\"" + std::string(wrong.step) + "\""));
      CHECK(says(answer, wrong.words));
      CHECK(says(answer, "There is a problem"));
      CHECK(site.book().state()->sign_ups.empty());
      // what was right is still there, seen or hidden
      CHECK(says(answer, "Noor Haddad") == (std::string(wrong.field) != "name"));
    }
  }

  TEST_CASE("names of every script are kept; markup is shown as text; control characters go") {
    for (const std::string name : {"Mary-Jane O'Neill 3rd",
                                   "李",
                                   "Ó hÉalaithe",
                                   "نور الخطيب",
                                   "\"><script>alert(1)</script>",
                                   "=cmd|'x'!A0",
                                   "{{CSRF}} [[back]]",
                                   "क्षत्रिय",
                                   "👩‍🎤 Zed"}) {
      CAPTURE(name);
      FriendsSite site;
      CHECK(site.signs_up(but(right_answers(), "name", "  " + name + "\xC2\xA0")).status == 303);
      CHECK(site.only()->name == name);
      const HttpAnswer page = site.get("/me/" + site.only()->id);
      CHECK(page.status == 200);
      CHECK_FALSE(says(page, "<script>alert"));
    }
    FriendsSite site;
    site.signs_up(but(right_answers(), "name", "No\x01or\r\nBcc: x\xE2\x80\xAE"));
    CHECK(site.only()->name == "Noor Bcc: x");
  }

  TEST_CASE("fields that no page asks for reach nothing") {
    FriendsSite site;
    FormFields fields = right_answers();
    for (const char* name : {"state", "person", "seen", "id", "guardian", "born_year", "sent_at"}) {
      fields.emplace_back(name, "accepted");
    }
    fields.emplace_back("can", "direct");  // nobody asked for it
    CHECK(site.signs_up(fields).status == 303);
    CHECK(site.only()->state == SignUpState::fresh);
    CHECK(site.only()->person.empty());
    CHECK(site.only()->guardian.empty());
    CHECK(site.only()->can == Tags{"paint"});
  }

  TEST_CASE("under 18 needs a guardian who agrees; whose birth date is wrong is told which part") {
    struct Case {
      const char *day, *month, *year, *words;
    };
    for (const Case& one : {Case{"", "", "", "Enter your date of birth"},
                            Case{"7", "jan", "", "must include a year"},
                            Case{"31", "2", "2012", "must be a real date"},
                            Case{"1", "1", "2031", "must be in the past"},
                            Case{"1", "1", "1990", "18 or over"}}) {
      CAPTURE(one.words);
      FriendsSite site;
      FormFields fields = but(right_answers(), "adult", "no");
      fields.emplace_back("born_day", one.day);
      fields.emplace_back("born_month", one.month);
      fields.emplace_back("born_year", one.year);
      const HttpAnswer answer = site.signs_up(fields);
      CHECK(answer.status == 422);
      CHECK(says(answer, one.words));
      CHECK(says(answer, "name of your parent or guardian"));
      CHECK(says(answer, "tick that they agree"));
    }
    FriendsSite site;
    FormFields fields = but(right_answers(), "adult", "no");
    for (const auto& field : FormFields{{"born_day", "7"},
                                        {"born_month", "jan"},
                                        {"born_year", "2012"},
                                        {"guardian", "Ivo"},
                                        {"guardian_phone", "01632 960001"},
                                        {"guardian_agrees", "yes"}}) {
      fields.push_back(field);
    }
    CHECK(site.signs_up(fields).status == 303);
    CHECK(site.only()->born == date(2012, 1, 7));
    CHECK(site.only()->guardian == "Ivo");
  }

  TEST_CASE("a child is brought along with its age; accepted, the signer is its guardian") {
    FriendsSite site;
    FormFields fields = right_answers();
    for (const auto& field : FormFields{
             {"c0_name", "Mina"}, {"c0_child", "yes"}, {"c0_age", "7"}, {"c0_skin", "eczema"}}) {
      fields.push_back(field);
    }
    CHECK(site.signs_up(fields).status == 303);
    REQUIRE(site.only()->brings.size() == 1);
    CHECK(site.only()->brings.front().age == 7);
    accept_and_plan(site);
    const auto& people = site.book().state()->production->people;
    CHECK(people.size() == 3);
    CHECK(people[PersonId(2)].guardian == PersonId(1));
  }

  TEST_CASE("a full day puts the next on the waiting list; closed sign-ups keep nobody") {
    FriendsSite site;
    site.set_settings({{"most_people", 1}});
    site.signs_up(right_answers());
    CHECK(says(site.get("/"), "All places are taken"));
    site.signs_up(but(right_answers(), "name", "Second"));
    const auto state = site.book().state();
    REQUIRE(state->sign_ups.size() == 2);
    int waiting = 0;
    for (const auto& one : state->sign_ups) waiting += one->state == SignUpState::waiting ? 1 : 0;
    CHECK(waiting == 1);
    site.set_settings({{"sign_ups_open", false}});
    CHECK(says(site.signs_up(right_answers()), "Nobody can sign up here just now"));
    CHECK(site.book().state()->sign_ups.size() == 2);
  }

  TEST_CASE("accepted at once where the organiser wishes it") {
    FriendsSite site;
    site.set_settings({{"accept_at_once", true}});
    site.signs_up(right_answers());
    CHECK(site.only()->state == SignUpState::accepted);
    CHECK(site.book().state()->production->people.size() == 2);
  }

  TEST_CASE("the organiser's words replace ours and are kept with the agreement") {
    FriendsSite site;
    site.set_settings({{"consent", "Only on our own wall."}});
    site.signs_up(right_answers());
    CHECK(site.only()->consent_text == "Only on our own wall.");
  }

  TEST_CASE("a called friend sees their call, which is told from then on, and nobody else's data") {
    FriendsSite site;
    site.signs_up(but(right_answers(), "no", ""));
    accept_and_plan(site);
    const HttpAnswer page = site.get("/me/" + site.only()->id);
    CHECK(page.status == 200);
    CHECK(says(page, "Be here at"));
    CHECK(says(page, "geo:53.35000,-6.26000"));
    CHECK(says(page, "a torch"));
    CHECK(says(page, "Lampshade"));
    CHECK_FALSE(says(page, "nettle rash"));
    CHECK_FALSE(says(page, "01632 960777"));
    CHECK_FALSE(says(page, "Quirke"));
    const auto told = site.book().told();
    REQUIRE(told.size() == 2);  // one for each day of the plan
    CHECK(told.front().how == "page");
    CHECK(says(page, "<p class=\"call\">" + told.front().call + "</p>"));
    site.get("/me/" + site.only()->id);
    CHECK(site.book().told().size() == 2);
    const HttpAnswer file = site.get("/me/" + site.only()->id + "/calendar");
    CHECK(file.type.starts_with("text/calendar"));
    CHECK(says(file, "BEGIN:VEVENT"));
    CHECK_FALSE(says(file, "Noor"));
  }

  TEST_CASE("late and cannot come reach the book, and are taken back whole") {
    FriendsSite site;
    site.signs_up(but(right_answers(), "no", ""));
    accept_and_plan(site);
    const std::string me = "/me/" + site.only()->id;
    const auto free = site.only()->free;
    CHECK(site.post(me + "/late", {{"day", "2027-04-17"}, {"minutes", "soon"}}).status == 422);
    CHECK(site.only()->notices.empty());
    CHECK(site.post(me + "/late", {{"day", "2027-04-17"}, {"minutes", " 20 "}}).status == 303);
    REQUIRE(site.only()->notices.size() == 1);
    CHECK(site.only()->notices.front().minutes_late == 20);
    CHECK_FALSE(site.only()->seen);
    site.post(me + "/on-time", {{"day", "2027-04-17"}});
    CHECK(site.only()->notices.empty());
    site.now += 60;
    site.post(me + "/cannot", {{"day", "2027-04-17"}});
    site.post(me + "/cannot", {{"day", "2027-04-17"}});  // sent twice
    CHECK(site.only()->notices.size() == 1);
    CHECK(site.only()->free->empty());
    CHECK(says(site.get(me + "/calendar"), "STATUS:CANCELLED"));
    CHECK(site.post(me + "/can", {{"day", "2027-04-17"}}).status == 303);
    CHECK(site.only()->notices.empty());
    CHECK(site.only()->free == free);
    CHECK(site.post(me + "/cannot", {{"day", "2031-01-01"}}).status == 404);
  }

  TEST_CASE("answers are changed, the production follows, and what was agreed to stays") {
    FriendsSite site;
    site.signs_up(right_answers());
    accept_and_plan(site);
    const std::string words = site.only()->consent_text;
    site.accepts = "de";
    FormFields fields = but(right_answers(""), "no", "latex");
    fields.emplace_back("step", "check");
    fields.emplace_back("go", "send");
    CHECK(site.post("/me/" + site.only()->id + "/answers", fields).status == 303);
    CHECK(site.only()->no == Tags{"latex"});
    CHECK(site.only()->consent_text == words);
    CHECK(site.book().state()->production->people[PersonId(1)].no == Tags{"latex"});
  }

  TEST_CASE("withdrawing is kept and reversible; one's own data come as a file") {
    FriendsSite site;
    site.signs_up(right_answers());
    const std::string me = "/me/" + site.only()->id;
    CHECK(says(site.get(me + "/data"), "allergic to latex"));
    site.post(me + "/withdraw", {});
    CHECK(site.only()->state == SignUpState::withdrawn);
    site.post(me + "/return", {});
    CHECK(site.only()->state == SignUpState::fresh);
    site.post(me + "/forget", {});
    CHECK(site.only()->state == SignUpState::withdrawn);
    CHECK(site.only()->words == "Asks for all their data to be deleted.");
  }

  TEST_CASE("another browser without the link finds nothing") {
    FriendsSite site;
    site.signs_up(right_answers());
    site.cookies.clear();
    for (const char* page : {"", "/data", "/calendar", "/welcome", "/answers", "/forget"}) {
      CHECK(site.get("/me/" + site.only()->id + page).status == 404);
    }
  }

  TEST_CASE("a language is chosen without a script and remembered; nobody is led elsewhere") {
    FriendsSite site;
    CHECK(leads_to(site.get("/language?to=de&back=/sign-up")) == "/sign-up");
    CHECK(says(site.get("/sign-up"), "Wer bist du?"));
    CHECK(leads_to(site.get("/language?to=xx&back=//evil.example")) == "/");
    CHECK(leads_to(site.get("/language?to=fr&back=/\\evil.example")) == "/");
    CHECK(says(site.get("/"), "J’aimerais participer"));
  }

  TEST_CASE("only what the production needs is asked") {
    FriendsSite all;
    const auto say = [&](std::string_view key, const std::vector<WordValue>& values) {
      return FriendsSite::views().say("friends", "en", key, values);
    };
    const Asked asked = what_is_asked(*all.book().state()->production, "en", say);
    CHECK(asked.food);
    CHECK((asked.paint && asked.latex && asked.fog && !asked.glitter && !asked.animals));
    CHECK(asked.sizes.size() == 1);
    CHECK(asked.can.size() == 1);
    CHECK(asked.can.front().label == "Paint faces");
    CHECK(asked.no.size() == 3);
    Production film;
    film.days.add(Day{});
    film.days[DayId(0)].date = date(2027, 4, 17);
    const Asked nothing = what_is_asked(film, "en", say);
    CHECK((!nothing.food && !nothing.skin && nothing.sizes.empty() && nothing.can.empty() &&
           nothing.no.empty() && nothing.parts.empty() && nothing.jobs.empty()));
  }

  TEST_CASE("everything that has words of its own has them in every language") {
    for (const std::string& language : FriendsSite::views().languages()) {
      for (const auto& tag : worded_skills()) {
        CHECK_FALSE(FriendsSite::views().say("friends", language, "skill." + tag).empty());
      }
      for (const auto& tag : worded_refusals()) {
        CHECK_FALSE(FriendsSite::views().say("friends", language, "no." + tag + ".hint").empty());
      }
      for (const auto& key : worded_sizes()) {
        CHECK_FALSE(FriendsSite::views().say("friends", language, "size." + key).empty());
      }
    }
  }

  TEST_CASE("numbers and months are read as people type them") {
    CHECK(typed_number(" 07 ") == 7);
    CHECK(typed_number("٢٧") == 27);
    CHECK_FALSE(typed_number("7.5"));
    CHECK_FALSE(typed_number("10000"));
    for (const char* june : {"6", "06", "June", "jun", "Juni", "juin", "junio"}) {
      CHECK(typed_month(june) == 6);
    }
    CHECK(typed_month("juillet") == 7);
    CHECK(typed_month("MÄRZ") == 3);
    CHECK(typed_month("août") == 8);
    CHECK_FALSE(typed_month("13"));
    CHECK_FALSE(typed_month("soon"));
  }
}
