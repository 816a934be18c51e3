#include "store/scrub.h"

#include "model/texts.h"
#include "store/documents.h"

#include <algorithm>
#include <array>
#include <iterator>

namespace gp {
namespace {

Document* list_at(Document& object, const char* key) {
  if (!object.is_object()) return nullptr;
  const auto found = object.find(key);
  return found != object.end() && found->is_array() ? &*found : nullptr;
}

/// The words of a name, so that "Quill, Ada" and "ada quill" are the same.
std::multiset<std::string> name_words(const std::string& name) {
  std::multiset<std::string> words;
  std::string id = id_of_name(name);
  while (!id.empty()) {
    const std::size_t end = std::min(id.find('-'), id.size());
    words.insert(id.substr(0, end));
    id.erase(0, end + 1);
  }
  return words;
}

}  // namespace

void Scrubber::note(const Document& value) {
  if (value.is_string()) note_text(value.get_ref<const std::string&>());
  if (!value.is_structured()) return;
  for (const Document& inner : value) note(inner);
}

bool Scrubber::take(Document& object, const char* key) {
  const auto found = object.find(key);
  if (found == object.end()) return false;
  note(*found);
  object.erase(key);
  return true;
}

void PrivateScrubber::scrub_all(Document& object,
                                const std::string& id,
                                std::initializer_list<const char*> keys) {
  for (const char* key : keys) {
    if (take(object, key)) touch(id);
  }
}

Document PrivateScrubber::scrub(const std::string& name, Document document) {
  if (name == kProductionDocument) {
    Document* const people = list_at(document, "people");
    if (people == nullptr) return document;
    for (Document& person : *people) {
      scrub_all(person, text_at(person, "id"), {"phone", "email", "food", "skin", "sizes", "born"});
    }
  } else if (!sign_up_id(name).empty() && document.is_object()) {
    const std::string person = text_at(document, "person");
    const std::string id = person.empty() ? std::string(sign_up_id(name)) : person;
    // notices hold dates and minutes; only their words are somebody's own
    scrub_all(document,
              id,
              {"phone",
               "email",
               "sizes",
               "food",
               "skin",
               "need_name",
               "need_phone",
               "born",
               "guardian",
               "guardian_phone",
               "may_be_filmed",
               "friends",
               "words"});
    // the consent's words are the organiser's text, not the person's: taken out, not searched for
    if (document.erase("consent_text") != 0) touch(id);
    if (Document* const notices = list_at(document, "notices")) {
      for (const Document& notice : *notices) note_text(text_at(notice, "words"));
      document.erase("notices");
      touch(id);
    }
    if (Document* const brings = list_at(document, "brings")) {
      for (Document& companion : *brings) {
        scrub_all(companion, id, {"born", "age", "skin", "food"});
      }
    }
  }
  return document;
}

std::string PersonScrubber::stand_in_for(const std::string& person) const {
  const auto place = std::distance(people_.begin(), people_.find(person));
  return place == 0 ? stand_in_ : stand_in_ + "-" + std::to_string(place + 1);
}

Document PersonScrubber::scrub(const std::string& name, Document document) {
  if (name == kProductionDocument) return scrub_production(std::move(document));
  const std::string id(sign_up_id(name));
  if (id.empty() || !document.is_object()) return document;
  if (sign_ups_.contains(id)) {
    document.erase("consent_text");  // the organiser's words
    for (const char* key : {"id",
                            "person",
                            "name",
                            "phone",
                            "email",
                            "food",
                            "skin",
                            "need_name",
                            "need_phone",
                            "guardian",
                            "guardian_phone",
                            "friends",
                            "words",
                            "born"}) {
      note_text(text_at(document, key));
    }
    if (const Document* notices = list_at(document, "notices")) {
      for (const Document& notice : *notices) note_text(text_at(notice, "words"));
    }
    if (const Document* brings = list_at(document, "brings")) {
      for (const Document& one : *brings) {
        for (const char* key : {"name", "skin", "food", "born"}) note_text(text_at(one, key));
        names_.insert(text_at(one, "name"));
      }
    }
    names_.insert(text_at(document, "name"));
    touch(id);
    return {};
  }
  // another who would like to be with them
  if (const std::string friends = text_at(document, "friends"); !friends.empty()) {
    const std::string others = without_them(friends);
    if (others != friends) document["friends"] = others;
    if (others.empty()) document.erase("friends");
  }
  // somebody whom another brings
  if (Document* const brings = list_at(document, "brings")) {
    for (auto one = brings->begin(); one != brings->end();) {
      if (!people_.contains(text_at(*one, "person"))) {
        ++one;
        continue;
      }
      names_.insert(text_at(*one, "name"));
      note(*one);
      one = brings->erase(one);
    }
    if (brings->empty()) document.erase("brings");
  }
  return document;
}

std::string PersonScrubber::without_them(const std::string& list) {
  std::set<std::multiset<std::string>> theirs;
  for (const auto* called : {&names_, &people_}) {
    for (const std::string& one : *called) theirs.insert(name_words(one));
  }
  theirs.erase(std::multiset<std::string>());
  // what is left of the pieces between signs
  const auto rest_of = [](const std::string& text, const char* signs, const auto& keep) {
    std::string rest;
    for (std::size_t from = 0; from <= text.size();) {
      const std::size_t end = std::min(text.find_first_of(signs, from), text.size());
      const std::string kept = keep(text.substr(from, end - from));
      if (!kept.empty()) rest += (rest.empty() ? "" : text.substr(from - 1, 1)) + kept;
      from = end + 1;
    }
    return rest;
  };
  const auto unless_theirs = [&](const std::string& name) {
    if (!theirs.contains(name_words(name))) return name;
    note_text(name.substr(name.find_first_not_of(' ')));
    return std::string();
  };
  return rest_of(list, ";\n", [&](const std::string& line) {
    return rest_of(unless_theirs(line), ",", unless_theirs);
  });
}

void PersonScrubber::rename(Document& value, bool names_people, std::set<std::string>& found) {
  if (value.is_string()) {
    const auto& text = value.get_ref<const std::string&>();
    if (!names_people || !people_.contains(text)) return;
    found.insert(text);
    value = stand_in_for(text);
  } else if (value.is_array()) {
    for (Document& inner : value) rename(inner, names_people, found);
  } else if (value.is_object()) {
    static constexpr std::array<std::string_view, 5> kKeys = {
        "person", "guardian", "lent_by", "from", "staff"};
    for (auto& [key, inner] : value.items()) {
      if (key == "likes" && inner.is_array()) {  // a wish to be with them needs no stand-in
        std::erase_if(inner.get_ref<Document::array_t&>(), [&](const Document& like) {
          return like.is_string() && people_.contains(like.get_ref<const std::string&>());
        });
        continue;
      }
      rename(inner, std::find(kKeys.begin(), kKeys.end(), key) != kKeys.end(), found);
    }
  }
}

Document PersonScrubber::scrub_production(Document document) {
  std::set<std::string> named;
  rename(document, false, named);
  Document* const people = list_at(document, "people");
  if (people == nullptr) return document;
  for (auto person = people->begin(); person != people->end();) {
    const std::string id = text_at(*person, "id");
    if (!people_.contains(id)) {
      ++person;
      continue;
    }
    touch(id);
    note_text(id);
    names_.insert(text_at(*person, "name"));
    for (const char* key : {"name", "phone", "email", "food", "skin", "born"}) {
      note_text(text_at(*person, key));
    }
    if (named.contains(id)) {
      *person = Document{{"id", stand_in_for(id)}, {"answer", "no"}};
      ++person;
    } else {
      person = people->erase(person);
    }
  }
  return document;
}

void PersonScrubber::replace_everywhere(Document& value) {
  if (value.is_structured()) {
    for (Document& inner : value) replace_everywhere(inner);
    return;
  }
  if (!value.is_string()) return;
  const auto& text = value.get_ref<const std::string&>();
  if (people_.contains(text)) {
    value = stand_in_for(text);
    return;
  }
  std::string changed = text;
  const auto replace = [&](const std::string& wanted, const std::string& by) {
    if (wanted.size() < 2) return;
    for (std::size_t at = changed.find(wanted); at != std::string::npos;
         at = changed.find(wanted, at + by.size())) {
      changed.replace(at, wanted.size(), by);
    }
  };
  for (const std::string& name : names_) replace(name, "somebody");
  for (const std::string& id : people_) replace("\"" + id + "\"", "\"" + stand_in_for(id) + "\"");
  if (changed != text) value = changed;
}

Document PersonScrubber::scrub_plan(Document plan) {
  replace_everywhere(plan);
  return plan;
}

}  // namespace gp
