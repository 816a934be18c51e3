#include "base/json.h"
#include "base/json_scanner.h"
#include "base/utf8.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numeric>
#include <tuple>
#include <utility>

namespace gp {
namespace {

/// RFC 8259 section 6: an optional minus, digits without a leading zero, fraction, exponent.
bool is_number(std::string_view word) {
  std::size_t at = 0;
  const auto digits = [&] {
    const std::size_t from = at;
    while (at < word.size() && word[at] >= '0' && word[at] <= '9') ++at;
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
class Reader : private JsonScanner {
 public:
  explicit Reader(std::string_view text) : JsonScanner(text) {}

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
  [[nodiscard]] bool starts_as_utf16() const {
    return text_.size() >= 2 && (text_.starts_with("\xFF\xFE") || text_.starts_with("\xFE\xFF") ||
                                 text_.substr(0, 2) == std::string_view("{\0", 2) ||
                                 text_.substr(0, 2) == std::string_view("\0{", 2));
  }

  bool end_of_file() {
    if (!skip_space()) return false;
    if (at_end()) return true;
    fault(position(), here_as_words(), "nothing more after the end of the value");
    return false;
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

  std::size_t values_ = 0;
};

}  // namespace

JsonRead read_json(std::string_view text) {
  return Reader(text).read();
}

}  // namespace gp
