#include "base/json.h"
#include "base/utf8.h"
#include "model/fields.h"
#include "model/limits.h"
#include "store/documents.h"
#include "store/sign_up.h"
#include "time/clock.h"

#include <cmath>
#include <utility>

namespace gp {
namespace {

/// Fields with the limits of the pages, which are narrower than those of the production file.
class PageFields : public Fields {
 public:
  using Fields::Fields;

  void line(std::string_view key, std::string& out, std::size_t most = kMostLineLength) {
    text(key, out, TextKind::name);
    limit(key, out, most);
  }
  void note(std::string_view key, std::string& out) {
    text(key, out, TextKind::note);
    limit(key, out, kMostTextLength);
  }
  /// A moment; whole seconds from 1970 to about the year 5138.
  void moment(std::string_view key, UnixTime& out) {
    constexpr double kLatest = 1e11;
    const Json* const json = take(key);
    if (json == nullptr) return;
    if (json->is(JsonKind::number) && json->number() >= 0 && json->number() <= kLatest &&
        std::trunc(json->number()) == json->number()) {
      out = static_cast<UnixTime>(json->number());
    } else {
      tell(*json, key_path(key), found_as(*json), "whole seconds since 1970");
    }
  }

 private:
  void limit(std::string_view key, std::string& out, std::size_t most) {
    if (out.size() <= most) return;
    const std::size_t count = count_characters(out);
    if (count <= most) return;
    tell(*take(key),
         key_path(key),
         "a text of " + std::to_string(count) + " characters",
         "at most " + std::to_string(most));
    out.clear();
  }
};

void read_free(PageFields& fields, std::optional<std::vector<FreeTime>>& out) {
  if (!fields.has("free")) return;
  out.emplace();
  fields.each("free", [&](const Json& json, const std::string& path) {
    const std::string text = json.is(JsonKind::text) ? json.text() : std::string();
    const std::size_t blank = text.find(' ');
    const auto date = parse_date(text.substr(0, blank));
    std::optional<WallSpan> hours;
    if (blank != std::string::npos) hours = parse_wall_span(text.substr(blank + 1));
    if (!date || (blank != std::string::npos && (!hours || hours->until <= hours->from))) {
      fields.tell(json,
                  path,
                  found_as(json),
                  "a date, or a date and a span: \"2027-04-17\" or \"2027-04-17 09:00-13:00\"");
    } else {
      out->push_back({*date, hours});
    }
  });
}

void read_sizes(PageFields& fields, std::map<std::string, double>& out) {
  fields.each_member("sizes", [&](const JsonMember& member, const std::string& path) {
    const Json& json = member.value;
    if (is_id(member.key) && json.is(JsonKind::number) && json.number() >= 0 &&
        json.number() <= limits::kSize) {
      out.emplace(member.key, json.number());
    } else {
      fields.tell(
          json,
          path,
          found_as(json),
          "a name such as \"head_cm\" with a number from 0 to " + std::to_string(limits::kSize));
    }
  });
}

Companion read_companion(FaultList& faults, const Json& json, const std::string& path) {
  constexpr int kOldestChild = 17;
  PageFields fields(faults, json, path, "somebody brought along");
  Companion companion;
  if (fields.required("name", "a name")) fields.line("name", companion.name, kMostNameLength);
  fields.truth("child", companion.child);
  fields.date("born", companion.born, limits::kFirstBirthYear);
  fields.whole("age", companion.age, 0, kOldestChild);
  fields.line("person", companion.person);
  fields.note("skin", companion.skin);
  fields.note("food", companion.food);
  if (!companion.child && (companion.born || companion.age)) {
    fields.tell(json, path, "the age of an adult", "an age only where \"child\" is true");
  }
  fields.finish();
  return companion;
}

Notice read_notice(FaultList& faults, const Json& json, const std::string& path) {
  constexpr int kLatest = 600;  // minutes
  PageFields fields(faults, json, path, "a notice");
  Notice notice;
  std::optional<Date> day;
  if (fields.required("day", "a date")) fields.date("day", day, limits::kFirstYear);
  if (day) notice.day = *day;
  fields.truth("cannot_come", notice.cannot_come);
  fields.whole("minutes_late", notice.minutes_late, 1, kLatest);
  fields.note("words", notice.words);
  fields.moment("at", notice.at);
  fields.truth("seen", notice.seen);
  if (notice.cannot_come == fields.has("minutes_late")) {
    fields.tell(json,
                path,
                notice.cannot_come ? "\"minutes_late\" of somebody who cannot come"
                                   : "neither \"cannot_come\" nor \"minutes_late\"",
                "one of the two");
  }
  fields.finish();
  return notice;
}

void read_age(PageFields& fields, const Json& root, SignUp& out) {
  fields.truth("adult", out.adult);
  fields.date("born", out.born, limits::kFirstBirthYear);
  fields.line("guardian", out.guardian, kMostNameLength);
  fields.line("guardian_phone", out.guardian_phone);
  for (const char* key : {"born", "guardian", "guardian_phone"}) {
    if (!out.adult || !fields.has(key)) continue;
    fields.tell(root, key, "the " + std::string(key) + " of an adult", "none");
  }
}

void read_lists(FaultList& faults, PageFields& fields, const Json& root, SignUp& out) {
  fields.each("brings", [&](const Json& json, const std::string& path) {
    out.brings.push_back(read_companion(faults, json, path));
  });
  if (out.brings.size() > kMostCompanions) {
    fields.tell(root,
                "brings",
                std::to_string(out.brings.size()) + " people",
                "at most " + std::to_string(kMostCompanions));
  }
  fields.each("notices", [&](const Json& json, const std::string& path) {
    out.notices.push_back(read_notice(faults, json, path));
  });
}

void read_answers(FaultList& faults, const Json& root, SignUp& out) {
  PageFields fields(faults, root, "", "a sign-up");
  fields.id(out.id);
  if (fields.required("state", "how the sign-up stands")) {
    fields.choice("state",
                  out.state,
                  {{"fresh", SignUpState::fresh},
                   {"accepted", SignUpState::accepted},
                   {"waiting", SignUpState::waiting},
                   {"declined", SignUpState::declined},
                   {"withdrawn", SignUpState::withdrawn}});
  }
  fields.line("person", out.person);
  if (out.state == SignUpState::accepted && out.person.empty()) {
    fields.tell(root, "person", "none of an accepted sign-up", "the id of a person");
  }
  fields.moment("sent_at", out.sent_at);
  fields.moment("changed_at", out.changed_at);
  fields.truth("seen", out.seen);
  fields.language("language", out.language);
  if (fields.required("name", "a name")) {
    fields.line("name", out.name, kMostNameLength);
    const Json* const name = fields.take("name");
    if (name != nullptr && name->is(JsonKind::text) &&
        name->text().find_first_not_of(' ') == std::string::npos) {
      fields.tell(*name, "name", "an empty text", "a name");
    }
  }
  fields.line("phone", out.phone);
  fields.line("email", out.email);
  fields.choice("answer",
                out.answer,
                {{"asked", Answer::asked},
                 {"yes", Answer::yes},
                 {"maybe", Answer::maybe},
                 {"no", Answer::no}});
  read_free(fields, out.free);
  fields.tags("can", out.can);
  fields.tags("likes", out.likes);
  fields.note("friends", out.friends);
  fields.tags("no", out.no);
  read_sizes(fields, out.sizes);
  fields.note("food", out.food);
  fields.note("skin", out.skin);
  fields.line("need_name", out.need_name, kMostNameLength);
  fields.line("need_phone", out.need_phone);
  read_age(fields, root, out);
  read_lists(faults, fields, root, out);
  fields.truth("may_be_filmed", out.may_be_filmed);
  fields.text("consent_text", out.consent_text, TextKind::note);
  fields.note("words", out.words);
  fields.finish();
}

}  // namespace

std::variant<SignUp, std::vector<Fault>> read_sign_up(const Document& document) {
  const auto text = text_of_document(document);
  if (const auto* fault = std::get_if<Fault>(&text)) return std::vector<Fault>{*fault};
  JsonRead json = read_json(std::get<std::string>(text));
  FaultList faults;
  faults.add(std::move(json.faults));
  SignUp sign_up;
  if (json.root) read_answers(faults, *json.root, sign_up);
  if (!faults.empty()) return without_places(faults.take());
  return sign_up;
}

}  // namespace gp
