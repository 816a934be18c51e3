#include "web/organiser/lanes.h"
#include "web/organiser/zip.h"

#include "organiser_site.h"
#include <doctest/doctest.h>

using gp::test::holds;
using gp::test::OrganiserSite;

namespace {

/// The film with every name replaced by one that would break out of where it stands.
std::string film_of_bad_names() {
  std::string film = gp::test::small_film();
  const std::string bad = R"(\"><script>alert(1)</script>{{X}}[[y]]'&)";
  for (const std::string name : {"The Borrowed Moon",
                                 "Inês",
                                 "Tom",
                                 "Wen",
                                 "Kit",
                                 "The Moon",
                                 "Fisherfolk",
                                 "Paint",
                                 "Silver cloak",
                                 "The theft",
                                 "Hall",
                                 "Pier",
                                 "lunch",
                                 "light",
                                 "Ada"}) {
    const std::string quoted = "\"" + name + "\"";
    for (std::size_t at = film.find(quoted); at != std::string::npos;
         at = film.find(quoted, at + 1)) {
      // the longest texts that a place allows: jobs and meals are names too
      film.replace(at, quoted.size(), "\"" + name + bad + "\"");
      at += bad.size();
    }
  }
  return film;
}

const std::vector<std::string> kAllPages = {"/organise",
                                            "/organise/news",
                                            "/organise/people",
                                            "/organise/new-person",
                                            "/organise/needs",
                                            "/organise/plan",
                                            "/organise/plan/1/sheets",
                                            "/organise/scenes",
                                            "/organise/new-scene",
                                            "/organise/scenes/theft/change",
                                            "/organise/history",
                                            "/organise/settings",
                                            "/organise/export",
                                            "/door"};

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

}  // namespace

TEST_SUITE("web/organiser_plan") {
  TEST_CASE("planning is started, ends, and its plan is shown with its days, picture and tables") {
    OrganiserSite pages;
    pages.log_in();
    CHECK(holds(pages.get("/organise/plan"), "There is no plan yet."));
    REQUIRE(pages.post("/organise/plan/start", {{"maybe", "1"}}).status == 303);
    while (pages.site().planning().state().kind == gp::Planning::State::Kind::running) {
      CHECK(pages.get("/organise/plan/progress").status == 200);
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    CHECK(holds(pages.get("/organise/plan/progress"), "/organise/plan/1"));
    const auto page = pages.get("/organise/plan");
    CHECK(holds(page, "The theft"));
    CHECK(times(page.body, "<svg class=\"lanes\" role=\"img\"") >= 1);
    CHECK(holds(page, "<table class=\"reflow\">"));
    CHECK(holds(page, "tabindex=\"0\" role=\"region\""));
    CHECK_FALSE(holds(page, "The production has changed since this plan was made"));
    // ids of two days' pictures differ
    CHECK(times(page.body, "id=\"title-d1\"") <= 1);
  }

  TEST_CASE("a plan older than the production says so; older plans stay to be seen") {
    OrganiserSite pages;
    pages.log_in();
    pages.plan();
    const std::string change = "/organise/scenes/return/change";
    pages.post(
        change,
        gp::test::with(gp::test::fields_of(pages.get(change).body, change), "shoot_minutes", "25"));
    CHECK(
        holds(pages.get("/organise/plan"), "The production has changed since this plan was made"));
    CHECK(holds(pages.get("/organise"), "The production has changed since"));
    pages.plan();
    CHECK_FALSE(
        holds(pages.get("/organise/plan"), "The production has changed since this plan was made"));
    const auto older = pages.get("/organise/plan/1");
    CHECK(older.status == 200);
    CHECK(holds(older, "This is an older plan."));
  }

  TEST_CASE("names that would break out of a page stay text, in every page and in the picture") {
    OrganiserSite pages(film_of_bad_names());
    pages.log_in();
    gp::SignUp bad;
    bad.name = "\"><script>alert(2)</script>";
    bad.words = bad.skin = bad.food = bad.phone = bad.name;
    gp::Companion child;
    child.name = bad.name;
    child.age = 5;
    bad.brings = {child};
    gp::Notice notice;
    notice.day = gp::Date{std::chrono::year{2027} / 4 / 17};
    notice.minutes_late = 10;
    notice.words = bad.name;
    notice.at = pages.now;
    bad.notices = {notice};
    const std::string id = pages.signs_up(bad);
    pages.plan();
    auto all = kAllPages;
    all.push_back("/organise/people/" + id);
    const auto check_all = [&] {
      for (const std::string& page : all) {
        CAPTURE(page);
        const auto answer = pages.get(page);
        CHECK(answer.status == 200);
        CHECK_FALSE(holds(answer, "<script>alert"));
        CHECK_FALSE(holds(answer, "\"><script"));
        CHECK_FALSE(holds(answer, "alert(1)</script>"));
      }
    };
    check_all();
    REQUIRE(pages.post("/organise/people/" + id + "/decide", {{"state", "accepted"}}).status ==
            303);
    all.push_back("/organise/people/" + id + "/change");
    check_all();
    CHECK(holds(pages.get("/organise/plan"), "&lt;script&gt;alert(1)"));
  }

  TEST_CASE("the sheets of a day are downloaded one by one and all in one") {
    OrganiserSite pages;
    pages.log_in();
    pages.plan();
    CHECK(
        holds(pages.get("/organise/plan/1/sheets"), "/organise/plan/1/sheets/day-2027-04-17.pdf"));
    const auto sheet = pages.get("/organise/plan/1/sheets/day-2027-04-17.pdf");
    CHECK(sheet.type == "application/pdf");
    CHECK(sheet.body.starts_with("%PDF-"));
    const auto all = pages.get("/organise/plan/1/day/2027-04-17");
    CHECK(all.type == "application/zip");
    CHECK(all.body.find(sheet.body) != std::string::npos);
    CHECK(pages.get("/organise/plan/1/day/2027-04-19").status == 404);
    CHECK(pages.get("/organise/plan/1/sheets/passwd").status == 404);
  }

  TEST_CASE("an archive is what its specification says") {
    // CRC-32 of "123456789": the check value of every catalogue of CRCs (ISO 3309, ITU-T V.42)
    CHECK(gp::crc32_of("123456789") == 0xCBF43926U);
    CHECK(gp::crc32_of("") == 0U);
    const std::string zip = gp::zip_of({{"a.txt", "hello"}, {"ü.txt", ""}});
    CHECK(zip.starts_with("PK\x03\x04"));
    CHECK(zip.substr(zip.size() - 22, 4) == "PK\x05\x06");
    // a directory of two entries: 46 bytes and its name each (APPNOTE 4.3.12)
    CHECK(static_cast<unsigned char>(zip[zip.size() - 12]) == 2);
    CHECK(static_cast<unsigned char>(zip[zip.size() - 10]) == 46 + 5 + 46 + 6);
  }

  TEST_CASE("the picture says by shape, pattern and word what each block is") {
    gp::LanePicture picture;
    picture.title = "A <day>";
    picture.description = "told \"so\"";
    picture.clock = [](int at) { return std::to_string(at / 60) + " o'clock"; };
    picture.lanes = {{"Unit & co",
                      {{gp::BlockKind::set_up, 600, 630, "set-up", "Set-up: x"},
                       {gp::BlockKind::shot, 630, 700, "A scene", "A scene, 10:30"}}},
                     {"Paint", {{gp::BlockKind::on, 540, 545, "Too long for five minutes", "on"}}}};
    const std::string svg = gp::draw_lanes(picture, "k");
    CHECK(svg.find("<title id=\"title-k\">A &lt;day&gt;</title>") != std::string::npos);
    CHECK(svg.find("<desc id=\"told-k\">told &quot;so&quot;</desc>") != std::string::npos);
    CHECK(svg.find("aria-labelledby=\"title-k\"") != std::string::npos);
    CHECK(svg.find("Unit &amp; co") != std::string::npos);
    CHECK(svg.find("fill=\"url(#hatch-k)\"") != std::string::npos);
    CHECK(svg.find("9 o&#39;clock") != std::string::npos);
    // five minutes are 20 pixels, 8 of them margin: no room for a word of two characters
    CHECK(svg.find("Too") == std::string::npos);
    CHECK(svg.find("<title>on</title>") != std::string::npos);
    // no style attribute: the pages' content policy would refuse it
    CHECK(svg.find("style=") == std::string::npos);
    picture.lanes.clear();
    CHECK(gp::draw_lanes(picture, "k").empty());
    CHECK(gp::escaped_markup("a\x01\x7F<\xFF>") == "a&lt;\xEF\xBF\xBD&gt;");
  }

  TEST_CASE("blocks that overlap are put into as few lanes as they need") {
    using gp::BlockKind;
    const auto lanes = gp::packed("meals",
                                  {{BlockKind::meal, 30, 50, "b", ""},
                                   {BlockKind::meal, 0, 20, "a", ""},
                                   {BlockKind::meal, 10, 30, "c", ""},
                                   {BlockKind::meal, 20, 30, "d", ""}});
    // at minute 10 to 20 two eat, never three
    REQUIRE(lanes.size() == 2);
    CHECK(lanes[0].name == "meals");
    CHECK(lanes[1].name.empty());
    CHECK(lanes[0].blocks.size() + lanes[1].blocks.size() == 4);
    for (const gp::Lane& lane : lanes) {
      for (std::size_t i = 1; i < lane.blocks.size(); ++i) {
        CHECK(lane.blocks[i - 1].until <= lane.blocks[i].from);
      }
    }
  }

  TEST_CASE("needs are shown with the chance that enough come") {
    OrganiserSite pages;
    pages.log_in();
    const auto page = pages.get("/organise/needs");
    CHECK(holds(page, "The Moon"));
    // The Moon is Tom's, who says yes: 0.9
    CHECK(holds(page, "about 90 %"));
    CHECK(holds(page, "Fisherfolk"));
  }
}
