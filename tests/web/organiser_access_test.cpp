#include "support/seed.h"

#include "organiser_site.h"
#include <doctest/doctest.h>

using gp::test::holds;
using gp::test::OrganiserSite;
using gp::test::where_to;

namespace {

// Every address of the organiser's room; a test below holds it against the routes by asking each
// with the passphrase given: none of them is "not found".
const std::vector<std::string> kPages = {"/organise",
                                         "/organise/news",
                                         "/organise/people",
                                         "/organise/people?state=fresh",
                                         "/organise/new-person",
                                         "/organise/needs",
                                         "/organise/plan",
                                         "/organise/plan/progress",
                                         "/organise/plan/1",
                                         "/organise/plan/1/sheets",
                                         "/organise/plan/1/sheets/day-2027-04-17.pdf",
                                         "/organise/plan/1/day/2027-04-17",
                                         "/organise/scenes",
                                         "/organise/new-scene",
                                         "/organise/scenes/theft/change",
                                         "/organise/history",
                                         "/organise/history/1/copy",
                                         "/organise/settings",
                                         "/organise/poster.pdf",
                                         "/organise/poster.png",
                                         "/organise/export",
                                         "/organise/export/production",
                                         "/organise/export/people"};
const std::vector<std::string> kForms = {"/organise/new-person",
                                         "/organise/people/KEY/decide",
                                         "/organise/people/KEY/seen",
                                         "/organise/people/KEY/link",
                                         "/organise/people/KEY/revoke",
                                         "/organise/people/KEY/change",
                                         "/organise/people/KEY/remove",
                                         "/organise/plan/start",
                                         "/organise/plan/cancel",
                                         "/organise/new-scene",
                                         "/organise/scenes/theft/change",
                                         "/organise/scenes/theft/remove",
                                         "/organise/history/undo",
                                         "/organise/history/redo",
                                         "/organise/settings",
                                         "/organise/settings/passphrase",
                                         "/organise/settings/door-code"};

std::string with_key(std::string address, const std::string& key) {
  const std::size_t at = address.find("KEY");
  return at == std::string::npos ? address : address.replace(at, 3, key);
}

}  // namespace

TEST_SUITE("web/organiser_access") {
  TEST_CASE(
      "without the passphrase every page leads to the log-in, and nothing is told or changed") {
    OrganiserSite pages;
    const std::string id = pages.signs_up("Noor Haddad");
    pages.plan();
    const auto before = pages.book().state()->revision;
    for (const std::string& page : kPages) {
      CAPTURE(page);
      const auto answer = pages.get(page);
      CHECK(answer.status == 303);
      CHECK(where_to(answer).starts_with("/log-in"));
      CHECK(answer.body.empty());
    }
    for (const std::string& page :
         {"/organise/people/" + id, "/organise/people/" + id + "/change"}) {
      CHECK(where_to(pages.get(page)).starts_with("/log-in"));
    }
    for (const std::string& form : kForms) {
      CAPTURE(form);
      const auto answer = pages.post(with_key(form, id), {{"state", "accepted"}});
      CHECK(answer.status == 303);
      CHECK(where_to(answer).starts_with("/log-in"));
    }
    for (const std::string page : {"/door", "/door/count"}) {
      CHECK(where_to(pages.get(page)).starts_with("/door/log-in"));
    }
    CHECK(where_to(pages.post("/door/tick", {})).starts_with("/door/log-in"));
    CHECK(pages.book().state()->revision == before);
  }

  TEST_CASE("the door's code opens the door list and none of the organiser's pages") {
    OrganiserSite pages;
    const std::string id = pages.signs_up("Noor Haddad");
    pages.plan();
    pages.log_in(gp::Sessions::Role::door);
    CHECK(pages.get("/door").status == 200);
    CHECK(pages.get("/door/count").status == 200);
    const auto before = pages.book().state()->revision;
    for (const std::string& page : kPages) {
      CAPTURE(page);
      const auto answer = pages.get(page);
      CHECK(answer.status != 200);
      CHECK_FALSE(holds(answer, "Noor"));
    }
    for (const std::string& form : kForms) {
      CAPTURE(form);
      CHECK(pages.post(with_key(form, id), {{"state", "accepted"}}).status != 200);
    }
    CHECK(pages.book().state()->revision == before);
  }

  TEST_CASE("with the passphrase every page is there") {
    OrganiserSite pages;
    const std::string id = pages.signs_up("Noor Haddad");
    pages.plan();
    pages.log_in();
    for (const std::string& page : kPages) {
      CAPTURE(page);
      CHECK(pages.get(page).status == 200);
    }
    CHECK(pages.get("/organise/people/" + id).status == 200);
    CHECK(pages.get("/door").status == 200);
  }

  TEST_CASE("what is not there is not found, whatever stands in the address") {
    OrganiserSite pages;
    pages.log_in();
    for (const std::string page : {"/organise/people/nobody",
                                   "/organise/people/nobody/change",
                                   "/organise/people/p000000000000",
                                   "/organise/plan/99",
                                   "/organise/plan/-1",
                                   "/organise/plan/99999999999999999999",
                                   "/organise/plan/one/sheets",
                                   "/organise/plan/1/sheets/../../etc/passwd",
                                   "/organise/scenes/no-such/change",
                                   "/organise/history/0/copy",
                                   "/organise/history/99/copy",
                                   "/organise/history/x/copy"}) {
      CAPTURE(page);
      CHECK(pages.get(page).status == 404);
    }
  }

  TEST_CASE("a form without its secret changes nothing") {
    OrganiserSite pages;
    const std::string id = pages.signs_up("Noor Haddad");
    pages.log_in();
    const auto before = pages.book().state()->revision;
    for (const std::string& form : kForms) {
      CAPTURE(form);
      CHECK(pages.post_without_secret(with_key(form, id), {{"state", "accepted"}}).status == 403);
    }
    CHECK(pages.post_without_secret("/door/tick", {}).status == 403);
    CHECK(pages.book().state()->revision == before);
  }

  TEST_CASE("looking at pages changes nothing") {
    OrganiserSite pages;
    const std::string id = pages.signs_up("Noor Haddad");
    pages.plan();
    pages.log_in();
    const auto before = pages.book().state()->revision;
    for (int i = 0; i < 3; ++i) {
      for (const std::string& page : kPages) pages.get(page);
      pages.get("/organise/people/" + id);
      pages.get("/door");
    }
    CHECK(pages.book().state()->revision == before);
    CHECK_FALSE(pages.book().state()->sign_up(id)->seen);
  }

  TEST_CASE("neither the log nor an address says a name, a secret or an answer") {
    OrganiserSite pages;
    pages.log_in();
    gp::SignUp noor;
    noor.name = "Noor Haddad";
    noor.skin = "latex";
    const std::string id = pages.signs_up(noor);
    const std::string key = gp::test::where_to(
        pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}}));
    CHECK(key.find("noor") == std::string::npos);
    pages.post("/organise/people/" + id + "/link", {});
    pages.get("/organise/export/people");
    const auto page = pages.get("/organise/people");
    // people of the production are made of ids like "ines": no address holds one
    for (const std::string person : {"ines", "tom", "wen", "noor-haddad"}) {
      CHECK_FALSE(holds(page, "/organise/people/" + person));
    }
    for (const std::string secret : {"Noor", "noor", "Haddad", "latex", "/p/"}) {
      CHECK(pages.log.find(secret) == std::string::npos);
    }
    CHECK(pages.log.find("the list of people was taken out") != std::string::npos);
  }
}
