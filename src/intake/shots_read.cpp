#include "intake/shots.h"
#include "intake/values.h"
#include "model/limits.h"
#include "text/fold.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <set>

namespace gp {
namespace {

constexpr std::array<const char*, 10> kShotFields = {
    "none", "id", "name", "place", "people", "minutes", "set", "light", "day", "notes"};

struct ShotWord {
  const char* word;
  const char* field;
};

constexpr std::array<ShotWord, 47> kShotWords = {{
    {"id", "id"},
    {"no", "id"},
    {"nr", "id"},
    {"number", "id"},
    {"shot number", "id"},
    {"shot no", "id"},
    {"scene number", "id"},
    {"scene no", "id"},
    {"name", "name"},
    {"shot", "name"},
    {"scene", "name"},
    {"title", "name"},
    {"description", "name"},
    {"what", "name"},
    {"what happens", "name"},
    {"action", "name"},
    {"shot name", "name"},
    {"szene", "name"},
    {"place", "place"},
    {"places", "place"},
    {"location", "place"},
    {"where", "place"},
    {"ort", "place"},
    {"lieu", "place"},
    {"people", "people"},
    {"who", "people"},
    {"cast", "people"},
    {"roles", "people"},
    {"parts", "people"},
    {"characters", "people"},
    {"actors", "people"},
    {"wer", "people"},
    {"on camera", "people"},
    {"minutes", "minutes"},
    {"min", "minutes"},
    {"mins", "minutes"},
    {"duration", "minutes"},
    {"length", "minutes"},
    {"time needed", "minutes"},
    {"shoot minutes", "minutes"},
    {"minuten", "minutes"},
    {"set", "set"},
    {"light", "light"},
    {"day", "day"},
    {"date", "day"},
    {"notes", "notes"},
    {"remarks", "notes"},
}};

std::string field_of(const std::string& folded) {
  for (const ShotWord& one : kShotWords) {
    if (folded == one.word) return one.field;
  }
  return "notes";
}

class ShotTable {
 public:
  explicit ShotTable(const CsvRead& table) : table_(table) {}

  ShotsRead read(const std::vector<std::pair<std::string, std::string>>& wishes) {
    out_.bad = table_.bad;
    if (table_.rows.empty()) return std::move(out_);
    for (const std::string& cell : table_.rows.front().cells) {
      const std::string header = trimmed(unguarded(cell));
      out_.columns.push_back({header, field_of(folding_.words(header)), false});
    }
    for (const auto& [field, column] : wishes) wish(field, column);
    prefer_names();
    if (!has("name")) {
      out_.faults.emplace_back(
          "no column with what the shots are called was found; say which it is: --columns name=1");
    }
    for (std::size_t row = 1; row < table_.rows.size(); ++row) read_row(table_.rows[row]);
    std::stable_sort(out_.bad.begin(), out_.bad.end(), [](const BadLine& a, const BadLine& b) {
      return a.line < b.line;
    });
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool has(const std::string& field) const {
    return std::any_of(out_.columns.begin(), out_.columns.end(), [&](const ShotColumn& one) {
      return one.field == field;
    });
  }

  /// "Shot" beside "Description" is the number. Any field but the notes is one column's alone.
  void prefer_names() {
    const auto names = std::count_if(out_.columns.begin(),
                                     out_.columns.end(),
                                     [](const ShotColumn& one) { return one.field == "name"; });
    for (ShotColumn& column : out_.columns) {
      const std::string folded = folding_.words(column.header);
      if (names > 1 && !column.wished && !has("id") && (folded == "shot" || folded == "scene")) {
        column.field = "id";
      }
    }
    std::set<std::string> wished;
    for (const ShotColumn& column : out_.columns) {
      if (column.wished) wished.insert(column.field);
    }
    std::set<std::string> seen;
    for (ShotColumn& column : out_.columns) {
      if (column.field == "notes" || column.field == "none" || column.wished) continue;
      const bool again = !seen.insert(column.field).second || wished.contains(column.field);
      if (again) column.field = "notes";
    }
  }

  void wish(const std::string& field, const std::string& where) {
    if (std::find(kShotFields.begin(), kShotFields.end(), field) == kShotFields.end()) {
      out_.faults.push_back("there is no field \"" + field +
                            "\"; the fields of a shot are none, id, name, place, people, minutes, "
                            "set, light, day, notes");
      return;
    }
    for (ShotColumn& column : out_.columns) {
      if (folding_.words(column.header) != folding_.words(where) || column.header.empty()) continue;
      column.field = field;
      column.wished = true;
      return;
    }
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(where.data(), where.data() + where.size(), number);
    if (error == std::errc() && end == where.data() + where.size() && number >= 1 &&
        number <= out_.columns.size()) {
      out_.columns[number - 1].field = field;
      out_.columns[number - 1].wished = true;
      return;
    }
    out_.faults.push_back("there is no column \"" + where + "\" for " + field);
  }

  void read_row(const CsvRow& row) {
    std::size_t used = row.cells.size();
    while (used > out_.columns.size() && row.cells[used - 1].empty()) --used;
    std::string whole;
    for (const std::string& cell : row.cells) {
      if (!cell.empty() && whole.size() < 200) whole += (whole.empty() ? "" : ", ") + cell;
    }
    if (whole.empty()) return;
    if (used != out_.columns.size()) {
      out_.bad.push_back({row.line,
                          std::to_string(used) + " cells where " +
                              std::to_string(out_.columns.size()) + " are expected",
                          on_one_line(whole)});
      return;
    }
    Shot shot;
    shot.line = row.line;
    for (std::size_t i = 0; i < out_.columns.size(); ++i) {
      put(out_.columns[i], trimmed(unguarded(row.cells[i])), shot);
    }
    if (shot.name.empty() && shot.id.empty()) {
      out_.bad.push_back({row.line, "a shot without a name", on_one_line(whole)});
      return;
    }
    if (shot.name.empty()) shot.name = shot.id;
    out_.shots.push_back(std::move(shot));
  }

  static void put(const ShotColumn& column, const std::string& text, Shot& shot) {
    if (text.empty()) return;
    const std::string line = trimmed(on_one_line(text));
    const std::string note = (column.header.empty() ? "" : column.header + ": ") + text;
    if (column.field == "id") {
      shot.id = line;
    } else if (column.field == "name") {
      shot.name = line;
    } else if (column.field == "place") {
      shot.place = line;
    } else if (column.field == "people") {
      shot.cast = cast_of(text);
    } else if (column.field == "minutes") {
      shot.minutes = minutes_of(text);
      if (!shot.minutes) shot.notes.push_back(note);
    } else if (column.field == "set") {
      shot.set = line;
    } else if (column.field == "light") {
      shot.light = line;
    } else if (column.field == "day") {
      shot.day = line;
    } else if (column.field == "notes" || column.field == "none") {
      shot.notes.push_back(without_controls(column.header == "notes" ? text : note));
    }
  }

  const CsvRead& table_;
  Folding folding_;
  ShotsRead out_;
};

bool is_blank(char c) {
  return c == ' ' || c == '\t';
}

/// "12a. ", "3) ", "- ", "* " in front; the number stays.
std::string take_number(std::string& line) {
  if (line.starts_with("- ") || line.starts_with("* ") || line.starts_with("\xE2\x80\xA2 ")) {
    line = trimmed(std::string_view(line).substr(line.find(' ')));
    return {};
  }
  std::size_t end = 0;
  while (end < line.size() && end < 8 && std::isalnum(static_cast<unsigned char>(line[end])) != 0) {
    ++end;
  }
  const bool digit = end > 0 && std::isdigit(static_cast<unsigned char>(line[0])) != 0;
  if (!digit || end >= line.size()) return {};
  const bool sign = line[end] == '.' || line[end] == ')' || line[end] == ':';
  if (!sign || end + 1 >= line.size() || !is_blank(line[end + 1])) return {};
  const std::string number = line.substr(0, end);
  line = trimmed(std::string_view(line).substr(end + 1));
  return number;
}

/// A length at the end of the line: "…, 30 min", "… (45')", "… 1 h 30". A bare number is none.
std::optional<Minutes> take_minutes(std::string& line) {
  std::string text = line;
  const bool brackets = text.ends_with(')');
  if (brackets) text.pop_back();
  // the longest end that reads as a length, from a digit that begins a word
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool begins = std::isdigit(static_cast<unsigned char>(text[at])) != 0 &&
                        (at == 0 || is_blank(text[at - 1]) || text[at - 1] == '(' ||
                         text[at - 1] == ',' || text[at - 1] == ';');
    if (!begins || text.size() - at > 24) continue;
    const std::string end = text.substr(at);
    if (end.find_first_not_of("0123456789") == std::string::npos) continue;
    const auto minutes = minutes_of(end);
    if (!minutes || end.find(':') != std::string::npos) continue;
    std::string before = text.substr(0, at);
    if (brackets) {
      const std::size_t open = before.find_last_not_of(" \t");
      if (open == std::string::npos || before[open] != '(') continue;
      before.resize(open);
    }
    while (!before.empty() && (is_blank(before.back()) || before.back() == ',' ||
                               before.back() == ';' || before.back() == '-')) {
      before.pop_back();
    }
    line = before;
    return minutes;
  }
  return std::nullopt;
}

void strip_end(std::string& text) {
  while (!text.empty() && (is_blank(text.back()) || text.back() == ',' || text.back() == ';')) {
    text.pop_back();
  }
}

}  // namespace

ShotsRead shots_of_table(const CsvRead& table,
                         const std::vector<std::pair<std::string, std::string>>& wishes) {
  return ShotTable(table).read(wishes);
}

ShotsRead shots_of_text(std::string_view text) {
  ShotsRead out;
  std::size_t number = 1;
  for (std::size_t at = 0; at < text.size(); ++number) {
    const std::size_t end = std::min(text.find_first_of("\r\n", at), text.size());
    std::string line = trimmed(on_one_line(text.substr(at, end - at)));
    at = end;
    if (at < text.size() && text[at] == '\r') ++at;
    if (at < text.size() && text[at] == '\n' && (at == end || text[at - 1] == '\r')) ++at;
    if (line.empty() || line.starts_with('#')) continue;
    const std::string whole = line;
    Shot shot;
    shot.line = number;
    shot.id = take_number(line);
    shot.minutes = take_minutes(line);
    const std::size_t place = line.find('@');
    const bool has_place = place != std::string::npos && place > 0 && is_blank(line[place - 1]);
    // "Tea with milk" is a name: behind a comma or the place alone it says who is on camera
    std::size_t with = line.find(", with ");
    if (with != std::string::npos) {
      ++with;
    } else if (has_place) {
      with = line.find(" with ", place);
    }
    const bool has_with = with != std::string::npos;
    const std::size_t with_end = has_place && place > with ? place : line.size();
    const std::size_t place_end = has_with && with > place ? with : line.size();
    if (has_with) {
      std::string people = line.substr(with + 6, with_end - with - 6);
      strip_end(people);
      shot.cast = cast_of(people);
    }
    if (has_place) {
      shot.place = trimmed(line.substr(place + 1, place_end - place - 1));
      strip_end(shot.place);
    }
    shot.name =
        line.substr(0, std::min(has_with ? with : line.size(), has_place ? place : line.size()));
    strip_end(shot.name);
    if (shot.name.empty()) {
      out.bad.push_back({number, "a shot without a name", whole});
      continue;
    }
    out.shots.push_back(std::move(shot));
  }
  return out;
}

std::vector<ShotCast> cast_of(std::string_view text) {
  // "and" and "&" part names as commas do
  std::string plain(text);
  for (const std::string_view word : {" and ", " & ", " + ", "/"}) {
    for (std::size_t at = plain.find(word); at != std::string::npos; at = plain.find(word, at)) {
      plain.replace(at, word.size(), ",");
    }
  }
  std::vector<ShotCast> out;
  for (const std::string& word : list_words(plain)) {
    ShotCast one;
    std::string name = word;
    // "8 guards", "8x guards"
    std::size_t digits = 0;
    while (digits < name.size() && std::isdigit(static_cast<unsigned char>(name[digits])) != 0) {
      ++digits;
    }
    const auto counted = [&](std::string_view number) {
      int value = 0;
      const auto [end, error] =
          std::from_chars(number.data(), number.data() + number.size(), value);
      if (error != std::errc() || end != number.data() + number.size() || value < 1 ||
          value > limits::kHeads) {
        return false;
      }
      one.people = value;
      one.counted = true;
      return true;
    };
    std::size_t after = digits;
    if (after < name.size() && (name[after] == 'x' || name[after] == 'X')) ++after;
    const bool alone = after >= name.size();
    if (digits > 0 && (alone || is_blank(name[after])) && counted(name.substr(0, digits))) {
      name = trimmed(std::string_view(name).substr(after));
    } else {
      // "guards x8", "guards (8)"
      std::string end = name;
      if (end.ends_with(')')) end.pop_back();
      std::size_t begin = end.size();
      while (begin > 0 && std::isdigit(static_cast<unsigned char>(end[begin - 1])) != 0) --begin;
      const bool sign =
          begin >= 2 && begin < end.size() &&
          (end[begin - 1] == '(' ||
           ((end[begin - 1] == 'x' || end[begin - 1] == 'X') && is_blank(end[begin - 2])));
      if (sign && counted(end.substr(begin))) name = trimmed(end.substr(0, begin - 1));
    }
    one.name = name;
    out.push_back(std::move(one));
  }
  return out;
}

}  // namespace gp
