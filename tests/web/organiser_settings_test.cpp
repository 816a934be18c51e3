#include "store/settings.h"

#include <algorithm>

#include "organiser_site.h"
#include <doctest/doctest.h>

using gp::test::fields_of;
using gp::test::holds;
using gp::test::OrganiserSite;
using gp::test::where_to;
using gp::test::with;
using gp::test::without;

namespace {

const std::string kSettings = "/organise/settings";

/// The key by which the door's page names somebody.
std::string door_key(OrganiserSite& pages, const std::string& name) {
  const std::string page = pages.get("/door").body;
  const std::size_t at = page.find("<bdi>" + name + "</bdi>");
  REQUIRE(at != std::string::npos);
  const std::size_t from = page.rfind("id=\"p", at) + 4;
  return page.substr(from, page.find('"', from) - from);
}

}  // namespace

TEST_SUITE("web/organiser_settings") {
  TEST_CASE("settings and the film's title are changed by form") {
    OrganiserSite pages;
    pages.log_in();
    auto fields = fields_of(pages.get(kSettings).body, kSettings);
    CHECK(pages.post(kSettings, fields).status == 303);
    CHECK(pages.book().state()->revision == 1);  // nothing was changed
    fields = with(fields, "title", "The Lent Moon");
    fields = with(fields, "about", "A day at the pier.\nBring boots.");
    fields = with(fields, "consent", "We film you & show it to <friends>.");
    fields = with(fields, "most_people", "40");
    fields = with(fields, "forget_after_days", "14");
    fields = with(fields, "accept_at_once", "1");
    fields = without(fields, "sign_ups_open");
    fields = with(fields, "contact_phone", "0131 496 0011");
    REQUIRE(pages.post(kSettings, fields).status == 303);
    const auto state = pages.book().state();
    const gp::Settings settings = gp::read_settings(state->settings);
    CHECK(state->production->title == "The Lent Moon");
    CHECK(state->production->contact.phone == "0131 496 0011");
    CHECK(state->production->contact.name == "Ada");
    CHECK(settings.about == "A day at the pier.\nBring boots.");
    CHECK(settings.consent == "We film you & show it to <friends>.");
    CHECK(settings.most_people == 40);
    CHECK(settings.forget_after_days == 14);
    CHECK(settings.accept_at_once);
    CHECK_FALSE(settings.sign_ups_open);
    const auto page = pages.get(kSettings);
    CHECK(holds(page, "A day at the pier.\nBring boots."));
    CHECK(holds(page, "&lt;friends&gt;"));
    auto shown = fields_of(page.body, kSettings);
    auto typed = with(fields, "seen", std::to_string(state->revision));
    std::sort(shown.begin(), shown.end());
    std::sort(typed.begin(), typed.end());
    CHECK(shown == typed);
  }

  TEST_CASE("wrong settings are told at their field, and all entries stay") {
    OrganiserSite pages;
    pages.log_in();
    const auto good = fields_of(pages.get(kSettings).body, kSettings);
    for (const auto& [name, value] :
         std::vector<std::pair<std::string, std::string>>{{"title", ""},
                                                          {"title", std::string(300, 't')},
                                                          {"about", std::string(2001, 'a')},
                                                          {"consent", std::string(4001, 'c')},
                                                          {"most_people", "-1"},
                                                          {"most_people", "many"},
                                                          {"most_people", "100001"},
                                                          {"forget_after_days", "0"},
                                                          {"forget_after_days", "3651"},
                                                          {"forget_after_days", "soon"}}) {
      CAPTURE(name);
      CAPTURE(value);
      const auto answer =
          pages.post(kSettings, with(with(good, "contact_name", "kept entry"), name, value));
      CHECK(answer.status == 422);
      CHECK(holds(answer, "kept entry"));
      CHECK(holds(answer, "id=\"" + name + "-error\""));
    }
    CHECK(pages.book().state()->revision == 1);
  }

  TEST_CASE("settings changed from two sides: both sides are shown") {
    OrganiserSite pages;
    pages.log_in();
    const auto old = fields_of(pages.get(kSettings).body, kSettings);
    REQUIRE(pages.post(kSettings, with(old, "about", "first")).status == 303);
    const auto refused = pages.post(kSettings, with(old, "about", "second"));
    CHECK(refused.status == 409);
    CHECK(holds(refused, "first"));
    CHECK(holds(refused, "second"));
    REQUIRE(pages.post(kSettings, fields_of(refused.body, kSettings)).status == 303);
    CHECK(gp::read_settings(pages.book().state()->settings).about == "second");
  }

  TEST_CASE("the passphrase is changed by who knows it, to a good one") {
    OrganiserSite pages;
    pages.log_in();
    const std::string form = "/organise/settings/passphrase";
    const std::string before = pages.book().secret("passphrase");
    const auto wrong =
        pages.post(form, {{"old_passphrase", "guess"}, {"new_passphrase", "four dry mackerels"}});
    CHECK(wrong.status == 422);
    CHECK(holds(wrong, "This is not the passphrase until now."));
    const auto weak = pages.post(
        form, {{"old_passphrase", "three wet herrings"}, {"new_passphrase", "password1"}});
    CHECK(weak.status == 422);
    CHECK(holds(weak, "id=\"new-error\""));
    CHECK(pages.book().secret("passphrase") == before);
    CHECK(pages
              .post(form,
                    {{"old_passphrase", "three wet herrings"},
                     {"new_passphrase", "four dry mackerels"}})
              .status == 303);
    CHECK(gp::passphrase_right(pages.book().secret("passphrase"), "four dry mackerels"));
    CHECK_FALSE(holds(pages.get(kSettings), "four dry mackerels"));
  }

  TEST_CASE("guesses at the old passphrase from an open browser are slowed like log-ins") {
    OrganiserSite pages;
    pages.log_in();
    gp::HttpAnswer last;
    for (int i = 0; i < 6; ++i) {
      last = pages.post("/organise/settings/passphrase",
                        {{"old_passphrase", "guess"}, {"new_passphrase", "four dry mackerels"}});
    }
    CHECK(holds(last, "Too many tries."));
  }

  TEST_CASE("a new code for the door is shown once and opens the door; without one nothing does") {
    OrganiserSite pages;
    pages.log_in();
    const auto made = pages.post("/organise/settings/door-code", {{"code", "new"}});
    REQUIRE(made.status == 200);
    const std::size_t from = made.body.find("<p class=\"figure\">") + 18;
    const std::string code = made.body.substr(from, made.body.find('<', from) - from);
    CHECK(gp::passphrase_right(pages.book().secret("door-code"), gp::plain_code(code)));
    CHECK_FALSE(holds(pages.get(kSettings), code));
    CHECK(pages.log.find(code) == std::string::npos);
    pages.post("/organise/settings/door-code", {{"code", "none"}});
    CHECK(pages.book().secret("door-code").empty());
  }

  TEST_CASE("the history says what changed, when and by whom, without names or answers") {
    OrganiserSite pages;
    pages.log_in();
    gp::SignUp sign_up;
    sign_up.name = "Noor Haddad";
    sign_up.skin = "latex";
    const std::string id = pages.signs_up(sign_up);
    pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}});
    const auto page = pages.get("/organise/history");
    CHECK(holds(page, "a friend"));
    CHECK(holds(page, "organiser"));
    CHECK_FALSE(holds(page, "Noor"));
    CHECK_FALSE(holds(page, "noor"));
    CHECK_FALSE(holds(page, "latex"));
  }

  TEST_CASE("what changed since a day; one change in the middle is taken back alone") {
    OrganiserSite pages;
    pages.log_in();
    // Saturday 10 April; the book was made then. A week later:
    const auto fields = fields_of(pages.get(kSettings).body, kSettings);
    pages.now += 3 * 24 * 60 * 60;  // Tuesday; no session lasts so long
    pages.log_in();
    pages.post(kSettings, with(fields, "about", "told on Tuesday"));
    pages.now += 24 * 60 * 60;  // Wednesday
    pages.log_in();
    pages.post("/organise/scenes/theft/change",
               with(fields_of(pages.get("/organise/scenes/theft/change").body,
                              "/organise/scenes/theft/change"),
                    "notes",
                    "told on Wednesday"));
    CHECK(holds(pages.get("/organise/history?since=2027-04-13"), "changed the settings"));
    const auto wednesday = pages.get("/organise/history?since=2027-04-14");
    CHECK_FALSE(holds(wednesday, "changed the settings"));
    CHECK(holds(wednesday, "changed a scene"));
    CHECK(holds(pages.get("/organise/history?since=2027-04-15"), "Nothing has changed."));
    for (const std::string date : {"yesterday", "2027-02-30", "0000-00-00", "\"><script>"}) {
      CAPTURE(date);
      const auto answer = pages.get("/organise/history?since=" + date);
      CHECK(answer.status == 200);
      CHECK_FALSE(holds(answer, "\"><script>"));
    }
    // the link "since Friday" leads to 9 April
    CHECK(holds(wednesday, "since=2027-04-09"));
    REQUIRE(pages.post("/organise/history/undo", {{"revision", "2"}}).status == 303);
    CHECK(gp::read_settings(pages.book().state()->settings).about.empty());
    CHECK(pages.book().state()->production->scenes[gp::SceneId(0)].notes == "told on Wednesday");
    for (const std::string revision : {"0", "1", "99", "x", ""}) {
      CAPTURE(revision);
      CHECK(pages.post("/organise/history/undo", {{"revision", revision}}).status == 404);
    }
  }

  TEST_CASE("a copy of any revision is what the production was then") {
    OrganiserSite pages;
    pages.log_in();
    pages.post(kSettings, with(fields_of(pages.get(kSettings).body, kSettings), "title", "New"));
    CHECK(gp::Document::parse(pages.get("/organise/history/1/copy").body) ==
          gp::Document::parse(gp::test::small_film()));
    CHECK(gp::Document::parse(pages.get("/organise/export/production").body).at("title") == "New");
  }

  TEST_CASE("people are ticked in at the door and out again, twice is once") {
    OrganiserSite pages;
    pages.plan();
    pages.log_in(gp::Sessions::Role::door);
    CHECK(holds(pages.get("/door"), "0 of "));
    const std::string tom = door_key(pages, "Tom");
    const OrganiserSite::Fields tick = {{"day", "2027-04-17"}, {"person", tom}, {"here", "1"}};
    CHECK(pages.post("/door/tick", tick).status == 303);
    const auto revision = pages.book().state()->revision;
    CHECK(pages.post("/door/tick", tick).status == 303);
    CHECK(pages.book().state()->revision == revision);
    CHECK(holds(pages.get("/door"), ">here</span>"));
    CHECK(holds(pages.get("/door/count?day=2027-04-17"), "1 of "));
    CHECK(holds(pages.get("/door/count?day=2027-04-18"), "0 of "));
    CHECK(pages.post("/door/tick", with(tick, "here", "0")).status == 303);
    CHECK(holds(pages.get("/door/count?day=2027-04-17"), "0 of "));
    CHECK(pages.post("/door/tick", with(tick, "person", "tom")).status == 404);
    CHECK(pages.post("/door/tick", with(tick, "day", "2027-04-19")).status == 404);
    CHECK(pages.post("/door/tick", with(tick, "day", "yesterday")).status == 404);
  }

  TEST_CASE("the door sees names, calls, guardians and who is late, and nothing else") {
    OrganiserSite pages;
    pages.log_in();
    gp::SignUp late;
    late.name = "Bo Li";
    late.phone = "0131 496 0033";
    late.skin = "secret-skin";
    late.words = "secret-words";
    gp::Notice notice;
    notice.day = gp::Date{std::chrono::year{2027} / 4 / 17};
    notice.minutes_late = 15;
    notice.words = "secret-reason";
    notice.at = pages.now;
    late.notices = {notice};
    const std::string id = pages.signs_up(late);
    pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}});
    pages.log_in(gp::Sessions::Role::door);
    const auto page = pages.get("/door?day=2027-04-17");  // no plan yet: everybody who is free
    CHECK(holds(page, "Bo Li"));
    CHECK(holds(page, "15 minutes late"));
    // the name between the marks that keep its direction (UAX #9, isolates)
    CHECK(holds(page, "with \xE2\x81\xA8Tom\xE2\x81\xA9"));
    for (const std::string secret :
         {"0131 496 0033", "0131 496 0001", "secret-", "nut oil", "no milk", "/organise"}) {
      CAPTURE(secret);
      CHECK_FALSE(holds(page, secret));
    }
  }

  TEST_CASE("two doors tick at once and both ticks are kept") {
    OrganiserSite pages;
    pages.log_in();
    const std::string tom = door_key(pages, "Tom");
    const std::string wen = door_key(pages, "Wen");
    std::thread other([&] {
      for (int i = 0; i < 10; ++i) {
        pages.post("/door/tick", {{"day", "2027-04-17"}, {"person", tom}, {"here", "1"}});
        pages.post("/door/tick", {{"day", "2027-04-18"}, {"person", tom}, {"here", "1"}});
      }
    });
    for (int i = 0; i < 10; ++i) {
      pages.post("/door/tick", {{"day", "2027-04-17"}, {"person", wen}, {"here", "1"}});
    }
    other.join();
    CHECK(holds(pages.get("/door/count?day=2027-04-17"), "2 of "));
  }
}
