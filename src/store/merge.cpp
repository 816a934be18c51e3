#include "store/merge.h"

#include "base/json.h"
#include "store/json_diff.h"
#include "store/json_patch.h"

#include <algorithm>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>

namespace gp {
namespace {

/// The three sides of one place; null: nothing there.
struct Sides {
  const Document* before;
  const Document* theirs;
  const Document* mine;
};

bool same(const Document* a, const Document* b) {
  if (a == nullptr || b == nullptr) return a == b;
  return same_json(*a, *b);
}

const Document* member(const Document* object, const std::string& key) {
  if (object == nullptr || !object->is_object()) return nullptr;
  const auto found = object->find(key);
  return found == object->end() ? nullptr : &*found;
}

using Index = std::unordered_map<std::string, const Document*>;

Index index_of(const Document& list, const ListKey& key) {
  Index index;
  for (const Document& entry : list) index.emplace(key.of(entry), &entry);
  return index;
}

const Document* entry_of(const Index& index, const std::string& key) {
  const auto found = index.find(key);
  return found == index.end() ? nullptr : found->second;
}

using Keys = std::vector<std::string>;

/// The keys of a list that are also in the other, in order.
Keys keys_in(const Document& list, const ListKey& key, const Index& other) {
  Keys keys;
  for (const Document& entry : list) {
    if (other.contains(key.of(entry))) keys.push_back(key.of(entry));
  }
  return keys;
}

class Merger {
 public:
  /// None: the value is not there in the end.
  std::optional<Document> merge(const std::string& path, const Sides& sides) {
    if (same(sides.theirs, sides.mine) || same(sides.before, sides.mine)) {
      return copied(sides.theirs);
    }
    if (same(sides.before, sides.theirs)) return copied(sides.mine);
    if (sides.theirs != nullptr && sides.mine != nullptr) {
      if (sides.theirs->is_object() && sides.mine->is_object()) return objects(path, sides);
      if (sides.theirs->is_array() && sides.mine->is_array()) {
        if (auto list = lists(path, sides)) return list;
      }
    }
    return collide(path, sides);
  }
  std::vector<MergeCollision> take() { return std::move(collisions_); }

 private:
  static std::optional<Document> copied(const Document* value) {
    return value == nullptr ? std::nullopt : std::make_optional(*value);
  }
  static Document shown(const Document* value) { return value == nullptr ? Document() : *value; }

  std::optional<Document> collide(const std::string& path, const Sides& sides) {
    collisions_.push_back({path, shown(sides.before), shown(sides.theirs), shown(sides.mine)});
    return copied(sides.theirs);
  }

  Document objects(const std::string& path, const Sides& sides) {
    Document result = Document::object();
    const auto one = [&](const std::string& key) {
      auto value =
          merge(path_to_key(path, key),
                {member(sides.before, key), member(sides.theirs, key), member(sides.mine, key)});
      if (value) result[key] = std::move(*value);
    };
    for (const auto& [key, value] : sides.theirs->items()) one(key);
    for (const auto& [key, value] : sides.mine->items()) {
      if (!sides.theirs->contains(key)) one(key);
    }
    return result;
  }

  /// None: the entries cannot be told apart, or were put in order by both sides.
  std::optional<Document> lists(const std::string& path, const Sides& sides) {
    static const Document kNone = Document::array();
    const Document& before =
        sides.before != nullptr && sides.before->is_array() ? *sides.before : kNone;
    const auto key = ListKey::for_lists({&before, sides.theirs, sides.mine});
    if (!key) return std::nullopt;
    const Index was = index_of(before, *key);
    const Index theirs = index_of(*sides.theirs, *key);
    const Index mine = index_of(*sides.mine, *key);
    if (key->words() && same_word_replaced(was, theirs, mine)) return std::nullopt;
    const auto order = order_of(before, *sides.theirs, *sides.mine, *key, {was, theirs, mine});
    if (!order) return std::nullopt;
    Document result = Document::array();
    for (const std::string& name : *order) {
      auto value = merge(path + "[" + name + "]",
                         {entry_of(was, name), entry_of(theirs, name), entry_of(mine, name)});
      if (value) result.push_back(std::move(*value));
    }
    return result;
  }

  /// Both sides put another word in the place of the same one: "09:00-13:00" became "10:00-13:00"
  /// here and "09:00-12:00" there. As a set that would be two words where each side wants one.
  static bool same_word_replaced(const Index& was, const Index& theirs, const Index& mine) {
    const bool removed_by_both = std::any_of(was.begin(), was.end(), [&](const auto& entry) {
      return !theirs.contains(entry.first) && !mine.contains(entry.first);
    });
    const auto added = [&](const Index& side, const Index& other) {
      return std::any_of(side.begin(), side.end(), [&](const auto& entry) {
        return !was.contains(entry.first) && !other.contains(entry.first);
      });
    };
    return removed_by_both && added(theirs, mine) && added(mine, theirs);
  }

  struct Indices {
    const Index& was;
    const Index& theirs;
    const Index& mine;
  };

  /// All keys of both sides: in the order of the side that changed the order, each entry of the
  /// other behind the one it follows there. None: both changed it, differently.
  static std::optional<Keys> order_of(const Document& before,
                                      const Document& theirs,
                                      const Document& mine,
                                      const ListKey& key,
                                      const Indices& index) {
    const bool mine_moved = keys_in(before, key, index.mine) != keys_in(mine, key, index.was);
    const bool theirs_moved = keys_in(before, key, index.theirs) != keys_in(theirs, key, index.was);
    if (mine_moved && theirs_moved &&
        keys_in(mine, key, index.theirs) != keys_in(theirs, key, index.mine)) {
      return std::nullopt;
    }
    const Document& first = mine_moved ? mine : theirs;
    const Document& second = mine_moved ? theirs : mine;
    const Index& known = mine_moved ? index.mine : index.theirs;
    std::map<std::string, Keys> behind;
    Keys at_front;
    Keys* place = &at_front;
    for (const Document& entry : second) {
      const std::string& name = key.of(entry);
      if (known.contains(name)) {
        place = &behind[name];
      } else {
        place->push_back(name);
      }
    }
    Keys order = at_front;
    for (const Document& entry : first) {
      const std::string& name = key.of(entry);
      order.push_back(name);
      if (const auto found = behind.find(name); found != behind.end()) {
        order.insert(order.end(), found->second.begin(), found->second.end());
      }
    }
    return order;
  }

  std::vector<MergeCollision> collisions_;
};

const Document* there(const Document& document) {
  return document.is_null() ? nullptr : &document;
}

}  // namespace

Merged merge(const Document& before, const Document& theirs, const Document& mine) {
  Merger merger;
  auto value = merger.merge("", {there(before), there(theirs), there(mine)});
  return {value ? std::move(*value) : Document(), merger.take()};
}

}  // namespace gp
