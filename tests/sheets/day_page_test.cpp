#include "sheets/busy_day.h"
#include "sheets/page.h"
#include "sheets/pdf_tools.h"
#include "sheets/sheets.h"

#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::test::BusyDay;
using gp::test::make_busy_day;
using gp::test::PrintedPdf;
using gp::test::PrintedWord;

namespace {

gp::SheetWishes wishes(std::optional<gp::Paper> paper = {}) {
  gp::SheetWishes wish;
  wish.paper = paper;
  wish.templates_dir = std::string(GP_SOURCE_DIR) + "/templates";
  return wish;
}

std::string sheet(const gp::Sheets& sheets, const std::string& kind) {
  for (const gp::SheetFile& file : sheets.files) {
    if (file.name.starts_with(kind)) return file.bytes;
  }
  return "";
}

/// Words whose middles lie over each other: a line's height counts far more than its ink, so only
/// the middle two fifths of it are looked at.
std::vector<std::string> overlaps(const std::vector<PrintedWord>& words) {
  struct Box {
    const PrintedWord* word;
    double left, top, right, bottom;
  };
  std::vector<Box> boxes;
  for (const PrintedWord& word : words) {
    const double height = word.bottom - word.top;
    boxes.push_back({&word,
                     word.left + 0.2,
                     word.top + 0.3 * height,
                     word.right - 0.2,
                     word.bottom - 0.3 * height});
  }
  std::vector<std::string> found;
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    for (std::size_t j = i + 1; j < boxes.size(); ++j) {
      const Box& a = boxes[i];
      const Box& b = boxes[j];
      if (a.word->page != b.word->page) continue;
      if (a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom) {
        found.push_back(a.word->text + " / " + b.word->text);
      }
    }
  }
  return found;
}

void check_page(const std::string& bytes, gp::Paper paper) {
  const PrintedPdf pdf(bytes);
  CHECK(pdf.check().exit_code == 0);
  CHECK(pdf.pages() == 1);
  const gp::PaperSize size = gp::paper_size(paper);
  CHECK(pdf.info("Page size")
            .starts_with(paper == gp::Paper::a4 ? "595.276 x 841.89 pts (A4)"
                                                : "612 x 792 pts (letter)"));
  const std::vector<double> sizes = pdf.sizes();
  REQUIRE_FALSE(sizes.empty());
  CHECK(*std::min_element(sizes.begin(), sizes.end()) >= 7);
  CHECK(pdf.turned_texts() == 0);  // so that sizes are what they say
  const std::vector<PrintedWord> words = pdf.words();
  for (const PrintedWord& word : words) {
    CAPTURE(word.text);
    CHECK(word.left >= gp::kMargin - 0.5);
    CHECK(word.right <= size.width - gp::kMargin + 0.5);
    CHECK(word.top >= gp::kMargin - 4);
    CHECK(word.bottom <= size.height - gp::kMargin + 4);
  }
  CHECK(overlaps(words) == std::vector<std::string>{});
}

}  // namespace

TEST_SUITE("sheets/day_page") {
  TEST_CASE("one page, no text under 7 points, nothing outside, nothing over each other") {
    for (const gp::Paper paper : {gp::Paper::a4, gp::Paper::letter}) {
      for (const std::size_t people : {12U, 60U, 300U}) {
        for (const std::size_t name_length : {16U, 40U}) {
          CAPTURE(people);
          CAPTURE(name_length);
          BusyDay wish;
          wish.people = people;
          wish.name_length = name_length;
          wish.scenes = 25;
          const auto made = make_busy_day(wish);
          const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes(paper));
          check_page(sheet(sheets, "day-"), paper);
          CHECK(sheets.warnings == std::vector<std::string>{});  // nothing had to be left out
        }
      }
    }
  }

  TEST_CASE("a small day says everything by name") {
    BusyDay wish;
    wish.people = 8;
    wish.scenes = 3;
    wish.parts = 3;
    wish.crowds = 1;
    const auto made = make_busy_day(wish);
    const PrintedPdf pdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "day-"));
    const std::string text = pdf.text("-layout");
    // 06:30 and every 5 minutes a call, the first scene set up at 09:00 and shot at 09:10, the
    // third until 09:00 + 2 * 25 + 25 = 10:15.
    for (const char* part : {"The Long Lemonade",
                             "Saturday, 17 April 2027",
                             "06:30",
                             "09:10",
                             "10:15",
                             "13:00–13:40",
                             "Parish hall",
                             "12 Long Lane",
                             "Sami of the Lemonade",
                             "+353 1 555 0100",
                             "Box behind the bar",
                             "Ballymade General",
                             "Captain of the ship 0",
                             "camera",
                             "Fire.",
                             "Fog.",
                             "Anyone may say “stop”",
                             "High water at ten to five"}) {
      const std::string wanted = part;
      CAPTURE(wanted);
      CHECK(text.find(part) != std::string::npos);
    }
    for (const gp::Person& person : made.production.people) {
      CAPTURE(person.name);
      const std::string first = person.name.substr(0, person.name.find(' '));
      CHECK(text.find(first) != std::string::npos);
    }
    CHECK(text.find("door list") == std::string::npos);
    CHECK(text.find("SECRET") == std::string::npos);
  }

  TEST_CASE("a large crowd is counted by call and part, and the counts add up to everybody") {
    BusyDay wish;
    wish.people = 300;
    wish.scenes = 12;
    const auto made = make_busy_day(wish);
    const PrintedPdf pdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "day-"));
    const std::string text = pdf.text();
    CHECK(text.find("Every name stands on the door list.") != std::string::npos);
    // Lunch says 300 people; the groups of the calls are those that say "people" besides.
    std::size_t counted = 0;
    static const std::regex people_said("([0-9]+) (people|person)\\b");
    for (auto at = std::sregex_iterator(text.begin(), text.end(), people_said);
         at != std::sregex_iterator();
         ++at) {
      counted += std::stoul((*at)[1]);
    }
    CHECK(counted > 300 + 250);
    CHECK(counted <= 300 + 300);
  }

  TEST_CASE(
      "sunrise and sunset of the base stand on the page, to the minute of a published almanac") {
    // Dublin, 17 April 2027, 53.3 N 6.2 W, by the NOAA solar calculator's method (the project's own
    // sun is held against its tables elsewhere): about 06:24 and 20:22 summer time. A sheet may
    // differ by the minute, not by an hour of zone or season.
    const auto made = make_busy_day({});
    const PrintedPdf pdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "day-"));
    const std::string text = pdf.text();
    static const std::regex sun("06:2[0-9]–20:[12][0-9]");
    CHECK(std::regex_search(text, sun));
  }

  TEST_CASE("what cannot fit even in numbers ends early, says so on the page and to who prints") {
    BusyDay wish;
    wish.people = 300;
    wish.scenes = 120;
    wish.calls = 120;
    wish.name_length = 40;
    for (int i = 0; i < 400; ++i) wish.notes += " And another thing about the tide.";
    const auto made = make_busy_day(wish);
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    check_page(sheet(sheets, "day-"), gp::Paper::a4);
    const std::string text = PrintedPdf(sheet(sheets, "day-")).text();
    CHECK(text.find("more scenes") != std::string::npos);
    CHECK(text.find("…") != std::string::npos);
    REQUIRE_FALSE(sheets.warnings.empty());
    CHECK(sheets.warnings.front().find("too full for one page") != std::string::npos);
    // The cautions are never what is left out.
    CHECK(text.find("Anyone may say “stop”") != std::string::npos);
    CHECK(text.find("Electricity:") != std::string::npos);
  }

  TEST_CASE("a word as long as a line is broken, not run off the paper") {
    auto made = make_busy_day({});
    made.production.people[gp::PersonId(3)].name = std::string(400, 'W');
    made.production.days[gp::DayId(0)].notes = std::string(900, 'm');
    made.production.title = std::string(300, 'T');
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    check_page(sheet(sheets, "day-"), gp::Paper::a4);
  }

  TEST_CASE("a day on which nothing is filmed says so") {
    BusyDay wish;
    wish.people = 0;
    wish.scenes = 0;
    wish.parts = 0;
    auto made = make_busy_day(wish);
    made.plan.days[0].meals.clear();
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    REQUIRE(sheets.files.size() == 1);
    CHECK(sheets.files[0].name == "day-2027-04-17.pdf");
    CHECK(PrintedPdf(sheets.files[0].bytes).text().find("Nothing is filmed") != std::string::npos);
  }

  TEST_CASE("what is after midnight is marked, and the mark explained") {
    auto made = make_busy_day({});
    auto& plan = made.plan.days[0];
    plan.scenes.back().until = gp::minute(25 * 60 + 30);
    plan.wrap = plan.scenes.back().until;
    for (gp::Stay& stay : plan.people) stay.released = *plan.wrap;
    const std::string text =
        PrintedPdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "day-")).text();
    CHECK(text.find("01:30⁺¹") != std::string::npos);
    CHECK(text.find("⁺¹ after midnight") != std::string::npos);
  }

  TEST_CASE("heads that are missing are told") {
    auto made = make_busy_day({});
    made.plan.unfilled.push_back({gp::SceneId(0), gp::RoleId(), "light", 2, "nobody can"});
    const std::string text =
        PrintedPdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "day-")).text();
    CHECK(text.find("Still missing: 2 × light (1. The tower") != std::string::npos);
  }

  TEST_CASE("a hazard that has no caution of ours is named nevertheless") {
    auto made = make_busy_day({});
    made.production.scenes[gp::SceneId(0)].hazards.push_back("quicksand");
    const std::string text =
        PrintedPdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "day-")).text();
    CHECK(text.find("quicksand: Ask what this means for you") != std::string::npos);
  }
}
