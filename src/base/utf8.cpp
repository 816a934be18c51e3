#include "base/utf8.h"

namespace gp {
namespace {

unsigned byte_at(std::string_view text, std::size_t offset) {
  return static_cast<unsigned char>(text[offset]);
}

}  // namespace

CodePoint decode_utf8(std::string_view text, std::size_t offset) {
  const unsigned first = byte_at(text, offset);
  if (first < 0x80) return {static_cast<char32_t>(first), 1};
  std::size_t bytes = 0;
  unsigned least = 0x80;  // of the second byte; narrower after some first bytes (table 3-7)
  unsigned most = 0xBF;
  if (first >= 0xC2 && first <= 0xDF) {
    bytes = 2;
  } else if (first >= 0xE0 && first <= 0xEF) {
    bytes = 3;
    if (first == 0xE0) least = 0xA0;
    if (first == 0xED) most = 0x9F;
  } else if (first >= 0xF0 && first <= 0xF4) {
    bytes = 4;
    if (first == 0xF0) least = 0x90;
    if (first == 0xF4) most = 0x8F;
  } else {
    return {};
  }
  if (text.size() - offset < bytes) return {};
  char32_t value = first & (0x7FU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    const unsigned next = byte_at(text, offset + i);
    if (next < least || next > most) return {};
    value = (value << 6U) | (next & 0x3FU);
    least = 0x80;
    most = 0xBF;
  }
  return {value, bytes};
}

void append_utf8(std::string& text, char32_t value) {
  if (value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) value = 0xFFFD;
  const auto put = [&text](char32_t byte) { text += static_cast<char>(byte); };
  if (value < 0x80) {
    put(value);
  } else if (value < 0x800) {
    put(0xC0U | (value >> 6U));
    put(0x80U | (value & 0x3FU));
  } else if (value < 0x10000) {
    put(0xE0U | (value >> 12U));
    put(0x80U | ((value >> 6U) & 0x3FU));
    put(0x80U | (value & 0x3FU));
  } else {
    put(0xF0U | (value >> 18U));
    put(0x80U | ((value >> 12U) & 0x3FU));
    put(0x80U | ((value >> 6U) & 0x3FU));
    put(0x80U | (value & 0x3FU));
  }
}

std::size_t count_characters(std::string_view text) {
  std::size_t count = 0;
  for (std::size_t at = 0; at < text.size(); ++count) {
    const std::size_t bytes = decode_utf8(text, at).bytes;
    at += bytes == 0 ? 1 : bytes;
  }
  return count;
}

std::string shortened(std::string_view text, std::size_t most) {
  std::size_t count = 0;
  std::size_t cut = 0;  // where the last character that leaves room for "…" ends
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t bytes = decode_utf8(text, at).bytes;
    at += bytes == 0 ? 1 : bytes;
    ++count;
    if (count + 1 == most) cut = at;
    if (count > most) return std::string(text.substr(0, cut)) + "…";
  }
  return std::string(text);
}

std::u32string characters(std::string_view text) {
  std::u32string result;
  result.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = decode_utf8(text, at);
    result += point.bytes == 0 ? U'\uFFFD' : point.value;
    at += point.bytes == 0 ? 1 : point.bytes;
  }
  return result;
}

}  // namespace gp
