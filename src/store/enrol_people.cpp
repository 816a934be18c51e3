#include "store/enrol_people.h"

#include "model/texts.h"
#include "store/documents.h"
#include "store/json_patch.h"
#include "time/clock.h"

#include <algorithm>

namespace gp {
namespace {

Document text_or_null(const std::string& text) {
  return text.empty() ? Document() : Document(text);
}

Document words_or_null(const Tags& tags) {
  return tags.empty() ? Document() : Document(tags);
}

Document answer_or_null(Answer answer) {
  return answer == Answer::yes ? Document() : Document(name_of(answer));  // not given: yes
}

Document born_or_null(const std::optional<Date>& born) {
  return born ? Document(format(*born)) : Document();
}

}  // namespace

Facts facts_of(const SignUp& sign_up) {
  Document sizes;
  for (const auto& [name, size] : sign_up.sizes) sizes[name] = size;
  return {{"name", text_or_null(sign_up.name)},
          {"phone", text_or_null(sign_up.phone)},
          {"email", text_or_null(sign_up.email)},
          {"language", text_or_null(sign_up.language)},
          {"free", sign_up.free ? write_free_times(*sign_up.free) : Document()},
          {"can", words_or_null(sign_up.can)},
          {"no", words_or_null(sign_up.no)},
          {"born", sign_up.adult ? Document() : born_or_null(sign_up.born)},
          {"sizes", sizes},
          {"food", text_or_null(sign_up.food)},
          {"skin", text_or_null(sign_up.skin)},
          {"answer", answer_or_null(sign_up.answer)}};
}

Facts facts_of(const Companion& companion, const SignUp& signer) {
  return {{"name", text_or_null(companion.name)},
          {"language", text_or_null(signer.language)},
          {"free", signer.free ? write_free_times(*signer.free) : Document()},
          {"born", born_or_null(companion.born)},
          {"guardian", companion.child ? text_or_null(signer.person) : Document()},
          {"food", text_or_null(companion.food)},
          {"skin", text_or_null(companion.skin)},
          {"answer", answer_or_null(signer.answer)}};
}

PeoplePatch::PeoplePatch(const Document& production) : people_(nullptr) {
  const auto found = production.find("people");
  if (found == production.end() || !found->is_array()) return;
  people_ = &*found;
  list_made_ = true;
  for (const Document& person : *people_) {
    const auto id = person.find("id");
    if (id != person.end() && id->is_string()) taken_.insert(id->get<std::string>());
  }
}

std::size_t PeoplePatch::place_of(const std::string& id) const {
  if (people_ == nullptr) return 0;
  std::size_t place = 0;
  for (const Document& person : *people_) {
    if (const auto own = person.find("id"); own != person.end() && *own == id) break;
    ++place;
  }
  return place;
}

bool PeoplePatch::has(const std::string& id) const {
  return people_ != nullptr && place_of(id) < people_->size();
}

std::string PeoplePatch::new_id(const std::string& name) {
  std::string wanted = id_of_name(name);
  if (wanted.empty()) wanted = "person";
  std::string id = wanted;
  for (int number = 2; !taken_.insert(id).second; ++number) {
    id = wanted + "-" + std::to_string(number);
  }
  return id;
}

void PeoplePatch::add(const std::string& id, const Facts& facts) {
  if (!list_made_) {
    patch_.push_back(Document{{"op", "add"}, {"path", "/people"}, {"value", Document::array()}});
    list_made_ = true;
  }
  Document person = Document::object();
  person["id"] = id;
  for (const auto& [key, value] : facts) {
    if (!value.is_null()) person[key] = value;
  }
  patch_.push_back(Document{{"op", "add"}, {"path", "/people/-"}, {"value", std::move(person)}});
}

void PeoplePatch::bring_up_to_date(const std::string& id, const Facts& facts) {
  for (const auto& [key, value] : facts) {
    // "yes" and "all days" are said by leaving them out
    if (!value.is_null() || key == "answer" || key == "free") set(id, key, value);
  }
}

void PeoplePatch::follow(const std::string& id, const Facts& before, const Facts& now) {
  for (const auto& [key, value] : now) {
    const auto old = std::find_if(before.begin(), before.end(), [&, name = key](const auto& fact) {
      return fact.first == name;
    });
    if (old == before.end() || !same_json(old->second, value)) set(id, key, value);
  }
}

void PeoplePatch::set(const std::string& id, const std::string& key, const Document& value) {
  if (!has(id)) return;
  const std::size_t place = place_of(id);
  const Document& person = (*people_)[place];
  const std::string path = "/people/" + std::to_string(place) + "/" + pointer_piece(key);
  const auto there = person.find(key);
  if (value.is_null()) {
    if (there != person.end()) patch_.push_back(Document{{"op", "remove"}, {"path", path}});
  } else if (there == person.end() || !same_json(*there, value)) {
    patch_.push_back(Document{{"op", "add"}, {"path", path}, {"value", value}});
  }
}

}  // namespace gp
