#include "messages/calendar.h"

#include "base/sha256.h"
#include "base/utf8.h"

#include <array>
#include <cstdio>

namespace gp {
namespace {

constexpr std::size_t kMostOctets = 75;

std::string digits(int value, int width) {
  std::string text = std::to_string(value);
  while (std::ssize(text) < width) text.insert(text.begin(), '0');
  return text;
}

std::string utc_time(std::chrono::sys_seconds moment) {
  const auto midnight = std::chrono::floor<std::chrono::days>(moment);
  const std::chrono::year_month_day date(midnight);
  const auto second = static_cast<int>((moment - midnight).count());
  return digits(static_cast<int>(date.year()), 4) +
         digits(static_cast<int>(static_cast<unsigned>(date.month())), 2) +
         digits(static_cast<int>(static_cast<unsigned>(date.day())), 2) + "T" +
         digits(second / 3600, 2) + digits(second / 60 % 60, 2) + digits(second % 60, 2) + "Z";
}

/// Six decimals, a tenth of a metre (RFC 5545 section 3.8.1.6 asks for at most six).
std::string degrees(double value) {
  std::array<char, 32> text{};
  const int length = std::snprintf(text.data(), text.size(), "%.6f", value);
  std::string out(text.data(), static_cast<std::size_t>(length));
  for (char& c : out) {
    if (c == ',') c = '.';  // whatever the locale writes
  }
  return out;
}

}  // namespace

std::string calendar_text(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint one = decode_utf8(text, at);
    const std::size_t bytes = one.bytes == 0 ? 1 : one.bytes;
    if (one.bytes == 0) {
      append_utf8(out, 0xFFFD);
    } else if (one.value == U'\\' || one.value == U';' || one.value == U',') {
      out += '\\';
      out += static_cast<char>(one.value);
    } else if (one.value == U'\n') {
      out += "\\n";
    } else if (one.value == U'\t' || (one.value >= 0x20 && one.value != 0x7f &&
                                      !(one.value >= 0x80 && one.value < 0xA0))) {
      out.append(text, at, bytes);
    }
    at += bytes;
  }
  return out;
}

std::string folded(std::string_view line) {
  std::string out;
  std::size_t room = kMostOctets;
  for (std::size_t at = 0; at < line.size();) {
    const CodePoint one = decode_utf8(line, at);
    const std::size_t bytes = one.bytes == 0 ? 1 : one.bytes;
    if (bytes > room) {
      out += "\r\n ";
      room = kMostOctets - 1;
    }
    out.append(line, at, bytes);
    room -= bytes;
    at += bytes;
  }
  return out + "\r\n";
}

std::string uuid_of(std::string_view text) {
  std::string hex = sha256(text).substr(0, 32);
  hex[12] = '8';  // version
  // the two highest bits of this digit are the variant, 10
  static constexpr std::string_view kVariants = "89ab";
  const char digit = hex[16];
  const int value = digit <= '9' ? digit - '0' : digit - 'a' + 10;
  hex[16] = kVariants[static_cast<std::size_t>(value % 4)];
  return hex.substr(0, 8) + "-" + hex.substr(8, 4) + "-" + hex.substr(12, 4) + "-" +
         hex.substr(16, 4) + "-" + hex.substr(20);
}

std::string calendar_file(const std::vector<CalendarEvent>& events, std::string_view language) {
  std::string out;
  const auto line = [&](const std::string& text) { out += folded(text); };
  const std::string tongue = language.empty() ? "" : ";LANGUAGE=" + std::string(language);
  line("BEGIN:VCALENDAR");
  line("VERSION:2.0");
  line("PRODID:-//greasepaint//calendar//EN");
  for (const CalendarEvent& event : events) {
    line("BEGIN:VEVENT");
    line("UID:" + event.uid);
    line("DTSTAMP:" + utc_time(event.stamp));
    line("SEQUENCE:" + std::to_string(event.sequence));
    line("DTSTART:" + utc_time(event.from));
    if (event.until > event.from) line("DTEND:" + utc_time(event.until));
    line(std::string("STATUS:") + (event.cancelled ? "CANCELLED" : "CONFIRMED"));
    line("SUMMARY" + tongue + ":" + calendar_text(event.summary));
    if (!event.place.empty()) line("LOCATION" + tongue + ":" + calendar_text(event.place));
    if (event.geo) line("GEO:" + degrees(event.geo->lat) + ";" + degrees(event.geo->lon));
    if (!event.description.empty()) {
      line("DESCRIPTION" + tongue + ":" + calendar_text(event.description));
    }
    if (event.alarm_before && !event.cancelled) {
      line("BEGIN:VALARM");
      line("ACTION:DISPLAY");
      line("DESCRIPTION" + tongue + ":" + calendar_text(event.summary));
      line("TRIGGER:-PT" + std::to_string(event.alarm_before->count()) + "M");
      line("END:VALARM");
    }
    line("END:VEVENT");
  }
  line("END:VCALENDAR");
  return out;
}

}  // namespace gp
