#pragma once

#include "store/book.h"
#include "web/site.h"

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

// A form that changes one entry of the production (a person, a scene). It knows of each field how
// the entry had it, so that only what was really changed is written: what others changed meanwhile
// stays.

namespace gp {

struct FormChoice {
  std::string value, label;
};

struct FormField {
  enum class Kind { heading, line, number, text, choice, tick };
  Kind kind = Kind::line;
  std::string name;   ///< of the control
  std::string key;    ///< of the entry: faults told about it are shown at this field
  std::string label;  ///< a heading's words
  std::string hint;
  std::string was;    ///< as the entry had it; a tick: "1" or ""
  std::string value;  ///< as it is shown
  std::string error;
  std::size_t most = 200;  ///< characters
  bool must = false;       ///< may not be empty
  std::vector<FormChoice> choices;
  /// Writes a changed value into the entry. \return what is wrong with it; empty: nothing
  std::function<std::string(Document& entry, const std::string& value)> put;
};

class EntryForm {
 public:
  EntryForm() = default;
  FormField& add(FormField field);
  void heading(const std::string& label);
  [[nodiscard]] std::vector<FormField>& fields() { return fields_; }
  [[nodiscard]] const std::vector<FormField>& fields() const { return fields_; }

  /// What was typed. Fields that were not sent keep what the entry had, ticks apart, which a
  /// browser sends only where they are set; fields the form does not have are not looked at.
  void read(const HttpRequest& request);
  /// What was typed at another form, where it was changed there: the newest entry stays otherwise.
  void take_changes_of(const EntryForm& older);
  /// Writes what was changed. \return false: something is wrong, told at its fields
  bool apply(const Visit& visit, Document& entry);
  [[nodiscard]] std::string value(const std::string& name) const;

  /// Shows faults at the field of their key. \param prefix  of their paths, "people[3]."
  /// \return those that belong to no field
  std::vector<std::string> tell(const std::vector<Fault>& faults, const std::string& prefix);
  [[nodiscard]] bool has_errors() const;

  /// The sections FIELD of the template organiser/fields, as markup that it has escaped.
  [[nodiscard]] std::string draw(Visit& visit) const;
  /// Adds PROBLEM with one PROBLEM_LINE for each error, linked to its field.
  void show_problems(ViewData& data, const std::vector<std::string>& others = {}) const;

 private:
  std::vector<FormField> fields_;
};

/// A member as text; empty: there is none.
std::string member_text(const Document& entry, const char* key);
/// A list of words as "a, b".
std::string member_words(const Document& entry, const char* key);
/// "a, b;c" as a list without empty words and doubles.
std::vector<std::string> words_in(const std::string& text);
/// Sets a member, or takes it out where the value is empty or null.
void put_member(Document& entry, const char* key, Document value);
/// A number as people write it, with a point or a comma; none: anything else. At most 3 decimals.
std::optional<double> decimal_number(std::string text);
/// A number as short as it can be read back, without an exponent.
std::string number_text(double number);

// Fields that most entries have.
FormField line_field(const Visit& visit,
                     const std::string& room,
                     const char* key,
                     const Document& entry,
                     std::size_t most);
FormField text_field(const Visit& visit,
                     const std::string& room,
                     const char* key,
                     const Document& entry,
                     std::size_t most);
FormField words_field(const Visit& visit,
                      const std::string& room,
                      const char* key,
                      const Document& entry);
FormField minutes_field(const Visit& visit,
                        const std::string& room,
                        const char* key,
                        const Document& entry);
/// One of `choices`; the first of them means that nothing is given.
FormField choice_field(const Visit& visit,
                       const std::string& room,
                       const char* key,
                       const Document& entry,
                       std::vector<FormChoice> choices);

/// Trims spaces of any kind at both ends and joins lines; what stays is one line.
std::string one_line(std::string_view text);
std::string trimmed_text(std::string_view text);

}  // namespace gp
