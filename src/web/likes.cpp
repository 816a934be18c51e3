#include "web/likes.h"

#include "intake/values.h"
#include "model/limits.h"
#include "model/tags.h"
#include "store/change_work.h"
#include "store/documents.h"
#include "store/json_diff.h"
#include "store/json_patch.h"

#include <algorithm>
#include <optional>
#include <set>
#include <utility>

namespace gp {
namespace {

void fill(PeopleIndex& index, const Production& production) {
  for (const PersonId id : production.people.ids()) index.add(id, production.people[id]);
}

/// Calls `take` with each entry of a list.
template <class Take>
void each(const Document& object, const char* key, Take take) {
  if (!object.is_object()) return;
  const auto list = object.find(key);
  if (list == object.end() || !list->is_array()) return;
  for (const Document& entry : *list) take(entry);
}

Production people_of(const Document& production) {
  Production people;
  each(production, "people", [&](const Document& entry) {
    Person person;
    person.id = text_at(entry, "id");
    person.name = text_at(entry, "name");
    people.people.add(std::move(person));
  });
  return people;
}

/// Ids of parts, and jobs, as Production has them.
std::set<std::string> things_to_do(const Document& production) {
  std::set<std::string> things;
  each(production, "roles", [&](const Document& role) { things.insert(text_at(role, "id")); });
  for (const char* const list : {"units", "scenes"}) {
    each(production, list, [&](const Document& entry) {
      each(entry, "crew", [&](const Document& call) { things.insert(text_at(call, "job")); });
    });
  }
  return things;
}

/// A sign-up before and after a change.
struct BeforeAfter {
  std::shared_ptr<const SignUp> before, after;  ///< before: null where it is new
  [[nodiscard]] bool changed() const { return before != after; }
  /// What a person has of it already: nothing before there is one.
  [[nodiscard]] bool counted() const { return before != nullptr && !before->person.empty(); }
};

/// The sign-ups of people, as they are after the change. None: the change is none that applies.
std::optional<std::vector<BeforeAfter>> answers_after(const BookState& state,
                                                      const Change& change) {
  std::vector<BeforeAfter> all;
  for (const auto& sign_up : state.sign_ups) all.push_back({sign_up, sign_up});
  for (const Edit& edit : change.edits) {
    const std::string id(sign_up_id(edit.document));
    if (id.empty()) continue;
    auto read = read_sign_up(patched(document_of(state, edit.document), edit.patch));
    if (std::holds_alternative<std::vector<Fault>>(read)) return std::nullopt;
    auto after = std::make_shared<const SignUp>(std::get<SignUp>(std::move(read)));
    const auto at = std::find_if(all.begin(), all.end(), [&](const BeforeAfter& one) {
      return one.before != nullptr && one.before->id == id;
    });
    if (at != all.end()) {
      at->after = std::move(after);
    } else {
      all.push_back({nullptr, std::move(after)});
    }
  }
  std::erase_if(all, [](const BeforeAfter& one) { return one.after->person.empty(); });
  return all;
}

/// Works on the production as it is after a change.
class LikesAfter {
 public:
  LikesAfter(const Document& before, Document& after) : before_(before), after_(after) {
    to_do_ = things_to_do(after);
    each(after, "people", [&](const Document& person) { people_.insert(text_at(person, "id")); });
  }

  [[nodiscard]] bool changed() const { return changed_; }

  void follow(const std::vector<BeforeAfter>& answers) {
    const bool named = std::any_of(answers.begin(), answers.end(), [](const BeforeAfter& one) {
      return !one.after->friends.empty() || (one.counted() && !one.before->friends.empty());
    });
    if (named) {
      names_before_.emplace(before_);
      names_after_.emplace(after_);
    }
    for (const BeforeAfter& one : answers) follow(one);
  }

  /// Likes that name nothing any more.
  void take_out_dead() {
    each_person([&](Document& person, const std::string& id, const Tags& likes) {
      Tags alive;
      for (const std::string& like : likes) {
        if (to_do_.contains(like) || (people_.contains(like) && like != id)) alive.push_back(like);
      }
      put(person, likes, std::move(alive));
    });
  }

 private:
  template <class Work>
  void each_person(Work work) {
    if (people_.empty()) return;
    for (Document& person : after_["people"]) {
      work(person, text_at(person, "id"), words_at(person, "likes"));
    }
  }

  void put(Document& person, const Tags& before, Tags after) {
    if (after.size() > limits::kEntries) after.resize(limits::kEntries);
    if (after == before) return;
    changed_ = true;
    if (after.empty()) {
      person.erase("likes");
    } else {
      person["likes"] = std::move(after);
    }
  }

  void follow(const BeforeAfter& answers) {
    Tags gone;
    Tags come;
    if (answers.changed()) {
      const Tags& ticked = answers.after->likes;
      for (const std::string& like : ticked) {
        if (to_do_.contains(like)) come.push_back(like);
      }
      if (answers.counted()) {
        for (const std::string& like : answers.before->likes) {
          if (!has(ticked, like)) gone.push_back(like);
        }
      }
    }
    if (names_after_) follow_names(answers, gone, come);
    if (gone.empty() && come.empty()) return;
    each_person([&](Document& person, const std::string& id, const Tags& likes) {
      if (id != answers.after->person) return;
      Tags now;
      for (const std::string& like : likes) {
        if (!has(gone, like)) now.push_back(like);
      }
      for (const std::string& like : come) {
        if (!has(now, like)) now.push_back(like);
      }
      put(person, likes, std::move(now));
    });
  }

  void follow_names(const BeforeAfter& answers, Tags& gone, Tags& come) const {
    const std::string& person = answers.after->person;
    const Tags before =
        answers.counted() ? names_before_->read(answers.before->friends, person).people : Tags();
    const Tags after = names_after_->read(answers.after->friends, person).people;
    for (const std::string& id : after) {
      if (!has(before, id)) come.push_back(id);
    }
    // a name that two have from now on still means whom it meant
    if (answers.counted() && answers.before->friends == answers.after->friends) return;
    for (const std::string& id : before) {
      if (!has(after, id)) gone.push_back(id);
    }
  }

  const Document& before_;
  Document& after_;
  std::set<std::string> to_do_, people_;
  std::optional<FriendNames> names_before_, names_after_;
  bool changed_ = false;
};

}  // namespace

LikeWords::LikeWords(const Production& production)
    : production_(production), names_(production, index_) {
  fill(index_, production);
}

std::string LikeWords::name_of(const std::string& like) const {
  for (const Role& role : production_.roles) {
    if (role.id == like) return role.shown();
  }
  for (const Person& person : production_.people) {
    if (person.id == like) return person.shown();
  }
  return like;
}

std::vector<std::string> LikeWords::shown(const Tags& likes) const {
  std::vector<std::string> names;
  for (const std::string& like : likes) names.push_back(name_of(like));
  return names;
}

std::string LikeWords::lines(const Tags& likes, PersonId who) const {
  std::string text;
  for (const std::string& like : likes) {
    std::string line = listed_words({like});
    // signs that part a list are left alone where the name can be read without marking them
    for (const std::string& name : {name_of(like), listed_words({name_of(like)})}) {
      const LikeNames::Read back = read(name, who);
      if (!back.bad.empty() || back.likes != Tags{like}) continue;
      line = name;
      break;
    }
    text += (text.empty() ? "" : "\n") + line;
  }
  return text;
}

LikeNames::Read LikeWords::read(const std::string& text, PersonId who) const {
  return names_.read(production_, text, who);
}

FriendNames::FriendNames(const Document& production)
    : people_(people_of(production)), names_(index_) {
  fill(index_, people_);
}

FriendNames::Named FriendNames::read(const std::string& friends, const std::string& person) const {
  const PersonId who = index_.has_id(person) ? index_.named(person) : PersonId();
  LikeNames::Read read = names_.read(people_, friends, who);
  Named named;
  named.people = std::move(read.likes);
  for (auto& [text, why] : read.bad) named.unclear.push_back(std::move(text));
  return named;
}

Change with_likes(const BookState& state, Change change) {
  const auto of_production =
      std::find_if(change.edits.begin(), change.edits.end(), [](const Edit& edit) {
        return edit.document == kProductionDocument;
      });
  try {
    const auto answers = answers_after(state, change);
    if (!answers) return change;  // the book tells what is wrong with it
    const Document& before = *state.production_document;
    Document after =
        of_production == change.edits.end() ? before : patched(before, of_production->patch);
    LikesAfter likes(before, after);
    likes.follow(*answers);
    likes.take_out_dead();
    if (!likes.changed()) return change;
    Document patch = difference(before, after);
    if (of_production == change.edits.end()) {
      change.edits.push_back({kProductionDocument, std::move(patch)});
    } else {
      of_production->patch = std::move(patch);
    }
  } catch (const PatchError&) {
    return change;  // the book tells
  }
  return change;
}

}  // namespace gp
