#include "base/json_writer.h"

#include "base/errors.h"
#include "base/utf8.h"

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <utility>

namespace gp {

JsonWriter& JsonWriter::begin(char bracket, JsonLayout layout) {
  before_value();
  out_ += bracket;
  const bool inside_compact = !levels_.empty() && levels_.back().compact;
  levels_.push_back({inside_compact || layout == JsonLayout::compact, true});
  return *this;
}

JsonWriter& JsonWriter::end(char bracket) {
  assert(!levels_.empty() && !after_key_);
  const Level level = levels_.back();
  levels_.pop_back();
  if (!level.compact && !level.empty) new_line();
  out_ += bracket;
  return *this;
}

JsonWriter& JsonWriter::key(std::string_view key) {
  before_entry();
  put_text(key);
  out_ += ": ";
  after_key_ = true;
  return *this;
}

JsonWriter& JsonWriter::text(std::string_view value) {
  before_value();
  put_text(value);
  return *this;
}

JsonWriter& JsonWriter::number(std::int64_t value) {
  before_value();
  out_ += std::to_string(value);
  return *this;
}

JsonWriter& JsonWriter::number(double value) {
  if (!std::isfinite(value)) throw InternalError("a number written to JSON is not finite");
  before_value();
  std::array<char, 32> digits{};
  const auto result = std::to_chars(digits.data(), digits.data() + digits.size(), value);
  out_.append(digits.data(), result.ptr);
  return *this;
}

JsonWriter& JsonWriter::thousandths(std::int64_t value) {
  before_value();
  if (value < 0) out_ += '-';
  const std::uint64_t size =
      value < 0 ? 0 - static_cast<std::uint64_t>(value) : static_cast<std::uint64_t>(value);
  out_ += std::to_string(size / 1000);
  if (size % 1000 != 0) {
    std::string fraction = std::to_string(1000 + size % 1000);
    fraction[0] = '.';
    while (fraction.back() == '0') fraction.pop_back();
    out_ += fraction;
  }
  return *this;
}

JsonWriter& JsonWriter::boolean(bool value) {
  before_value();
  out_ += value ? "true" : "false";
  return *this;
}

JsonWriter& JsonWriter::null() {
  before_value();
  out_ += "null";
  return *this;
}

JsonWriter& JsonWriter::texts(const std::vector<std::string>& values) {
  begin_list(JsonLayout::compact);
  for (const std::string& value : values) text(value);
  return end_list();
}

std::string JsonWriter::finish() {
  assert(levels_.empty());
  out_ += '\n';
  return std::exchange(out_, {});
}

void JsonWriter::before_value() {
  if (std::exchange(after_key_, false)) return;
  before_entry();
}

void JsonWriter::before_entry() {
  const bool beside = std::exchange(beside_, false);
  if (levels_.empty()) return;
  Level& level = levels_.back();
  const bool first = std::exchange(level.empty, false);
  if (!first) out_ += ',';
  if (!level.compact && !(beside && !first)) {
    new_line();
  } else if (!first) {
    out_ += ' ';
  }
}

void JsonWriter::new_line() {
  out_ += '\n';
  out_.append(2 * levels_.size(), ' ');
}

void JsonWriter::put_text(std::string_view value) {
  constexpr std::string_view kHex = "0123456789abcdef";
  out_ += '"';
  for (std::size_t at = 0; at < value.size();) {
    const char c = value[at];
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out_ += '\\';
      out_ += c;
      ++at;
    } else if (c == '\n' || c == '\r' || c == '\t') {
      out_ += c == '\n' ? "\\n" : c == '\r' ? "\\r" : "\\t";
      ++at;
    } else if (byte < 0x20) {
      out_ += "\\u00";
      out_ += kHex[byte >> 4U];
      out_ += kHex[byte & 0xFU];
      ++at;
    } else if (byte < 0x80) {
      out_ += c;
      ++at;
    } else if (const std::size_t bytes = decode_utf8(value, at).bytes; bytes != 0) {
      out_ += value.substr(at, bytes);
      at += bytes;
    } else {
      append_utf8(out_, U'\uFFFD');
      ++at;
    }
  }
  out_ += '"';
}

}  // namespace gp
