#include "base/errors.h"
#include "sheets/pdf.h"
#include "sheets/pdf_tools.h"
#include "sheets/sheets.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <doctest/doctest.h>
#include <harfbuzz/hb.h>

using gp::test::Picture;
using gp::test::PrintedPdf;

namespace {

constexpr double kSize = 20;
constexpr double kLeft = 50;
constexpr double kFirst = 60;
constexpr double kStep = 34;
constexpr double kEms = kSize * kSize;  ///< square points in a square em

/// A page with each text on a line of its own.
std::string page_of(const std::vector<std::string>& rows,
                    gp::Weight weight = gp::Weight::regular,
                    std::map<char32_t, std::string>* without_font = nullptr) {
  gp::Fonts fonts({});
  gp::Typesetter set(fonts, "en-GB");
  gp::Pdf pdf("Names — Łódź 李 😀", "en-GB", gp::Paper::a4);
  pdf.add_page();
  double y = kFirst;
  for (const std::string& row : rows) {
    gp::Rich text;
    text.add_name(row, {weight, 0});
    pdf.text(set.line(text), kLeft, y, kSize);
    y += kStep;
  }
  if (without_font != nullptr) *without_font = set.without_font();
  return pdf.bytes();
}

/// Ink of each row in square ems.
std::vector<double> inks(const std::vector<std::string>& rows,
                         gp::Weight weight = gp::Weight::regular) {
  const PrintedPdf pdf(page_of(rows, weight));
  const Picture picture = pdf.picture();
  std::vector<double> found;
  double y = kFirst;
  for (std::size_t i = 0; i < rows.size(); ++i, y += kStep) {
    found.push_back(picture.in(0, y - 23, 595, y + 11) / kEms);
  }
  return found;
}

std::string font_file(const std::string& name) {
  for (const std::string& folder : gp::default_font_dirs()) {
    std::error_code error;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder, error)) {
      if (entry.path().filename() == name) return entry.path().string();
    }
  }
  return "";
}

/// Outlines as short straight edges, and the area inside them by the non-zero winding rule (the one
/// that TrueType fills by), scan line by scan line.
struct Outline {
  struct Edge {
    double x1, y1, x2, y2;
  };
  std::vector<Edge> edges;
  double start_x = 0, start_y = 0, x = 0, y = 0;
  double pen_x = 0, pen_y = 0;  ///< added to every point

  void line_to(double to_x, double to_y) {
    edges.push_back({x, y, to_x, to_y});
    x = to_x;
    y = to_y;
  }
  void curve_to(double cx, double cy, double to_x, double to_y) {
    const double from_x = x;
    const double from_y = y;
    constexpr int kPieces = 16;
    for (int i = 1; i <= kPieces; ++i) {
      const double t = static_cast<double>(i) / kPieces;
      const double u = 1 - t;
      line_to(u * u * from_x + 2 * u * t * cx + t * t * to_x,
              u * u * from_y + 2 * u * t * cy + t * t * to_y);
    }
  }
  [[nodiscard]] double area(double units) const {
    const double step = units / 800;
    double sum = 0;
    for (double line = -0.6 * units + step / 2; line < 1.4 * units; line += step) {
      std::vector<std::pair<double, int>> crossings;
      for (const Edge& edge : edges) {
        if ((edge.y1 <= line) == (edge.y2 <= line)) continue;
        const double at = edge.x1 + (line - edge.y1) * (edge.x2 - edge.x1) / (edge.y2 - edge.y1);
        crossings.emplace_back(at, edge.y1 < edge.y2 ? 1 : -1);
      }
      std::sort(crossings.begin(), crossings.end());
      int winding = 0;
      for (std::size_t i = 0; i + 1 < crossings.size(); ++i) {
        winding += crossings[i].second;
        if (winding != 0) sum += (crossings[i + 1].first - crossings[i].first) * step;
      }
    }
    return sum / (units * units);
  }
};

hb_draw_funcs_t* outline_funcs() {
  static hb_draw_funcs_t* const made = [] {
    hb_draw_funcs_t* funcs = hb_draw_funcs_create();
    hb_draw_funcs_set_move_to_func(
        funcs,
        [](hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
          auto* outline = static_cast<Outline*>(data);
          outline->start_x = outline->x = outline->pen_x + x;
          outline->start_y = outline->y = outline->pen_y + y;
        },
        nullptr,
        nullptr);
    hb_draw_funcs_set_line_to_func(
        funcs,
        [](hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
          auto* outline = static_cast<Outline*>(data);
          outline->line_to(outline->pen_x + x, outline->pen_y + y);
        },
        nullptr,
        nullptr);
    hb_draw_funcs_set_quadratic_to_func(
        funcs,
        [](hb_draw_funcs_t*,
           void* data,
           hb_draw_state_t*,
           float cx,
           float cy,
           float x,
           float y,
           void*) {
          auto* outline = static_cast<Outline*>(data);
          outline->curve_to(
              outline->pen_x + cx, outline->pen_y + cy, outline->pen_x + x, outline->pen_y + y);
        },
        nullptr,
        nullptr);
    hb_draw_funcs_set_close_path_func(
        funcs,
        [](hb_draw_funcs_t*, void* data, hb_draw_state_t*, void*) {
          auto* outline = static_cast<Outline*>(data);
          outline->line_to(outline->start_x, outline->start_y);
        },
        nullptr,
        nullptr);
    return funcs;
  }();
  return made;
}

/// How far ink reaches from the place where the text begins; ems, upwards positive.
struct Reach {
  double left = 1e9, right = -1e9, bottom = 1e9, top = -1e9;
};

struct Expected {
  double ink = 0;
  Reach reach;
};

/// What the ink should be: the text shaped with the whole font file, no part of it and no PDF in
/// between, and its outlines' area in square ems.
Expected expected_ink(const std::string& text, const std::string& file) {
  hb_blob_t* blob = hb_blob_create_from_file_or_fail(font_file(file).c_str());
  REQUIRE(blob != nullptr);
  hb_face_t* face = hb_face_create(blob, 0);
  hb_font_t* font = hb_font_create(face);
  hb_buffer_t* buffer = hb_buffer_create();
  hb_buffer_add_utf8(buffer, text.c_str(), -1, 0, -1);
  hb_buffer_guess_segment_properties(buffer);
  hb_shape(font, buffer, nullptr, 0);
  unsigned count = 0;
  const hb_glyph_info_t* glyphs = hb_buffer_get_glyph_infos(buffer, &count);
  const double units = hb_face_get_upem(face);
  const hb_glyph_position_t* places = hb_buffer_get_glyph_positions(buffer, &count);
  Outline outline;
  double pen = 0;
  for (unsigned i = 0; i < count; ++i) {
    REQUIRE(glyphs[i].codepoint != 0);
    outline.pen_x = pen + places[i].x_offset;
    outline.pen_y = places[i].y_offset;
    hb_font_get_glyph_shape(font, glyphs[i].codepoint, outline_funcs(), &outline);
    pen += places[i].x_advance;
  }
  Expected expected;
  expected.ink = outline.area(units);
  for (const Outline::Edge& edge : outline.edges) {
    expected.reach.left = std::min(expected.reach.left, edge.x1 / units);
    expected.reach.right = std::max(expected.reach.right, edge.x1 / units);
    expected.reach.bottom = std::min(expected.reach.bottom, edge.y1 / units);
    expected.reach.top = std::max(expected.reach.top, edge.y1 / units);
  }
  hb_buffer_destroy(buffer);
  hb_font_destroy(font);
  hb_face_destroy(face);
  hb_blob_destroy(blob);
  return expected;
}

/// How far the printed ink of a row of page_of() reaches.
Reach printed_reach(const Picture& picture, std::size_t row) {
  const double base = kFirst + kStep * static_cast<double>(row);
  Reach reach;
  const auto from = static_cast<std::size_t>((base - 23) * picture.dots);
  const auto until = static_cast<std::size_t>((base + 11) * picture.dots);
  for (std::size_t y = from; y < until; ++y) {
    for (std::size_t x = 0; x < picture.width; ++x) {
      if (picture.ink[y * picture.width + x] < 0.4) continue;
      const double across = static_cast<double>(x) / picture.dots - kLeft;
      const double up = base - static_cast<double>(y) / picture.dots;
      const double dot = 1 / picture.dots;
      reach.left = std::min(reach.left, across / kSize);
      reach.right = std::max(reach.right, (across + dot) / kSize);
      reach.bottom = std::min(reach.bottom, (up - dot) / kSize);
      reach.top = std::max(reach.top, up / kSize);
    }
  }
  return reach;
}

const std::vector<std::string> kSentences = {
    "Zoë, Łukasz, Артём, Їжак and Nguyễn",
    "Άννα O'Brien (Jean-Luc) at 08:10",
    "Call for עברית at 08:10, chair 2",
    "Call for العربية at 08:10, chair 2",
    "שלום Anna 12:30",
    "مرحبا Zoë 08:15",
    "السلام عليكم",
    "مُحَمَّد پژمان",
    "हिन्दी and प्रिया क्षत्रिय",
    "李小龍 and 王小明 at 09:00",
    "Ana 😀 and 🎬",
    "ที่นี่ กำลัง தமிழ்",
    "김민수 ひらがな",
};

}  // namespace

TEST_SUITE("sheets/names") {
  TEST_CASE("the page of names: every name comes back when it is searched and copied") {
    const PrintedPdf pdf(page_of(kSentences));
    const std::string text = pdf.text("-layout");
    for (const char* name :
         {"Zoë",     "Łukasz",       "Артём",  "Їжак",     "Nguyễn",         "Άννα",
          "O'Brien", "Jean-Luc",     "עברית",  "العربية",  "السلام عليكم",   "مُحَمَّد پژمان",
          "हिन्दी",   "प्रिया क्षत्रिय", "李小龍", "王小明",   "Ana 😀",          "🎬",
          "ที่นี่ กำลัง", "தமிழ்",         "김민수", "ひらがな", "08:10, chair 2", "12:30",
          "08:15"}) {
      CAPTURE(name);
      CHECK(text.find(PrintedPdf::plain(name)) != std::string::npos);
    }
  }

  TEST_CASE("the page of names is a sound PDF with all its fonts inside, and no tool complains") {
    const PrintedPdf pdf(page_of(kSentences));
    const auto checked = pdf.check();
    CHECK(checked.exit_code == 0);
    CHECK(checked.output.find("WARNING") == std::string::npos);
    const std::string fonts = gp::test::run_tool("pdffonts " + pdf.path()).output;
    std::istringstream lines(fonts);
    std::size_t rows = 0;
    for (std::string line; std::getline(lines, line);) {
      if (line.find("TrueType") == std::string::npos) continue;
      ++rows;
      CAPTURE(line);
      // emb, sub, uni
      CHECK(line.find("yes yes yes") != std::string::npos);
    }
    CHECK(rows >= 8);  // Latin, Hebrew, Arabic, Devanagari, Han, emoji, Thai, Tamil
    // Warnings of the readers go to the same place as their output.
    CHECK(gp::test::run_tool("pdftotext " + pdf.path() + " /dev/null").output.empty());
    CHECK(pdf.info("Title") == "Names — Łódź 李 😀");
    CHECK(pdf.info("Page size").starts_with("595.276 x 841.89 pts (A4)"));
    CHECK(pdf.info("CreationDate").empty());
    CHECK(pdf.info("Encrypted") == "no");
    const std::string open = gp::test::run_tool("qpdf --qdf " + pdf.path() + " -").output;
    CHECK(open.find("/Lang (en-GB)") != std::string::npos);
  }

  TEST_CASE(
      "no glyph is missing or astray: the ink on the paper is the outlines' own, script by "
      "script") {
    // Each against its font file as a whole, shaped and measured apart from our road to the paper.
    struct Row {
      const char* text;
      const char* file;
    };
    const std::vector<Row> rows = {{"Zoë", "NotoSans-Regular.ttf"},
                                   {"Łukasz", "NotoSans-Regular.ttf"},
                                   {"Артём", "NotoSans-Regular.ttf"},
                                   {"Їжак", "NotoSans-Regular.ttf"},
                                   {"Nguyễn", "NotoSans-Regular.ttf"},
                                   {"ẤộḒǮ", "NotoSans-Regular.ttf"},
                                   {"Άννα", "NotoSans-Regular.ttf"},
                                   // marks that no letter comes with: the second over the first
                                   {"q\xCC\x83\xCC\x88", "NotoSans-Regular.ttf"},
                                   {"עברית", "NotoSansHebrew-Regular.ttf"},
                                   {"العربية", "NotoSansArabic-Regular.ttf"},
                                   {"پژمان", "NotoSansArabic-Regular.ttf"},
                                   {"مُحَمَّد", "NotoSansArabic-Regular.ttf"},
                                   {"हिन्दी", "NotoSansDevanagari-Regular.ttf"},
                                   {"क्षत्रिय", "NotoSansDevanagari-Regular.ttf"},
                                   {"李小龍", "DroidSansFallbackFull.ttf"},
                                   {"王小明", "DroidSansFallbackFull.ttf"},
                                   {"😀", "Symbola_hint.ttf"},
                                   {"🎬", "NotoSansSymbols2-Regular.ttf"},
                                   {"ที่นี่", "NotoSansThai-Regular.ttf"}};
    std::vector<std::string> texts;
    for (const Row& row : rows) texts.emplace_back(row.text);
    const std::vector<double> printed = inks(texts);
    const Picture picture = PrintedPdf(page_of(texts)).picture();
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const std::string name = rows[i].text;
      CAPTURE(name);
      const Expected expected = expected_ink(rows[i].text, rows[i].file);
      CAPTURE(expected.ink);
      CAPTURE(printed[i]);
      CHECK(expected.ink > 0.1);
      // A lost dot or accent is 1 % or more of such a name; what the grey of edges adds is less.
      CHECK(printed[i] == doctest::Approx(expected.ink).epsilon(0.005));
      // A dot of the picture is an eightieth of an em.
      const Reach reach = printed_reach(picture, i);
      CHECK(std::abs(reach.left - expected.reach.left) < 0.02);
      CHECK(std::abs(reach.right - expected.reach.right) < 0.02);
      CHECK(std::abs(reach.bottom - expected.reach.bottom) < 0.02);
      CHECK(std::abs(reach.top - expected.reach.top) < 0.02);
    }
  }

  TEST_CASE("an accent adds ink to its letter, in both weights") {
    // The letters that libharu's own fonts lose parts of (nested composites).
    const std::vector<std::string> pairs = {
        "Ё", "Е", "Ї", "І", "ễ", "e", "Ấ", "A", "Ά", "Α", "ǖ", "u", "ب", "ٮ", "שׁ", "ש", "é", "e"};
    for (const gp::Weight weight : {gp::Weight::regular, gp::Weight::bold}) {
      const std::vector<double> found = inks(pairs, weight);
      for (std::size_t i = 0; i < pairs.size(); i += 2) {
        const std::string& letter = pairs[i];
        CAPTURE(letter);
        CHECK(found[i + 1] > 0.03);
        CHECK(found[i] > found[i + 1] * 1.01);  // the least: the dot of a shin
      }
    }
  }

  TEST_CASE("bold is bolder, also where a script's font has one weight only") {
    const std::vector<std::string> rows = {"Zoë", "Артём", "עברית", "हिन्दी", "李小龍", "😀"};
    const std::vector<double> regular = inks(rows);
    const std::vector<double> bold = inks(rows, gp::Weight::bold);
    for (std::size_t i = 0; i < rows.size(); ++i) {
      CAPTURE(rows[i]);
      CHECK(bold[i] > regular[i] * 1.08);
    }
  }

  TEST_CASE("letters of Arabic are joined, and Hindi's vowel sign stands before its letter") {
    // Joined letters take less room than the same letters kept apart by U+200C.
    gp::Fonts fonts({});
    gp::Typesetter set(fonts, "en");
    gp::Rich joined;
    gp::Rich apart;
    joined.add_name("ببب");
    apart.add_name("ب\xE2\x80\x8Cب\xE2\x80\x8Cب");
    CHECK(set.line(joined)->width < set.line(apart)->width);
    // कि: the sign i (U+093F) is typed after ka and drawn before it, so that the first glyph is not
    // that of ka.
    gp::Rich ka;
    gp::Rich ki;
    ka.add_name("क");
    ki.add_name("कि");
    const auto& alone = set.line(ka)->runs.at(0).glyphs;
    const auto& with_sign = set.line(ki)->runs.at(0).glyphs;
    REQUIRE(with_sign.size() == 2);
    CHECK(with_sign[0].id != alone[0].id);
    CHECK(with_sign[1].id == alone[0].id);
  }

  TEST_CASE("a name from right to left stands in its place in our sentence") {
    // Without its isolate the number after the name would be drawn before it (UAX #9, rule N1).
    gp::Fonts fonts({});
    gp::Typesetter set(fonts, "en-GB");
    gp::Pdf drawn("Order", "en-GB", gp::Paper::a4);
    drawn.add_page();
    gp::Rich sentence("at ");
    sentence.add_name("עברית").add(" 5");
    drawn.text(set.line(sentence), kLeft, kFirst, kSize);
    const PrintedPdf pdf(drawn.bytes());
    double name = 0;
    double at = 0;
    double five = 0;
    for (const auto& word : pdf.words()) {
      if (word.text == "at") at = word.left;
      if (word.text == "5") five = word.left;
      if (gp::clean(word.text).find(u'ע') != std::u16string::npos) name = word.left;
    }
    CHECK(at < name);
    CHECK(name < five);
  }

  TEST_CASE("kerning is kept: AVATAR is narrower than its letters one by one") {
    gp::Fonts fonts({});
    gp::Typesetter set(fonts, "en");
    double letters = 0;
    for (const char* letter : {"A", "V", "A", "T", "A", "R"}) {
      letters += set.line(gp::Rich(letter))->width;
    }
    CHECK(set.line(gp::Rich("AVATAR"))->width < letters - 0.1);
  }

  TEST_CASE("a character that no font has is a box on the paper, and is reported with its number") {
    std::map<char32_t, std::string> missing;
    // A character of the private planes, and one that no Unicode of these fonts' time knew.
    const std::string bytes =
        page_of({"Ana \xF3\xA1\x88\xB4 end", "Ana end"}, gp::Weight::regular, &missing);
    REQUIRE(missing.size() == 1);
    CHECK(missing.begin()->first == U'\U000E1234');
    CHECK(missing.begin()->second == "Ana \xF3\xA1\x88\xB4 end");
    const PrintedPdf pdf(bytes);
    const Picture picture = pdf.picture();
    const double with = picture.in(0, kFirst - 23, 595, kFirst + 11);
    const double without = picture.in(0, kFirst + kStep - 23, 595, kFirst + kStep + 11);
    CHECK(with > without + 0.05 * kEms);
  }

  TEST_CASE("invisible characters leave no box and no gap") {
    gp::Fonts fonts({});
    gp::Typesetter set(fonts, "en");
    gp::Rich plain;
    gp::Rich hidden;
    plain.add_name("Ana");
    hidden.add_name(
        "A\xE2\x80\x8D"
        "n\xEF\xB8\x8F"
        "a\xE2\x80\x8E");
    CHECK(set.line(hidden)->width == doctest::Approx(set.line(plain)->width).epsilon(0.01));
    CHECK(set.without_font().empty());
  }

  TEST_CASE("brackets, backslashes and odd bytes are letters like others") {
    const PrintedPdf pdf(page_of({"a(b)c\\d[e]<f>%g/h{i}", "x\x01y\xFFz", "#1 ~ `"}));
    CHECK(pdf.check().exit_code == 0);
    const std::string text = pdf.text();
    CHECK(text.find("a(b)c\\d[e]<f>%g/h{i}") != std::string::npos);
    CHECK(text.find("x\xEF\xBF\xBDy\xEF\xBF\xBDz") != std::string::npos);
  }

  TEST_CASE("the same page twice is the same bytes") {
    CHECK(page_of(kSentences) == page_of(kSentences));
  }

  TEST_CASE("without the main font nothing is printed, and the package to install is named") {
    const gp::test::TemporaryFolder empty;
    CHECK_THROWS_WITH_AS(gp::Fonts({empty.path().string()}),
                         doctest::Contains("install the package fonts-noto-core"),
                         gp::WorldError);
    CHECK_THROWS_WITH_AS(gp::Fonts({empty.path().string()}),
                         doctest::Contains(empty.path().c_str()),
                         gp::WorldError);
    // A file of that name that is no font is as good as none.
    std::ofstream(empty.file("NotoSans-Regular.ttf")) << "not a font";
    std::ofstream(empty.file("NotoSans-Bold.ttf")) << "not a font";
    CHECK_THROWS_AS(gp::Fonts({empty.path().string()}), gp::WorldError);
  }
}
