#include "base/utf8.h"
#include "time/clock.h"
#include "web/friends/birth_date.h"
#include "web/friends/sign_up_form.h"

#include <algorithm>
#include <array>
#include <charconv>

namespace gp {
namespace {

constexpr int kOfAge = 18;
constexpr int kOldest = 120;
constexpr double kMostSize = 400;  // no clothes are larger; the book keeps up to 10000
/// Besides digits; the letters are for extensions ("ext. 5", "x5").
constexpr std::u32string_view kPhoneMarks = U"+-()./ #*,;extEXT\u2010\u2011\u2013";
constexpr std::size_t kLeastDigits = 5, kMostDigits = 20;

class AnswerReader {
 public:
  AnswerReader(const TypedAnswers& typed,
               const Asked& asked,
               const SignUp& before,
               const std::string& consent_text,
               Date today,
               const SayFriends& say)
      : typed_(typed),
        asked_(asked),
        before_(before),
        consent_text_(consent_text),
        today_(today),
        say_(say) {
    out_.sign_up = before;
  }

  ReadAnswers read() {
    read_you();
    read_guardian();
    read_when();
    read_wishes();
    read_sizes();
    read_care();
    read_need();
    read_companions();
    read_film();
    text("words", out_.sign_up.words, SignUpStep::check);
    return std::move(out_);
  }

 private:
  void fault(SignUpStep step,
             std::string field,
             std::string_view key,
             const std::vector<WordValue>& values = {}) {
    out_.faults.push_back({step, std::move(field), say_("fault." + std::string(key), values)});
  }
  /// \return whether it is short enough
  bool fits(SignUpStep step, const std::string& field, const std::string& value, std::size_t most) {
    const std::size_t count = count_characters(value);
    if (count <= most) return true;
    fault(step,
          field,
          "too_long",
          {{"most", static_cast<std::int64_t>(most)}, {"count", static_cast<std::int64_t>(count)}});
    return false;
  }
  void line(const std::string& field, std::string& out, SignUpStep step, std::size_t most) {
    const std::string value = tidy_line(typed_.first(field));
    if (fits(step, field, value, most)) out = value;
  }
  void text(const std::string& field, std::string& out, SignUpStep step) {
    const std::string value = tidy_text(typed_.first(field));
    if (fits(step, field, value, kMostTextLength)) out = value;
  }
  void phone(const std::string& field, std::string& out, SignUpStep step) {
    line(field, out, step, kMostLineLength);
    const std::string value = tidy_line(typed_.first(field));
    if (value.empty() || count_characters(value) > kMostLineLength) return;
    std::size_t digits = 0;
    for (const char32_t character : characters(value)) {
      std::string one;
      append_utf8(one, character);
      if (typed_number(one)) {
        ++digits;
      } else if (kPhoneMarks.find(character) == std::u32string_view::npos) {
        fault(step, field, "phone");
        return;
      }
    }
    if (digits < kLeastDigits || digits > kMostDigits) fault(step, field, "phone");
  }

  void read_you() {
    SignUp& out = out_.sign_up;
    constexpr auto kStep = SignUpStep::you;
    line("name", out.name, kStep, kMostNameLength);
    if (tidy_line(typed_.first("name")).empty()) fault(kStep, "name", "name");
    phone("phone", out.phone, kStep);
    line("email", out.email, kStep, kMostLineLength);
    const std::string mail = tidy_line(typed_.first("email"));
    if (!mail.empty() && !looks_like_mail(mail)) fault(kStep, "email", "email");
    if (mail.empty() && tidy_line(typed_.first("phone")).empty()) fault(kStep, "phone", "contact");
    const std::string adult = typed_.first("adult");
    out.adult = adult != "no";
    if (adult != "yes" && adult != "no") fault(kStep, "adult", "adult");
  }

  static bool looks_like_mail(const std::string& mail) {
    const std::size_t at = mail.rfind('@');
    return at != std::string::npos && at > 0 && at + 1 < mail.size() &&
           mail.find(' ') == std::string::npos;
  }

  void read_guardian() {
    SignUp& out = out_.sign_up;
    constexpr auto kStep = SignUpStep::guardian;
    if (out.adult) {
      out.born.reset();
      out.guardian.clear();
      out.guardian_phone.clear();
      return;
    }
    const TypedDate date = typed_date(
        typed_.first("born_day"), typed_.first("born_month"), typed_.first("born_year"), today_);
    switch (date.wrong) {
      case TypedDate::Wrong::nothing:
        if (years_between(date.date, today_) >= kOfAge) {
          fault(kStep, "born_year", "born_adult");
        } else {
          out.born = date.date;
        }
        break;
      case TypedDate::Wrong::missing_all:
        fault(kStep, "born_day", "born");
        break;
      case TypedDate::Wrong::missing_day:
        fault(kStep, "born_day", "born_day");
        break;
      case TypedDate::Wrong::missing_month:
        fault(kStep, "born_month", "born_month");
        break;
      case TypedDate::Wrong::missing_year:
        fault(kStep, "born_year", "born_year");
        break;
      case TypedDate::Wrong::unreal:
        fault(kStep, "born_day", "born_unreal");
        break;
      case TypedDate::Wrong::future:
        fault(kStep, "born_year", "born_future");
        break;
    }
    line("guardian", out.guardian, kStep, kMostNameLength);
    if (tidy_line(typed_.first("guardian")).empty()) fault(kStep, "guardian", "guardian");
    phone("guardian_phone", out.guardian_phone, kStep);
    if (tidy_line(typed_.first("guardian_phone")).empty()) {
      fault(kStep, "guardian_phone", "guardian_phone");
    }
    if (!typed_.has("guardian_agrees", "yes")) {
      fault(kStep, "guardian_agrees", "guardian_agrees");
    }
  }

  void read_when() {
    if (asked_.days.empty()) return;
    constexpr auto kStep = SignUpStep::when;
    std::vector<FreeTime> free;
    bool every_day = true;
    bool whole = true;  // nothing wrong, so that "none at all" may be told
    for (const AskedDay& day : asked_.days) {
      const std::string date = format(day.date);
      const std::string field = "day_" + date;
      const std::string answer = typed_.first(field);
      if (answer == "all") {
        free.push_back({day.date, std::nullopt});
        continue;
      }
      every_day = false;
      if (answer == "not") continue;
      if (answer != "part") {
        fault(kStep, field, "day", {{"day", day.label}});
        whole = false;
        continue;
      }
      const auto from = parse_wall_time(typed_.first("from_" + date));
      const auto until = parse_wall_time(typed_.first("until_" + date));
      if (!from || !until || *until <= *from) {
        fault(kStep, "from_" + date, "hours", {{"day", day.label}});
        whole = false;
      } else {
        free.push_back({day.date, WallSpan{*from, *until}});
      }
    }
    if (whole && free.empty()) {
      fault(kStep, "day_" + format(asked_.days.front().date), "no_day");
    }
    if (every_day) {
      out_.sign_up.free.reset();
    } else {
      out_.sign_up.free = std::move(free);
    }
    out_.sign_up.answer = typed_.has("unsure", "yes") ? Answer::maybe : Answer::yes;
  }

  /// Those chosen among what is offered; what was there and is not offered stays.
  void choose(const std::string& field,
              std::vector<const std::vector<AskedChoice>*> lists,
              Tags& out) {
    Tags chosen;
    const auto offered = [&](const std::string& tag) {
      return std::any_of(lists.begin(), lists.end(), [&](const auto* list) {
        return std::any_of(
            list->begin(), list->end(), [&](const AskedChoice& one) { return one.tag == tag; });
      });
    };
    for (const std::string& tag : out) {
      if (!offered(tag)) chosen.push_back(tag);
    }
    for (const auto* list : lists) {
      for (const AskedChoice& one : *list) {
        const bool there = std::find(chosen.begin(), chosen.end(), one.tag) != chosen.end();
        if (!there && typed_.has(field, one.tag)) chosen.push_back(one.tag);
      }
    }
    out = std::move(chosen);
  }

  void read_wishes() {
    choose("like", {&asked_.parts, &asked_.jobs}, out_.sign_up.likes);
    if (is_asked(SignUpStep::like, asked_, typed_)) {
      text("friends", out_.sign_up.friends, SignUpStep::like);
    }
    choose("can", {&asked_.can}, out_.sign_up.can);
    choose("no", {&asked_.no}, out_.sign_up.no);
  }

  void read_sizes() {
    for (const AskedSize& size : asked_.sizes) {
      const std::string field = "size_" + size.key;
      std::string text = tidy_line(typed_.first(field));
      if (text.empty()) {
        out_.sign_up.sizes.erase(size.key);
        continue;
      }
      if (text.ends_with("cm")) text = tidy_line(text.substr(0, text.size() - 2));
      std::replace(text.begin(), text.end(), ',', '.');
      double value = 0;
      const auto [end, error] =
          std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
      if (error != std::errc() || end != text.data() + text.size() || value <= 0 ||
          value > kMostSize) {
        fault(SignUpStep::sizes, field, "size", {{"size", size.label}});
      } else {
        out_.sign_up.sizes[size.key] = value;
      }
    }
  }

  void read_care() {
    if (asked_.food) text("food", out_.sign_up.food, SignUpStep::care);
    if (asked_.skin) text("skin", out_.sign_up.skin, SignUpStep::care);
  }

  void read_need() {
    SignUp& out = out_.sign_up;
    if (!out.adult) return;
    line("need_name", out.need_name, SignUpStep::need, kMostNameLength);
    phone("need_phone", out.need_phone, SignUpStep::need);
    const bool no_name = tidy_line(typed_.first("need_name")).empty();
    const bool no_phone = tidy_line(typed_.first("need_phone")).empty();
    if (no_name && !no_phone) fault(SignUpStep::need, "need_name", "need_name");
    if (no_phone && !no_name) fault(SignUpStep::need, "need_phone", "need_phone");
  }

  void read_companions() {
    SignUp& out = out_.sign_up;
    out.brings.clear();
    if (!out.adult) return;
    for (std::size_t i = 0; i < std::min(typed_.companions(), kMostCompanions); ++i) {
      out.brings.push_back(read_companion(i));
    }
  }

  Companion read_companion(std::size_t index) {
    constexpr auto kStep = SignUpStep::companion;
    const auto field = [&](std::string_view name) { return companion_field(index, name); };
    Companion companion;
    // `was` says which of those brought before it is; its place in the production stays with it
    const auto was = typed_number(typed_.first(field("was")));
    if (was && static_cast<std::size_t>(*was) < before_.brings.size()) {
      companion = before_.brings[static_cast<std::size_t>(*was)];
    }
    line(field("name"), companion.name, kStep, kMostNameLength);
    const std::string name = tidy_line(typed_.first(field("name")));
    if (name.empty()) fault(kStep, field("name"), "companion_name");
    const std::string child = typed_.first(field("child"));
    if (child != "yes" && child != "no") fault(kStep, field("child"), "companion_child");
    companion.child = child != "no";
    if (!companion.child) {
      companion.age.reset();
      companion.born.reset();
    } else {
      const auto age = typed_number(typed_.first(field("age")));
      const bool had_birthday = companion.born && age == years_between(*companion.born, today_);
      if (!had_birthday) companion.born.reset();
      if (!age || *age > kOldest) {
        fault(kStep, field("age"), "companion_age");
      } else if (*age >= kOfAge) {
        fault(kStep, field("age"), "companion_adult");
      } else if (!companion.born) {
        companion.age = age;
      }
    }
    if (asked_.food) text(field("food"), companion.food, kStep);
    if (asked_.skin) text(field("skin"), companion.skin, kStep);
    return companion;
  }

  void read_film() {
    SignUp& out = out_.sign_up;
    const std::string film = typed_.first("film");
    if (film != "yes" && film != "no") fault(SignUpStep::film, "film", "film");
    const bool agreed = film == "yes";
    // whoever agreed before and still does keeps the words they agreed to
    if (!before_.name.empty() && agreed == before_.may_be_filmed && out.adult == before_.adult) {
      return;
    }
    out.may_be_filmed = agreed;
    out.consent_text = agreed ? consent_text_ : "";
    if (!out.adult && typed_.has("guardian_agrees", "yes")) {
      if (!out.consent_text.empty()) out.consent_text += "\n";
      out.consent_text += say_("guardian.agrees", {});
    }
  }

  const TypedAnswers& typed_;
  const Asked& asked_;
  const SignUp& before_;
  const std::string& consent_text_;
  Date today_;
  const SayFriends& say_;
  ReadAnswers out_;
};

std::string size_text(double value) {
  std::array<char, 32> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value).ptr;
  return {text.data(), end};
}

}  // namespace

ReadAnswers read_answers(const TypedAnswers& typed,
                         const Asked& asked,
                         const SignUp& before,
                         const std::string& consent_text,
                         Date today,
                         const SayFriends& say) {
  return AnswerReader(typed, asked, before, consent_text, today, say).read();
}

TypedAnswers typed_of(const SignUp& sign_up, const Asked& asked, Date today) {
  TypedAnswers typed;
  const auto put = [&](std::string_view name, std::string_view value) { typed.set(name, value); };
  put("name", sign_up.name);
  put("phone", sign_up.phone);
  put("email", sign_up.email);
  put("adult", sign_up.adult ? "yes" : "no");
  if (sign_up.born) {
    put("born_day", std::to_string(static_cast<unsigned>(sign_up.born->day())));
    put("born_month", std::to_string(static_cast<unsigned>(sign_up.born->month())));
    put("born_year", std::to_string(static_cast<int>(sign_up.born->year())));
  }
  put("guardian", sign_up.guardian);
  put("guardian_phone", sign_up.guardian_phone);
  if (!sign_up.adult) put("guardian_agrees", "yes");  // without it there is no such sign-up
  for (const AskedDay& day : asked.days) {
    const std::string date = format(day.date);
    std::string answer = sign_up.free ? "not" : "all";
    if (sign_up.free) {
      // Several stretches of one day are shown as one, from the first to the last.
      std::optional<WallSpan> hull;
      for (const FreeTime& free : *sign_up.free) {
        if (free.date != day.date || answer == "all") continue;
        answer = free.hours ? "part" : "all";
        if (!free.hours) continue;
        if (!hull) hull = *free.hours;
        hull->from = std::min(hull->from, free.hours->from);
        hull->until = std::max(hull->until, free.hours->until);
      }
      if (answer == "part" && hull) {
        put("from_" + date, format(hull->from));
        put("until_" + date, format(hull->until));
      }
    }
    put("day_" + date, answer);
  }
  if (sign_up.answer == Answer::maybe) put("unsure", "yes");
  for (const std::string& tag : sign_up.likes) typed.add("like", tag);
  put("friends", sign_up.friends);
  for (const std::string& tag : sign_up.can) typed.add("can", tag);
  for (const std::string& tag : sign_up.no) typed.add("no", tag);
  for (const auto& [key, size] : sign_up.sizes) put("size_" + key, size_text(size));
  put("food", sign_up.food);
  put("skin", sign_up.skin);
  put("need_name", sign_up.need_name);
  put("need_phone", sign_up.need_phone);
  for (std::size_t i = 0; i < sign_up.brings.size() && i < kMostCompanions; ++i) {
    const Companion& one = sign_up.brings[i];
    put(companion_field(i, "was"), std::to_string(i));
    put(companion_field(i, "name"), one.name);
    put(companion_field(i, "child"), one.child ? "yes" : "no");
    if (one.born) {
      put(companion_field(i, "age"), std::to_string(std::max(0, years_between(*one.born, today))));
    } else if (one.age) {
      put(companion_field(i, "age"), std::to_string(*one.age));
    }
    put(companion_field(i, "food"), one.food);
    put(companion_field(i, "skin"), one.skin);
  }
  put("film", sign_up.may_be_filmed ? "yes" : "no");
  put("words", sign_up.words);
  return typed;
}

}  // namespace gp
