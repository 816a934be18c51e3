#include "web/organiser/likes_field.h"

#include "model/tags.h"
#include "store/documents.h"
#include "web/likes.h"
#include "web/organiser/common.h"

#include <memory>

namespace gp {
FormField likes_field(Visit& visit, const Production& production, const Document& entry) {
  constexpr std::size_t kMost = 10'000;  // characters
  const Tags likes = words_at(entry, "likes");
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
  const Tags was = words_at(before, "likes");
  const Tags is = words_at(after, "likes");
  if (was == is) return;
  Tags ticked;
  for (const std::string& like : words_at(sign_up, "likes")) {
    const bool taken_out = has(was, like) && !has(is, like);
    if (!taken_out) ticked.push_back(like);
  }
  for (const std::string& like : is) {
    if (has(was, like) || has(ticked, like)) continue;
    if (!person_by_id(production, like)) ticked.push_back(like);
  }
  put_member(sign_up, "likes", ticked);
}

}  // namespace gp
