#include "intake/like_names.h"

#include "intake/values.h"

#include <algorithm>

namespace gp {

LikeNames::LikeNames(const Production& production, const PeopleIndex& people) : people_(people) {
  for (const Role& role : production.roles) {
    add(role.id, role.id);
    add(role.id, role.name);
  }
  for (const std::string& job : production.jobs()) add(job, job);
}

void LikeNames::add(const std::string& like, const std::string& name) {
  exact_.insert(like);
  if (const std::string folded = folding_.words(name); !folded.empty()) named_[folded].insert(like);
}

LikeNames::Meant LikeNames::meant(const Production& production,
                                  const std::string& text,
                                  PersonId who) const {
  if (exact_.contains(text)) return {text, ""};
  const PersonId person = people_.named(text);
  if (person.valid() && person != who && production.people[person].id == text) return {text, ""};
  std::set<std::string> found;
  if (const auto named = named_.find(folding_.words(text)); named != named_.end()) {
    found = named->second;
  }
  if (person.valid() && person != who) found.insert(production.people[person].id);
  if (found.size() == 1) return {*found.begin(), ""};
  if (found.empty() && person.valid()) return {"", "they themselves are called so"};
  if (found.empty()) {
    return {"", "no part, no job and nobody, or not one person alone, is called so"};
  }
  std::string all;
  for (const std::string& one : found) all += (all.empty() ? "" : ", ") + one;
  return {"", "it could be " + all};
}

LikeNames::Read LikeNames::read(const Production& production,
                                std::string_view cell,
                                PersonId who) const {
  Read out;
  const auto take = [&](const std::string& text, const Meant& found) {
    if (found.like.empty()) {
      out.bad.emplace_back(text, found.why_not);
    } else if (std::find(out.likes.begin(), out.likes.end(), found.like) == out.likes.end()) {
      out.likes.push_back(found.like);
    }
  };
  for (const ListPart& part : list_parts(cell)) {
    const Meant whole = meant(production, part.whole, who);
    if (!whole.like.empty() || part.words.size() < 2) {
      take(part.whole, whole);
      continue;
    }
    for (const std::string& word : part.words) take(word, meant(production, word, who));
  }
  return out;
}

}  // namespace gp
