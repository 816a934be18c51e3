#include "sheets/poster.h"

#include "model/read_production.h"
#include "support/temporary_folder.h"

#include <cstdlib>
#include <fstream>

#include <doctest/doctest.h>

using gp::PosterWishes;

TEST_SUITE("sheets/poster") {
  TEST_CASE(
      "the poster is one page of the production's paper and says film, day, address, contact") {
    const auto read = gp::read_production(R"({"greasepaint": 1, "title": "The Borrowed Moon",
      "days": [{"date": "2027-04-17"}], "contact": {"name": "Ada", "phone": "0131 496 0000"}})");
    REQUIRE(std::holds_alternative<gp::Production>(read));
    PosterWishes wishes;
    wishes.address = "http://192.0.2.7:8080";
    wishes.code.side = 3;
    wishes.code.black = {true, false, true, false, true, false, true, true, true};
    wishes.templates_dir = std::string(GP_SOURCE_DIR) + "/templates";
    const gp::Sheets poster = gp::make_poster(std::get<gp::Production>(read), wishes);
    REQUIRE(poster.files.size() == 2);
    CHECK(poster.files[0].name == "poster.pdf");
    CHECK(poster.files[1].name == "poster.png");
    // ISO/IEC 15948, 5.2 and 11.2.2: the signature, then the width; A4 is 595.28 points wide, at
    // 150 dots to the inch 1240 dots = 0x04D8
    CHECK(poster.files[1].bytes.starts_with("\x89PNG\r\n\x1a\n"));
    CHECK(poster.files[1].bytes.substr(16, 4) == std::string("\0\0\x04\xD8", 4));
    CHECK(gp::make_poster(std::get<gp::Production>(read), wishes).files == poster.files);

    const gp::test::TemporaryFolder folder;
    const std::string pdf = folder.file("poster.pdf");
    const std::string text = folder.file("poster.txt");
    std::ofstream(pdf, std::ios::binary) << poster.files[0].bytes;
    REQUIRE(std::system(("pdftotext -layout " + pdf + " " + text).c_str()) == 0);
    std::ifstream file(text);
    const std::string said((std::istreambuf_iterator<char>(file)), {});
    for (const std::string& part : std::vector<std::string>{
             "The Borrowed Moon", "April", "17", "192.0.2.7:8080", "Ada", "0131"}) {
      CAPTURE(part);
      CHECK(said.find(part) != std::string::npos);
    }
    CHECK(said.find('\f') == said.rfind('\f'));  // one page
  }
}
