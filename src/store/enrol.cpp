#include "store/enrol.h"

#include "base/errors.h"
#include "base/utf8.h"
#include "store/change_work.h"
#include "store/documents.h"
#include "store/enrol_people.h"
#include "store/json_diff.h"
#include "time/clock.h"

#include <algorithm>
#include <chrono>
#include <utility>

namespace gp {
namespace {

constexpr const char* kOrganiser = "organiser";

Change change_by(const BookState& state,
                 const std::string& who,
                 const std::string& why,
                 UnixTime at) {
  Change change;
  change.who = who;
  change.why = why;
  change.at = at;
  change.seen = state.revision;
  return change;
}

/// Adds the sign-up's own document.
void put(Change& change, const BookState& state, const SignUp& sign_up) {
  const std::string name = sign_up_document(sign_up.id);
  const Document before = document_of(state, name);
  const Document after = write_sign_up(sign_up);
  if (before.is_null()) {
    change.edits.push_back(
        {name, Document::array({Document{{"op", "add"}, {"path", ""}, {"value", after}}})});
  } else {
    change.edits.push_back({name, difference(before, after)});
  }
}

void put(Change& change, PeoplePatch& people) {
  Document patch = people.take();
  if (!patch.empty()) change.edits.push_back({kProductionDocument, std::move(patch)});
}

/// The signer and everybody they bring, as far as they are in the production.
std::vector<std::string> people_of(const SignUp& sign_up) {
  std::vector<std::string> people;
  if (!sign_up.person.empty()) people.push_back(sign_up.person);
  for (const Companion& companion : sign_up.brings) {
    if (!companion.person.empty()) people.push_back(companion.person);
  }
  return people;
}

/// Companions come with the ids they had, by their names, where a form has lost them.
void keep_ids(SignUp& changed, const SignUp& before) {
  if (changed.person.empty()) changed.person = before.person;
  for (Companion& companion : changed.brings) {
    if (!companion.person.empty()) continue;
    const auto taken = [&](const std::string& id) {
      return std::any_of(changed.brings.begin(), changed.brings.end(), [&](const auto& one) {
        return one.person == id;
      });
    };
    for (const Companion& old : before.brings) {
      if (old.name == companion.name && !old.person.empty() && !taken(old.person)) {
        companion.person = old.person;
        break;
      }
    }
  }
}

/// Years between a birthday and the first shooting day are under 18.
bool is_minor(const Person& person, const Production& production) {
  constexpr std::chrono::years kAdult{18};
  if (!person.born || production.days.empty()) return false;
  return *person.born + kAdult > production.days[DayId(0)].date;
}

void take_out_day(std::optional<std::vector<FreeTime>>& free,
                  Date day,
                  const Production& production) {
  if (!free) {
    free.emplace();
    for (const Day& each : production.days) free->push_back({each.date, std::nullopt});
  }
  std::erase_if(*free, [&](const FreeTime& one) { return one.date == day; });
}

}  // namespace

Change accept(const BookState& state, const SignUp& sign_up, const std::string& who, UnixTime at) {
  Change change = change_by(state, who, "accepted a sign-up", at);
  SignUp accepted = sign_up;
  accepted.state = SignUpState::accepted;
  accepted.changed_at = at;
  accepted.seen = accepted.seen || who == kOrganiser;
  PeoplePatch people(*state.production_document);
  const auto place = [&](std::string& id, const std::string& name, const Facts& facts) {
    if (id.empty()) id = people.new_id(name);
    if (people.has(id)) {
      people.bring_up_to_date(id, facts);
    } else {
      people.add(id, facts);
    }
  };
  place(accepted.person, accepted.name, facts_of(accepted));
  for (Companion& companion : accepted.brings) {
    place(companion.person, companion.name, facts_of(companion, accepted));
  }
  put(change, state, accepted);
  put(change, people);
  return change;
}

Change set_state(const BookState& state,
                 const SignUp& sign_up,
                 SignUpState wanted,
                 const std::string& who,
                 UnixTime at) {
  if (wanted == SignUpState::accepted) return accept(state, sign_up, who, at);
  const char* why = wanted == SignUpState::waiting    ? "put a sign-up on the waiting list"
                    : wanted == SignUpState::declined ? "declined a sign-up"
                    : wanted == SignUpState::fresh    ? "put a sign-up back among the new ones"
                                                      : "withdrew a sign-up";
  Change change = change_by(state, who, why, at);
  SignUp changed = sign_up;
  changed.state = wanted;
  changed.changed_at = at;
  changed.seen = who == kOrganiser;
  PeoplePatch people(*state.production_document);
  for (const std::string& id : people_of(sign_up)) people.set(id, "answer", "no");
  put(change, state, changed);
  put(change, people);
  return change;
}

Change change_answers(const BookState& state, const SignUp& changed, UnixTime at) {
  Change change = change_by(state, changed.id, "changed their answers", at);
  SignUp now = changed;
  now.changed_at = at;
  now.seen = false;
  PeoplePatch people(*state.production_document);
  const auto before = state.sign_up(changed.id);
  if (before != nullptr) keep_ids(now, *before);
  if (now.state == SignUpState::accepted && before != nullptr) {
    people.follow(now.person, facts_of(*before), facts_of(now));
    for (Companion& companion : now.brings) {
      const auto old =
          std::find_if(before->brings.begin(), before->brings.end(), [&](const Companion& one) {
            return !one.person.empty() && one.person == companion.person;
          });
      if (old != before->brings.end()) {
        people.follow(companion.person, facts_of(*old, *before), facts_of(companion, now));
      } else {
        companion.person = people.new_id(companion.name);
        people.add(companion.person, facts_of(companion, now));
      }
    }
    const std::vector<std::string> still = people_of(now);
    for (const std::string& id : people_of(*before)) {
      if (std::find(still.begin(), still.end(), id) == still.end()) people.set(id, "answer", "no");
    }
  }
  put(change, state, now);
  put(change, people);
  return change;
}

Change sign_up_for_person(const BookState& state,
                          const std::string& person,
                          const std::string& new_id,
                          const std::string& who,
                          UnixTime at) {
  const Production& production = *state.production;
  const auto found = std::find_if(production.people.begin(),
                                  production.people.end(),
                                  [&](const Person& one) { return one.id == person; });
  if (found == production.people.end()) {
    throw WorldError("cannot make a link for " + person +
                     "; look at the people again: the production has nobody of that id");
  }
  SignUp sign_up;
  sign_up.id = new_id;
  sign_up.state = SignUpState::accepted;
  sign_up.person = person;
  sign_up.sent_at = at;
  sign_up.changed_at = at;
  sign_up.seen = true;
  sign_up.language = found->language;
  sign_up.name = shortened(found->shown(), kMostNameLength);
  sign_up.phone = found->phone;
  sign_up.email = found->email;
  sign_up.answer = found->answer;
  sign_up.free = found->free;
  sign_up.can = found->can;
  for (const std::string& like : found->likes) {
    // whom they like stays with the organiser: a page that friends see names nobody
    const bool somebody = std::any_of(production.people.begin(),
                                      production.people.end(),
                                      [&](const Person& one) { return one.id == like; });
    if (!somebody) sign_up.likes.push_back(like);
  }
  sign_up.no = found->no;
  sign_up.sizes = found->sizes;
  sign_up.food = shortened(found->food, kMostTextLength);
  sign_up.skin = shortened(found->skin, kMostTextLength);
  if (is_minor(*found, production) || found->guardian.valid()) {
    sign_up.adult = false;
    sign_up.born = found->born;
    if (found->guardian.valid()) {
      const Person& guardian = production.people[found->guardian];
      sign_up.guardian = shortened(guardian.shown(), kMostNameLength);
      sign_up.guardian_phone = guardian.phone;
    }
  }
  Change change = change_by(state, who, "made a link for a person", at);
  put(change, state, sign_up);
  return change;
}

Change give_notice(const BookState& state,
                   const SignUp& sign_up,
                   const Notice& notice,
                   UnixTime at) {
  Change change = change_by(
      state, sign_up.id, notice.cannot_come ? "cannot come on a day" : "will be late", at);
  SignUp now = sign_up;
  now.notices.push_back(notice);
  now.notices.back().at = at;
  now.changed_at = at;
  now.seen = false;
  PeoplePatch people(*state.production_document);
  if (notice.cannot_come) {
    const Production& production = *state.production;
    take_out_day(now.free, notice.day, production);
    for (const std::string& id : people_of(sign_up)) {
      for (const Person& person : production.people) {
        if (person.id != id) continue;
        auto free = person.free;
        take_out_day(free, notice.day, production);
        people.set(id, "free", write_free_times(*free));
      }
    }
  }
  put(change, state, now);
  put(change, people);
  return change;
}

}  // namespace gp
