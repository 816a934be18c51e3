#pragma once

#include "model/production.h"

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// One entry for a calendar. All texts may be any UTF-8; what iCalendar has no place for is left
/// out.
struct CalendarEvent {
  std::string uid;   ///< random, the same in every later version; no name in it (RFC 7986, 5.3)
  int sequence = 0;  ///< rises with every change
  bool cancelled = false;
  std::chrono::sys_seconds stamp;  ///< when this version was made
  std::chrono::sys_seconds from, until;
  std::string summary, place, description;
  std::optional<Geo> geo;
  std::optional<std::chrono::minutes> alarm_before;  ///< a reminder so long before `from`
};

/// A calendar file to be kept by one person: no METHOD, so it asks nobody for anything and needs no
/// organiser's mailbox. Times are in UTC; the reader's calendar shows them in its own zone.
/// \param language  of the texts, BCP 47
/// Source: RFC 5545; RFC 7986 section 5.3 for the UID.
std::string calendar_file(const std::vector<CalendarEvent>& events, std::string_view language);

/// RFC 5545 section 3.3.11: backslash, semicolon, comma and line ends; control characters go.
std::string calendar_text(std::string_view text);
/// RFC 5545 section 3.1: at most 75 octets a line, never cut inside a character; ends in CRLF.
std::string folded(std::string_view line);
/// A UUID (RFC 9562, version 8) made of any text by SHA-256: stable, and tells nothing of the text
/// to whoever cannot guess it whole.
std::string uuid_of(std::string_view text);

}  // namespace gp
