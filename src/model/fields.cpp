#include "model/fields.h"

#include "base/utf8.h"
#include "model/limits.h"
#include "model/texts.h"
#include "time/clock.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace gp {
namespace {

std::string joined(const std::vector<std::string>& names) {
  std::string result;
  for (const std::string& name : names) {
    if (!result.empty()) result += ", ";
    result += name;
  }
  return result;
}

std::string range_words(std::string_view what, int least, int most) {
  return std::string(what) + " from " + std::to_string(least) + " to " + std::to_string(most);
}

/// What was found where a number should stand; says so where a number stands in quotation marks.
std::string not_a_number(const Json& json) {
  if (!json.is(JsonKind::text)) return found_as(json);
  const std::string& text = json.text();
  const bool number = !text.empty() && text.size() < 16 &&
                      text.find_first_not_of("0123456789.") == std::string::npos;
  return number ? "the text " + quoted(text) + " (in quotation marks)" : quoted(text);
}

}  // namespace

Fields::Fields(FaultList& faults, const Json& json, std::string path, std::string_view what)
    : faults_(faults),
      json_(&json),
      path_(std::move(path)),
      what_(what),
      faults_before_(faults.count()) {
  if (json.is(JsonKind::object)) return;
  json_ = nullptr;
  tell(json, path_, found_as(json), what_ + ": an object in braces { }");
}

const Json* Fields::take(std::string_view key) {
  if (std::find(keys_.begin(), keys_.end(), key) == keys_.end()) keys_.emplace_back(key);
  const Json* const value = json_ == nullptr ? nullptr : json_->find(key);
  if (value != nullptr && value->is(JsonKind::broken)) {
    faults_.suspect();
    return nullptr;
  }
  return value;
}

bool Fields::has(std::string_view key) {
  return json_ != nullptr && json_->find(key) != nullptr;
}

void Fields::tell(const Json& json,
                  std::string path,
                  std::string found,
                  std::string expected,
                  std::string nearest) {
  if (json.is(JsonKind::broken)) {
    faults_.suspect();
    return;
  }
  faults_.add(
      json.at(), std::move(path), std::move(found), std::move(expected), std::move(nearest));
}

bool Fields::required(std::string_view key, const std::string& expected) {
  if (std::find(keys_.begin(), keys_.end(), key) == keys_.end()) keys_.emplace_back(key);
  if (json_ == nullptr || has(key)) return true;
  faults_.add(json_->at(), path_, "no key \"" + std::string(key) + "\"", expected);
  return false;
}

void Fields::text(std::string_view key, std::string& out, TextKind kind) {
  if (const Json* json = take(key); json != nullptr) text_of(*json, key_path(key), out, kind);
}

void Fields::required_text(std::string_view key, std::string& out, TextKind kind) {
  if (!required(key, "a text")) return;
  const Json* const json = take(key);
  if (json == nullptr) return;
  if (text_of(*json, key_path(key), out, kind) && out.empty()) {
    tell(*json, key_path(key), "an empty text", "a text");
  }
}

bool Fields::text_of(const Json& json, const std::string& path, std::string& out, TextKind kind) {
  if (!json.is(JsonKind::text)) {
    tell(json, path, found_as(json), "a text in quotation marks");
    return false;
  }
  const std::string& text = json.text();
  const std::size_t most = kind == TextKind::tag    ? limits::kTagCharacters
                           : kind == TextKind::name ? limits::kNameCharacters
                                                    : limits::kNoteCharacters;
  // counting is needed only where the bytes could hold too many
  if (const std::size_t count = text.size() <= most ? 0 : count_characters(text); count > most) {
    tell(json,
         path,
         "a text of " + std::to_string(count) + " characters",
         "at most " + std::to_string(most));
    return false;
  }
  if (has_control_characters(text, kind == TextKind::note)) {
    tell(json,
         path,
         quoted(text),
         kind == TextKind::note ? "a text without control characters"
                                : "a text on one line, without control characters");
    return false;
  }
  if (kind == TextKind::tag && (text.empty() || text.front() == ' ' || text.back() == ' ')) {
    tell(json, path, quoted(text), "a word or two, with no blank before or after");
    return false;
  }
  out = text;
  return true;
}

void Fields::id(std::string& out) {
  if (!required("id", "an id")) return;
  const Json* const json = take("id");
  if (json == nullptr) return;
  if (!json->is(JsonKind::text)) {
    tell(*json, key_path("id"), found_as(*json), "an id: a text in quotation marks");
  } else if (!is_id(json->text())) {
    tell(*json,
         key_path("id"),
         quoted(json->text()),
         "an id: 1 to 64 letters, digits, \"-\" and \"_\", with no blank",
         id_like(json->text()));
  } else {
    out = json->text();
  }
}

void Fields::language(std::string_view key, std::string& out) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  const std::string expected = "a language tag (BCP 47) such as \"en\", \"en-GB\" or \"ar\"";
  if (!json->is(JsonKind::text)) {
    tell(*json, key_path(key), found_as(*json), expected);
  } else if (!is_language_tag(json->text())) {
    std::string nearest = json->text();
    std::replace(nearest.begin(), nearest.end(), '_', '-');
    if (!is_language_tag(nearest)) nearest.clear();
    tell(*json, key_path(key), quoted(json->text()), expected, nearest);
  } else {
    out = json->text();
  }
}

void Fields::truth(std::string_view key, bool& out) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  if (json->is(JsonKind::boolean)) {
    out = json->boolean();
  } else {
    tell(*json, key_path(key), found_as(*json), "true or false, without quotation marks");
  }
}

bool Fields::whole_of(const Json& json, const std::string& path, int& out, int least, int most) {
  const bool fits = json.is(JsonKind::number) && json.number() >= least && json.number() <= most &&
                    std::trunc(json.number()) == json.number();
  if (fits) {
    out = static_cast<int>(json.number());
  } else {
    tell(json, path, not_a_number(json), range_words("a whole number", least, most));
  }
  return fits;
}

void Fields::whole(std::string_view key, int& out, int least, int most) {
  if (const Json* json = take(key); json != nullptr) {
    whole_of(*json, key_path(key), out, least, most);
  }
}

void Fields::whole(std::string_view key, std::optional<int>& out, int least, int most) {
  const Json* const json = take(key);
  int value = 0;
  if (json != nullptr && whole_of(*json, key_path(key), value, least, most)) out = value;
}

void Fields::length(std::string_view key, Minutes& out, int least) {
  std::optional<Minutes> value;
  length(key, value, least);
  if (value) out = *value;
}

void Fields::length(std::string_view key, std::optional<Minutes>& out, int least) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  const bool fits = json->is(JsonKind::number) && json->number() >= least &&
                    json->number() <= limits::kMinutes &&
                    std::trunc(json->number()) == json->number();
  if (fits) {
    out = Minutes{static_cast<int>(json->number())};
  } else {
    tell(*json,
         key_path(key),
         not_a_number(*json),
         range_words("whole minutes", least, limits::kMinutes));
  }
}

void Fields::required_length(std::string_view key, Minutes& out, int least) {
  if (required(key, range_words("whole minutes", least, limits::kMinutes))) length(key, out, least);
}

void Fields::thousandths(std::string_view key, Thousandths& out, int most) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  bool fits = json->is(JsonKind::number) && json->number() >= 0 && json->number() <= most;
  if (fits) {
    // A decimal of three places is read as the double nearest to it, and so is this quotient
    // (IEEE 754 division is rounded correctly): they are equal exactly where it has no more places.
    const double rounded = std::round(json->number() * 1000);
    fits = rounded / 1000 == json->number();
    if (fits) out = static_cast<Thousandths>(rounded);
  }
  if (!fits) {
    tell(*json,
         key_path(key),
         not_a_number(*json),
         range_words("a number", 0, most) + " with at most 3 decimals");
  }
}

void Fields::real(std::string_view key, std::optional<double>& out, double least, double most) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  if (json->is(JsonKind::number) && json->number() >= least && json->number() <= most) {
    out = json->number();
  } else {
    tell(*json,
         key_path(key),
         not_a_number(*json),
         range_words("a number", static_cast<int>(least), static_cast<int>(most)));
  }
}

void Fields::time(std::string_view key, WallTime& out) {
  std::optional<WallTime> value;
  time(key, value);
  if (value) out = *value;
}

void Fields::time(std::string_view key, std::optional<WallTime>& out) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  const auto value = json->is(JsonKind::text) ? parse_wall_time(json->text()) : std::nullopt;
  if (value) {
    out = value;
  } else {
    tell(*json,
         key_path(key),
         found_as(*json),
         "a time such as \"09:30\" (\"HH:MM\", 00:00 to 99:59)",
         json->is(JsonKind::text) ? time_like(json->text()) : std::string());
  }
}

void Fields::span(std::string_view key, std::optional<WallSpan>& out) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  const auto value = json->is(JsonKind::text) ? parse_wall_span(json->text()) : std::nullopt;
  if (!value) {
    tell(*json,
         key_path(key),
         found_as(*json),
         "a span of time such as \"09:30-13:00\"",
         json->is(JsonKind::text) ? span_like(json->text()) : std::string());
  } else if (value->until <= value->from) {
    tell(*json,
         key_path(key),
         quoted(json->text()) + ", which does not end after it begins",
         kSpanPastMidnight,
         next_day(*value));
  } else {
    out = value;
  }
}

void Fields::date(std::string_view key, std::optional<Date>& out, int first_year) {
  const Json* const json = take(key);
  if (json == nullptr) return;
  const auto value = json->is(JsonKind::text) ? parse_date(json->text()) : std::nullopt;
  if (value && static_cast<int>(value->year()) >= first_year &&
      static_cast<int>(value->year()) <= limits::kLastYear) {
    out = value;
  } else {
    tell(*json,
         key_path(key),
         found_as(*json),
         "a date such as \"2027-04-17\", " + std::to_string(first_year) + " to " +
             std::to_string(limits::kLastYear),
         json->is(JsonKind::text) ? date_like(json->text()) : std::string());
  }
}

void Fields::tags(std::string_view key, Tags& out) {
  std::set<std::string> seen;
  each(key, [&](const Json& json, const std::string& path) {
    std::string tag;
    if (!text_of(json, path, tag, TextKind::tag)) return;
    if (!seen.insert(tag).second) {
      tell(json, path, quoted(tag) + " a second time", "each only once");
    }
    out.push_back(std::move(tag));
  });
}

std::optional<std::size_t> Fields::ref_of(const Json& json,
                                          const std::string& path,
                                          const KnownIds& known) {
  if (!json.is(JsonKind::text)) {
    tell(json, path, found_as(json), "the id of " + known.noun());
    return std::nullopt;
  }
  const auto found = known.find(json.text());
  if (!found && known.unreadable()) {
    faults_.suspect();
  } else if (!found) {
    const bool none = known.names().empty();
    tell(json,
         path,
         quoted(json.text()),
         "the id of " + known.noun() + (none ? " (the file has no \"" : " in \"") + known.list() +
             (none ? "\")" : "\""),
         faults_.nearest_of(json.text(), known.names()));
  }
  return found;
}

std::optional<std::size_t> Fields::choice_of(std::string_view key,
                                             const std::vector<std::string>& names) {
  const Json* const json = take(key);
  if (json == nullptr) return std::nullopt;
  if (json->is(JsonKind::text)) {
    const auto found = std::find(names.begin(), names.end(), json->text());
    if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  }
  tell(*json,
       key_path(key),
       found_as(*json),
       "one of " + joined(names),
       json->is(JsonKind::text) ? faults_.nearest_of(json->text(), names) : std::string());
  return std::nullopt;
}

std::size_t Fields::most_entries(std::string_view key) const {
  return path_.empty() && key == "days" ? limits::kDays : limits::kEntries;
}

const Json* Fields::list_of(std::string_view key) {
  const Json* const json = take(key);
  if (json == nullptr) return nullptr;
  if (!json->is(JsonKind::list)) {
    tell(*json, key_path(key), found_as(*json), "a list in brackets [ ]");
    return nullptr;
  }
  if (json->items().size() > most_entries(key)) {
    tell(*json,
         key_path(key),
         "a list of " + std::to_string(json->items().size()) + " entries",
         "at most " + std::to_string(most_entries(key)));
  }
  return json;
}

void Fields::not_empty(std::string_view key, const std::string& expected) {
  const Json* const json = take(key);
  if (json != nullptr && json->is(JsonKind::list) && json->items().empty()) {
    tell(*json, key_path(key), "an empty list", expected);
  }
}

const Json* Fields::object_of(std::string_view key) {
  const Json* const json = take(key);
  if (json == nullptr) return nullptr;
  if (!json->is(JsonKind::object)) {
    tell(*json, key_path(key), found_as(*json), "an object in braces { }");
  } else if (json->members().size() > limits::kEntries) {
    tell(*json,
         key_path(key),
         "an object of " + std::to_string(json->members().size()) + " entries",
         "at most " + std::to_string(limits::kEntries));
  } else {
    return json;
  }
  return nullptr;
}

bool Fields::finish() {
  if (json_ != nullptr) {
    for (const JsonMember& member : json_->members()) {
      if (std::find(keys_.begin(), keys_.end(), member.key) != keys_.end()) continue;
      const std::string nearest = faults_.nearest_of(member.key, keys_);
      faults_.add(
          member.at,
          path_to_key(path_, member.key),
          "the unknown key " + quoted(member.key),
          nearest.empty() ? "a key of " + what_ + " (" + joined(keys_) + ")" : "a key of " + what_,
          nearest);
    }
  }
  return faults_.count() == faults_before_;
}

}  // namespace gp
