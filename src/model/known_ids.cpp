#include "model/known_ids.h"

#include "base/utf8.h"
#include "model/limits.h"

namespace gp {
namespace {

bool may_stand_in_id(char32_t c) {
  if (c < 0x80) {
    return (c >= U'a' && c <= U'z') || (c >= U'A' && c <= U'Z') || (c >= U'0' && c <= U'9') ||
           c == U'-' || c == U'_';
  }
  if (c < 0xC0) return c == 0xAA || c == 0xB5 || c == 0xB7 || c == 0xBA;  // ª µ · º
  if (c == 0xD7 || c == 0xF7) return false;                               // × ÷
  if (c == 0x200C || c == 0x200D) return true;                            // joiners
  const bool punctuation = c == 0x1680 || (c >= 0x2000 && c <= 0x206F) ||
                           (c >= 0x3000 && c <= 0x3003) || (c >= 0x3008 && c <= 0x3011) ||
                           c == 0xFEFF || (c >= 0xFFF0 && c <= 0xFFFF);
  return !punctuation;
}

}  // namespace

bool is_id(std::string_view text) {
  std::size_t count = 0;
  for (std::size_t at = 0; at < text.size(); ++count) {
    const CodePoint point = decode_utf8(text, at);
    if (point.bytes == 0 || count >= limits::kIdCharacters || !may_stand_in_id(point.value)) {
      return false;
    }
    at += point.bytes;
  }
  return count > 0;
}

void KnownIds::collect(FaultList& faults, const Json& root) {
  const Json* const list = root.find(list_);
  if (list == nullptr) return;
  if (!list->is(JsonKind::list)) {
    unreadable_ = true;
    return;
  }
  std::size_t index = 0;
  for (const Json& entry : list->items()) {
    if (index >= limits::kEntries) {  // told when the list is read
      unreadable_ = true;
      return;
    }
    const Json* const id = entry.is(JsonKind::object) ? entry.find("id") : nullptr;
    const bool readable = id != nullptr && id->is(JsonKind::text);
    unreadable_ = unreadable_ || !readable;
    names_.push_back(readable ? id->text() : std::string());
    if (readable) {
      const auto [first, fresh] = index_.emplace(id->text(), index);
      if (!fresh) {
        faults.add(id->at(),
                   path_to_item(list_, index) + ".id",
                   "the id " + quoted(id->text()) + " a second time",
                   "an id of its own (" + path_to_item(list_, first->second) + " has this one)");
      }
    }
    ++index;
  }
}

void KnownIds::add(const std::string& id) {
  index_.emplace(id, names_.size());
  names_.push_back(id);
}

std::optional<std::size_t> KnownIds::find(std::string_view id) const {
  const auto found = index_.find(id);
  if (found == index_.end()) return std::nullopt;
  return found->second;
}

}  // namespace gp
