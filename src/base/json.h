#pragma once

#include "base/fault.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

// A JSON reader of our own (RFC 8259), because people write these files by hand: every value keeps
// its place in the file, doubled keys stay visible, and slips are told in plain words, several at
// once.

namespace gp {

/// Limits of any JSON file read (RFC 8259 section 9 lets a reader set them).
inline constexpr std::size_t kMostJsonBytes = std::size_t{16} * 1024 * 1024;
inline constexpr int kMostJsonDepth = 100;                 ///< lists and objects inside each other
inline constexpr std::size_t kMostJsonValues = 1'000'000;  ///< bounds the memory: about 120 MB
inline constexpr std::size_t kMostJsonFaults = 100;        ///< after so many the reader gives up

/// Where something begins in the file.
struct JsonPosition {
  std::uint32_t offset = 0;  ///< bytes from the beginning of the file
  std::uint32_t line = 1;    ///< from 1
  std::uint32_t column = 1;  ///< from 1, in characters (code points); a byte order mark is none
  bool operator==(const JsonPosition&) const = default;
};

/// `broken`: something stood there whose fault is told already; say nothing more about it.
enum class JsonKind { broken, null, boolean, number, text, list, object };

struct JsonMember;

/// One value with its place. The accessors other than `kind` and `at` ask for the right kind (an
/// assertion in debug; std::bad_variant_access otherwise).
class Json {
 public:
  using List = std::vector<Json>;
  using Object = std::vector<JsonMember>;

  // all defined where JsonMember is complete
  Json();  ///< broken
  Json(JsonPosition at, bool value);
  Json(JsonPosition at, double value);
  Json(JsonPosition at, std::string value);
  Json(JsonPosition at, List value);
  Json(JsonPosition at, Object value);
  Json(const Json& other);
  Json(Json&& other) noexcept;
  Json& operator=(const Json& other);
  Json& operator=(Json&& other) noexcept;
  ~Json();
  static Json null(JsonPosition at);
  static Json broken(JsonPosition at);

  [[nodiscard]] JsonKind kind() const { return static_cast<JsonKind>(value_.index()); }
  [[nodiscard]] bool is(JsonKind kind_asked) const { return kind() == kind_asked; }
  [[nodiscard]] JsonPosition at() const { return at_; }
  [[nodiscard]] bool boolean() const { return std::get<bool>(value_); }
  /// Finite. A number with no fraction (`4`, `4.0`, `0.4e1`) up to 2^53 is exact.
  [[nodiscard]] double number() const { return std::get<double>(value_); }
  [[nodiscard]] const std::string& text() const { return std::get<std::string>(value_); }
  [[nodiscard]] const List& items() const { return std::get<List>(value_); }
  /// In the file's order; a doubled key is there each time.
  [[nodiscard]] const Object& members() const { return std::get<Object>(value_); }
  /// The first value of that key; null where there is none. Only for objects.
  [[nodiscard]] const Json* find(std::string_view key) const;

 private:
  JsonPosition at_;
  // in the order of JsonKind
  std::variant<std::monostate, std::nullptr_t, bool, double, std::string, List, Object> value_;
};

struct JsonMember {
  std::string key;
  JsonPosition at;  ///< of the key
  Json value;
};

/// What reading gave. `faults` empty: `root` is the whole file. Otherwise the root, where there is
/// one, is what the file most likely means (a forgotten comma read as if it stood there, …), so
/// that faults of sense can be told in the same run; it must not be used for anything else.
struct JsonRead {
  std::optional<Json> root;
  std::vector<Fault> faults;  ///< in the order of the file; doubled keys are among them
};

/// Reads a whole JSON text, UTF-8 with or without a byte order mark. Any bytes are safe.
/// Cost: O(n) in bytes; memory bounded by kMostJsonValues and the size of the text.
/// Threads: pure.
JsonRead read_json(std::string_view text);

/// A value as a fault's `found`: `"hall"`, `12`, `a list`, `nothing (null)` …, cut to fit a line.
std::string found_as(const Json& value);
/// A text in quotes, its control characters shown as escapes, cut to fit a line.
std::string quoted(std::string_view text);

/// Paths of faults: `scenes[3].cast[0].role`.
std::string path_to_key(const std::string& path, std::string_view key);
std::string path_to_item(const std::string& path, std::size_t index);

/// A fault at a place in the file.
Fault fault_at(JsonPosition at,
               std::string path,
               std::string found,
               std::string expected,
               std::string nearest = {});

}  // namespace gp
