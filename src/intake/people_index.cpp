#include "intake/people_index.h"

#include "intake/phone.h"
#include "intake/values.h"

#include <algorithm>

namespace gp {

std::string mail_key(const std::string& text) {
  std::string mail = trimmed(text);
  const std::size_t open = mail.rfind('<');
  const std::size_t close = mail.rfind('>');
  if (open != std::string::npos && close != std::string::npos && open < close) {
    mail = mail.substr(open + 1, close - open - 1);
  }
  for (char& c : mail) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + ('a' - 'A')) : c;
  return mail;
}

void PeopleIndex::add(PersonId id, const Person& person) {
  ids_.emplace(person.id, id);
  const auto put = [&](People& people) {
    if (people.size() < kMostOfOne && std::find(people.begin(), people.end(), id) == people.end()) {
      people.push_back(id);
    }
  };
  if (const std::string name = folding_.name(person.shown()); !name.empty()) put(names_[name]);
  if (const std::string mail = mail_key(person.email); !mail.empty()) put(mails_[mail]);
  if (const PhoneForm form = phone_form(person.phone); form.usable()) {
    put(phones_[form.national][form.country]);
  }
}

std::optional<PeopleIndex::Found> PeopleIndex::find(const Person& person) const {
  std::map<PersonId, Found> found;
  const auto note = [&](const People& people, bool Found::*what) {
    for (const PersonId id : people) {
      Found& one = found[id];
      one.person = id;
      one.*what = true;
    }
  };
  if (!person.id.empty()) {
    if (const auto id = ids_.find(person.id); id != ids_.end()) note({id->second}, &Found::id);
  }
  if (const auto name = names_.find(folding_.name(person.shown())); name != names_.end()) {
    note(name->second, &Found::name);
  }
  if (const auto mail = mails_.find(mail_key(person.email)); mail != mails_.end()) {
    note(mail->second, &Found::mail);
  }
  if (const PhoneForm form = phone_form(person.phone); form.usable()) {
    if (const auto phones = phones_.find(form.national); phones != phones_.end()) {
      for (const auto& [country, people] : phones->second) {
        if (same_phone(form, {country, form.national})) note(people, &Found::phone);
      }
    }
  }
  if (found.empty()) return std::nullopt;
  const auto weight = [](const Found& one) {
    return (one.id ? 8 : 0) + (one.mail ? 4 : 0) + (one.phone ? 3 : 0) + (one.name ? 4 : 0);
  };
  Found best = found.begin()->second;
  for (const auto& [id, one] : found) {
    if (weight(one) > weight(best)) best = one;
  }
  best.others = found.size() - 1;
  return best;
}

PersonId PeopleIndex::named(const std::string& text) const {
  if (const auto id = ids_.find(trimmed(text)); id != ids_.end()) return id->second;
  const auto name = names_.find(folding_.name(text));
  return name != names_.end() && name->second.size() == 1 ? name->second.front() : PersonId();
}

bool PeopleIndex::same_name(const std::string& a, const std::string& b) const {
  return folding_.name(a) == folding_.name(b);
}

}  // namespace gp
