#include "base/json.h"
#include "base/utf8.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numeric>
#include <tuple>
#include <utility>

namespace gp {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_word(char c) {
  return is_letter(c) || is_digit(c) || c == '-' || c == '+' || c == '.' || c == ':';
}

/// Stands in a text for itself and is one byte.
bool is_plain(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte >= 0x20 && byte < 0x80 && c != '"' && c != '\\';
}

/// RFC 8259 section 6: an optional minus, digits without a leading zero, fraction, exponent.
bool is_number(std::string_view word) {
  std::size_t at = 0;
  const auto digits = [&] {
    const std::size_t from = at;
    while (at < word.size() && is_digit(word[at])) ++at;
    return at - from;
  };
  if (at < word.size() && word[at] == '-') ++at;
  const bool zero = at < word.size() && word[at] == '0';
  const std::size_t whole = digits();
  if (whole == 0 || (zero && whole > 1)) return false;
  if (at < word.size() && word[at] == '.') {
    ++at;
    if (digits() == 0) return false;
  }
  if (at < word.size() && (word[at] == 'e' || word[at] == 'E')) {
    ++at;
    if (at < word.size() && (word[at] == '-' || word[at] == '+')) ++at;
    if (digits() == 0) return false;
  }
  return at == word.size();
}

/// Recursive descent. Functions that return bool say whether reading can go on.
class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  JsonRead read() {
    JsonRead result;
    if (text_.size() > kMostJsonBytes) {
      fault({0, 0, 0},
            "a file of " + std::to_string(text_.size()) + " bytes",
            "at most " + std::to_string(kMostJsonBytes) + " bytes (16 MiB)");
    } else if (starts_as_utf16()) {
      fault({0, 1, 1}, "a file in UTF-16", "a file saved as UTF-8");
    } else {
      if (text_.starts_with("\xEF\xBB\xBF")) {
        at_ = 3;
        marked_ = {3, 1, 1};
      }
      Json root;
      if (value(root, 0) && end_of_file()) result.root = std::move(root);
    }
    const auto place = [](const Fault& f) { return std::pair(f.line, f.column); };
    std::stable_sort(faults_.begin(), faults_.end(), [&](const Fault& a, const Fault& b) {
      return place(a) < place(b);
    });
    result.faults = std::move(faults_);
    return result;
  }

 private:
  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }
  [[nodiscard]] char here() const { return text_[at_]; }
  [[nodiscard]] bool here_is(char c) const { return !at_end() && here() == c; }
  [[nodiscard]] bool starts_as_utf16() const {
    return text_.size() >= 2 && (text_.starts_with("\xFF\xFE") || text_.starts_with("\xFE\xFF") ||
                                 text_.substr(0, 2) == std::string_view("{\0", 2) ||
                                 text_.substr(0, 2) == std::string_view("\0{", 2));
  }

  /// The position of an offset not before the last one asked for: linear over the whole file.
  JsonPosition position(std::size_t offset) {
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
  JsonPosition position() { return position(at_); }

  void fault(JsonPosition at, std::string found, std::string expected, std::string nearest = {}) {
    if (faults_.size() >= kMostJsonFaults) return;
    faults_.push_back(
        fault_at(at, path_, std::move(found), std::move(expected), std::move(nearest)));
  }
  bool too_many_faults() const { return faults_.size() >= kMostJsonFaults; }

  /// What stands at the reader's place, in words.
  std::string here_as_words() const {
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
  std::string_view word_here() const {
    std::size_t until = at_;
    while (until < text_.size() &&
           (is_word(text_[until]) || static_cast<unsigned char>(text_[until]) >= 0x80)) {
      ++until;
    }
    return text_.substr(at_, until - at_);
  }

  bool end_of_file() {
    if (!skip_space()) return false;
    if (at_end()) return true;
    fault(position(), here_as_words(), "nothing more after the end of the value");
    return false;
  }

  /// Blanks, and what people put where only blanks may stand.
  bool skip_space() {
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

  bool comment() {
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

  bool value(Json& out, int depth) {
    if (!skip_space()) return false;
    const JsonPosition from = position();
    if (++values_ > kMostJsonValues) {
      fault(
          from, "a file of more values", "at most " + std::to_string(kMostJsonValues) + " values");
      return false;
    }
    if (at_end()) {
      fault(from, here_as_words(), "a value");
      return false;
    }
    const char c = here();
    if (c == '{' || c == '[') {
      if (depth >= kMostJsonDepth) {
        fault(from,
              "one more list or object inside the others",
              "at most " + std::to_string(kMostJsonDepth) + " inside each other");
        return false;
      }
      return c == '{' ? object(out, from, depth + 1) : list(out, from, depth + 1);
    }
    if (c == '"' || c == '\'') {
      std::string text;
      if (!string(text)) return false;
      out = Json(from, std::move(text));
      return true;
    }
    if (is_word(c) && c != ':') return word(out, from);
    out = Json::broken(from);
    fault(from, here_as_words(), "a value");
    return c == ',';  // "[1,,2]": the list goes on at the comma
  }

  /// true, false, null, a number, or a word that should have been one of them or a text.
  bool word(Json& out, JsonPosition from) {
    const std::string_view word = word_here();
    at_ += word.size();
    if (word == "true" || word == "false") {
      out = Json(from, word == "true");
    } else if (word == "null") {
      out = Json::null(from);
    } else if (is_number(word)) {
      double number = 0;
      const auto result = std::from_chars(word.data(), word.data() + word.size(), number);
      if (result.ec == std::errc::result_out_of_range) {
        // too near to zero is zero; too far from it is no number we can keep
        if (!near_zero(word)) {
          out = Json::broken(from);
          fault(from, "the number " + shortened(word, 48), "a number a computer can hold");
          return true;
        }
        number = 0;
      }
      out = Json(from, number);
    } else {
      out = Json::broken(from);
      wrong_word(word, from);
    }
    return !too_many_faults();
  }

  void wrong_word(std::string_view word, JsonPosition from) {
    std::string small;
    for (const char c : word) {
      small += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    std::string meant;
    if (small == "true" || small == "yes" || small == "on") meant = "true";
    if (small == "false" || small == "no" || small == "off") meant = "false";
    if (small == "null" || small == "none" || small == "nil") meant = "null";
    if (meant.empty() && word[0] == '0') {
      const std::size_t zeros = std::min(word.find_first_not_of('0'), word.size() - 1);
      if (is_number(word.substr(zeros))) meant = word.substr(zeros);
    }
    if (meant.empty() && word[0] == '+' && is_number(word.substr(1))) meant = word.substr(1);
    if (meant.empty() && word[0] == '.' && is_number("0" + std::string(word))) {
      meant = "0" + std::string(word);
    }
    if (meant.empty()) meant = quoted(word);
    fault(from,
          shortened(word, 48),
          "a text in quotation marks, a number, true or false (perhaps " + meant + ")");
  }

  /// Whether a number that is out of range is too small for it, not too large: the power of ten of
  /// its first digit that counts.
  static bool near_zero(std::string_view number) {
    const std::size_t e = std::min(number.find_first_of("eE"), number.size());
    const std::string_view digits = number.substr(0, e);
    const std::size_t point = std::min(digits.find('.'), digits.size());
    const std::size_t first = digits.find_first_of("123456789");
    if (first == std::string_view::npos) return true;
    auto power = static_cast<std::int64_t>(point) - static_cast<std::int64_t>(first);
    if (e < number.size()) {
      constexpr std::int64_t kHuge = 1'000'000'000;  // more than any file has digits
      std::int64_t exponent = 0;
      const bool minus = number[e + 1] == '-';
      for (const char c : number.substr(e + 1)) {
        if (is_digit(c)) exponent = std::min(exponent * 10 + (c - '0'), kHuge);
      }
      power += minus ? -exponent : exponent;
    }
    return power < 0;
  }

  bool list(Json& out, JsonPosition from, int depth) {
    Json::List items;
    const std::size_t path_length = path_.size();
    ++at_;
    JsonPosition comma{};
    bool after_comma = false;
    for (;;) {
      if (!skip_space()) return false;
      if (here_is(']')) {
        if (after_comma) fault(comma, "a comma after the last entry of the list", "no comma there");
        ++at_;
        break;
      }
      if (at_end()) return never_closed(from, "list", ']');
      path_ += "[" + std::to_string(items.size()) + "]";
      Json item;
      if (!value(item, depth)) return false;
      path_.resize(path_length);
      items.push_back(std::move(item));
      if (!after_value(']', from, "list", comma, after_comma)) return false;
    }
    out = Json(from, std::move(items));
    return true;
  }

  bool object(Json& out, JsonPosition from, int depth) {
    Json::Object members;
    const std::size_t path_length = path_.size();
    ++at_;
    JsonPosition comma{};
    bool after_comma = false;
    for (;;) {
      if (!skip_space()) return false;
      if (here_is('}')) {
        if (after_comma)
          fault(comma, "a comma after the last entry of the object", "no comma there");
        ++at_;
        break;
      }
      if (at_end()) return never_closed(from, "object", '}');
      JsonMember member;
      member.at = position();
      if (!key(member.key, from)) return false;
      path_ = path_to_key(path_, shortened(member.key, 48));
      if (!value(member.value, depth)) return false;
      path_.resize(path_length);
      members.push_back(std::move(member));
      if (!after_value('}', from, "object", comma, after_comma)) return false;
    }
    tell_doubled_keys(members);
    out = Json(from, std::move(members));
    return !too_many_faults();
  }

  /// A key and the colon after it.
  bool key(std::string& out, JsonPosition object_from) {
    const JsonPosition from = position();
    if (here_is('"') || here_is('\'')) {
      if (!string(out)) return false;
    } else if (is_letter(here())) {
      std::size_t until = at_;
      while (until < text_.size() && (is_letter(text_[until]) || is_digit(text_[until]))) ++until;
      out = text_.substr(at_, until - at_);
      at_ = until;
      fault(from,
            "the key " + shortened(out, 48) + " without quotation marks",
            "every key in quotation marks",
            out);
    } else if (here_is(',')) {
      fault(from, "a comma too many", "a key in quotation marks");
      return false;
    } else {
      fault(from,
            here_as_words(),
            "a key in quotation marks, or \"}\" to end the object that begins " +
                line_words(object_from));
      return false;
    }
    if (!skip_space()) return false;
    if (here_is(':')) {
      ++at_;
      return true;
    }
    fault(position(), here_as_words(), "a colon (:) after the key " + quoted(out));
    if (!here_is('=')) return false;
    ++at_;
    return true;
  }

  /// The comma after a value, or nothing where the list or object ends there.
  bool after_value(
      char end, JsonPosition from, std::string_view what, JsonPosition& comma, bool& after_comma) {
    if (!skip_space()) return false;
    after_comma = false;
    if (at_end()) return never_closed(from, what, end);
    if (here() == end) return true;
    if (here() == ',') {
      comma = position();
      after_comma = true;
      ++at_;
      return true;
    }
    const std::string closing = std::string("\"") + end + "\" to end the " + std::string(what) +
                                " that begins " + line_words(from);
    const bool goes_on =
        here() == '"' || (end == ']' && (here() == '{' || here() == '[' || is_digit(here())));
    fault(position(), here_as_words(), goes_on ? "a comma before it" : "a comma, or " + closing);
    return goes_on && !too_many_faults();
  }

  bool never_closed(JsonPosition from, std::string_view what, char end) {
    fault(position(),
          here_as_words(),
          std::string("\"") + end + "\" to end the " + std::string(what) + " that begins " +
              line_words(from));
    return false;
  }
  static std::string line_words(JsonPosition at) {
    return "at line " + std::to_string(at.line) + ", column " + std::to_string(at.column);
  }

  void tell_doubled_keys(const Json::Object& members) {
    std::vector<std::size_t> order(members.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return std::tie(members[a].key, a) < std::tie(members[b].key, b);
    });
    std::size_t first = 0;
    for (std::size_t i = 1; i < order.size(); ++i) {
      if (members[order[i]].key != members[order[first]].key) {
        first = i;
        continue;
      }
      const JsonMember& member = members[order[i]];
      const std::string outside = path_;
      path_ = path_to_key(path_, shortened(member.key, 48));
      fault(member.at,
            "the key " + quoted(member.key) + " a second time",
            "each key once (it stands " + line_words(members[order[first]].at) + " already)");
      path_ = outside;
    }
  }

  /// A text in quotation marks; `'single'` ones are told and read all the same.
  bool string(std::string& out) {
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

  bool escape(std::string& out) {
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
      fault(
          from,
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
      fault(from,
            "half of a surrogate pair",
            "both halves (\\ud83c\\udfac), or the character itself");
    }
    append_utf8(out, value);
    return !too_many_faults();
  }

  bool four_digits(char32_t& value) {
    if (text_.size() - at_ < 4) return false;
    std::uint32_t number = 0;
    const char* const begin = text_.data() + at_;
    const auto result = std::from_chars(begin, begin + 4, number, 16);
    if (result.ec != std::errc() || result.ptr != begin + 4) return false;
    value = static_cast<char32_t>(number);
    at_ += 4;
    return true;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  JsonPosition marked_;
  std::size_t values_ = 0;
  std::string path_;
  std::vector<Fault> faults_;
};

}  // namespace

JsonRead read_json(std::string_view text) {
  return Reader(text).read();
}

}  // namespace gp
