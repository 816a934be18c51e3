#include "store/json_diff.h"

#include "store/json_patch.h"

#include <algorithm>
#include <array>
#include <unordered_map>
#include <unordered_set>

namespace gp {
namespace {

class Differ {
 public:
  void compare(const std::string& path, const Document& before, const Document& after) {
    if (before.is_object() && after.is_object()) {
      objects(path, before, after);
    } else if (before.is_array() && after.is_array()) {
      if (same_json(before, after)) return;
      if (const auto key = ListKey::for_lists({&before, &after})) {
        keyed(path, before, after, *key);
      } else {
        plain(path, before, after);
      }
    } else if (!same_json(before, after)) {
      tell("replace", path, after);
    }
  }
  Document take() { return std::move(patch_); }

 private:
  void tell(const char* name, const std::string& path) {
    patch_.push_back(Document{{"op", name}, {"path", path}});
  }
  void tell(const char* name, const std::string& path, const Document& value) {
    tell(name, path);
    patch_.back()["value"] = value;
  }

  void objects(const std::string& path, const Document& before, const Document& after) {
    for (const auto& [key, value] : before.items()) {
      const std::string inner = path + "/" + pointer_piece(key);
      if (const auto found = after.find(key); found == after.end()) {
        tell("remove", inner);
      } else {
        compare(inner, value, *found);
      }
    }
    for (const auto& [key, value] : after.items()) {
      if (!before.contains(key)) tell("add", path + "/" + pointer_piece(key), value);
    }
  }

  void keyed(const std::string& path,
             const Document& before,
             const Document& after,
             const ListKey& key) {
    std::unordered_set<std::string> stays;
    for (const Document& entry : after) stays.insert(key.of(entry));
    std::vector<const Document*> working;  // the list as the patch so far leaves it
    for (const Document& entry : before) working.push_back(&entry);
    for (std::size_t i = working.size(); i-- > 0;) {
      if (stays.contains(key.of(*working[i]))) continue;
      tell("remove", path + "/" + std::to_string(i));
      working.erase(working.begin() + static_cast<std::ptrdiff_t>(i));
    }
    std::unordered_map<std::string, const Document*> left;
    for (const Document* entry : working) left.emplace(key.of(*entry), entry);
    for (std::size_t i = 0; i < after.size(); ++i) {
      const Document& entry = after[i];
      const std::string inner = path + "/" + std::to_string(i);
      const auto here = working.begin() + static_cast<std::ptrdiff_t>(i);
      const auto known = left.find(key.of(entry));
      if (known == left.end()) {
        tell("add", inner, entry);
        working.insert(here, &entry);
        continue;
      }
      if (*here != known->second) {
        const auto from = std::find(here, working.end(), known->second);
        const auto number = std::to_string(from - working.begin());
        patch_.push_back(Document{{"op", "move"}, {"from", path + "/" + number}, {"path", inner}});
        std::rotate(here, from, from + 1);
      }
      compare(inner, *known->second, entry);
    }
  }

  /// Entries told apart by their place: what is the same at both ends stays.
  void plain(const std::string& path, const Document& before, const Document& after) {
    const std::size_t shorter = std::min(before.size(), after.size());
    std::size_t front = 0;
    while (front < shorter && same_json(before[front], after[front])) ++front;
    std::size_t back = 0;
    while (back < shorter - front &&
           same_json(before[before.size() - 1 - back], after[after.size() - 1 - back])) {
      ++back;
    }
    const std::size_t common = shorter - back;
    for (std::size_t i = front; i < common; ++i) {
      compare(path + "/" + std::to_string(i), before[i], after[i]);
    }
    for (std::size_t i = before.size() - back; i-- > common;) {
      tell("remove", path + "/" + std::to_string(i));
    }
    for (std::size_t i = common; i < after.size() - back; ++i) {
      tell("add", path + "/" + std::to_string(i), after[i]);
    }
  }

  Document patch_ = Document::array();
};

}  // namespace

std::optional<ListKey> ListKey::for_lists(const std::vector<const Document*>& lists) {
  // of the production's lists: people, roles, scenes …; days; cast; props; crew; meals
  static constexpr std::array<const char*, 7> kMembers = {
      "", "id", "date", "role", "item", "job", "name"};
  for (const char* member : kMembers) {
    const ListKey key{member};
    if (std::all_of(
            lists.begin(), lists.end(), [&](const Document* list) { return key.serves(*list); })) {
      return key;
    }
  }
  return std::nullopt;
}

const std::string& ListKey::of(const Document& entry) const {
  return words() ? entry.get_ref<const std::string&>()
                 : entry.find(member_)->get_ref<const std::string&>();
}

bool ListKey::serves(const Document& list) const {
  std::unordered_set<std::string> seen;
  for (const Document& entry : list) {
    if (words()) {
      if (!entry.is_string()) return false;
    } else {
      if (!entry.is_object()) return false;
      const auto found = entry.find(member_);
      if (found == entry.end() || !found->is_string()) return false;
    }
    if (!seen.insert(of(entry)).second) return false;
  }
  return true;
}

Document difference(const Document& before, const Document& after) {
  Differ differ;
  differ.compare("", before, after);
  return differ.take();
}

}  // namespace gp
