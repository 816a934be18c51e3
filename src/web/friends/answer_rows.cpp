#include "text/dates.h"
#include "time/clock.h"
#include "web/friends/step_view.h"

#include <array>
#include <charconv>

namespace gp {
namespace {

std::string joined(const std::vector<std::string>& list, const char* between) {
  std::string text;
  for (const std::string& one : list) {
    if (one.empty()) continue;
    if (!text.empty()) text += between;
    text += one;
  }
  return text;
}

std::string number_text(double value) {
  std::array<char, 32> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value).ptr;
  return {text.data(), end};
}

std::string free_text(const SignUp& sign_up, const Asked& asked, const SayFriends& say) {
  std::vector<std::string> lines;
  for (const AskedDay& day : asked.days) {
    std::string hours = say(sign_up.free ? "when.not" : "when.all", {});
    if (sign_up.free) {
      std::vector<std::string> spans;
      for (const FreeTime& free : *sign_up.free) {
        if (free.date != day.date) continue;
        spans.push_back(free.hours ? clock_words(free.hours->from, say) + "–" +
                                         clock_words(free.hours->until, say)
                                   : say("when.all", {}));
      }
      if (!spans.empty()) hours = joined(spans, ", ");
    }
    lines.push_back(say("check.day", {{"day", day.label}, {"hours", hours}}));
  }
  if (sign_up.answer == Answer::maybe) lines.push_back(say("when.unsure", {}));
  return joined(lines, "\n");
}

std::string tags_text(const Tags& tags,
                      const std::vector<AskedChoice>& first,
                      const std::vector<AskedChoice>& second) {
  std::vector<std::string> labels;
  for (const std::string& tag : tags) {
    const std::string label = label_of(tag, first);
    labels.push_back(label == readable(tag) ? label_of(tag, second) : label);
  }
  return joined(labels, ", ");
}

std::string brings_text(const SignUp& sign_up, const SayFriends& say) {
  std::vector<std::string> lines;
  for (const Companion& one : sign_up.brings) {
    std::string line = one.name;
    if (one.child && one.age) {
      line += ", " + say("brings.age", {{"age", std::to_string(*one.age)}});
    }
    lines.push_back(joined({line, one.food, one.skin}, " · "));
  }
  return lines.empty() ? say("brings.no", {}) : joined(lines, "\n");
}

}  // namespace

std::vector<AnswerRow> answer_rows(const SignUp& sign_up,
                                   const Asked& asked,
                                   const std::string& date_language,
                                   const SayFriends& say) {
  std::vector<AnswerRow> rows;
  const auto row = [&](SignUpStep step, std::string_view label, std::string value) {
    rows.push_back({step, say("check.row." + std::string(label), {}), std::move(value)});
  };
  row(SignUpStep::you, "name", sign_up.name);
  row(SignUpStep::you, "contact", joined({sign_up.phone, sign_up.email}, "\n"));
  row(SignUpStep::you, "adult", say(sign_up.adult ? "yes" : "no", {}));
  if (!sign_up.adult) {
    row(SignUpStep::guardian, "born", sign_up.born ? long_date(*sign_up.born, date_language) : "");
    row(SignUpStep::guardian, "guardian", joined({sign_up.guardian, sign_up.guardian_phone}, "\n"));
  }
  if (!asked.days.empty()) row(SignUpStep::when, "when", free_text(sign_up, asked, say));
  if (!asked.parts.empty() || !asked.jobs.empty()) {
    row(SignUpStep::like, "like", tags_text(sign_up.likes, asked.parts, asked.jobs));
    row(SignUpStep::like, "friends", sign_up.friends);
  }
  if (!asked.can.empty()) row(SignUpStep::can, "can", tags_text(sign_up.can, asked.can, {}));
  if (!asked.no.empty()) row(SignUpStep::no, "no", tags_text(sign_up.no, asked.no, {}));
  if (!asked.sizes.empty()) {
    std::vector<std::string> sizes;
    for (const AskedSize& size : asked.sizes) {
      const auto found = sign_up.sizes.find(size.key);
      if (found == sign_up.sizes.end()) continue;
      sizes.push_back(
          say("check.size", {{"what", size.label}, {"size", number_text(found->second)}}));
    }
    row(SignUpStep::sizes, "sizes", joined(sizes, "\n"));
  }
  if (asked.food) row(SignUpStep::care, "food", sign_up.food);
  if (asked.skin) row(SignUpStep::care, "skin", sign_up.skin);
  if (sign_up.adult) {
    row(SignUpStep::need, "need", joined({sign_up.need_name, sign_up.need_phone}, "\n"));
    row(SignUpStep::brings, "brings", brings_text(sign_up, say));
  }
  row(SignUpStep::film, "film", say(sign_up.may_be_filmed ? "film.yes" : "film.no", {}));
  return rows;
}

}  // namespace gp
