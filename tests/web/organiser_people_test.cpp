#include "organiser_site.h"
#include <doctest/doctest.h>

using gp::SignUpState;
using gp::test::fields_of;
using gp::test::holds;
using gp::test::OrganiserSite;
using gp::test::where_to;
using gp::test::with;

namespace {

const gp::Person* person(const gp::BookState& state, const std::string& name) {
  for (const gp::Person& one : state.production->people) {
    if (one.name == name) return &one;
  }
  return nullptr;
}

/// The address of a person without a sign-up, as the list of people links to it.
std::string page_of(OrganiserSite& pages, const std::string& name) {
  const std::string list = pages.get("/organise/people").body;
  const std::size_t at = list.find("<bdi>" + name + "</bdi>");
  REQUIRE(at != std::string::npos);
  const std::size_t from = list.rfind("/organise/people/", at);
  return list.substr(from, list.find('"', from) - from);
}

gp::SignUp mother() {
  gp::SignUp sign_up;
  sign_up.name = "Noor Haddad";
  sign_up.phone = "0131 496 0009";
  sign_up.skin = "secret-skin";
  sign_up.food = "secret-food";
  sign_up.need_name = "secret-need";
  sign_up.free = std::vector<gp::FreeTime>{};
  gp::Companion child;
  child.name = "Little Sam";
  child.age = 7;
  child.skin = "secret-child";
  sign_up.brings = {child};
  return sign_up;
}

}  // namespace

TEST_SUITE("web/organiser_people") {
  TEST_CASE("a sign-up is accepted, put on the waiting list and declined by one tap, each undone") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = pages.signs_up(mother());
    CHECK(holds(pages.get("/organise"), "Noor Haddad"));
    const std::string decide = "/organise/people/" + id + "/decide";

    const auto accepted = pages.post(decide, {{"state", "accepted"}, {"back", "/organise"}});
    REQUIRE(accepted.status == 303);
    CHECK(where_to(accepted).starts_with("/organise?done="));
    auto state = pages.book().state();
    CHECK(state->sign_up(id)->state == SignUpState::accepted);
    REQUIRE(person(*state, "Noor Haddad") != nullptr);
    // the child comes along, with its guardian
    REQUIRE(person(*state, "Little Sam") != nullptr);
    CHECK(state->production->people[person(*state, "Little Sam")->guardian].name == "Noor Haddad");
    CHECK_FALSE(holds(pages.get("/organise"), "New sign-ups</h2>"));

    const auto done = pages.get(where_to(accepted));
    CHECK(holds(done, "Undo this"));
    const auto undone =
        pages.post("/organise/history/undo", fields_of(done.body, "/organise/history/undo"));
    REQUIRE(undone.status == 303);
    state = pages.book().state();
    CHECK(state->sign_up(id)->state == SignUpState::fresh);
    CHECK(person(*state, "Noor Haddad") == nullptr);
    CHECK(person(*state, "Little Sam") == nullptr);

    CHECK(pages.post(decide, {{"state", "waiting"}}).status == 303);
    CHECK(pages.book().state()->sign_up(id)->state == SignUpState::waiting);
    CHECK(pages.post(decide, {{"state", "declined"}}).status == 303);
    CHECK(pages.book().state()->sign_up(id)->state == SignUpState::declined);
    CHECK(pages.post(decide, {{"state", "crowned"}}).status == 400);
    CHECK(pages.post(decide, {}).status == 400);
  }

  TEST_CASE("accepting twice makes one person") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = pages.signs_up(mother());
    const std::size_t before = pages.book().state()->production->people.size();
    pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}});
    pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}});
    CHECK(pages.book().state()->production->people.size() == before + 2);
  }

  TEST_CASE("answers about health stand on the person's own page and on no other") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = pages.signs_up(mother());
    pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}});
    pages.plan();
    const auto own = pages.get("/organise/people/" + id);
    for (const std::string secret : {"secret-skin", "secret-food", "secret-need", "secret-child"}) {
      CHECK(holds(own, secret));
      for (const std::string page : {"/organise",
                                     "/organise/people",
                                     "/organise/needs",
                                     "/organise/plan",
                                     "/organise/scenes",
                                     "/organise/history",
                                     "/organise/settings",
                                     "/organise/export",
                                     "/organise/export/people",
                                     "/door"}) {
        CAPTURE(page);
        CHECK_FALSE(holds(pages.get(page), secret));
        CHECK_FALSE(holds(pages.get(page), "nut oil"));  // Kit's, who has no sign-up
      }
    }
    CHECK_FALSE(holds(pages.get("/door"), "0131 496 0009"));
  }

  TEST_CASE("what was told just now stands first until it is seen") {
    OrganiserSite pages;
    pages.log_in();
    gp::SignUp late = mother();
    gp::Notice notice;
    notice.day = gp::Date{std::chrono::year{2027} / 4 / 17};
    notice.minutes_late = 20;
    notice.words = "the bus";
    notice.at = pages.now;
    late.notices = {notice};
    const std::string id = pages.signs_up(late);
    const auto page = pages.get("/organise");
    CHECK(holds(page, "20 minutes late"));
    CHECK(holds(page, "the bus"));
    CHECK(holds(pages.get("/organise/news"), "20 minutes late"));
    pages.post("/organise/people/" + id + "/seen", {{"back", "/organise"}});
    CHECK_FALSE(holds(pages.get("/organise/news"), "20 minutes late"));
    CHECK(pages.book().state()->sign_up(id)->seen);
    CHECK(holds(pages.get("/organise/people/" + id), "20 minutes late"));
  }

  TEST_CASE("a personal link is shown once, opens the person's page, and can be revoked") {
    OrganiserSite pages;
    pages.log_in();
    const std::string tom = page_of(pages, "Tom");
    const auto made = pages.post(tom + "/link", {});
    REQUIRE(made.status == 200);
    const std::size_t at = made.body.find("http://192.168.1.20:8080/p/");
    REQUIRE(at != std::string::npos);
    const std::size_t from = at + std::string("http://192.168.1.20:8080/p/").size();
    const std::string secret = made.body.substr(from, made.body.find('<', from) - from);
    const auto id = pages.book().opened_by(secret);
    REQUIRE(id.has_value());
    CHECK(pages.book().state()->sign_up(*id)->person == "tom");
    CHECK_FALSE(holds(pages.get("/organise/people/" + *id), secret));
    // a new one takes the old one's place
    pages.post("/organise/people/" + *id + "/link", {});
    CHECK_FALSE(pages.book().opened_by(secret).has_value());
    pages.post("/organise/people/" + *id + "/revoke", {});
    CHECK(pages.get("/p/" + secret).status == 404);
  }

  TEST_CASE("a person's form sent back as it came changes nothing") {
    OrganiserSite pages;
    pages.log_in();
    for (const std::string name : {"Inês", "Tom", "Wen", "Kit"}) {
      const std::string page = page_of(pages, name);
      const auto before = *pages.book().state()->production_document;
      const auto form = pages.get(page + "/change");
      REQUIRE(form.status == 200);
      CHECK(pages.post(page + "/change", fields_of(form.body, page + "/change")).status == 303);
      CHECK(*pages.book().state()->production_document == before);
    }
  }

  TEST_CASE("what is typed into a person's form is in the production") {
    OrganiserSite pages;
    pages.log_in();
    const std::string page = page_of(pages, "Wen") + "/change";
    auto fields = fields_of(pages.get(page).body, page);
    fields = with(fields, "name", "  Wén O'Neill 3rd ");
    fields = with(fields, "can", "light, dance; light");
    fields = with(fields, "turnout", "62,5 %");
    fields = with(fields, "day-2027-04-17", "hours");
    fields = with(fields, "hours-2027-04-17", "9:00 – 13:00, 15.30-18:00");
    fields = with(fields, "day-2027-04-18", "no");
    fields = with(fields, "sizes", "head_cm 57\nshoe 41,5");
    fields = with(fields, "answer", "yes");
    const auto answer = pages.post(page, fields);
    REQUIRE(answer.status == 303);
    const auto state = pages.book().state();
    const gp::Person* const wen = person(*state, "Wén O'Neill 3rd");
    REQUIRE(wen != nullptr);
    CHECK(wen->id == "wen");
    CHECK(wen->can == gp::Tags{"light", "dance"});
    CHECK(wen->no == gp::Tags{"water"});
    CHECK(wen->turnout == 0.625);
    CHECK(wen->answer == gp::Answer::yes);
    CHECK(wen->sizes == std::map<std::string, double>{{"head_cm", 57}, {"shoe", 41.5}});
    REQUIRE(wen->free.has_value());
    REQUIRE(wen->free->size() == 2);
    CHECK(wen->free->at(0).hours == gp::WallSpan{{9 * 60}, {13 * 60}});
    CHECK(wen->free->at(1).hours == gp::WallSpan{{15 * 60 + 30}, {18 * 60}});
  }

  TEST_CASE("wrong entries are told at their field, and all entries stay") {
    OrganiserSite pages;
    pages.log_in();
    const std::string page = page_of(pages, "Wen") + "/change";
    const auto good = fields_of(pages.get(page).body, page);
    const auto before = pages.book().state()->revision;
    const std::string longest(201, 'x');
    const std::vector<std::pair<std::string, std::string>> wrong = {
        {"name", ""},
        {"name", longest},
        {"name", " \xC2\xA0 "},
        {"turnout", "101"},
        {"turnout", "often"},
        {"weight", "-1"},
        {"weight", "1e9"},
        {"born", "31 June"},
        {"born", "2015-02-30"},
        {"answer", "perhaps"},
        {"guardian", "nobody"},
        {"sizes", "head"},
        {"language", "not a language"},
        {"phone", std::string(300, '1')}};
    for (const auto& [name, value] : wrong) {
      CAPTURE(name);
      CAPTURE(value);
      auto fields = with(with(good, "email", "kept@example.org"), name, value);
      if (name == "email") fields = with(fields, "phone", "kept@example.org");
      const auto answer = pages.post(page, fields);
      CHECK(answer.status == 422);
      CHECK(holds(answer, "<title>Error: "));
      CHECK(holds(answer, "href=\"#" + name + "\""));
      CHECK(holds(answer, "id=\"" + name + "-error\""));
      CHECK(holds(answer, "kept@example.org"));
    }
    for (const std::string hours : {"", "noon", "13:00-9:00", "9-"}) {
      CAPTURE(hours);
      const auto answer =
          pages.post(page, with(with(good, "day-2027-04-17", "hours"), "hours-2027-04-17", hours));
      CHECK(answer.status == 422);
      CHECK(holds(answer, "id=\"hours-2027-04-17-error\""));
    }
    CHECK(pages.book().state()->revision == before);
  }

  TEST_CASE("names of every script, with markup and signs, are kept and shown as they are") {
    OrganiserSite pages;
    pages.log_in();
    for (const std::string name : {"李小龍",
                                   "نور الخطيب",
                                   "Ó hÉalaithe",
                                   "कमला",
                                   "שרה",
                                   "<b>Bo</b> & \"Li\" 'x'",
                                   "=SUM(A1)",
                                   "{{NAME}} [[save]]",
                                   "🎭 Mask",
                                   "../../etc/passwd"}) {
      CAPTURE(name);
      const auto form = pages.get("/organise/new-person");
      auto fields = fields_of(form.body, "/organise/new-person");
      const auto answer = pages.post("/organise/new-person", with(fields, "name", name));
      REQUIRE(answer.status == 303);
      const auto state = pages.book().state();
      REQUIRE(person(*state, name) != nullptr);
      CHECK(pages.get("/organise/people").status == 200);
      CHECK_FALSE(holds(pages.get("/organise/people"), "<b>Bo"));
    }
  }

  TEST_CASE("the same new person sent twice is one person") {
    OrganiserSite pages;
    pages.log_in();
    const auto fields = with(
        fields_of(pages.get("/organise/new-person").body, "/organise/new-person"), "name", "Bo Li");
    const std::size_t before = pages.book().state()->production->people.size();
    CHECK(pages.post("/organise/new-person", fields).status == 303);
    CHECK(pages.post("/organise/new-person", fields).status == 303);
    CHECK(pages.book().state()->production->people.size() == before + 1);
  }

  TEST_CASE("fields that a form does not have change nothing") {
    OrganiserSite pages;
    pages.log_in();
    const std::string page = page_of(pages, "Wen") + "/change";
    auto fields = fields_of(pages.get(page).body, page);
    for (const std::string name : {"id", "role", "who", "state", "seen_by", "people", "title"}) {
      fields = with(fields, name, "tom");
    }
    const auto before = *pages.book().state()->production_document;
    CHECK(pages.post(page, fields).status == 303);
    CHECK(*pages.book().state()->production_document == before);
  }

  TEST_CASE(
      "changes of different fields from an older form are merged; of the same field both sides "
      "are shown and the newest form can be saved") {
    OrganiserSite pages;
    pages.log_in();
    const std::string page = page_of(pages, "Wen") + "/change";
    const auto old = fields_of(pages.get(page).body, page);
    REQUIRE(pages.post(page, with(old, "phone", "0131 496 0077")).status == 303);
    // another field: merged
    REQUIRE(pages.post(page, with(old, "food", "no fish")).status == 303);
    auto state = pages.book().state();
    CHECK(person(*state, "Wen")->phone == "0131 496 0077");
    CHECK(person(*state, "Wen")->food == "no fish");
    // the same field: refused, with both sides
    const auto refused =
        pages.post(page, with(with(old, "phone", "0131 496 0088"), "email", "wen@example.org"));
    CHECK(refused.status == 409);
    CHECK(holds(refused, "0131 496 0077"));
    CHECK(holds(refused, "0131 496 0088"));
    CHECK(person(*pages.book().state(), "Wen")->phone == "0131 496 0077");
    // saved again from that page: mine stands, and what others changed elsewhere stays
    REQUIRE(pages.post(page, fields_of(refused.body, page)).status == 303);
    state = pages.book().state();
    CHECK(person(*state, "Wen")->phone == "0131 496 0088");
    CHECK(person(*state, "Wen")->email == "wen@example.org");
    CHECK(person(*state, "Wen")->food == "no fish");
  }

  TEST_CASE("what the organiser changes of a friend the friend sees") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = pages.signs_up(mother());
    pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}});
    const std::string page = "/organise/people/" + id + "/change";
    const auto fields = fields_of(pages.get(page).body, page);
    REQUIRE(pages.post(page, with(with(fields, "phone", "0131 496 0055"), "can", "light")).status ==
            303);
    CHECK(pages.book().state()->sign_up(id)->phone == "0131 496 0055");
    CHECK(pages.book().state()->sign_up(id)->can == gp::Tags{"light"});
    CHECK(pages.book().state()->sign_up(id)->skin == "secret-skin");
  }

  TEST_CASE("who is still named by a part cannot be taken out, and it is said where; others can") {
    OrganiserSite pages;
    pages.log_in();
    const std::string seen = std::to_string(pages.book().state()->revision);
    const auto refused = pages.post(page_of(pages, "Tom") + "/remove", {{"seen", seen}});
    CHECK(refused.status == 409);
    CHECK(holds(refused, "roles[0].person"));
    CHECK(person(*pages.book().state(), "Tom") != nullptr);
    const std::string kit = page_of(pages, "Kit");
    const auto form = fields_of(pages.get(kit + "/change").body, kit + "/remove");
    CHECK(pages.post(kit + "/remove", form).status == 303);
    CHECK(person(*pages.book().state(), "Kit") == nullptr);
  }

  TEST_CASE("the table for spreadsheets holds no formula and no answer about health") {
    OrganiserSite pages;
    pages.log_in();
    gp::SignUp bad = mother();
    bad.name = "=HYPERLINK(\"http://x\")";
    bad.phone = " +44 1";
    bad.email = "@SUM";
    pages.signs_up(bad);
    const std::string table = pages.get("/organise/export/people").body;
    // RFC 4180: every cell in quotes, quotes doubled; OWASP, CSV Injection: an apostrophe before
    CHECK(table.find("\"'=HYPERLINK(\"\"http://x\"\")\"") != std::string::npos);
    CHECK(table.find("\"' +44 1\"") != std::string::npos);
    CHECK(table.find("\"'@SUM\"") != std::string::npos);
    CHECK(table.find("\"=") == std::string::npos);
    CHECK(table.find("secret-skin") == std::string::npos);
    CHECK(table.find("nut oil") == std::string::npos);
    CHECK(table.find("Tom") != std::string::npos);
  }
}
