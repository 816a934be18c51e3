#include "messages/calendar.h"

#include <algorithm>

#include <doctest/doctest.h>

using namespace gp;

namespace {

/// RFC 5545 section 3.1: a line end followed by one blank is taken out.
std::string unfolded(std::string text) {
  for (std::size_t at = text.find("\r\n "); at != std::string::npos; at = text.find("\r\n ", at)) {
    text.erase(at, 3);
  }
  return text;
}

CalendarEvent some_event() {
  CalendarEvent event;
  event.uid = uuid_of("call of a on b");
  event.sequence = 7;
  event.stamp = std::chrono::sys_days(std::chrono::year(2026) / 11 / 25);
  event.from = std::chrono::sys_days(std::chrono::year(2026) / 7 / 4) + std::chrono::minutes(390);
  event.until = event.from + std::chrono::hours(3);
  event.summary = "Tent B; face paint";
  event.alarm_before = std::chrono::minutes(60);
  return event;
}

}  // namespace

TEST_SUITE("messages/calendar") {
  TEST_CASE("texts are escaped as RFC 5545 section 3.3.11 says") {
    // the RFC's own example, three lines
    CHECK(calendar_text("Project XYZ Final Review\nConference Room - 3B\nCome Prepared.") ==
          "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.");
    // a colon and a quotation mark stay as they are
    CHECK(calendar_text("Tent B; face paint, then C:\\props\nbring \"hat\": 2") ==
          "Tent B\\; face paint\\, then C:\\\\props\\nbring \"hat\": 2");
    // a carriage return would begin a line of its own: it goes
    CHECK(calendar_text("a\r\nBcc:x\x01") == "a\\nBcc:x");
  }

  TEST_CASE("lines are folded at 75 octets and never inside a character") {
    std::string line = "SUMMARY:";
    for (int i = 0; i < 16; ++i) line += "Żółw ";
    line += "końcówka";
    REQUIRE(line.size() == 146);
    const std::string out = folded(line);
    // worked out with Python's email library: 74 octets, then a blank and 72 more
    CHECK(out.find("\r\n ") == 74);
    CHECK(out.size() == 146 + 3 + 2);
    CHECK(unfolded(out) == line + "\r\n");
    // the RFC's own long line (section 3.1) unfolds to itself
    const std::string description =
        "DESCRIPTION:This is a long description that exists on a long line, so long it is folded.";
    CHECK(unfolded(folded(description)) == description + "\r\n");
    CHECK(folded("") == "\r\n");
  }

  TEST_CASE("a file without METHOD has what RFC 5545 section 3.6.1 asks for, with times in UTC") {
    const std::string file = calendar_file({some_event()}, "en");
    CHECK(file.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:"));
    CHECK(file.find("METHOD") == std::string::npos);
    CHECK(file.find("\r\nDTSTAMP:20261125T000000Z\r\n") != std::string::npos);
    // London 2026-07-04 07:30 is 06:30 UTC (British summer time)
    CHECK(file.find("\r\nDTSTART:20260704T063000Z\r\n") != std::string::npos);
    CHECK(file.find("\r\nDTEND:20260704T093000Z\r\n") != std::string::npos);
    CHECK(file.find("DURATION") == std::string::npos);
    CHECK(file.find("\r\nSEQUENCE:7\r\n") != std::string::npos);
    CHECK(file.find("\r\nTRIGGER:-PT60M\r\n") != std::string::npos);
    CHECK(file.ends_with("END:VCALENDAR\r\n"));
    for (std::size_t at = file.find('\n'); at != std::string::npos; at = file.find('\n', at + 1)) {
      CHECK(file[at - 1] == '\r');
    }
  }

  TEST_CASE("what is called off says so and wakes nobody") {
    CalendarEvent event = some_event();
    event.cancelled = true;
    const std::string file = calendar_file({event}, "en");
    CHECK(file.find("\r\nSTATUS:CANCELLED\r\n") != std::string::npos);
    CHECK(file.find("VALARM") == std::string::npos);
  }

  TEST_CASE("a name is the same each time, another for another, and of RFC 9562's eighth version") {
    const std::string uuid = uuid_of("a");
    CHECK(uuid == uuid_of("a"));
    CHECK(uuid != uuid_of("b"));
    REQUIRE(uuid.size() == 36);
    CHECK(uuid[14] == '8');
    CHECK(std::string("89ab").find(uuid[19]) != std::string::npos);
    CHECK(std::count(uuid.begin(), uuid.end(), '-') == 4);
  }
}
