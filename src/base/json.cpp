#include "base/json.h"

#include "base/utf8.h"

#include <array>
#include <charconv>
#include <cmath>

namespace gp {

Json::Json() = default;
Json::Json(JsonPosition at, bool value) : at_(at), value_(value) {}
Json::Json(JsonPosition at, double value) : at_(at), value_(value) {}
Json::Json(JsonPosition at, std::string value) : at_(at), value_(std::move(value)) {}
Json::Json(JsonPosition at, List value) : at_(at), value_(std::move(value)) {}
Json::Json(JsonPosition at, Object value) : at_(at), value_(std::move(value)) {}
Json::Json(const Json& other) = default;
Json::Json(Json&& other) noexcept = default;
Json& Json::operator=(const Json& other) = default;
Json& Json::operator=(Json&& other) noexcept = default;
Json::~Json() = default;

Json Json::null(JsonPosition at) {
  Json result;
  result.at_ = at;
  result.value_ = nullptr;
  return result;
}

Json Json::broken(JsonPosition at) {
  Json result;
  result.at_ = at;
  return result;
}

const Json* Json::find(std::string_view key) const {
  for (const JsonMember& member : members()) {
    if (member.key == key) return &member.value;
  }
  return nullptr;
}

std::string quoted(std::string_view text) {
  constexpr std::size_t kMostShown = 48;
  std::string result = "\"";
  for (const char32_t c : characters(shortened(text, kMostShown))) {
    if (c == U'\n') {
      result += "\\n";
    } else if (c == U'\t') {
      result += "\\t";
    } else if (c == U'"' || c == U'\\') {
      result += '\\';
      result += static_cast<char>(c);
    } else if (c < 0x20 || (c >= 0x7F && c <= 0x9F) || (c >= 0x202A && c <= 0x202E) ||
               (c >= 0x2066 && c <= 0x2069) || c == 0xFEFF) {
      // direction overrides would make the message itself unreadable
      constexpr std::string_view kHex = "0123456789abcdef";
      result += "\\u";
      for (unsigned shift = 16; shift > 0; shift -= 4) {
        result += kHex[(static_cast<std::uint32_t>(c) >> (shift - 4U)) & 0xFU];
      }
    } else {
      append_utf8(result, c);
    }
  }
  return result + '"';
}

std::string found_as(const Json& value) {
  switch (value.kind()) {
    case JsonKind::broken:
      return "something unreadable";
    case JsonKind::null:
      return "nothing (null)";
    case JsonKind::boolean:
      return value.boolean() ? "true" : "false";
    case JsonKind::number: {
      std::array<char, 32> digits{};
      const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value.number());
      return {digits.data(), end.ptr};
    }
    case JsonKind::text:
      return quoted(value.text());
    case JsonKind::list:
      return value.items().empty() ? "an empty list" : "a list";
    case JsonKind::object:
      return "an object";
  }
  return {};
}

std::string path_to_key(const std::string& path, std::string_view key) {
  const std::string in_quotes = quoted(key);
  bool plain = !key.empty() && in_quotes.size() == key.size() + 2;  // nothing escaped or cut
  for (const char c : key) {
    const bool fits = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '_' || c == '-' || static_cast<unsigned char>(c) >= 0x80;
    plain = plain && fits;
  }
  if (!plain) return path + "[" + in_quotes + "]";
  return path.empty() ? std::string(key) : path + "." + std::string(key);
}

std::string path_to_item(const std::string& path, std::size_t index) {
  return path + "[" + std::to_string(index) + "]";
}

Fault fault_at(JsonPosition at,
               std::string path,
               std::string found,
               std::string expected,
               std::string nearest) {
  return {at.line,
          at.column,
          std::move(path),
          std::move(found),
          std::move(expected),
          std::move(nearest)};
}

}  // namespace gp
