#include "intake/vcard.h"

#include "base/utf8.h"
#include "text/decode.h"

#include <algorithm>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t kMostCards = 100'000;
constexpr std::size_t kMostShown = 120;  // characters of a bad line

std::string upper(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - ('a' - 'A')) : c;
  return out;
}

struct PhysicalLine {
  std::size_t number = 0;
  std::string_view text;
};

std::vector<PhysicalLine> physical_lines(std::string_view text) {
  std::vector<PhysicalLine> out;
  std::size_t number = 1;
  for (std::size_t at = 0; at < text.size(); ++number) {
    const std::size_t end = std::min(text.find_first_of("\r\n", at), text.size());
    out.push_back({number, text.substr(at, end - at)});
    at = end;
    if (at < text.size() && text[at] == '\r') ++at;
    if (at < text.size() && text[at] == '\n' && (at == end || text[at - 1] == '\r')) ++at;
  }
  return out;
}

/// Where the value begins: behind the first colon that stands in no quotation marks.
std::size_t colon_of(std::string_view line) {
  bool quoted = false;
  for (std::size_t at = 0; at < line.size(); ++at) {
    if (line[at] == '"') quoted = !quoted;
    if (line[at] == ':' && !quoted) return at;
  }
  return line.find(':');
}

struct LogicalLine {
  std::size_t number = 0;
  std::string text;
};

/// Folding undone (RFC 6350 section 3.2), the soft line ends of quoted-printable (RFC 2045 section
/// 6.7) and the lines of base64 as version 2.1 writes them too.
std::vector<LogicalLine> logical_lines(std::string_view text) {
  const std::vector<PhysicalLine> lines = physical_lines(text);
  std::vector<LogicalLine> out;
  for (std::size_t at = 0; at < lines.size();) {
    LogicalLine line{lines[at].number, std::string(lines[at].text)};
    ++at;
    const std::string head = upper(std::string_view(line.text).substr(0, colon_of(line.text)));
    const bool printable = head.find("QUOTED-PRINTABLE") != std::string::npos;
    const bool base64 =
        head.find("BASE64") != std::string::npos || head.find("ENCODING=B") != std::string::npos;
    while (at < lines.size()) {
      const std::string_view next = lines[at].text;
      if (printable && line.text.ends_with('=')) {
        line.text.pop_back();
        line.text += next;
      } else if (!next.empty() && (next.front() == ' ' || next.front() == '\t')) {
        line.text += next.substr(1);
      } else if (base64 && !next.empty() && next.find(':') == std::string_view::npos) {
        line.text += next;
      } else {
        break;
      }
      ++at;
    }
    out.push_back(std::move(line));
  }
  return out;
}

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return -1;
}

std::string without_printable(std::string_view value) {
  std::string out;
  for (std::size_t at = 0; at < value.size(); ++at) {
    if (value[at] == '=' && at + 2 < value.size() + 0 && hex_digit(value[at + 1]) >= 0 &&
        hex_digit(value[at + 2]) >= 0) {
      out += static_cast<char>(hex_digit(value[at + 1]) * 16 + hex_digit(value[at + 2]));
      at += 2;
    } else {
      out += value[at];
    }
  }
  return out;
}

std::vector<std::string> parted(std::string_view text, char sign) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == sign && !quoted) {
      out.emplace_back();
    } else {
      out.back() += c;
    }
  }
  return out;
}

/// Parted by semicolons; quotation marks stay, for the values to be parted once more.
std::vector<std::string> parameters_of(std::string_view head) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (const char c : head) {
    if (c == '"') quoted = !quoted;
    if (c == ';' && !quoted) {
      out.emplace_back();
    } else {
      out.back() += c;
    }
  }
  return out;
}

CardProperty property_of(const LogicalLine& line, std::size_t colon) {
  CardProperty property;
  property.line = line.number;
  const std::vector<std::string> head = parameters_of(std::string_view(line.text).substr(0, colon));
  const std::size_t dot = head[0].find('.');
  if (dot != std::string::npos) property.group = head[0].substr(0, dot);
  property.name = upper(dot == std::string::npos ? head[0] : head[0].substr(dot + 1));
  for (std::size_t i = 1; i < head.size(); ++i) {
    const std::size_t equals = head[i].find('=');
    if (equals == std::string::npos) {  // version 2.1
      const std::string word = upper(head[i]);
      const bool encoding = word == "QUOTED-PRINTABLE" || word == "BASE64" || word == "8BIT";
      property.parameters[encoding ? "ENCODING" : "TYPE"].push_back(head[i]);
      continue;
    }
    for (std::string& value : parted(std::string_view(head[i]).substr(equals + 1), ',')) {
      // TYPE="work,voice" is two types (RFC 6350 section 5.6)
      for (std::string& one : parted(value, ',')) {
        property.parameters[upper(head[i].substr(0, equals))].push_back(std::move(one));
      }
    }
  }
  property.value = line.text.substr(colon + 1);
  const auto encoding = property.parameters.find("ENCODING");
  if (encoding != property.parameters.end() &&
      upper(encoding->second.front()) == "QUOTED-PRINTABLE") {
    const std::string bytes = without_printable(property.value);
    const auto charset = property.parameters.find("CHARSET");
    auto decoded = decode_text(
        bytes, charset == property.parameters.end() ? std::string() : charset->second.front());
    if (!decoded) decoded = decode_text(bytes);
    property.value = decoded->text;
  }
  return property;
}

class CardReader {
 public:
  CardsRead read(std::string_view text) {
    for (const LogicalLine& line : logical_lines(text)) {
      if (line.text.find_first_not_of(" \t") == std::string::npos) continue;
      take(line);
    }
    if (open_) tell_half(card_);
    return std::move(out_);
  }

 private:
  void take(const LogicalLine& line) {
    const std::size_t colon = colon_of(line.text);
    if (colon == std::string::npos) {
      out_.bad.push_back({line.number, "a line without a colon", shown(line.text)});
      return;
    }
    CardProperty property = property_of(line, colon);
    if (property.name == "BEGIN" && upper(property.value).starts_with("VCARD")) {
      begin(line.number);
    } else if (property.name == "END" && upper(property.value).starts_with("VCARD")) {
      end(line);
    } else if (inside_ > 0) {
      return;  // of a card inside a card: somebody's agent
    } else if (!open_) {
      if (!lost_) out_.bad.push_back({line.number, "text outside of any card", shown(line.text)});
      lost_ = true;
    } else {
      if (property.name == "VERSION") card_.version = property.value;
      card_.properties.push_back(std::move(property));
    }
  }

  void begin(std::size_t number) {
    lost_ = false;
    if (inside_ > 0 ||
        (open_ && !card_.properties.empty() && card_.properties.back().name == "AGENT" &&
         card_.properties.back().value.empty())) {
      ++inside_;
      return;
    }
    if (open_) tell_half(card_);
    card_ = Card{number, {}, {}};
    open_ = true;
  }

  void end(const LogicalLine& line) {
    if (inside_ > 0) {
      --inside_;
    } else if (!open_) {
      out_.bad.push_back({line.number, "an END:VCARD without its BEGIN", shown(line.text)});
      lost_ = false;
    } else if (out_.cards.size() < kMostCards) {
      out_.cards.push_back(std::move(card_));
      open_ = false;
    } else {
      out_.bad.push_back({card_.line, "a card beyond the first 100000: not read", {}});
      open_ = false;
    }
  }

  void tell_half(const Card& card) {
    std::string name;
    for (const CardProperty& property : card.properties) {
      if (property.name == "FN" || (property.name == "N" && name.empty())) name = property.value;
    }
    out_.bad.push_back({card.line, "half a card: it has no END:VCARD", shown(name)});
  }

  static std::string shown(const std::string& text) { return shortened(text, kMostShown); }

  CardsRead out_;
  Card card_;
  bool open_ = false;
  bool lost_ = false;  ///< text outside of any card was told
  int inside_ = 0;
};

}  // namespace

bool CardProperty::is_type(std::string_view type) const {
  const auto types = parameters.find("TYPE");
  if (types == parameters.end()) return false;
  return std::any_of(types->second.begin(), types->second.end(), [&](const std::string& one) {
    return upper(one) == upper(type);
  });
}

bool looks_like_cards(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && upper(text.substr(first, 11)) == "BEGIN:VCARD";
}

std::string unfolded(std::string_view bytes) {
  std::string out;
  out.reserve(bytes.size());
  std::string owed;  // line ends taken out, to come after the whole line: the numbers stay right
  for (std::size_t at = 0; at < bytes.size(); ++at) {
    const bool crlf = bytes.substr(at, 2) == "\r\n";
    const std::size_t length = crlf ? 2 : 1;
    if (!crlf && bytes[at] != '\n') {
      out += bytes[at];
      continue;
    }
    const char next = at + length < bytes.size() ? bytes[at + length] : '\0';
    if (next == ' ' || next == '\t') {
      owed += '\n';
      at += length;  // and the blank
    } else {
      out += '\n';
      out += owed;
      owed.clear();
      at += length - 1;
    }
  }
  return out + owed;
}

CardsRead read_cards(std::string_view text) {
  return CardReader().read(text);
}

std::vector<std::string> card_pieces(std::string_view value, char sign) {
  std::vector<std::string> out(1);
  for (std::size_t at = 0; at < value.size(); ++at) {
    if (value[at] == '\\' && at + 1 < value.size()) {
      out.back() += value.substr(at, 2);
      ++at;
    } else if (value[at] == sign) {
      out.emplace_back();
    } else {
      out.back() += value[at];
    }
  }
  for (std::string& piece : out) piece = card_text(piece);
  return out;
}

std::string card_text(std::string_view value) {
  std::string out;
  for (std::size_t at = 0; at < value.size(); ++at) {
    const char next = at + 1 < value.size() ? value[at + 1] : '\0';
    if (value[at] == '\\' && (next == 'n' || next == 'N')) {
      out += '\n';
      ++at;
    } else if (value[at] == '\\' && (next == ',' || next == ';' || next == '\\' || next == ':')) {
      out += next;
      ++at;
    } else {
      out += value[at];
    }
  }
  return out;
}

}  // namespace gp
