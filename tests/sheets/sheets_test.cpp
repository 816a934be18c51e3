#include "sheets/sheets.h"

#include "base/errors.h"
#include "sheets/busy_day.h"
#include "sheets/day_facts.h"
#include "sheets/page.h"
#include "sheets/pdf_tools.h"
#include "support/builder.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::test::BusyDay;
using gp::test::make_busy_day;
using gp::test::PrintedPdf;

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

std::string text_of(const gp::Sheets& sheets, const std::string& kind) {
  return PrintedPdf(sheet(sheets, kind)).text("-layout");
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

/// The part of the text from `from` to `until`.
std::string between(const std::string& text, const std::string& from, const std::string& until) {
  const std::size_t begin = text.find(from);
  if (begin == std::string::npos) return "";
  const std::size_t end = text.find(until, begin);
  return text.substr(begin, end == std::string::npos ? end : end - begin);
}

}  // namespace

TEST_SUITE("sheets/sheets") {
  TEST_CASE("a day has five files, named by kind and date") {
    const auto lamp = gp::test::lamp();
    const gp::Sheets sheets = gp::make_sheets(lamp.production, lamp.plan, wishes());
    std::vector<std::string> kinds;
    for (const gp::SheetFile& file : sheets.files) {
      CAPTURE(file.name);
      CHECK(file.name.ends_with(".pdf"));
      kinds.push_back(file.name.substr(0, file.name.find('-')));
    }
    CHECK(kinds == std::vector<std::string>{"day", "slips", "stations", "door", "pull"});
    CHECK(sheets.warnings == std::vector<std::string>{});
  }

  TEST_CASE("every sheet of a full day is sound: pages, sizes, margins, title, language, fonts") {
    BusyDay wish;
    wish.people = 60;
    wish.name_length = 40;
    const auto made = make_busy_day(wish);
    for (const gp::Paper paper : {gp::Paper::a4, gp::Paper::letter}) {
      const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes(paper));
      REQUIRE(sheets.files.size() == 5);
      for (const gp::SheetFile& file : sheets.files) {
        CAPTURE(file.name);
        const PrintedPdf pdf(file.bytes);
        CHECK(pdf.check().exit_code == 0);
        CHECK(pdf.info("Page size")
                  .starts_with(paper == gp::Paper::a4 ? "595.276 x 841.89 pts (A4)"
                                                      : "612 x 792 pts (letter)"));
        CHECK(pdf.info("Title").starts_with("The Long Lemonade · "));
        CHECK(pdf.info("Title").ends_with("Saturday, 17 April 2027"));
        CHECK(pdf.info("CreationDate").empty());
        const std::vector<double> sizes = pdf.sizes();
        CHECK(*std::min_element(sizes.begin(), sizes.end()) >= 7);
        const gp::PaperSize size = gp::paper_size(paper);
        for (const auto& word : pdf.words()) {
          CAPTURE(word.text);
          CHECK(word.left >= 30);
          CHECK(word.right <= size.width - 30);
          CHECK(word.top >= 30);
          CHECK(word.bottom <= size.height - 26);
        }
        const std::string fonts = gp::test::run_tool("pdffonts " + pdf.path()).output;
        CHECK(fonts.find(" no ") == std::string::npos);
      }
    }
  }

  TEST_CASE("the same plan gives the same bytes, every time") {
    const auto made = make_busy_day({});
    const gp::Sheets first = gp::make_sheets(made.production, made.plan, wishes());
    const gp::Sheets second = gp::make_sheets(made.production, made.plan, wishes());
    CHECK(first.files == second.files);
    CHECK(first.warnings == second.warnings);
  }

  TEST_CASE("nothing private is printed on any sheet") {
    const auto made = make_busy_day({});
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    for (const gp::SheetFile& file : sheets.files) {
      CAPTURE(file.name);
      // Skin, food, telephone and mail of every person are marked so.
      CHECK(PrintedPdf(file.bytes).text().find("SECRET") == std::string::npos);
    }
  }

  TEST_CASE("who is put on by another and has left a note is marked to be asked, no more") {
    auto lamp = gp::test::lamp();
    for (gp::Person& person : lamp.production.people) person.skin.clear();
    const auto without = text_of(gp::make_sheets(lamp.production, lamp.plan, wishes()), "stations");
    CHECK(without.find("ask about skin") == std::string::npos);
    std::size_t expected = 0;
    for (gp::Person& person : lamp.production.people) person.skin = "eczema";
    for (const gp::PlannedStep& step : lamp.plan.days.at(0).steps) {
      if (step.by.valid() && step.part == gp::ChainPart::on) ++expected;
    }
    REQUIRE(expected > 0);
    const auto with = text_of(gp::make_sheets(lamp.production, lamp.plan, wishes()), "stations");
    CHECK(count_of(with, "ask about skin") == expected);
    CHECK(with.find("eczema") == std::string::npos);
  }

  TEST_CASE("a slip for everyone who comes, with each of their times and no other's") {
    const auto lamp = gp::test::lamp();
    const gp::Sheets sheets = gp::make_sheets(lamp.production, lamp.plan, wishes());
    const gp::DayPlan& day = lamp.plan.days.at(0);
    const gp::DayFacts facts(lamp.production, day);
    // In the order in which it was drawn: slip after slip.
    const std::string text = PrintedPdf(sheet(sheets, "slips")).text("-raw");
    CHECK(count_of(text, "Free to go") == day.people.size());
    for (const gp::Stay& stay : day.people) {
      const std::string name = lamp.production.people[stay.person].shown();
      CAPTURE(name);
      const std::size_t from = text.find(" " + name + " " + facts.clock(stay.call));
      REQUIRE(from != std::string::npos);
      const std::string own = text.substr(from, text.find("Free to go", from) - from);
      std::set<std::string> expected;
      for (const gp::DayEngagement& one : facts.engagements(stay.person)) {
        expected.insert(facts.clocks(one.from, one.until));
      }
      std::set<std::string> found;
      static const std::regex span_said("[0-9]{2}:[0-9]{2}–[0-9]{2}:[0-9]{2}");
      for (auto at = std::sregex_iterator(own.begin(), own.end(), span_said);
           at != std::sregex_iterator();
           ++at) {
        found.insert(at->str());
      }
      CHECK(found == expected);
    }
  }

  TEST_CASE("what a person is told is what the plan says, worked out by hand") {
    // tests/data/plans/lamp.plan.json: Ana stands behind the camera from each set-up on, and has
    // tea; Elif is dressed, painted by Cleo, in two scenes from the shot on, and is cleaned.
    const auto lamp = gp::test::lamp();
    const gp::DayFacts facts(lamp.production, lamp.plan.days.at(0));
    auto times = [&](const char* id) {
      std::vector<std::string> list;
      for (const gp::DayEngagement& one : facts.engagements(lamp.person(id))) {
        list.push_back(facts.clocks(one.from, one.until));
      }
      return list;
    };
    using Times = std::vector<std::string>;
    CHECK(times("ana") ==
          Times{"09:45–10:30", "10:30–10:43", "10:49–11:14", "11:14–11:29", "11:29–11:39"});
    CHECK(times("elif") ==
          Times{"09:33–09:39", "09:39–09:54", "10:00–10:30", "10:33–10:43", "10:49–10:57"});
    // Cleo gets the chair ready and paints Bo, then Elif, without a pause: one row.
    CHECK(times("cleo") == Times{"09:14–09:24", "09:24–09:54"});
    CHECK(facts.engagements(lamp.person("cleo")).back().people == 2);
  }

  TEST_CASE("nobody is told what another wears or is given") {
    auto made = make_busy_day({});
    gp::Look other = made.production.looks[gp::LookId(0)];
    other.wear = "a wig of seaweed";
    const gp::ItemId wig = made.production.items.add({"wig", "Seaweed wig", 1, {}, {}});
    const gp::LookId look = made.production.looks.add(other);
    gp::Wear& wear = made.plan.days[0].wears.front();
    wear.look = look;
    wear.items = {wig};
    const std::string slips =
        PrintedPdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "slips"))
            .text("-raw");
    CHECK(count_of(slips, "a wig of seaweed") == 1);
    CHECK(count_of(slips, "Seaweed wig") == 1);
  }

  TEST_CASE("a slip speaks its person's language where there are words for it") {
    auto made = make_busy_day({});
    made.production.people[gp::PersonId(0)].language = "de-AT";
    made.production.people[gp::PersonId(1)].language = "fr";
    made.production.people[gp::PersonId(2)].language = "es";
    made.production.people[gp::PersonId(3)].language = "ar";  // no words: the production's
    const std::string text =
        PrintedPdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "slips")).text();
    CHECK(count_of(text, "Feierabend") == 1);
    CHECK(count_of(text, "Tu peux partir") == 1);
    CHECK(count_of(text, "Puedes irte") == 1);
    CHECK(count_of(text, "Free to go") == made.production.people.size() - 3);
    CHECK(text.find("Sa., 17. April") != std::string::npos);
  }

  TEST_CASE("a production in German has its sheets in German, and sorts its names so") {
    auto made = make_busy_day({});
    made.production.language = "de";
    made.production.people[gp::PersonId(0)].name = "Öberg";
    made.production.people[gp::PersonId(1)].name = "Olsson";
    made.production.people[gp::PersonId(2)].name = "Zander";
    const gp::Sheets german = gp::make_sheets(made.production, made.plan, wishes());
    CHECK(text_of(german, "day").find("Samstag, 17. April 2027") != std::string::npos);
    CHECK(text_of(german, "day").find("Drehschluss") != std::string::npos);
    auto by_name = [](const gp::Sheets& sheets, const std::string& heading) {
      const std::string text = text_of(sheets, "door");
      return text.substr(text.find(heading));
    };
    const std::string in_german = by_name(german, "nach Namen");
    CHECK(in_german.find("Öberg") < in_german.find("Olsson"));
    // Swedish has no words here, so the page is English; but names sort as the words' language
    // does.
    made.production.language = "en-GB";
    const std::string in_english =
        by_name(gp::make_sheets(made.production, made.plan, wishes()), "By name");
    CHECK(in_english.find("Olsson") < in_english.find("Zander"));
  }

  TEST_CASE("children are shown with their guardians at the door and on both their slips") {
    auto made = make_busy_day({});
    made.production.people[gp::PersonId(8)].name = "Mei";
    made.production.people[gp::PersonId(7)].name = "Wen";
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    CHECK(count_of(text_of(sheets, "door"), "Mei · with Wen") == 2);  // by call and by name
    const std::string slips = PrintedPdf(sheet(sheets, "slips")).text();
    CHECK(slips.find("Your guardian today: Wen") != std::string::npos);
    CHECK(slips.find("You look after Mei, here from") != std::string::npos);
  }

  TEST_CASE("the door list has everyone twice, by call in order of time and by name") {
    BusyDay wish;
    wish.people = 200;
    const auto made = make_busy_day(wish);
    const PrintedPdf pdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "door"));
    const std::string text = pdf.text("-layout");
    // Each row has the call and the release, and nothing else is a time.
    static const std::regex time_said("[0-9]{2}:[0-9]{2}");
    const std::vector<std::string> times(
        std::sregex_token_iterator(text.begin(), text.end(), time_said),
        std::sregex_token_iterator());
    CHECK(times.size() == 200 * 2 * 2);
    std::vector<std::string> calls;
    for (std::size_t i = 0; i < 400 && i < times.size(); i += 2) calls.push_back(times[i]);
    CHECK(std::is_sorted(calls.begin(), calls.end()));
    CHECK(pdf.pages() > 4);
    CHECK(text.find("200 people") != std::string::npos);
  }

  TEST_CASE("a box to tick stands before every row of the door list") {
    const auto made = make_busy_day({});
    const PrintedPdf pdf(sheet(gp::make_sheets(made.production, made.plan, wishes()), "door"));
    const std::string open =
        gp::test::run_tool("qpdf --qdf --object-streams=disable " + pdf.path() + " -").output;
    CHECK(count_of(open, " re S") == made.production.people.size() * 2);
  }

  TEST_CASE(
      "the cautions stand in full with the door list, and brief on the slips of those concerned") {
    const auto made = make_busy_day({});
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    const std::string door = PrintedPdf(sheet(sheets, "door")).text();
    CHECK(door.find("To be read out at the first call") != std::string::npos);
    CHECK(door.find("Asthma or a cough: say so before, and stay out.") != std::string::npos);
    CHECK(door.find("call the emergency services at once") != std::string::npos);
    CHECK(door.find("Local law and qualified people have the last word.") != std::string::npos);
    // On a slip: fog, for everyone who is in the first scene.
    const std::string slips = PrintedPdf(sheet(sheets, "slips")).text("-raw");
    CHECK(count_of(slips, "Fog: asthma or a cough") == made.production.people.size());
    CHECK(slips.find("call the emergency services") == std::string::npos);
    // Who paints is told how; who is painted is told so too.
    CHECK(count_of(slips, "Painting others:") == 1);
  }

  TEST_CASE("a station's list has each step once, under its place, in order of time") {
    const auto lamp = gp::test::lamp();
    const gp::DayPlan& day = lamp.plan.days.at(0);
    const gp::DayFacts facts(lamp.production, day);
    const std::string text =
        PrintedPdf(sheet(gp::make_sheets(lamp.production, lamp.plan, wishes()), "stations"))
            .text("-layout");
    for (const gp::PlannedStep& step : day.steps) {
      const std::string row = facts.clock(step.from) + " " + facts.clock(step.until) + " " +
                              lamp.production.people[step.person].shown();
      CAPTURE(row);
      CHECK(text.find(row) != std::string::npos);
    }
    for (const gp::Ready& ready : day.ready) {
      CHECK(text.find("gets it ready from " + facts.clock(ready.from)) != std::string::npos);
    }
  }

  TEST_CASE("the pull list says who needs what when, and to whom it goes back") {
    BusyDay wish;
    wish.people = 12;
    wish.parts = 2;
    wish.scenes = 2;
    auto made = make_busy_day(wish);
    made.production.people[gp::PersonId(0)].name = "Bo";
    made.production.people[gp::PersonId(1)].name = "Cleo";
    const std::string text = text_of(gp::make_sheets(made.production, made.plan, wishes()), "pull");
    // Eight of the crowd wear a helmet of Bo's (12 people less 2 parts and 2 behind the camera);
    // the lamp of Cleo's is in both scenes.
    CHECK(count_of(between(text, "Costumes", "Props"), "Helmet of tin foil") == 8);
    CHECK(count_of(between(text, "Props", "To give back"), "Storm lamp") == 2);
    const std::string back = text.substr(text.find("To give back"));
    CHECK(back.find("Bo 8 × Helmet of tin foil") != std::string::npos);
    CHECK(back.find("Cleo Storm lamp") != std::string::npos);
  }

  TEST_CASE("a stand-in on the pull list names what it stands in for") {
    auto made = make_busy_day({});
    const gp::ItemId bucket = made.production.items.add({"bucket", "Bucket", 9, {}, {}});
    made.plan.days[0].wears.front().items = {bucket};
    CHECK(text_of(gp::make_sheets(made.production, made.plan, wishes()), "pull")
              .find("Bucket for Helmet of tin foil") != std::string::npos);
  }

  TEST_CASE("a character without a font is reported by number, name and the text it stands in") {
    auto made = make_busy_day({});
    made.production.people[gp::PersonId(2)].name = "Ana \xF3\xA1\x88\xB4";  // U+E1234
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    REQUIRE(sheets.warnings.size() == 1);
    CHECK(sheets.warnings[0].find("U+E1234") != std::string::npos);
    CHECK(sheets.warnings[0].find("Ana") != std::string::npos);
    CHECK(sheets.warnings[0].find("“Ana \xF3\xA1\x88\xB4”: it is printed as a box") !=
          std::string::npos);
    // No package can have a letter that is nobody's; an emoji may be in one.
    CHECK(sheets.warnings[0].find("package") == std::string::npos);
    made.production.people[gp::PersonId(2)].name = "Ana \xF0\x9F\xAB\xA8";  // U+1FAE8, Unicode 15
    const gp::Sheets emoji = gp::make_sheets(made.production, made.plan, wishes());
    REQUIRE(emoji.warnings.size() == 1);
    CHECK(emoji.warnings[0].find("the package fonts-symbola") != std::string::npos);
  }

  TEST_CASE("where a script's package is missing its names are boxes, and the package is named") {
    const gp::test::TemporaryFolder folder;
    for (const char* font : {"NotoSans-Regular.ttf", "NotoSans-Bold.ttf"}) {
      std::filesystem::copy_file(std::string("/usr/share/fonts/truetype/noto/") + font,
                                 folder.file(font));
    }
    auto made = make_busy_day({});
    made.production.people[gp::PersonId(2)].name = "李";
    gp::SheetWishes wish = wishes();
    wish.font_dirs = {folder.path().string()};
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wish);
    const bool named =
        std::any_of(sheets.warnings.begin(), sheets.warnings.end(), [](const std::string& one) {
          return one.find("U+674E") != std::string::npos &&
                 one.find("fonts-droid-fallback") != std::string::npos;
        });
    CHECK(named);
  }

  TEST_CASE("without fonts or words nothing is made, and the error says what to do") {
    const auto made = make_busy_day({});
    const gp::test::TemporaryFolder empty;
    gp::SheetWishes no_fonts = wishes();
    no_fonts.font_dirs = {empty.path().string()};
    CHECK_THROWS_WITH_AS(gp::make_sheets(made.production, made.plan, no_fonts),
                         doctest::Contains("fonts-noto-core"),
                         gp::WorldError);
    gp::SheetWishes no_words = wishes();
    no_words.templates_dir = empty.path().string();
    CHECK_THROWS_WITH_AS(gp::make_sheets(made.production, made.plan, no_words),
                         doctest::Contains("en.json"),
                         gp::WorldError);
  }

  TEST_CASE("names with brackets, controls and odd bytes go through every sheet") {
    auto made = make_busy_day({});
    std::size_t number = 0;
    for (gp::Person& person : made.production.people) {
      person.name = "A(b)[c]\\<d>%{e}'\x01\xFF#" + std::to_string(number++);
    }
    made.production.title = "\xE2\x80\xAE{0} 'title' \xF0\x9F";
    made.production.contact.name = "{name}";
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    for (const gp::SheetFile& file : sheets.files) {
      CAPTURE(file.name);
      CHECK(PrintedPdf(file.bytes).check().exit_code == 0);
    }
    CHECK(text_of(sheets, "door").find("A(b)[c]\\<d>%{e}'") != std::string::npos);
  }

  TEST_CASE("a costume described at great length fills pages, not the margin") {
    auto made = make_busy_day({});
    std::string& wear = made.production.looks[gp::LookId(0)].wear;
    wear.clear();
    for (int i = 0; i < 900; ++i) wear += "grey trousers and flat shoes ";
    const gp::Sheets sheets = gp::make_sheets(made.production, made.plan, wishes());
    for (const char* kind : {"pull", "slips"}) {
      const PrintedPdf pdf(sheet(sheets, kind));
      for (const auto& word : pdf.words()) CHECK(word.bottom < 842 - 10);
    }
  }

  TEST_CASE("the clock of a sheet is the clock on the wall, on a night when it changes too") {
    CHECK(gp::clock_text(gp::WallTime{8 * 60 + 5}) == "08:05");
    CHECK(gp::clock_text(gp::WallTime{24 * 60}) == "00:00⁺¹");
    CHECK(gp::clock_text(gp::WallTime{25 * 60 + 30}) == "01:30⁺¹");
    CHECK(gp::clock_text(gp::WallTime{49 * 60}) == "01:00⁺²");
    // Europe/Dublin, 28 March 2027 (the last Sunday of March, zone database): at 01:00 the clocks
    // show 02:00, so three elapsed hours after midnight they show 04:00.
    auto made = make_busy_day({});
    made.production.days[gp::DayId(0)].date =
        gp::Date{std::chrono::year(2027), std::chrono::month(3), std::chrono::day(28)};
    const gp::DayFacts facts(made.production, made.plan.days[0]);
    CHECK(facts.clock(gp::minute(3 * 60)) == "04:00");
    CHECK(facts.clock(gp::minute(30)) == "00:30");
  }

  TEST_CASE("columns are as short as can be and keep their order") {
    // 5 stretches in 2 columns: 3+3 and 2+2+1 give 6 and 5.
    const gp::Columns shared = gp::share_out({3, 3, 2, 2, 1}, 2);
    CHECK(shared.ends == std::vector<std::size_t>{2, 5});
    CHECK(shared.height == doctest::Approx(6));
    CHECK(gp::share_out({}, 3).height == doctest::Approx(0));
    CHECK(gp::share_out({7}, 3).ends == std::vector<std::size_t>{1, 1, 1});
  }
}
