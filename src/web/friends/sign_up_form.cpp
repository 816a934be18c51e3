#include "web/friends/sign_up_form.h"

#include "text/clean.h"

#include <algorithm>
#include <array>

namespace gp {
namespace {

constexpr std::array<std::string_view, 13> kNames = {"you",
                                                     "guardian",
                                                     "when",
                                                     "like",
                                                     "can",
                                                     "no",
                                                     "sizes",
                                                     "care",
                                                     "need",
                                                     "brings",
                                                     "companion",
                                                     "film",
                                                     "check"};
constexpr std::size_t kMostFieldBytes = 8000;  ///< kept of one field: enough to say it is too long

struct FieldStep {
  std::string_view name;
  SignUpStep step;
};
constexpr std::array<FieldStep, 22> kFields = {{{"name", SignUpStep::you},
                                                {"phone", SignUpStep::you},
                                                {"email", SignUpStep::you},
                                                {"adult", SignUpStep::you},
                                                {"born_day", SignUpStep::guardian},
                                                {"born_month", SignUpStep::guardian},
                                                {"born_year", SignUpStep::guardian},
                                                {"guardian", SignUpStep::guardian},
                                                {"guardian_phone", SignUpStep::guardian},
                                                {"guardian_agrees", SignUpStep::guardian},
                                                {"unsure", SignUpStep::when},
                                                {"like", SignUpStep::like},
                                                {"friends", SignUpStep::like},
                                                {"can", SignUpStep::can},
                                                {"no", SignUpStep::no},
                                                {"food", SignUpStep::care},
                                                {"skin", SignUpStep::care},
                                                {"need_name", SignUpStep::need},
                                                {"need_phone", SignUpStep::need},
                                                {"brings", SignUpStep::brings},
                                                {"film", SignUpStep::film},
                                                {"words", SignUpStep::check}}};

/// "c3_name": 3. None: no field of a companion.
std::optional<std::size_t> companion_of_field(std::string_view name) {
  if (name.size() < 4 || name[0] != 'c' || name[1] < '0' || name[1] > '9') return std::nullopt;
  std::size_t index = 0;
  std::size_t at = 1;
  for (; at < name.size() && at < 3 && name[at] >= '0' && name[at] <= '9'; ++at) {
    index = index * 10 + static_cast<std::size_t>(name[at] - '0');
  }
  if (index >= kMostCompanions || at >= name.size() || name[at] != '_') return std::nullopt;
  const std::string_view rest = name.substr(at + 1);
  for (const std::string_view known : {"name", "child", "age", "food", "skin", "was"}) {
    if (rest == known) return index;
  }
  return std::nullopt;
}

std::string trimmed(const std::string& text) {
  std::size_t from = 0;
  std::size_t until = text.size();
  while (from < until && text[from] == ' ') ++from;
  while (until > from && text[until - 1] == ' ') --until;
  return text.substr(from, until - from);
}

}  // namespace

std::string_view name_of(SignUpStep step) {
  return kNames.at(static_cast<std::size_t>(step));
}

std::optional<SignUpStep> sign_up_step(std::string_view name) {
  for (std::size_t i = 0; i < kNames.size(); ++i) {
    if (kNames.at(i) == name) return static_cast<SignUpStep>(i);
  }
  return std::nullopt;
}

std::optional<SignUpStep> step_of_field(std::string_view name) {
  for (const FieldStep& field : kFields) {
    if (field.name == name) return field.step;
  }
  if (companion_of_field(name)) return SignUpStep::companion;
  for (const std::string_view prefix : {"day_", "from_", "until_"}) {
    if (name.starts_with(prefix)) return SignUpStep::when;
  }
  if (name.starts_with("size_")) return SignUpStep::sizes;
  return std::nullopt;
}

std::string companion_field(std::size_t index, std::string_view name) {
  return "c" + std::to_string(index) + "_" + std::string(name);
}

TypedAnswers::TypedAnswers(const HttpRequest& request) {
  for (const auto& [name, value] : request.form) {
    if (!step_of_field(name) || value.empty()) continue;
    add(name, std::string_view(value).substr(0, kMostFieldBytes));
  }
}

std::string TypedAnswers::first(std::string_view name) const {
  for (const auto& [key, value] : fields_) {
    if (key == name) return value;
  }
  return "";
}

std::vector<std::string> TypedAnswers::all(std::string_view name) const {
  std::vector<std::string> values;
  for (const auto& [key, value] : fields_) {
    if (key == name) values.push_back(value);
  }
  return values;
}

bool TypedAnswers::has(std::string_view name, std::string_view value) const {
  return std::any_of(fields_.begin(), fields_.end(), [&](const auto& field) {
    return field.first == name && field.second == value;
  });
}

void TypedAnswers::add(std::string_view name, std::string_view value) {
  fields_.emplace_back(name, value);
}

void TypedAnswers::set(std::string_view name, std::string_view value) {
  erase(name);
  if (!value.empty()) add(name, value);
}

void TypedAnswers::erase(std::string_view name) {
  fields_.erase(
      std::remove_if(
          fields_.begin(), fields_.end(), [&](const auto& field) { return field.first == name; }),
      fields_.end());
}

std::size_t TypedAnswers::companions() const {
  std::size_t count = 0;
  for (const auto& [name, value] : fields_) {
    if (const auto index = companion_of_field(name)) count = std::max(count, *index + 1);
  }
  return count;
}

void TypedAnswers::erase_companion(std::size_t gone) {
  std::vector<std::pair<std::string, std::string>> kept;
  for (auto& [name, value] : fields_) {
    const auto index = companion_of_field(name);
    if (index == gone) continue;
    if (index && *index > gone) name = companion_field(*index - 1, name.substr(name.find('_') + 1));
    kept.emplace_back(std::move(name), std::move(value));
  }
  fields_ = std::move(kept);
}

bool is_asked(SignUpStep step, const Asked& asked, const TypedAnswers& typed) {
  const bool adult = typed.first("adult") != "no";
  switch (step) {
    case SignUpStep::guardian:
      return !adult;
    case SignUpStep::when:
      return !asked.days.empty();
    case SignUpStep::like:
      return !asked.parts.empty() || !asked.jobs.empty();
    case SignUpStep::can:
      return !asked.can.empty();
    case SignUpStep::no:
      return !asked.no.empty();
    case SignUpStep::sizes:
      return !asked.sizes.empty();
    case SignUpStep::care:
      return asked.food || asked.skin;
    case SignUpStep::need:
    case SignUpStep::brings:
      return adult;  // whoever is under age comes with their guardian
    case SignUpStep::companion:
      return false;  // only from `brings`
    case SignUpStep::you:
    case SignUpStep::film:
    case SignUpStep::check:
      return true;
  }
  return true;
}

SignUpStep step_after(SignUpStep step, const Asked& asked, const TypedAnswers& typed) {
  if (step == SignUpStep::companion) return SignUpStep::brings;
  for (std::size_t at = static_cast<std::size_t>(step) + 1; at < kNames.size(); ++at) {
    if (is_asked(static_cast<SignUpStep>(at), asked, typed)) return static_cast<SignUpStep>(at);
  }
  return SignUpStep::check;
}

std::optional<SignUpStep> step_before(SignUpStep step,
                                      const Asked& asked,
                                      const TypedAnswers& typed) {
  if (step == SignUpStep::companion) return SignUpStep::brings;
  for (std::size_t at = static_cast<std::size_t>(step); at > 0; --at) {
    const auto before = static_cast<SignUpStep>(at - 1);
    if (is_asked(before, asked, typed)) return before;
  }
  return std::nullopt;
}

std::string tidy_line(std::string_view text) {
  const std::u16string composed = clean(text);
  std::u16string kept;
  for (std::size_t at = 0; at < composed.size();) {
    const Character one = character_at(composed, at);
    at += one.units;
    // blanks of every kind become one blank; joiners stay between letters, where they shape them
    const bool blank = one.value == U' ' || one.value == 0xA0 || one.value == 0x1680 ||
                       (one.value >= 0x2000 && one.value <= 0x200A) || one.value == 0x202F ||
                       one.value == 0x205F || one.value == 0x3000;
    const bool joiner = one.value == 0x200C || one.value == 0x200D;
    const bool selector = one.value >= 0xFE00 && one.value <= 0xFE0F;
    if (blank) {
      if (!kept.empty() && kept.back() != u' ') kept += u' ';
    } else if (one.value == 0xFFFD) {
      continue;  // was a control character or no UTF-8
    } else if (!is_unseen(one.value) || ((joiner || selector) && !kept.empty())) {
      kept += composed.substr(at - one.units, one.units);
    }
  }
  while (!kept.empty() && (kept.back() == u' ' || kept.back() == 0x200C || kept.back() == 0x200D)) {
    kept.pop_back();
  }
  return trimmed(to_utf8(kept));
}

std::string tidy_text(std::string_view text) {
  std::string out;
  std::size_t blank_lines = 0;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string line = tidy_line(text.substr(0, end));
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    if (line.empty()) {
      ++blank_lines;
      continue;
    }
    if (!out.empty()) out += blank_lines > 0 ? "\n\n" : "\n";
    blank_lines = 0;
    out += line;
  }
  return out;
}

int years_between(Date born, Date day) {
  int years = static_cast<int>(day.year()) - static_cast<int>(born.year());
  const bool before_birthday =
      day.month() < born.month() || (day.month() == born.month() && day.day() < born.day());
  if (before_birthday) --years;
  return years;
}

}  // namespace gp
