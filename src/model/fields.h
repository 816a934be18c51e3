#pragma once

#include "base/ids.h"
#include "base/json.h"
#include "base/minutes.h"
#include "base/spans.h"
#include "model/fault_list.h"
#include "model/known_ids.h"
#include "model/production.h"

#include <cstddef>
#include <initializer_list>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace gp {

/// What a text may hold. All: no control characters. `name`: one line, at most 200 characters.
/// `note`: may have several lines, at most 2000. `tag`: one line, 1 to 64, no blank at either end.
enum class TextKind { name, note, tag };

/// One object of the file while it is read. Each asking function looks for one key, checks what
/// stands there and stores it; where the key is not given the default stays, and where it is wrong
/// a fault is noted and the default stays too. The keys asked for are the keys there are: finish()
/// tells every other one.
class Fields {
 public:
  /// \param what  this kind of object with its article, for messages: "a scene"
  Fields(FaultList& faults, const Json& json, std::string path, std::string_view what);

  [[nodiscard]] bool has(std::string_view key);
  void text(std::string_view key, std::string& out, TextKind kind);
  void required_text(std::string_view key, std::string& out, TextKind kind);
  /// The entry's own id.
  void id(std::string& out);
  void language(std::string_view key, std::string& out);
  void truth(std::string_view key, bool& out);
  void whole(std::string_view key, int& out, int least, int most);
  void whole(std::string_view key, std::optional<int>& out, int least, int most);
  void length(std::string_view key, Minutes& out, int least = 0);
  void length(std::string_view key, std::optional<Minutes>& out, int least);
  void required_length(std::string_view key, Minutes& out, int least);
  void thousandths(std::string_view key, Thousandths& out, int most);
  void real(std::string_view key, std::optional<double>& out, double least, double most);
  void time(std::string_view key, WallTime& out);
  void time(std::string_view key, std::optional<WallTime>& out);
  void span(std::string_view key, std::optional<WallSpan>& out);
  void date(std::string_view key, std::optional<Date>& out, int first_year);
  void tags(std::string_view key, Tags& out);

  /// A reference into one of the file's lists.
  template <class IdType>
  void ref(std::string_view key, const KnownIds& known, IdType& out) {
    if (const Json* json = take(key); json != nullptr) {
      if (const auto found = ref_of(*json, key_path(key), known)) out = IdType(*found);
    }
  }
  template <class IdType>
  void required_ref(std::string_view key, const KnownIds& known, IdType& out) {
    if (required(key, "the id of " + known.noun())) ref(key, known, out);
  }
  /// \param once  whether each may stand there only once
  template <class IdType>
  void refs(std::string_view key, const KnownIds& known, std::vector<IdType>& out, bool once) {
    std::set<std::size_t> seen;
    each(key, [&](const Json& json, const std::string& path) {
      const auto found = ref_of(json, path, known);
      if (!found) return;
      if (once && !seen.insert(*found).second) {
        tell(json, path, quoted(json.text()) + " a second time", "each only once");
      }
      out.push_back(IdType(*found));
    });
  }
  template <class Choice>
  void choice(std::string_view key,
              Choice& out,
              std::initializer_list<std::pair<std::string_view, Choice>> choices) {
    std::vector<std::string> names;
    for (const auto& choice : choices) names.emplace_back(choice.first);
    if (const auto index = choice_of(key, names))
      out = (choices.begin() + static_cast<std::ptrdiff_t>(*index))->second;
  }

  /// Tells a list that has no entries.
  void not_empty(std::string_view key, const std::string& expected);

  /// Calls `read(json, path)` for each entry of a list, as far as the limit.
  template <class Read>
  void each(std::string_view key, Read read) {
    const Json* const list = list_of(key);
    if (list == nullptr) return;
    const std::string path = key_path(key);
    std::size_t index = 0;
    for (const Json& entry : list->items()) {
      if (index == most_entries(key)) return;
      read(entry, path_to_item(path, index));
      ++index;
    }
  }
  /// Calls `read(key, json, path)` for each member of an object that serves as a table.
  template <class Read>
  void each_member(std::string_view key, Read read) {
    const Json* const object = object_of(key);
    if (object == nullptr) return;
    const std::string path = key_path(key);
    for (const JsonMember& member : object->members()) {
      read(member, path_to_key(path, member.key));
    }
  }
  /// The value itself; null where the key is not given or its fault is told already.
  const Json* take(std::string_view key);
  /// Tells that a key is missing. \return whether it is there
  bool required(std::string_view key, const std::string& expected);

  void tell(const Json& json,
            std::string path,
            std::string found,
            std::string expected,
            std::string nearest = {});
  [[nodiscard]] std::string key_path(std::string_view key) const { return path_to_key(path_, key); }
  /// The faults of a value that stands alone (in a list): null where it is none.
  std::optional<std::size_t> ref_of(const Json& json,
                                    const std::string& path,
                                    const KnownIds& known);
  bool text_of(const Json& json, const std::string& path, std::string& out, TextKind kind);
  bool whole_of(const Json& json, const std::string& path, int& out, int least, int most);

  /// Tells unknown keys. \return whether nothing is wrong in this object or inside it
  bool finish();

 private:
  [[nodiscard]] std::size_t most_entries(std::string_view key) const;
  const Json* list_of(std::string_view key);
  const Json* object_of(std::string_view key);
  std::optional<std::size_t> choice_of(std::string_view key, const std::vector<std::string>& names);

  FaultList& faults_;
  const Json* json_;  ///< null: not an object, and told
  std::string path_;
  std::string what_;
  std::size_t faults_before_;
  std::vector<std::string> keys_;
};

}  // namespace gp
