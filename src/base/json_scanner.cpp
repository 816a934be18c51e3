#include "base/json_scanner.h"

#include "base/utf8.h"

#include <algorithm>
#include <charconv>
#include <utility>

namespace gp {
namespace {

/// Stands in a text for itself and is one byte.
bool is_plain(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte >= 0x20 && byte < 0x80 && c != '"' && c != '\\';
}

}  // namespace

bool JsonScanner::is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool JsonScanner::is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

bool JsonScanner::is_word(char c) {
  return is_letter(c) || is_digit(c) || c == '-' || c == '+' || c == '.' || c == ':';
}

JsonPosition JsonScanner::position(std::size_t offset) {
  for (std::size_t i = marked_.offset; i < offset; ++i) {
    const auto byte = static_cast<unsigned char>(text_[i]);
    if (byte == '\n') {
      ++marked_.line;
      marked_.column = 1;
    } else if ((byte & 0xC0U) != 0x80U) {
      ++marked_.column;  // a continuation byte is no character of its own
    }
  }
  marked_.offset = static_cast<std::uint32_t>(std::max<std::size_t>(marked_.offset, offset));
  return marked_;
}

void JsonScanner::fault(JsonPosition at,
                        std::string found,
                        std::string expected,
                        std::string nearest) {
  if (faults_.size() >= kMostJsonFaults) return;
  faults_.push_back(fault_at(at, path_, std::move(found), std::move(expected), std::move(nearest)));
}

std::string JsonScanner::here_as_words() const {
  if (at_end()) return "the end of the file";
  const CodePoint point = decode_utf8(text_, at_);
  if (point.bytes == 0) return "a byte that is not UTF-8";
  if (is_word(here())) return quoted(word_here());
  if (point.value == U'\u201C' || point.value == U'\u201D' || point.value == U'\u201E' ||
      point.value == U'\u00AB' || point.value == U'\u2018' || point.value == U'\u2019') {
    return "the curly quotation mark " + std::string(text_.substr(at_, point.bytes));
  }
  if (here() == '"') return "another text";
  return quoted(text_.substr(at_, point.bytes));
}

std::string_view JsonScanner::word_here() const {
  std::size_t until = at_;
  while (until < text_.size() &&
         (is_word(text_[until]) || static_cast<unsigned char>(text_[until]) >= 0x80)) {
    ++until;
  }
  return text_.substr(at_, until - at_);
}

bool JsonScanner::skip_space() {
  while (!at_end()) {
    const char c = here();
    if (c == ' ' || c == '\t' || c == '\n' || c == '\r') {
      ++at_;
    } else if (c == '/' || c == '#') {
      if (!comment()) return false;
    } else if (text_.substr(at_).starts_with("\xC2\xA0")) {
      fault(position(), "a blank that may not break (U+00A0)", "an ordinary blank");
      at_ += 2;
    } else {
      return true;
    }
    if (too_many_faults()) return false;
  }
  return true;
}

bool JsonScanner::comment() {
  const JsonPosition from = position();
  const std::string_view rest = text_.substr(at_);
  std::size_t length = std::string_view::npos;
  if (rest.starts_with("//") || rest.starts_with('#')) {
    length = std::min(rest.find('\n'), rest.size());
  } else if (rest.starts_with("/*")) {
    length = rest.find("*/", 2);
    if (length != std::string_view::npos) length += 2;
  } else {
    fault(from, "\"/\"", "a value");
    return false;
  }
  if (length == std::string_view::npos) {
    fault(from, "a comment that never ends", "no comment (JSON has none)");
    return false;
  }
  fault(from, "a comment", "no comment (JSON has none)");
  at_ += length;
  return true;
}

bool JsonScanner::string(std::string& out) {
  const JsonPosition from = position();
  const char quote = here();
  if (quote == '\'') {
    fault(from, "a text in single quotation marks", "double quotation marks, \"");
  }
  ++at_;
  bool bytes_told = false;
  bool control_told = false;
  while (!at_end()) {
    const char c = here();
    const auto byte = static_cast<unsigned char>(c);
    if (c == quote) {
      ++at_;
      return !too_many_faults();
    }
    if (c == '\\') {
      if (!escape(out)) return false;
    } else if (c == '\n' || c == '\r') {
      fault(from,
            "a text that is not ended on its line",
            "a closing quotation mark (a line break inside a text is written \\n)");
      return false;
    } else if (byte < 0x20) {
      if (!std::exchange(control_told, true)) {
        fault(position(),
              c == '\t' ? "a tab inside a text" : "a control character inside a text",
              c == '\t' ? "\\t" : "an escape such as \\u0001, or nothing");
      }
      out += c;
      ++at_;
    } else if (byte < 0x80) {
      const std::size_t from_here = at_;
      do {
        ++at_;
      } while (!at_end() && is_plain(here()) && here() != quote);
      out.append(text_, from_here, at_ - from_here);
    } else if (const std::size_t bytes = decode_utf8(text_, at_).bytes; bytes != 0) {
      out += text_.substr(at_, bytes);
      at_ += bytes;
    } else {
      if (!std::exchange(bytes_told, true)) {
        fault(position(), "a byte that is not UTF-8", "a file saved as UTF-8");
      }
      append_utf8(out, U'\uFFFD');
      ++at_;
    }
  }
  fault(from, "a text that is not ended", "a closing quotation mark");
  return false;
}

bool JsonScanner::escape(std::string& out) {
  const JsonPosition from = position();
  ++at_;                      // the backslash
  if (at_end()) return true;  // string() tells that the text never ends
  const char c = here();
  constexpr std::string_view kLetters = "\"\\/bfnrt";
  constexpr std::string_view kMeanings = "\"\\/\b\f\n\r\t";
  if (const std::size_t known = kLetters.find(c); known != std::string_view::npos) {
    out += kMeanings[known];
    ++at_;
    return true;
  }
  if (c != 'u') {
    const std::size_t bytes = std::max<std::size_t>(decode_utf8(text_, at_).bytes, 1);
    fault(from,
          "the escape \\" + std::string(static_cast<unsigned char>(c) < 0x20
                                            ? std::string_view("(control character)")
                                            : text_.substr(at_, bytes)),
          "one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u0000 (a backslash itself is written \\\\)");
    return !too_many_faults();  // the character itself is read by string()
  }
  ++at_;
  char32_t value = 0;
  if (!four_digits(value)) {
    fault(from, "the escape \\u without four digits", "four hexadecimal digits, as in \\u00e9");
    return !too_many_faults();
  }
  if (value >= 0xD800 && value <= 0xDBFF && text_.substr(at_).starts_with("\\u")) {
    const std::size_t back = at_;
    at_ += 2;
    char32_t low = 0;
    if (four_digits(low) && low >= 0xDC00 && low <= 0xDFFF) {
      value = 0x10000 + ((value - 0xD800) << 10U) + (low - 0xDC00);
    } else {
      at_ = back;
    }
  }
  if (value >= 0xD800 && value <= 0xDFFF) {
    fault(
        from, "half of a surrogate pair", "both halves (\\ud83c\\udfac), or the character itself");
  }
  append_utf8(out, value);
  return !too_many_faults();
}

bool JsonScanner::four_digits(char32_t& value) {
  if (text_.size() - at_ < 4) return false;
  std::uint32_t number = 0;
  const char* const begin = text_.data() + at_;
  const auto result = std::from_chars(begin, begin + 4, number, 16);
  if (result.ec != std::errc() || result.ptr != begin + 4) return false;
  value = static_cast<char32_t>(number);
  at_ += 4;
  return true;
}

}  // namespace gp
