#include "base/json.h"

#include <string>

#include <doctest/doctest.h>

namespace {

/// The only fault of a text, as "line:column path: found / expected".
std::string only_fault(const std::string& text) {
  const gp::JsonRead read = gp::read_json(text);
  if (read.faults.size() != 1) return std::to_string(read.faults.size()) + " faults";
  const gp::Fault& fault = read.faults[0];
  return std::to_string(fault.line) + ":" + std::to_string(fault.column) + " " + fault.path + ": " +
         fault.found + " / " + fault.expected;
}

std::string nested(int depth) {
  const auto size = static_cast<std::size_t>(depth);
  return std::string(size, '[') + std::string(size, ']');
}

}  // namespace

TEST_SUITE("base/json") {
  TEST_CASE("the examples of RFC 8259, section 13, are read") {
    const gp::JsonRead image = gp::read_json(R"({
        "Image": {
            "Width":  800,
            "Height": 600,
            "Title":  "View from 15th Floor",
            "Thumbnail": {
                "Url":    "http://www.example.com/image/481989943",
                "Height": 125,
                "Width":  100
            },
            "Animated" : false,
            "IDs": [116, 943, 234, 38793]
          }
      })");
    REQUIRE(image.faults.empty());
    const gp::Json& root = *image.root->find("Image");
    CHECK(root.find("Width")->number() == 800);
    CHECK(root.find("Title")->text() == "View from 15th Floor");
    CHECK(root.find("Thumbnail")->find("Url")->text() == "http://www.example.com/image/481989943");
    CHECK(root.find("Animated")->boolean() == false);
    CHECK(root.find("IDs")->items()[3].number() == 38793);
    CHECK(root.find("Nothing") == nullptr);

    const gp::JsonRead places = gp::read_json(R"([
        {
           "precision": "zip",
           "Latitude":  37.7668,
           "Longitude": -122.3959,
           "Address":   "",
           "City":      "SAN FRANCISCO",
           "State":     "CA",
           "Zip":       "94107",
           "Country":   "US"
        },
        {
           "precision": "zip",
           "Latitude":  37.371991,
           "Longitude": -122.026020,
           "Address":   "",
           "City":      "SUNNYVALE",
           "State":     "CA",
           "Zip":       "94085",
           "Country":   "US"
        }
      ])");
    REQUIRE(places.faults.empty());
    CHECK(places.root->items()[1].find("Longitude")->number() == -122.026020);
    CHECK(places.root->items()[0].find("Address")->text().empty());

    CHECK(gp::read_json("\"Hello world!\"").root->text() == "Hello world!");
    CHECK(gp::read_json("42").root->number() == 42);
    CHECK(gp::read_json("true").root->boolean());
  }

  TEST_CASE("every value keeps its line, its column in characters and its offset in bytes") {
    const gp::JsonRead read = gp::read_json("{\n  \"Zoë\": [1,\r\n \"李\", null]}");
    REQUIRE(read.faults.empty());
    const gp::JsonMember& member = read.root->members()[0];
    CHECK(member.at == gp::JsonPosition{4, 2, 3});
    // {, newline, two blanks, "Zoë" (6 bytes, 5 characters), colon, blank
    CHECK(member.value.at() == gp::JsonPosition{12, 2, 10});
    CHECK(member.value.items()[0].at() == gp::JsonPosition{13, 2, 11});
    CHECK(member.value.items()[1].at() == gp::JsonPosition{18, 3, 2});
    CHECK(member.value.items()[2].at() == gp::JsonPosition{25, 3, 7});
    CHECK(member.value.items()[2].is(gp::JsonKind::null));
  }

  TEST_CASE("a byte order mark is no fault and no column") {
    const gp::JsonRead read = gp::read_json("\xEF\xBB\xBF[1]");
    REQUIRE(read.faults.empty());
    CHECK(read.root->at() == gp::JsonPosition{3, 1, 1});
  }

  TEST_CASE("a doubled key is told and both values stay visible") {
    const std::string text = "{\"a\": 1, \"b\": {\"c\": 0, \"c\": 0}, \"a\": 2}";
    const gp::JsonRead read = gp::read_json(text);
    REQUIRE(read.root.has_value());
    CHECK(read.root->members().size() == 3);
    CHECK(read.root->find("a")->number() == 1);
    REQUIRE(read.faults.size() == 2);
    CHECK(read.faults[0].path == "b.c");
    CHECK(read.faults[1].path == "a");
    CHECK(read.faults[1].column == 33);
    CHECK(read.faults[1].found == "the key \"a\" a second time");
    CHECK(read.faults[1].expected == "each key once (it stands at line 1, column 2 already)");
  }

  TEST_CASE("escapes are what RFC 8259, section 7, says") {
    const auto text = [](const std::string& json) { return gp::read_json(json).root->text(); };
    CHECK(text(R"("\"\\\/\b\f\n\r\t")") == "\"\\/\b\f\n\r\t");
    CHECK(text(R"("\u0041\u00eb\u00EB")") == "Aëë");
    CHECK(text(R"("\ud834\udd1e")") == "\U0001D11E");  // the G clef, the RFC's own example
    CHECK(text(R"("\u0000")") == std::string(1, '\0'));
  }

  TEST_CASE("several slips of JSON are told in one run") {
    const gp::JsonRead read = gp::read_json(
        "{\n"
        "  // the film\n"
        "  title: 'Kettle',\n"
        "  \"date\": 2027-04-17\n"
        "  \"fog\": True,\n"
        "  \"list\": [1 2, 007,]\n"
        "}");
    std::string told;
    for (const gp::Fault& fault : read.faults) {
      told += std::to_string(fault.line) + ":" + std::to_string(fault.column) + " " + fault.path +
              ": " + fault.found + " / " + fault.expected + "\n";
    }
    const std::string value = "a text in quotation marks, a number, true or false ";
    CHECK(told ==
          "2:3 : a comment / no comment (JSON has none)\n"
          "3:3 : the key title without quotation marks / every key in quotation marks\n"
          "3:10 title: a text in single quotation marks / double quotation marks, \"\n"
          "4:11 date: 2027-04-17 / " +
              value +
              "(perhaps \"2027-04-17\")\n"
              "5:3 : another text / a comma before it\n"
              "5:10 fog: True / " +
              value +
              "(perhaps true)\n"
              "6:14 list: \"2\" / a comma before it\n"
              "6:17 list[2]: 007 / " +
              value +
              "(perhaps 7)\n"
              "6:20 list: a comma after the last entry of the list / no comma there\n");
    REQUIRE(read.root.has_value());  // what it most likely means
    CHECK(read.root->find("title")->text() == "Kettle");
    CHECK(read.root->find("date")->is(gp::JsonKind::broken));
    CHECK(read.root->find("list")->items().size() == 3);
  }

  TEST_CASE("what cannot be read past has a text of its own") {
    const std::string key = "a key in quotation marks, or \"}\" to end the object that begins at ";
    CHECK(only_fault("") == "1:1 : the end of the file / a value");
    CHECK(only_fault("  \n ") == "2:2 : the end of the file / a value");
    CHECK(only_fault("{\"a\": 1") ==
          "1:8 : the end of the file / \"}\" to end the object that begins at line 1, column 1");
    CHECK(only_fault("[1, [2") ==
          "1:7 [1]: the end of the file / \"]\" to end the list that begins at line 1, column 5");
    CHECK(only_fault("[1}") ==
          "1:3 : \"}\" / a comma, or \"]\" to end the list that begins at line 1, column 1");
    CHECK(only_fault("{1: 2}") == "1:2 : \"1:\" / " + key + "line 1, column 1");
    CHECK(only_fault("{\"a\" 1}") == "1:6 : \"1\" / a colon (:) after the key \"a\"");
    CHECK(only_fault("{\"a\": 1,, \"b\": 2}") ==
          "1:9 : a comma too many / a key in quotation marks");
    CHECK(only_fault("[1] 2") == "1:5 : \"2\" / nothing more after the end of the value");
    CHECK(only_fault("[\"a]") == "1:2 [0]: a text that is not ended / a closing quotation mark");
    CHECK(only_fault("[\"a\n\"]") ==
          "1:2 [0]: a text that is not ended on its line / a closing quotation mark (a line break "
          "inside a text is written \\n)");
    CHECK(only_fault("[/* …") == "1:2 : a comment that never ends / no comment (JSON has none)");
    CHECK(only_fault("[“a”]") == "1:2 [0]: the curly quotation mark “ / a value");
    CHECK(only_fault("[\xFF]") == "1:2 [0]: a byte that is not UTF-8 / a value");
  }

  TEST_CASE("slips that are read past have texts of their own") {
    CHECK(only_fault("{\"a\": 1,}") ==
          "1:8 : a comma after the last entry of the object / no comma there");
    CHECK(only_fault("{\"a\" = 1}") == "1:6 : \"=\" / a colon (:) after the key \"a\"");
    CHECK(only_fault("[1,,2]") == "1:4 [1]: \",\" / a value");
    CHECK(only_fault("[\xC2\xA0"
                     "1]") == "1:2 : a blank that may not break (U+00A0) / an ordinary blank");
    CHECK(only_fault("['say \"boo\"']") ==
          "1:2 [0]: a text in single quotation marks / double quotation marks, \"");
    CHECK(only_fault("[\"a\tb\"]") == "1:4 [0]: a tab inside a text / \\t");
    CHECK(only_fault("[\"a\x01\"]") ==
          "1:4 [0]: a control character inside a text / an escape such as \\u0001, or nothing");
    CHECK(only_fault("[\"C:\\data\"]") ==
          "1:5 [0]: the escape \\d / one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u0000 (a backslash "
          "itself is written \\\\)");
    CHECK(only_fault("[\"\\u12G4\"]") ==
          "1:3 [0]: the escape \\u without four digits / four hexadecimal digits, as in \\u00e9");
    CHECK(only_fault("[\"\\ud83c!\"]") ==
          "1:3 [0]: half of a surrogate pair / both halves (\\ud83c\\udfac), or the character "
          "itself");
    CHECK(only_fault("[\"\\udfac\"]").starts_with("1:3 [0]: half of a surrogate pair"));
    CHECK(only_fault("[\"\\ud83c\\ud83c\\udfac\"]").starts_with("1:3 [0]: half of"));
    CHECK(only_fault("[\"\xED\xA0\x80\"]") ==
          "1:3 [0]: a byte that is not UTF-8 / a file saved as UTF-8");  // a surrogate in UTF-8
    CHECK(only_fault("[\"\xC0\xAF\"]").starts_with("1:3 [0]: a byte that is not"));  // overlong
    CHECK(only_fault("[1e999]") == "1:2 [0]: the number 1e999 / a number a computer can hold");
    CHECK(only_fault("[+1]").ends_with("(perhaps 1)"));
    CHECK(only_fault("[.5]").ends_with("(perhaps 0.5)"));
    CHECK(only_fault("[09:30]").ends_with("(perhaps \"09:30\")"));
    CHECK(only_fault("[NaN]").ends_with("(perhaps \"NaN\")"));
    CHECK(only_fault("[None]").ends_with("(perhaps null)"));
  }

  TEST_CASE("a number too near to zero is zero") {
    CHECK(gp::read_json("1e-999").root->number() == 0);
    CHECK(gp::read_json("0e999999999999999999999").root->number() == 0);
    CHECK(gp::read_json("0." + std::string(400, '0') + "1e5").root->number() == 0);
    CHECK(only_fault(std::string(400, '1') + "e-1").starts_with("1:1 : the number 111"));
    CHECK(only_fault("0.5e999999999999999999999").starts_with("1:1 : the number 0.5e"));
    CHECK(gp::read_json("-0." + std::string(400, '0') + "1").root->number() == 0);
  }

  TEST_CASE("a file in UTF-16 is told as such") {
    CHECK(only_fault(std::string("\xFF\xFE{\0", 4)) ==
          "1:1 : a file in UTF-16 / a file saved as UTF-8");
    CHECK(only_fault(std::string("\xFE\xFF\0{", 4)) ==
          "1:1 : a file in UTF-16 / a file saved as UTF-8");
    CHECK(only_fault(std::string("{\0\"\0", 4)) ==
          "1:1 : a file in UTF-16 / a file saved as UTF-8");
  }

  TEST_CASE("lists and objects lie in each other as deep as the limit and no deeper") {
    CHECK(gp::read_json(nested(gp::kMostJsonDepth)).faults.empty());
    const gp::JsonRead read = gp::read_json(nested(gp::kMostJsonDepth + 1));
    REQUIRE(read.faults.size() == 1);
    CHECK(read.faults[0].found == "one more list or object inside the others");
    CHECK(read.faults[0].expected == "at most 100 inside each other");
    CHECK(gp::read_json(std::string(1'000'000, '[')).faults.size() == 1);
    std::string objects;
    for (int i = 0; i < 100'000; ++i) objects += "{\"a\":";
    CHECK(gp::read_json(objects).faults.size() == 1);
  }

  TEST_CASE("a file above 16 MiB, or with above a million values, is refused in one sentence") {
    std::string blanks(gp::kMostJsonBytes - 1, ' ');
    CHECK(gp::read_json(blanks + "1").faults.empty());
    CHECK(only_fault(blanks + "1 ") ==
          "0:0 : a file of 16777217 bytes / at most 16777216 bytes (16 MiB)");
    std::string values = "[0";
    for (std::size_t i = 2; i < gp::kMostJsonValues; ++i) values += ",0";  // the list is one too
    CHECK(gp::read_json(values + "]").faults.empty());
    CHECK(only_fault(values + ",0]").ends_with("a file of more values / at most 1000000 values"));
  }

  TEST_CASE("the reader gives up after a hundred faults") {
    std::string text = "[";
    for (int i = 0; i < 1000; ++i) text += "x,";
    const gp::JsonRead read = gp::read_json(text + "1]");
    CHECK(read.faults.size() == gp::kMostJsonFaults);
    CHECK(!read.root.has_value());
  }

  TEST_CASE("values are named in words people know") {
    const auto found = [](const std::string& json) {
      return gp::found_as(*gp::read_json(json).root);
    };
    CHECK(found("null") == "nothing (null)");
    CHECK(found("true") == "true");
    CHECK(found("12.50") == "12.5");
    CHECK(found("[]") == "an empty list");
    CHECK(found("[1]") == "a list");
    CHECK(found("{}") == "an object");
    CHECK(found("\"a\\n\\u001b\\u202e\\\"\"") == "\"a\\n\\u001b\\u202e\\\"\"");
    CHECK(gp::quoted(std::string(60, 'a')) == "\"" + std::string(47, 'a') + "…\"");
  }

  TEST_CASE("paths are as people would write them") {
    CHECK(gp::path_to_key("", "title") == "title");
    CHECK(gp::path_to_key("people[0].sizes", "head_cm") == "people[0].sizes.head_cm");
    CHECK(gp::path_to_key("a", "two words") == "a[\"two words\"]");
    CHECK(gp::path_to_key("a", "") == "a[\"\"]");
    CHECK(gp::path_to_key("a", "x\u202Ey") == "a[\"x\\u202ey\"]");
    CHECK(gp::path_to_item("scenes", 3) == "scenes[3]");
  }
}
