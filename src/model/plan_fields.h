#pragma once

#include "base/json.h"
#include "model/fault_list.h"
#include "model/known_ids.h"

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// Inside of read_plan alone: the values of a plan's JSON, each asked for in the kind it should
// have, and a fault told where it has not.

namespace gp::plan_file {

/// One value and its path; nothing where the file has none.
struct Value {
  const Json* json = nullptr;
  std::string path;
};

/// One object of the file. Says which keys are unknown as soon as it is made.
class Fields {
 public:
  Fields(const Value& value, std::initializer_list<const char*> known, FaultList& faults);

  [[nodiscard]] bool has(const char* key) const { return json(key) != nullptr; }
  [[nodiscard]] Value value(const char* key) const;
  /// The value, and a fault where there is none.
  Value needed(const char* key, const char* expected);

  std::string text(const char* key);  ///< empty where it is not given
  std::string needed_text(const char* key);
  std::optional<std::int64_t> whole(const char* key, std::int64_t least, std::int64_t most);
  std::optional<std::int64_t> needed_whole(const char* key, std::int64_t least, std::int64_t most);
  /// A number counted in thousandths; with `exact`, more than three decimals are a fault, without,
  /// they are cut off.
  std::optional<std::int64_t> thousandths(const char* key, bool exact);
  std::optional<double> number(const char* key);
  std::optional<bool> boolean(const char* key);
  std::optional<std::size_t> name(const char* key, const KnownIds& names);
  std::optional<std::size_t> needed_name(const char* key, const KnownIds& names);
  /// The values of a list; none where it is not given.
  std::vector<Value> list(const char* key);
  std::vector<std::size_t> names(const char* key, const KnownIds& names);

 private:
  [[nodiscard]] const Json* json(const char* key) const;
  std::optional<std::int64_t> as_whole(const Value& given, std::int64_t least, std::int64_t most);

  const Json* object_ = nullptr;  ///< null: it is none, and that is told
  std::string path_;
  FaultList* faults_;
};

/// A value as one of the names, or a fault with the nearest.
std::optional<std::size_t> as_name(const Value& value, const KnownIds& names, FaultList& faults);

}  // namespace gp::plan_file
