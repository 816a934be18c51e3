#include "web/site.h"

#include "base/errors.h"

#include <string>
#include <utility>

#include "organiser_site.h"
#include <doctest/doctest.h>

using gp::HttpAnswer;
using gp::HttpRequest;
using gp::test::OrganiserSite;
using gp::test::where_to;

namespace {

/// Pages with one personal page, asked as a browser of somebody's would.
struct Pages {
  Pages() {
    pages.site().add({"GET", "/me/:id", gp::Access::person, [](gp::Visit& visit) {
                        return HttpAnswer::page("page of " + visit.path.front());
                      }});
    pages.site().add({"POST", "/change", gp::Access::anyone, [this](gp::Visit&) {
                        ++changed;
                        return HttpAnswer::go_to("/");
                      }});
    visitor = gp::new_secret();
    request.address = "127.0.0.1";
    request.headers["host"] = "localhost:8080";
    request.cookies["visitor"] = visitor;
  }
  HttpAnswer get(const std::string& path) {
    request.method = "GET";
    request.path = path;
    return pages.site().answer(request);
  }
  HttpAnswer post(const std::string& path) {
    request.method = "POST";
    request.path = path;
    return pages.site().answer(request);
  }

  OrganiserSite pages;
  HttpRequest request;
  std::string visitor;
  int changed = 0;
};

}  // namespace

TEST_SUITE("web/site") {
  TEST_CASE("a personal link gives a cookie and leads to an address without the secret") {
    Pages web;
    const std::string id = web.pages.signs_up("Noor");
    const std::string other = web.pages.signs_up("Tom");
    const std::string secret = gp::new_secret();
    web.pages.book().add_link(id, secret, gp::test::kNow);
    const auto revision = web.pages.book().state()->revision;

    for (int i = 0; i < 10; ++i) {  // mail programs open links by themselves
      const HttpAnswer answer = web.get("/p/" + secret);
      CHECK(answer.status == 303);
      CHECK(where_to(answer) == "/me/" + id);
      REQUIRE(answer.cookies.size() == 1);
      CHECK(answer.cookies[0].name == "me_" + id);
    }
    CHECK(web.pages.book().state()->revision == revision);

    CHECK(web.get("/me/" + id).status == 404);  // without the cookie
    web.request.cookies["me_" + id] = secret;
    CHECK(web.get("/me/" + id).body == "page of " + id);
    // somebody else's page stays shut, whatever the cookie is called
    web.request.cookies["me_" + other] = secret;
    CHECK(web.get("/me/" + other).status == 404);

    web.pages.book().revoke_links(id, gp::test::kNow);
    const HttpAnswer ended = web.get("/p/" + secret);
    const HttpAnswer wrong = web.get("/p/" + gp::new_secret());
    CHECK(ended.status == 404);
    CHECK(ended.body == wrong.body);
    CHECK(web.get("/p/x").body == wrong.body);
    CHECK(web.get("/me/" + id).status == 404);
  }

  TEST_CASE("a form counts only with its secret and from our own pages") {
    Pages web;
    const std::string right = web.pages.site().sessions().csrf_for(web.visitor);
    const auto sent = [&](const std::string& secret,
                          const std::vector<std::pair<std::string, std::string>>& headers) {
      web.request.form = {{"csrf", secret}};
      web.request.headers = {{"host", "localhost:8080"}};
      for (const auto& [name, value] : headers) web.request.headers[name] = value;
      return web.post("/change").status;
    };
    CHECK(sent("", {}) == 403);
    CHECK(sent(web.pages.site().sessions().csrf_for(gp::new_secret()), {}) == 403);
    CHECK(sent(right, {{"sec-fetch-site", "cross-site"}}) == 403);
    CHECK(sent(right, {{"sec-fetch-site", "same-site"}}) == 403);
    CHECK(sent(right, {{"origin", "http://evil.example"}}) == 403);
    CHECK(sent(right, {{"origin", "null"}}) == 403);
    CHECK(sent(right, {{"origin", "https://localhost:8080"}}) == 403);  // another scheme
    CHECK(web.changed == 0);
    CHECK(sent(right, {}) == 303);
    CHECK(sent(right, {{"origin", "http://localhost:8080"}}) == 303);
    CHECK(sent(right, {{"sec-fetch-site", "same-origin"}}) == 303);
    CHECK(web.changed == 3);
    CHECK(web.get("/change").status == 405);
    CHECK(web.changed == 3);
  }

  TEST_CASE("logging in leads to our own pages alone, with a new session and a new browser name") {
    Pages web;
    web.pages.book().set_secret("passphrase", gp::hash_passphrase("three wet herrings"));
    const std::string secret = web.pages.site().sessions().csrf_for(web.visitor);
    const auto log_in = [&](const std::string& to, const std::string& passphrase) {
      web.request.form = {{"csrf", secret}, {"to", to}, {"secret", passphrase}};
      return web.post("/log-in");
    };
    CHECK(where_to(log_in("/organise/people", "three wet herrings")) == "/organise/people");
    for (const char* elsewhere :
         {"//evil.example", "https://evil.example", "/\\evil.example", "", "javascript:x"}) {
      CHECK(where_to(log_in(elsewhere, "three wet herrings")) == "/organise");
    }
    const HttpAnswer answer = log_in("/", "three wet herrings");
    REQUIRE(answer.cookies.size() == 2);
    CHECK(answer.cookies[0].name == "session");
    CHECK(answer.cookies[1].name == "visitor");
    CHECK(answer.cookies[1].value != web.visitor);

    CHECK(log_in("/", "wrong").status == 403);
    for (int i = 0; i < 4; ++i) log_in("/", "wrong");
    const HttpAnswer sixth = log_in("/", "three wet herrings");
    CHECK(sixth.status == 429);
    // the log tells that it happened, and not what was typed
    CHECK(web.pages.log.find("failed") != std::string::npos);
    CHECK(web.pages.log.find("three wet") == std::string::npos);
    CHECK(web.pages.log.find("wrong") == std::string::npos);
  }

  TEST_CASE("what goes wrong is a page without details") {
    Pages web;
    web.pages.site().add({"GET", "/breaks", gp::Access::anyone, [](gp::Visit&) -> HttpAnswer {
                            throw std::runtime_error("/home/secret");
                          }});
    web.pages.site().add({"GET", "/full", gp::Access::anyone, [](gp::Visit&) -> HttpAnswer {
                            throw gp::WorldError("disk /home/secret is full");
                          }});
    CHECK(web.get("/breaks").status == 500);
    CHECK(web.get("/full").status == 503);
    CHECK(web.get("/full").body.find("secret") == std::string::npos);
    CHECK(web.get("/.git/config").status == 404);
    CHECK(web.get("/../../etc/passwd").status == 404);
  }
}

TEST_SUITE("web/views") {
  TEST_CASE("what people write is escaped for where it stands") {
    gp::ViewData data;
    data.set("HEADING", "\"><script>alert(1)</script>").set("TEXT", "{{CSRF}} [[back]] & 'x'");
    const std::string page =
        gp::test::shared_views().page("shared/error", data, {"<t>", "en", "shared", "<f>", "", ""});
    CHECK(page.find("<script>alert") == std::string::npos);
    CHECK(page.find("&lt;script&gt;") != std::string::npos);
    CHECK(page.find("{{CSRF}} [[back]] &amp; &#39;x&#39;") != std::string::npos);
    CHECK(page.find("<title>&lt;t&gt;") != std::string::npos);
  }

  TEST_CASE("the best of the reader's languages is taken") {
    const gp::Views& views = gp::test::shared_views();
    CHECK(views.language_for("de-AT,de;q=0.9,en;q=0.5") == "de");
    CHECK(views.language_for("ja, fr;q=0.3, es;q=0.8") == "es");
    CHECK(views.language_for("de;q=0, fr;q=0.1") == "fr");
    CHECK(views.language_for("") == "en");
    CHECK(views.language_for("xx;;q=,,,;") == "en");
  }
}
