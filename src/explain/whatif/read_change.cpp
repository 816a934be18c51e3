#include "base/nearest.h"
#include "explain/whatif/change.h"
#include "explain/whatif/friends.h"
#include "model/limits.h"
#include "model/texts.h"
#include "time/clock.h"

#include <algorithm>
#include <charconv>
#include <functional>
#include <map>

// A change's words: first what is changed, then whom or which, then how. Every word that does not
// fit is answered with what would.

namespace gp::whatif {
namespace {

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (const char character : text) {
    const bool blank = character == ' ' || character == '\t' || character == '\n';
    if (!blank) word += character;
    if (blank && !word.empty()) words.push_back(std::move(word));
    if (blank) word.clear();
  }
  if (!word.empty()) words.push_back(std::move(word));
  return words;
}

std::string lower(std::string text) {
  for (char& character : text) {
    if (character >= 'A' && character <= 'Z') character = static_cast<char>(character - 'A' + 'a');
  }
  return text;
}

/// "a, b or c"; of many, the first few.
std::string listed(const std::vector<std::string>& names) {
  constexpr std::size_t kMost = 12;
  std::string text;
  for (std::size_t i = 0; i < names.size() && i < kMost; ++i) {
    if (i > 0) text += i + 1 == names.size() ? " or " : ", ";
    text += names[i];
  }
  return names.size() > kMost ? text + " …" : text;
}

std::optional<int> whole_number(std::string_view text) {
  int value = 0;
  const char* const end = text.data() + text.size();
  const auto [behind, error] = std::from_chars(text.data(), end, value);
  constexpr int kMost = limits::kThings;
  if (error != std::errc{} || behind != end || value < 0 || value > kMost) return std::nullopt;
  return value;
}

struct Refused {
  Mistake mistake;
};

[[noreturn]] void refuse(std::string found, std::string expected, std::string nearest = {}) {
  throw Refused{{std::move(found), std::move(expected), std::move(nearest)}};
}

/// The words of one change while they are read. Throws Refused.
class Reader {
 public:
  Reader(const Production& production, std::string_view text)
      : production_(production), text_(text), words_(words_of(text)) {}

  Change read();

 private:
  [[nodiscard]] bool more() const { return at_ < words_.size(); }
  /// The next word, or what is missing told.
  std::string next(const std::string& expected) {
    if (!more()) refuse(text_, expected + " after \"" + text_ + "\"");
    return words_[at_++];
  }
  /// All that is left, with one blank between words.
  std::string rest(const std::string& expected) {
    std::string all = next(expected);
    while (more()) all += " " + words_[at_++];
    return all;
  }
  void finish() {
    if (more()) refuse(words_[at_], "nothing more after \"" + so_far() + "\"");
  }
  [[nodiscard]] std::string so_far() const {
    std::string text;
    for (std::size_t i = 0; i < at_; ++i) text += (i > 0 ? " " : "") + words_[i];
    return text;
  }

  /// The entry of a table that the next word names by its id, or by its whole name where that is
  /// one word.
  template <class IdType, class Row>
  IdType entry(const Table<IdType, Row>& table,
               const std::string& noun,
               const std::function<bool(IdType)>& fits = {}) {
    const std::string expected = "the id of " + noun;
    std::vector<std::string> names;
    for (const IdType id : table.ids()) {
      if (!fits || fits(id)) names.push_back(table[id].id);
    }
    if (!more()) refuse(text_, expected + " after \"" + text_ + "\"" + choices(names));
    const std::string word = words_[at_++];
    std::string near = nearest(word, names);
    for (const IdType id : table.ids()) {
      if (fits && !fits(id)) continue;
      if (table[id].id == word) return id;
      if (near.empty() && lower(table[id].name) == lower(word)) near = table[id].id;
    }
    refuse(word, expected + choices(names), near);
  }
  static std::string choices(const std::vector<std::string>& names) {
    return names.empty() ? " (there is none)" : ": " + listed(names);
  }

  PersonId person() { return entry(production_.people, "a person"); }
  StationId station() { return entry(production_.stations, "a station"); }
  SceneId scene() { return entry(production_.scenes, "a scene"); }
  LookId look() { return entry(production_.looks, "a look"); }

  Amount amount() {
    const std::string expected = "how many, such as +1, -1 or =3";
    const std::string word = next(expected);
    const bool relative = word[0] == '+' || word[0] == '-';
    const auto value =
        whole_number(relative || word[0] == '=' ? std::string_view(word).substr(1) : word);
    if (!value || (relative && *value == 0)) refuse(word, expected);
    return {relative, word[0] == '-' ? -*value : *value};
  }

  Minutes length(const std::string& word, const std::string& expected) {
    const auto value = whole_number(word);
    if (!value || *value < 1 || *value > limits::kMinutes) refuse(word, expected);
    return Minutes{*value};
  }

  /// A word that is a date is taken out, wherever it stands after the first.
  std::optional<DayId> day() {
    for (std::size_t i = at_; i < words_.size(); ++i) {
      const auto date = parse_date(words_[i]);
      if (!date) continue;
      std::vector<std::string> dates;
      for (const DayId id : production_.days.ids()) {
        if (production_.days[id].date == *date) {
          words_.erase(words_.begin() + static_cast<std::ptrdiff_t>(i));
          return id;
        }
        dates.push_back(format(production_.days[id].date));
      }
      refuse(words_[i], "a day of the production: " + listed(dates), nearest(words_[i], dates));
    }
    return std::nullopt;
  }

  /// "earlier" or "later"; none where the next word is neither.
  std::optional<bool> is_later() {
    if (!more()) return std::nullopt;
    const std::string word = lower(words_[at_]);
    if (word != "earlier" && word != "later") return std::nullopt;
    ++at_;
    return word == "later";
  }

  Hours hours(bool date_alone) {
    const std::string expected =
        "a span such as 09:00-18:00, \"30 earlier\", \"30 later\" or \"always\"";
    Hours result;
    if (!more() && date_alone) {
      result.always = true;
      return result;
    }
    const std::optional<bool> first = is_later();
    const std::string word = next(expected);
    if (first || whole_number(word)) {
      const Minutes minutes = length(word, "minutes, 1 to 1440");
      const std::optional<bool> later = first ? first : is_later();
      if (!later)
        refuse(more() ? words_[at_] : text_, "\"earlier\" or \"later\" after the minutes");
      (*later ? result.later : result.earlier) = minutes;
      return result;
    }
    if (lower(word) == "always") {
      result.always = true;
      return result;
    }
    result.hours = parse_wall_span(word);
    if (!result.hours) result.hours = parse_wall_span(span_like(word));
    if (!result.hours) {
      refuse(word, expected, nearest(lower(word), {"always", "earlier", "later"}));
    }
    if (result.hours->until <= result.hours->from) {
      refuse(word, kSpanPastMidnight, next_day(*result.hours));
    }
    return result;
  }

  Change chairs() {
    const StationId at = station();
    return Chairs{at, amount()};
  }
  Change things() {
    const ItemId item = entry(production_.items, "an item");
    return Things{item, amount()};
  }
  Change new_friends(bool helper);
  Change coming(bool comes) { return Coming{person(), comes}; }
  Change learns() {
    const PersonId who = person();
    const std::string skill = rest("a skill");
    if (skill.size() > limits::kTagCharacters) refuse(skill, "a skill of at most 64 characters");
    return Learns{who, skill};
  }
  Change free_hours();
  Change open_hours();
  Change day_time(DayMoment moment, const std::string& name);
  Change chain_time(int sign);
  Change shoot_time(int sign) {
    const SceneId which = scene();
    const std::string expected = "minutes, such as 10";
    const Minutes minutes = length(next(expected), expected);
    if (sign > 0 && minutes >= production_.scenes[which].shoot_minutes) {
      refuse(words_[at_ - 1],
             "fewer minutes than the " +
                 std::to_string(production_.scenes[which].shoot_minutes.count()) +
                 " that the shot takes");
    }
    return ShootTime{which, sign * minutes};
  }
  Change heads();

  const Production& production_;
  std::string text_;
  std::vector<std::string> words_;
  std::size_t at_ = 0;
};

Change Reader::new_friends(bool helper) {
  int people = 1;
  if (words_.size() > at_ && (words_.back()[0] == '+' || words_.back()[0] == '=')) {
    const auto value = whole_number(std::string_view(words_.back()).substr(1));
    if (!value || *value < 1 || *value > limits::kHeads) {
      refuse(words_.back(), "how many friends, such as +2");
    }
    people = *value;
    words_.pop_back();
  }
  std::string what;
  if (more()) what = rest("");
  std::optional<Friends> found = friends_for(production_, what);
  if (found && helper && what.empty()) {
    refuse(text_, "what they help with: a station, a skill or a job, such as \"helper paint\"");
  }
  if (!found) {
    const std::vector<std::string> names = friend_purposes(production_);
    refuse(what,
           "what one more friend is for, a crowd, a station, a skill or a job: " + listed(names),
           nearest(what, names));
  }
  for (const RoleId role : found->roles) {
    const PersonId fixed = production_.roles[role].person;
    if (fixed.valid()) {
      refuse(what,
             "a role that the tool casts; this part is given to " + production_.people[fixed].id);
    }
  }
  found->people = people;
  return *found;
}

Change Reader::free_hours() {
  const PersonId who = person();
  const std::optional<DayId> date = day();
  FreeHours result{who, date, hours(date.has_value())};
  const bool shifted = result.hours.earlier + result.hours.later > Minutes{0};
  if (!shifted) return result;
  // there must be hours to widen
  const auto& free = production_.people[who].free;
  const auto has_hours = [&](const FreeTime& time) {
    if (!time.hours) return false;
    return std::any_of(production_.days.begin(), production_.days.end(), [&](const Day& one) {
      return one.date == time.date && (!date || production_.days[*date].date == one.date);
    });
  };
  if (!free || std::none_of(free->begin(), free->end(), has_hours)) {
    refuse(so_far(),
           production_.people[who].id + " has no hours to widen " +
               (date ? "on that day" : "on any day") +
               "; say a span such as 09:00-18:00 or \"always\"");
  }
  return result;
}

Change Reader::open_hours() {
  const StationId which = station();
  OpenHours result{which, hours(false)};
  if (result.hours.earlier + result.hours.later > Minutes{0} && !production_.stations[which].open) {
    refuse(so_far(), "a station that is not always open as it is");
  }
  return result;
}

std::optional<WallTime> time_of(const Day& day, DayMoment moment) {
  switch (moment) {
    case DayMoment::first_shot:
      return day.first_shot;
    case DayMoment::wrap_by:
      return day.wrap_by;
    case DayMoment::nobody_before:
      return day.nobody_before;
  }
  return std::nullopt;
}

Change Reader::day_time(DayMoment moment, const std::string& name) {
  const std::string expected = "a time such as 10:00, +30 or -30 (minutes), or \"none\"";
  DayTime result{moment, day(), std::nullopt, Minutes{0}};
  const std::optional<bool> first = is_later();
  const std::string word = next(expected);
  const bool is_signed = word[0] == '+' || word[0] == '-';
  const std::optional<int> number = whole_number(std::string_view(word).substr(is_signed ? 1 : 0));
  const std::optional<bool> side = first ? first : is_later();
  if (side && is_signed) refuse(so_far(), "either \"" + word + "\" or the word, not both");
  if (side || is_signed) {
    const Minutes minutes = length(is_signed ? word.substr(1) : word, expected);
    result.later = (side ? !*side : word[0] == '-') ? -minutes : minutes;
    const auto has_it = [&](DayId id) {
      return (!result.day || *result.day == id) &&
             time_of(production_.days[id], moment).has_value();
    };
    bool some = false;
    for (const DayId id : production_.days.ids()) some = some || has_it(id);
    if (!some) refuse(so_far(), "a time of the clock, for no " + name + " is given to move");
    return result;
  }
  if (lower(word) == "none") {
    if (moment == DayMoment::nobody_before) result.at = WallTime{0};
    return result;
  }
  result.at = parse_wall_time(word);
  if (!result.at) result.at = parse_wall_time(time_like(word));
  if (!result.at || number) refuse(word, expected, nearest(lower(word), {"none"}));
  return result;
}

Change Reader::chain_time(int sign) {
  const LookId which = look();
  const std::string expected = "minutes or per cent, such as 5 or 20%";
  ChainTime result{which, ChainPart::on, false, 0};
  std::string word = next(expected);
  if (lower(word) == "off" || lower(word) == "on") {
    if (lower(word) == "off") result.part = ChainPart::off;
    word = next(expected);
  }
  result.per_cent = word.ends_with('%');
  const std::string digits = result.per_cent ? word.substr(0, word.size() - 1) : word;
  const auto value = whole_number(digits);
  const int most = result.per_cent && sign > 0 ? 99 : limits::kMinutes;
  if (!value || *value < 1 || *value > most) refuse(word, expected);
  result.less = sign * *value;
  const Look& chosen = production_.looks[which];
  const Minutes total = work_minutes(result.part == ChainPart::on ? chosen.steps : chosen.off);
  const std::string part = result.part == ChainPart::on ? "putting on " : "taking off ";
  if (total == Minutes{0})
    refuse(so_far(), "a look that takes time; " + part + chosen.id + " takes none");
  if (!result.per_cent && result.less >= total.count()) {
    refuse(word,
           "fewer minutes than the " + std::to_string(total.count()) + " that " + part + chosen.id +
               " takes");
  }
  return result;
}

Change Reader::heads() {
  const SceneId where = scene();
  const auto& cast = production_.scenes[where].cast;
  const RoleId role =
      entry<RoleId, Role>(production_.roles, "a crowd of that scene", [&](RoleId id) {
        return production_.roles[id].crowd &&
               std::any_of(
                   cast.begin(), cast.end(), [id](const CastCall& c) { return c.role == id; });
      });
  return Heads{where, role, amount()};
}

Change Reader::read() {
  std::string expected = "a change that begins with one of:";
  for (const std::string& word : change_words()) {
    expected += (expected.ends_with(':') ? " " : ", ") + word;
  }
  if (words_.empty()) refuse(text_, expected);
  const std::string first = lower(words_[at_++]);
  const std::map<std::string, std::function<Change()>> verbs = {
      {"chairs", [this] { return chairs(); }},
      {"places", [this] { return chairs(); }},
      {"items", [this] { return things(); }},
      {"friend", [this] { return new_friends(false); }},
      {"helper", [this] { return new_friends(true); }},
      {"without", [this] { return coming(false); }},
      {"with", [this] { return coming(true); }},
      {"can", [this] { return learns(); }},
      {"free", [this] { return free_hours(); }},
      {"open", [this] { return open_hours(); }},
      {"first-shot", [this] { return day_time(DayMoment::first_shot, "first shot"); }},
      {"wrap", [this] { return day_time(DayMoment::wrap_by, "wrap"); }},
      {"nobody-before", [this] { return day_time(DayMoment::nobody_before, "earliest call"); }},
      {"quicker", [this] { return chain_time(1); }},
      {"slower", [this] { return chain_time(-1); }},
      {"shorter", [this] { return shoot_time(1); }},
      {"longer", [this] { return shoot_time(-1); }},
      {"drop", [this]() -> Change { return Drop{scene()}; }},
      {"any-time", [this]() -> Change { return AnyTime{scene()}; }},
      {"heads", [this] { return heads(); }}};
  const auto found = verbs.find(first);
  if (found == verbs.end()) {
    // words that people say for the same
    static const std::map<std::string, std::string> kMeant = {
        {"chair", "chairs"},     {"place", "places"},     {"seat", "chairs"},
        {"seats", "chairs"},     {"item", "items"},       {"friends", "friend"},
        {"volunteer", "friend"}, {"helpers", "helper"},   {"painter", "helper"},
        {"minus", "without"},    {"remove", "drop"},      {"skip", "drop"},
        {"cut", "drop"},         {"start", "first-shot"}, {"begin", "first-shot"},
        {"end", "wrap"},         {"finish", "wrap"},      {"call", "nobody-before"},
        {"faster", "quicker"},   {"anytime", "any-time"}, {"crowd", "heads"},
        {"window", "free"},      {"station", "open"},     {"earlier", "first-shot"},
        {"later", "first-shot"}, {"no", "without"},       {"skill", "can"}};
    const auto meant = kMeant.find(first);
    refuse(words_[0],
           expected,
           meant != kMeant.end() ? meant->second : nearest(first, change_words()));
  }
  Change change = found->second();
  finish();
  return change;
}

}  // namespace

std::string Mistake::text() const {
  std::string line = "found \"" + found + "\", expected " + expected;
  if (!nearest.empty()) line += "; nearest: \"" + nearest + "\"";
  return line;
}

std::variant<Change, Mistake> read_change(const Production& production, std::string_view text) {
  try {
    return Reader(production, text).read();
  } catch (const Refused& refused) {
    return refused.mistake;
  }
}

const std::vector<std::string>& change_words() {
  static const std::vector<std::string> all = {
      "chairs", "places",  "items",  "friend",     "helper",   "without",       "with",
      "can",    "free",    "open",   "first-shot", "wrap",     "nobody-before", "quicker",
      "slower", "shorter", "longer", "drop",       "any-time", "heads"};
  return all;
}

}  // namespace gp::whatif
