#include "explain/why/link_of.h"
#include "explain/why/why.h"
#include "explain/why/why_day.h"
#include "time/clock.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

namespace gp {
namespace {

using why::minutes_text;
using why::PlannedDay;

/// "6 minutes' way"
std::string way_text(Minutes way) {
  return way == Minutes{1} ? "one minute's way" : minutes_text(way) + "' way";
}

/// The causes in few words: places that are taken until the same time together.
std::vector<std::string> in_short(const PlannedDay& day, const WhyLink& link) {
  std::vector<std::string> clauses;
  std::map<Minute, std::vector<std::string>> places;
  for (const WhyCause& cause : link.causes) {
    if (cause.fact == WhyFact::place_taken && cause.place != link.place) {
      places[*cause.moment].push_back(std::to_string(cause.place));
    }
  }
  for (const auto& [until, numbers] : places) {
    clauses.push_back((numbers.size() > 1 ? "places " : "place ") + why::listed(numbers) +
                      (numbers.size() > 1 ? " have" : " has") + " no room until " + day.at(until));
  }
  std::vector<WhyCause> others;
  for (const WhyCause& cause : link.causes) {
    if (cause.fact != WhyFact::place_taken) others.push_back(cause);
  }
  constexpr std::size_t kMost = 3;
  for (std::string& clause : why::clauses_of(others, kMost)) clauses.push_back(std::move(clause));
  return clauses;
}

std::string beginning_of(const PlannedDay& day, const WhyLink& link) {
  const std::string at = " at " + day.at(link.time.from);
  if (link.kind == WhyEngagement::own_step) {
    return "in place " + std::to_string(link.place) + " of " +
           day.film.stations[link.station].shown() + at;
  }
  if (link.kind == WhyEngagement::staffs) {
    return "with " + day.name(link.wearer) + " at " + day.film.stations[link.station].shown() + at;
  }
  return link.what + at;
}

/// Whether a link's limit already says what the next one is and when.
bool told_by_limit(const WhyLink& link) {
  return !link.causes.empty() && (link.causes.back().fact == WhyFact::next_step ||
                                  link.causes.back().fact == WhyFact::first_scene);
}

std::string one_sentence(const PlannedDay& day, const WhyCall& call, Minutes sign_in) {
  std::vector<std::string> clauses;
  if (call.way > Minutes{0}) clauses.push_back(way_text(call.way));
  for (std::size_t i = 0; i < call.chain.size(); ++i) {
    const WhyLink& link = call.chain[i];
    const bool told = i > 0 && told_by_limit(call.chain[i - 1]) && call.chain[i - 1].held;
    if (!told) clauses.push_back(beginning_of(day, link));
    if (link.instead.valid()) {
      clauses.push_back("which " + day.name(link.instead) + " could do instead");
    } else if (!link.held) {
      const bool scene = link.kind == WhyEngagement::plays || link.kind == WhyEngagement::crew;
      clauses.push_back(scene ? "which could be " + minutes_text(link.latest - link.time.from) +
                                    " later"
                              : "which could be as late as " + day.at(link.latest));
    } else {
      for (std::string& clause : in_short(day, link)) clauses.push_back(std::move(clause));
    }
  }
  std::string text = "Call " + day.at(call.stay.call) + ", because ";
  if (sign_in > Minutes{0}) text += minutes_text(sign_in) + " to sign in; ";
  for (std::size_t i = 0; i < clauses.size(); ++i) text += (i > 0 ? "; " : "") + clauses[i];
  return text + ".";
}

WhyCall call_of(const PlannedDay& day, PersonId person, const Stay& stay) {
  WhyCall call;
  call.day = day.day.day;
  call.stay = stay;
  call.latest = stay.call;
  const why::Rows& rows = day.rows(person);
  for (const why::Row& row : rows) {
    if (!row.place.valid()) continue;
    call.way = day.film.way(day.frame.base, row.place);
    break;
  }
  std::optional<std::pair<PersonId, why::Row>> next;
  if (!rows.empty()) next = std::pair{person, rows.front()};
  constexpr std::size_t kLongest = 60;  // a chain goes on in time, so it ends; this is for the eye
  bool all = true;
  while (next && call.chain.size() < kLongest) {
    why::LinkFound found = why::link_of(day, person, next->first, next->second);
    if (call.chain.empty()) {
      for (const why::Rows& otherwise : found.otherwise) {
        const auto then = otherwise.empty() ? std::optional(kNever) : day.call_of(otherwise);
        if (then) call.latest = std::max(call.latest, *then);
      }
    }
    all = all && found.link.held;
    call.chain.push_back(std::move(found.link));
    next = found.next;
    if (next && next->second.time.from < call.chain.back().time.until) break;
  }
  call.held = call.latest == stay.call;
  call.because = one_sentence(day, call, day.film.sign_in);
  return call;
}

bool free_on(const Person& person, const Production& film, DayId day) {
  if (!person.free) return true;
  return std::any_of(person.free->begin(), person.free->end(), [&](const FreeTime& time) {
    return time.date == film.days[day].date;
  });
}

std::vector<std::string> not_needed(const Production& film,
                                    const Plan& plan,
                                    Answers answers,
                                    PersonId who) {
  std::vector<std::string> reasons;
  const Person& person = film.people[who];
  if (!answers.include(person.answer)) {
    reasons.push_back("their answer is \"" + name_of(person.answer) + "\"" +
                      (person.answer == Answer::no
                           ? std::string(", and who says no is never planned")
                           : ", which this plan does not count as coming"));
    return reasons;
  }
  std::vector<std::string> away;
  for (const DayPlan& day : plan.days) {
    if (!free_on(person, film, day.day)) away.push_back(format(film.days[day.day].date));
  }
  if (!away.empty()) reasons.push_back("they are not free on " + why::listed(away, 3));
  for (const NotFilmed& lost : plan.not_filmed) {
    for (const CastCall& cast : film.scenes[lost.scene].cast) {
      const Role& role = film.roles[cast.role];
      if (role.person != who) continue;
      reasons.push_back("\"" + film.scenes[lost.scene].shown() + "\", in which they play " +
                        role.shown() + ", is not filmed: " + lost.why);
    }
  }
  if (reasons.empty()) {
    reasons.push_back(
        "everything that this plan asks for is done by others, or asks for what they "
        "cannot or will not do");
  }
  return reasons;
}

}  // namespace

WhyPerson why_person(const Production& film, const Plan& plan, Answers answers, PersonId person) {
  WhyPerson found;
  found.person = person;
  for (std::size_t i = 0; i < plan.days.size(); ++i) {
    const PlannedDay day(film, plan, i, answers);
    const Stay* stay = day.stay(person);
    if (stay != nullptr) found.calls.push_back(call_of(day, person, *stay));
  }
  if (found.calls.empty()) found.not_needed = not_needed(film, plan, answers, person);
  return found;
}

}  // namespace gp
