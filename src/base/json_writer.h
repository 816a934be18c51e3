#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// Writes JSON text in the order it is told, so that the same data is the same bytes. Objects and
/// lists are either `open` (each entry on a line of its own, indented by two) or `compact` (all on
/// one line); whatever is inside a compact one is compact.
///
///     JsonWriter writer;
///     writer.begin_object();                              // {
///     writer.key("title").text("Kettle");                 //   "title": "Kettle",
///     writer.key("steps").begin_list();                   //   "steps": [
///     writer.begin_object(JsonLayout::compact); …          //     {"person": "bo", …}
///     writer.end_object(); writer.end_list(); writer.end_object();
enum class JsonLayout { open, compact };

class JsonWriter {
 public:
  JsonWriter& begin_object(JsonLayout layout = JsonLayout::open) { return begin('{', layout); }
  JsonWriter& end_object() { return end('}'); }
  JsonWriter& begin_list(JsonLayout layout = JsonLayout::open) { return begin('[', layout); }
  JsonWriter& end_list() { return end(']'); }

  /// The next value's key. Only inside an object.
  JsonWriter& key(std::string_view key);
  /// The next entry of an open object or list stays on the line of the one before it.
  JsonWriter& beside() {
    beside_ = true;
    return *this;
  }

  /// \param value  UTF-8; bytes that are not are written as U+FFFD
  JsonWriter& text(std::string_view value);
  JsonWriter& number(std::int64_t value);
  /// The shortest form that reads back as the same number (std::to_chars).
  /// \throws InternalError  not finite
  JsonWriter& number(double value);
  /// A number counted in thousandths: 1500 is `1.5`.
  JsonWriter& thousandths(std::int64_t value);
  JsonWriter& boolean(bool value);
  JsonWriter& null();
  /// A compact list of texts.
  JsonWriter& texts(const std::vector<std::string>& values);

  /// What was written, ending in a newline. Asked for once everything begun is ended.
  [[nodiscard]] std::string finish();

 private:
  struct Level {
    bool compact = false;
    bool empty = true;
  };
  JsonWriter& begin(char bracket, JsonLayout layout);
  JsonWriter& end(char bracket);
  void before_value();
  void before_entry();
  void new_line();
  void put_text(std::string_view value);

  std::string out_;
  std::vector<Level> levels_;
  bool after_key_ = false;
  bool beside_ = false;
};

}  // namespace gp
