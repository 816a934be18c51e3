#include "search/reason_words.h"

#include "model/sizes.h"
#include "model/skilled.h"
#include "model/tags.h"
#include "time/clock.h"

#include <algorithm>

namespace gp {
std::string joined(const std::vector<std::string>& parts, const std::string& last_link) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += i + 1 == parts.size() ? last_link : ", ";
    text += parts[i];
  }
  return text;
}

std::string in_minutes(std::int64_t n) {
  return std::to_string(n) + (n == 1 ? " minute" : " minutes");
}

std::string are(std::int64_t n) {
  return std::to_string(n) + (n == 1 ? " is" : " are");
}

std::string ReasonWords::clock(std::size_t day, Minute moment) const {
  return format(problem_.days[day].clock.shown(moment));
}

std::string ReasonWords::span(std::size_t day, Span span) const {
  return clock(day, span.from) + "-" + clock(day, span.until);
}

std::string ReasonWords::on_date(std::size_t day) const {
  if (problem_.days.size() < 2) return {};
  return " on " + format(problem_.days[day].clock.date());
}

std::string ReasonWords::windows_of(SceneId scene) const {
  std::vector<std::string> parts;
  for (std::size_t d = 0; d < problem_.days.size(); ++d) {
    for (const Span& window : problem_.windows[d][scene]) {
      parts.push_back(
          (window.until == kDayEnd ? "from " + clock(d, window.from) : span(d, window)) +
          on_date(d));
    }
  }
  return joined(parts, " or ");
}

std::string ReasonWords::who_may_not(const Tags& needs,
                                     const Tags& tags,
                                     const std::vector<PersonId>* from,
                                     const Role* role) const {
  int coming = 0;
  int outside = 0;
  int lacking = 0;
  int refusing = 0;
  int unfitting = 0;
  int unmade = 0;
  std::vector<Alone> alone;
  if (role != nullptr && role->look_kind == LookKind::look) {
    alone = alone_with_steps(film_, problem_.wishes.answers, film_.looks[role->look]);
  }
  for (PersonId id : film_.people.ids()) {
    const Person& person = film_.people[id];
    if (!problem_.wishes.answers.include(person.answer)) continue;
    ++coming;
    if (from != nullptr && std::find(from->begin(), from->end(), id) == from->end()) {
      ++outside;
    } else if (!std::all_of(
                   needs.begin(), needs.end(), [&](const auto& n) { return has(person.can, n); })) {
      ++lacking;
    } else if (std::any_of(
                   tags.begin(), tags.end(), [&](const auto& t) { return has(person.no, t); })) {
      ++refusing;
    } else if (role != nullptr && size_match(film_, *role, person) == SizeMatch::does_not) {
      ++unfitting;
    } else if (std::any_of(alone.begin(), alone.end(), [&](const Alone& one) {
                 return one.person == id;
               })) {
      ++unmade;
    }
  }
  std::vector<std::string> parts;
  if (outside > 0) parts.push_back(are(outside) + " not among those named for it");
  if (lacking > 0) {
    parts.push_back(std::to_string(lacking) + (lacking == 1 ? " lacks " : " lack ") +
                    joined(needs, " and "));
  }
  if (refusing > 0) {
    parts.push_back(std::to_string(refusing) + " will not (" + joined(tags, ", ") + ")");
  }
  if (unfitting > 0) {
    parts.push_back(std::to_string(unfitting) +
                    (unfitting == 1 ? " does not fit into the look" : " do not fit into the look"));
  }
  if (unmade > 0) {
    parts.push_back(std::to_string(unmade) + " would have to make " +
                    (unmade == 1 ? "themself" : "themselves") + " up, for nobody else can");
  }
  const std::string all = std::to_string(coming);
  if (parts.empty()) return "only " + all + " are coming";
  return "of " + all + " who are coming, " + joined(parts, " and ");
}

Tags ReasonWords::tags_for(const Role& role, SceneId scene) const {
  Tags tags = role.tags;
  const auto add = [&](const Tags& more) {
    for (const std::string& tag : more) {
      if (!has(tags, tag)) tags.push_back(tag);
    }
  };
  if (role.look_kind == LookKind::look) add(film_.looks[role.look].tags);
  add(film_.scenes[scene].hazards);
  return tags;
}

}  // namespace gp
