#include "base/json_writer.h"

#include "base/errors.h"
#include "base/json.h"
#include "base/random.h"
#include "support/seed.h"

#include <bit>
#include <cmath>
#include <limits>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

TEST_SUITE("base/json_writer") {
  TEST_CASE("open lists have an entry a line, compact ones are one line, keys keep their order") {
    gp::JsonWriter writer;
    writer.begin_object();
    writer.key("title").text("Kettle");
    writer.beside().key("made_from").text("x");
    writer.key("steps").begin_list();
    writer.begin_object(gp::JsonLayout::compact).key("person").text("bo").key("on");
    writer.begin_list().number(std::int64_t{1}).number(std::int64_t{2}).end_list().end_object();
    writer.begin_object(gp::JsonLayout::compact).end_object();
    writer.end_list();
    writer.key("meals").begin_list().end_list();
    writer.key("tags").texts({"a", "b"});
    writer.key("proven").boolean(false).key("bound").null();
    writer.end_object();
    CHECK(writer.finish() ==
          "{\n"
          "  \"title\": \"Kettle\", \"made_from\": \"x\",\n"
          "  \"steps\": [\n"
          "    {\"person\": \"bo\", \"on\": [1, 2]},\n"
          "    {}\n"
          "  ],\n"
          "  \"meals\": [],\n"
          "  \"tags\": [\"a\", \"b\"],\n"
          "  \"proven\": false,\n"
          "  \"bound\": null\n"
          "}\n");
  }

  TEST_CASE("numbers are as short as can be") {
    const auto written = [](auto value) {
      gp::JsonWriter writer;
      writer.number(value);
      return writer.finish();
    };
    CHECK(written(0.1) == "0.1\n");
    CHECK(written(57.0) == "57\n");
    CHECK(written(-1.1) == "-1.1\n");
    CHECK(written(std::numeric_limits<std::int64_t>::min()) == "-9223372036854775808\n");
    CHECK_THROWS_AS(written(std::nan("")), gp::InternalError);
    CHECK_THROWS_AS(written(HUGE_VAL), gp::InternalError);
  }

  TEST_CASE("thousandths are written without needless zeros") {
    const auto written = [](std::int64_t value) {
      gp::JsonWriter writer;
      writer.thousandths(value);
      return writer.finish();
    };
    CHECK(written(1500) == "1.5\n");
    CHECK(written(1000) == "1\n");
    CHECK(written(0) == "0\n");
    CHECK(written(5) == "0.005\n");
    CHECK(written(-1250) == "-1.25\n");
    CHECK(written(10) == "0.01\n");
    // 2^63 thousandths, as the 64-bit integers hold them
    CHECK(written(std::numeric_limits<std::int64_t>::min()) == "-9223372036854775.808\n");
  }

  TEST_CASE("random: any bytes written as a text are JSON, and UTF-8 comes back the same") {
    gp::Random random(gp::test::seed());
    for (int round = 0; round < 3000; ++round) {
      std::string text;
      for (std::size_t i = random.below(12); i > 0; --i) {
        text += static_cast<char>(random.chance(1, 3) ? random.below(256) : random.below(128));
      }
      gp::JsonWriter writer;
      writer.text(text);
      const std::string json = writer.finish();
      const gp::JsonRead read = gp::read_json(json);
      REQUIRE(read.faults.empty());
      // the oracle: nlohmann::json, a general-purpose library
      const auto other = nlohmann::json::parse(json);
      CHECK(read.root->text() == other.get<std::string>());
      const auto accepted = nlohmann::json::accept(
          nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::ignore));
      REQUIRE(accepted);
      if (nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::ignore) ==
          nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace)) {
        CHECK(read.root->text() == text);  // it was UTF-8
      }
    }
  }

  TEST_CASE("random: any finite number written comes back the same") {
    gp::Random random(gp::test::seed());
    for (int round = 0; round < 5000; ++round) {
      const auto value = std::bit_cast<double>(random.next());
      if (!std::isfinite(value)) continue;
      gp::JsonWriter writer;
      writer.number(value);
      const gp::JsonRead read = gp::read_json(writer.finish());
      REQUIRE(read.faults.empty());
      CHECK(read.root->number() == value);
    }
  }
}
