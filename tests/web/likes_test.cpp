#include "web/likes.h"

#include "store/enrol.h"

#include "friends_site.h"
#include "organiser_site.h"
#include <doctest/doctest.h>

using namespace gp;
using gp::test::but;
using gp::test::fields_of;
using gp::test::FormFields;
using gp::test::FriendsSite;
using gp::test::holds;
using gp::test::OrganiserSite;
using gp::test::says;
using gp::test::where_to;
using gp::test::with;

namespace {

const Person& person(OrganiserSite& pages, const std::string& id) {
  static const Person kNobody;
  for (const Person& one : pages.book().state()->production->people) {
    if (one.id == id) return one;
  }
  FAIL_CHECK("nobody is " << id);
  return kNobody;
}

Tags likes_of(OrganiserSite& pages, const std::string& id) {
  return person(pages, id).likes;
}

SignUp signer(const std::string& name, const std::string& friends, const Tags& likes = {}) {
  SignUp sign_up;
  sign_up.name = name;
  sign_up.friends = friends;
  sign_up.likes = likes;
  sign_up.may_be_filmed = true;
  return sign_up;
}

/// Signs up and is accepted by the organiser. \return the sign-up's id
std::string comes(OrganiserSite& pages, const SignUp& sign_up) {
  const std::string id = pages.signs_up(sign_up);
  REQUIRE(pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}}).status == 303);
  REQUIRE(pages.book().state()->sign_up(id)->state == SignUpState::accepted);
  return id;
}

/// As the friend's own page keeps other answers.
void changes(OrganiserSite& pages, const std::string& id, const std::string& friends, Tags likes) {
  const auto state = pages.book().state();
  SignUp changed = *state->sign_up(id);
  changed.friends = friends;
  changed.likes = std::move(likes);
  const auto result =
      pages.book().change(with_likes(*state, change_answers(*state, changed, gp::test::kNow)));
  REQUIRE(std::holds_alternative<Kept>(result));
}

std::string form_of(OrganiserSite& pages, const std::string& id) {
  const auto sign_up = pages.book().state()->sign_up_of_person(id);
  if (sign_up) return "/organise/people/" + sign_up->id + "/change";
  const std::string list = pages.get("/organise/people").body;
  const std::size_t at = list.find("<bdi>" + person(pages, id).shown() + "</bdi>");
  REQUIRE(at != std::string::npos);
  const std::size_t from = list.rfind("/organise/people/", at);
  return list.substr(from, list.find('"', from) - from) + "/change";
}

/// What the organiser enters into one field of a person's form.
HttpAnswer enters(OrganiserSite& pages,
                  const std::string& id,
                  const std::string& field,
                  const std::string& value) {
  const std::string page = form_of(pages, id);
  return pages.post(page, with(fields_of(pages.get(page).body, page), field, value));
}

}  // namespace

TEST_SUITE("web/likes") {
  TEST_CASE("what somebody ticked is liked once they are accepted; what is gone by then is not") {
    OrganiserSite pages;
    pages.log_in();
    comes(pages, signer("Noor Haddad", "", {"fisher", "light", "a-part-long-gone"}));
    CHECK(likes_of(pages, "noor-haddad") == Tags{"fisher", "light"});
    // what was ticked stays to be seen
    CHECK(holds(pages.get("/organise/people"), "Noor Haddad"));
  }

  TEST_CASE("a part that is called like its person may be liked by them") {
    OrganiserSite pages;
    pages.log_in();
    comes(pages, signer("Fisher", "", {"fisher"}));  // their id is "fisher", as the part's
    CHECK(likes_of(pages, "fisher") == Tags{"fisher"});
  }

  TEST_CASE("names that fit one person are liked; the others stand on the person's page") {
    OrganiserSite pages;
    pages.log_in();
    const auto add = [&](const std::string& name) {
      auto fields = fields_of(pages.get("/organise/new-person").body, "/organise/new-person");
      REQUIRE(pages.post("/organise/new-person", with(fields, "name", name)).status == 303);
    };
    add("Bo Li");
    add("Bo Li");
    // one by name, whatever case and accents, one by a name with a comma, one in a list; then
    // nobody, two, a part, and they themselves
    const std::string id = comes(pages,
                                 signer("Noor Haddad",
                                        "INES\nHaddad, Little Sam\ntom, Wen; Zed <Zorn>\nBo Li\n"
                                        "The Moon\nNoor Haddad",
                                        {"light"}));
    CHECK(likes_of(pages, "noor-haddad") == Tags{"light", "ines", "tom", "wen"});
    const auto page = pages.get("/organise/people/" + id);
    CHECK(holds(page, "Would like</dt><dd dir=\"auto\">light, Inês, Tom, Wen"));
    CHECK(holds(page, "Zed &lt;Zorn&gt;, Bo Li, The Moon, Noor Haddad"));
    CHECK(holds(page, "nobody here has exactly"));
    CHECK(holds(page, "Little Sam"));  // as it was written, and among what is not clear
    // the row of every list tells that there is such a wish
    CHECK(holds(pages.get("/organise/people"), "with: <bdi>INES Haddad, Little Sam"));
  }

  TEST_CASE("whom they bring may be named") {
    OrganiserSite pages;
    pages.log_in();
    SignUp mother = signer("Noor Haddad", "Little Sam");
    Companion child;
    child.name = "Little Sam";
    child.age = 7;
    mother.brings = {child};
    comes(pages, mother);
    CHECK(likes_of(pages, "noor-haddad") == Tags{"little-sam"});
  }

  TEST_CASE("who comes later is liked by those who named them, however they come") {
    OrganiserSite pages;
    pages.log_in();
    comes(pages, signer("Noor Haddad", "Bo Li, Cleo Ash, Dan Oak"));
    comes(pages, signer("Ada Quill", ""));
    CHECK(likes_of(pages, "noor-haddad").empty());
    const std::string bo = comes(pages, signer("Bo Li", "noor haddad"));
    CHECK(likes_of(pages, "noor-haddad") == Tags{"bo-li"});
    CHECK(likes_of(pages, "bo-li") == Tags{"noor-haddad"});
    auto fields = fields_of(pages.get("/organise/new-person").body, "/organise/new-person");
    REQUIRE(pages.post("/organise/new-person", with(fields, "name", "Cleo Ash")).status == 303);
    CHECK(likes_of(pages, "noor-haddad") == Tags{"bo-li", "cleo-ash"});
    REQUIRE(enters(pages, "ada-quill", "name", "Dan Oak").status == 303);
    CHECK(likes_of(pages, "noor-haddad") == Tags{"bo-li", "cleo-ash", "ada-quill"});
    // a second of the name: whom it meant it still means, and who reads it is told
    comes(pages, signer("Bo Li", ""));
    CHECK(likes_of(pages, "noor-haddad") == Tags{"bo-li", "cleo-ash", "ada-quill"});
    const auto noor = pages.book().state()->sign_up_of_person("noor-haddad");
    CHECK(holds(pages.get("/organise/people/" + noor->id), "nobody here has exactly"));
  }

  TEST_CASE("an acceptance that is undone takes the others' wishes to be with them along") {
    OrganiserSite pages;
    pages.log_in();
    comes(pages, signer("Noor Haddad", "Bo Li"));
    comes(pages, signer("Bo Li", "Noor Haddad", {"light"}));
    REQUIRE(likes_of(pages, "noor-haddad") == Tags{"bo-li"});
    REQUIRE(pages.post("/organise/history/undo", {}).status == 303);
    CHECK(likes_of(pages, "noor-haddad").empty());
    CHECK(pages.book().state()->production->people.size() == 5);  // the film's four, and Noor
  }

  TEST_CASE("who comes in by a list is no like, and stands on the page as named and not liked") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = comes(pages, signer("Noor Haddad", "Zed Zorn\nTom"));
    CHECK_FALSE(holds(pages.get("/organise/people/" + id), "Named, not liked"));
    Change import;
    import.edits.push_back({"production", Document::parse(R"([{"op": "add", "path": "/people/-",
                              "value": {"id": "zed", "name": "Zed Zorn"}}])")});
    import.who = "command";
    import.at = gp::test::kNow;
    REQUIRE(std::holds_alternative<Kept>(pages.book().change(import)));
    CHECK(likes_of(pages, "noor-haddad") == Tags{"tom"});
    const auto page = pages.get("/organise/people/" + id);
    CHECK(holds(page, "Named, not liked"));
    CHECK(holds(page, "Zed Zorn\xE2\x81\xA9: stand in their words"));  // after the isolate's end
    REQUIRE(enters(pages, "noor-haddad", "likes", "Tom\nZed Zorn").status == 303);
    CHECK_FALSE(holds(pages.get("/organise/people/" + id), "Named, not liked"));
  }

  TEST_CASE("changed answers change the likes they made, and what the organiser set stays") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = comes(pages, signer("Noor Haddad", "Tom", {"light"}));
    REQUIRE(enters(pages, "noor-haddad", "likes", "light\nTom\nInês").status == 303);
    changes(pages, id, "Wen", {"fisher"});
    CHECK(likes_of(pages, "noor-haddad") == Tags{"ines", "fisher", "wen"});
    // taken out by the organiser: other answers do not bring it back
    REQUIRE(enters(pages, "noor-haddad", "likes", "Inês\nFisherfolk").status == 303);
    changes(pages, id, "Wen", {"fisher", "light"});
    CHECK(likes_of(pages, "noor-haddad") == Tags{"ines", "fisher", "light"});
    changes(pages, id, "", {});
    CHECK(likes_of(pages, "noor-haddad") == Tags{"ines"});
  }

  TEST_CASE("answers changed on the waiting list count when one is accepted again") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = comes(pages, signer("Noor Haddad", "Tom", {"light"}));
    pages.post("/organise/people/" + id + "/decide", {{"state", "waiting"}});
    changes(pages, id, "Wen", {"fisher"});
    pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}});
    CHECK(likes_of(pages, "noor-haddad") == Tags{"fisher", "wen"});
  }

  TEST_CASE("parts and jobs that the organiser enters are ticked for the friend; people are not") {
    OrganiserSite pages;
    pages.log_in();
    const std::string id = comes(pages, signer("Noor Haddad", "", {"fisher"}));
    REQUIRE(enters(pages, "noor-haddad", "likes", "light\nTom").status == 303);
    CHECK(likes_of(pages, "noor-haddad") == Tags{"light", "tom"});
    CHECK(pages.book().state()->sign_up(id)->likes == Tags{"light"});
    CHECK(pages.book().state()->sign_up(id)->friends.empty());
    // and as one change it is taken back
    REQUIRE(pages.post("/organise/history/undo", {}).status == 303);
    CHECK(likes_of(pages, "noor-haddad") == Tags{"fisher"});
    CHECK(pages.book().state()->sign_up(id)->likes == Tags{"fisher"});
  }

  TEST_CASE("the form of a person takes parts, jobs and people by name or id, a line each") {
    OrganiserSite pages;
    pages.log_in();
    REQUIRE(
        enters(pages, "wen", "likes", "the moon\r\n fisherfolk ; light\nInes\n\nkit, Tom").status ==
        303);
    CHECK(likes_of(pages, "wen") == Tags{"moon", "fisher", "light", "ines", "kit", "tom"});
    const std::string page = form_of(pages, "wen");
    const auto form = pages.get(page);
    CHECK(holds(form, "The Moon\nFisherfolk\nlight\nInês\nKit\nTom</textarea>"));
    // sent back as it came it changes nothing; emptied it takes all out
    const auto before = pages.book().state()->revision;
    REQUIRE(pages.post(page, fields_of(form.body, page)).status == 303);
    CHECK(pages.book().state()->revision == before);
    REQUIRE(enters(pages, "wen", "likes", "").status == 303);
    CHECK(likes_of(pages, "wen").empty());
    CHECK_FALSE(pages.book().state()->production_document->at("people").at(2).contains("likes"));
  }

  TEST_CASE("a new person may like something from the first") {
    OrganiserSite pages;
    pages.log_in();
    auto fields = fields_of(pages.get("/organise/new-person").body, "/organise/new-person");
    fields = with(with(fields, "name", "Bo Li"), "likes", "Tom\nlight");
    REQUIRE(pages.post("/organise/new-person", fields).status == 303);
    CHECK(likes_of(pages, "bo-li") == Tags{"tom", "light"});
  }

  TEST_CASE("what names nothing, or who they are, is told at the field, and all entries stay") {
    OrganiserSite pages;
    pages.log_in();
    const auto before = pages.book().state()->revision;
    const std::string longest(10'001, 'x');
    struct Wrong {
      std::string text, quoted, told;
    };
    for (const Wrong& wrong : {Wrong{"Tom\nthe sun", "the sun", "no part, no job and nobody"},
                               Wrong{"Wen", "Wen", "they themselves are called so"},
                               Wrong{"<b>x</b>", "&lt;b&gt;x&lt;/b&gt;", "no part, no job"},
                               Wrong{longest, "", "10,000 characters"}}) {
      CAPTURE(wrong.text.substr(0, 20));
      const auto answer = enters(pages, "wen", "likes", wrong.text);
      CHECK(answer.status == 422);
      CHECK(holds(answer, wrong.told));
      CHECK(holds(answer, wrong.quoted));
      CHECK(holds(answer, "href=\"#likes\""));
      CHECK(holds(answer, "id=\"likes-error\""));
      CHECK(holds(answer, "aria-describedby=\"likes-hint likes-error\""));
      if (wrong.text.starts_with("Tom")) CHECK(holds(answer, "Tom\nthe sun</textarea>"));
    }
    CHECK(pages.book().state()->revision == before);
  }

  TEST_CASE("names that two have, or that hold signs, are shown so that they are read back") {
    Production film;
    for (const auto& [id, name] : std::vector<std::pair<std::string, std::string>>{
             {"a", "Bo Li"}, {"b", "Li, Bo"}, {"c", "The King"}, {"d", "Ash; Cleo"}, {"e", ""}}) {
      Person one;
      one.id = id;
      one.name = name;
      film.people.add(one);
    }
    Role king;
    king.id = "king";
    king.name = "The King";
    film.roles.add(king);
    Unit unit;
    for (const char* job : {"lamps, high", "rope; hook", "back\\slash"}) {
      CrewCall call;
      call.job = job;
      unit.crew.push_back(call);
    }
    film.units.add(unit);
    const LikeWords words(film);
    const Tags all{"a", "b", "c", "d", "e", "king", "lamps, high", "rope; hook", "back\\slash"};
    CHECK(words.read(words.lines(all, PersonId()), PersonId()).likes == all);
    CHECK(words.read(words.lines(all, PersonId()), PersonId()).bad.empty());
    CHECK(words.lines({"a", "king", "e", "lamps, high"}, PersonId()) == "a\nking\ne\nlamps, high");
    CHECK(words.shown({"a", "king", "e"}) == std::vector<std::string>{"Bo Li", "The King", "e"});
  }

  TEST_CASE("who is taken out, and a job nobody calls for, is nobody's wish any more") {
    OrganiserSite pages;
    pages.log_in();
    REQUIRE(enters(pages, "wen", "likes", "light\nKit\nTom").status == 303);
    const std::string kit = form_of(pages, "kit");
    const std::string remove = kit.substr(0, kit.rfind('/')) + "/remove";
    const auto removed = pages.post(remove, fields_of(pages.get(kit).body, remove));
    REQUIRE(removed.status == 303);
    CHECK(likes_of(pages, "wen") == Tags{"light", "tom"});
    REQUIRE(pages.post("/organise/history/undo", {}).status == 303);
    CHECK(likes_of(pages, "wen") == Tags{"light", "kit", "tom"});

    const std::string scene = "/organise/scenes/return/change";
    const auto fields = fields_of(pages.get(scene).body, scene);
    REQUIRE(pages.post(scene, with(fields, "crew-0-job", "")).status == 303);
    CHECK(likes_of(pages, "wen") == Tags{"kit", "tom"});
    REQUIRE(pages.post("/organise/history/undo", {}).status == 303);
    CHECK(likes_of(pages, "wen") == Tags{"light", "kit", "tom"});
  }

  TEST_CASE("a friend writes whom to be with, sees their own words, and learns of nobody") {
    for (const std::string name : {"Ada Quirke", "Zed Zorn"}) {  // who is there, and who is not
      CAPTURE(name);
      FriendsSite site;
      site.set_settings({{"accept_at_once", true}});
      CHECK(site.signs_up(but(gp::test::right_answers(), "friends", " " + name + " \r\n")).status ==
            303);
      CHECK(site.only()->friends == name);
      REQUIRE(site.only()->state == SignUpState::accepted);
      const Tags expected = name == "Ada Quirke" ? Tags{"lamp", "ada"} : Tags{"lamp"};
      const auto state = site.book().state();
      CHECK(state->production->people[PersonId(1)].likes == expected);
      const std::string me = "/me/" + site.only()->id;
      const HttpAnswer page = site.get(me);
      CHECK(says(page, "You would like to be with"));
      CHECK(says(page, name));
      // their data as a file are the same whether or not that person is there
      const auto data = nlohmann::json::parse(site.get(me + "/data").body);
      CHECK(data["people"][0]["likes"] == nlohmann::json::array({"lamp"}));
      CHECK(data["sign_up"]["friends"] == name);
    }
  }

  TEST_CASE("the page asks for names in every language and offers none") {
    for (const auto& [language, words] : std::vector<std::pair<std::string, std::string>>{
             {"en", "Whom would you like to be with?"},
             {"de", "Mit wem wärst du gern zusammen?"},
             {"fr", "Avec qui aimeriez-vous être"},
             {"es", "¿Con quién te gustaría estar?"}}) {
      CAPTURE(language);
      FriendsSite site;
      site.accepts = language;
      FormFields fields = but(gp::test::right_answers(), "friends", "Zed\nBo Li");
      fields.emplace_back("step", "check");
      fields.emplace_back("go", "to-like");
      const HttpAnswer page = site.post("/sign-up", fields);
      CHECK(page.status == 200);
      CHECK(says(page, words));
      CHECK(says(page, "Zed\nBo Li</textarea>"));
      CHECK_FALSE(says(page, "Quirke"));
      // on the other pages the lines travel as they are
      fields.back().second = "to-can";
      CHECK(says(site.post("/sign-up", fields), "name=\"friends\" value=\"Zed\nBo Li\""));
      fields.back().second = "on";
      CHECK(says(site.post("/sign-up", fields), "name=\"friends\" value=\"Zed\nBo Li\""));
    }
  }

  TEST_CASE("too long a list of names is told; what is changed later follows its path") {
    FriendsSite site;
    const HttpAnswer wrong =
        site.signs_up(but(gp::test::right_answers(), "friends", std::string(1001, 'x')));
    CHECK(wrong.status == 422);
    CHECK(says(wrong, "name=\"step\" value=\"like\""));
    CHECK(says(wrong, "id=\"friends-error\""));
    CHECK(site.book().state()->sign_ups.empty());

    site.set_settings({{"accept_at_once", true}});
    site.signs_up(gp::test::right_answers());
    FormFields fields = but(gp::test::right_answers(""), "friends", "quirke, ada");
    fields = but(fields, "like", "moths");
    fields.emplace_back("step", "check");
    fields.emplace_back("go", "send");
    CHECK(site.post("/me/" + site.only()->id + "/answers", fields).status == 303);
    CHECK(site.book().state()->production->people[PersonId(1)].likes == Tags{"moths", "ada"});
    // the form to change it holds what was written
    CHECK(says(site.get("/me/" + site.only()->id + "/answers"), "quirke, ada"));
  }
}
