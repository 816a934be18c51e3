#include "web/organiser/likes_field.h"

#include "web/likes.h"
#include "web/organiser/common.h"

#include <algorithm>
#include <memory>

namespace gp {
namespace {

Tags tags_at(const Document& entry, const char* key) {
  Tags tags;
  if (const auto list = entry.find(key); list != entry.end() && list->is_array()) {
    for (const Document& tag : *list) {
      if (tag.is_string()) tags.push_back(tag.get<std::string>());
    }
  }
  return tags;
}

bool contains(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

}  // namespace

FormField likes_field(Visit& visit, const Production& production, const Document& entry) {
  constexpr std::size_t kMost = 10'000;  // characters
  const Tags likes = tags_at(entry, "likes");
  const PersonId who = person_by_id(production, member_text(entry, "id")).value_or(PersonId());
  const auto words = std::make_shared<const LikeWords>(production);
  FormField field = text_field(visit, "person_form", "likes", Document::object(), kMost);
  field.was = field.value = words->lines(likes, who);
  field.put = [words, who, &visit](Document& into, const std::string& value) {
    const LikeNames::Read read = words->read(value, who);
    std::string wrong;
    for (const auto& [text, why] : read.bad) {
      wrong += (wrong.empty() ? "" : " ") +
               organiser_words(visit, "form.like", {{"what", text}, {"why", why}});
    }
    if (wrong.empty()) put_member(into, "likes", read.likes);
    return wrong;
  };
  return field;
}

void follow_likes(Document& sign_up,
                  const Production& production,
                  const Document& before,
                  const Document& after) {
  const Tags was = tags_at(before, "likes");
  const Tags is = tags_at(after, "likes");
  if (was == is) return;
  Tags ticked;
  for (const std::string& like : tags_at(sign_up, "likes")) {
    const bool taken_out = contains(was, like) && !contains(is, like);
    if (!taken_out) ticked.push_back(like);
  }
  for (const std::string& like : is) {
    if (contains(was, like) || contains(ticked, like)) continue;
    if (!person_by_id(production, like)) ticked.push_back(like);
  }
  put_member(sign_up, "likes", ticked);
}

}  // namespace gp
