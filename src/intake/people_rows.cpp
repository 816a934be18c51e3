#include "base/utf8.h"
#include "intake/people_columns.h"
#include "intake/values.h"
#include "model/known_ids.h"
#include "model/limits.h"
#include "model/texts.h"
#include "text/fold.h"

#include <algorithm>
#include <cmath>

// The rows of a table as people.

namespace gp {
namespace {

/// Dates of births that can be read one way alone decide for those of their column that cannot.
DateOrder order_of_column(const CsvRead& table, const PeopleColumns& columns, std::size_t column) {
  std::vector<std::string> texts;
  for (std::size_t row = columns.has_header ? 1 : 0; row < table.rows.size(); ++row) {
    if (column < table.rows[row].cells.size()) texts.push_back(table.rows[row].cells[column]);
  }
  return date_order(texts);
}

class RowReader {
 public:
  RowReader(const CsvRead& table, const PeopleColumns& columns, const std::string& file)
      : table_(table), columns_(columns), file_(file) {
    for (std::size_t i = 0; i < columns.columns.size(); ++i) {
      if (columns.columns[i].field == PersonField::born) {
        order_ = order_of_column(table, columns, i);
      }
    }
  }

  IncomingPeople read() {
    out_.bad = table_.bad;
    for (std::size_t row = columns_.has_header ? 1 : 0; row < table_.rows.size(); ++row) {
      read_row(table_.rows[row]);
    }
    std::stable_sort(out_.bad.begin(), out_.bad.end(), [](const BadLine& a, const BadLine& b) {
      return a.line < b.line;
    });
    return std::move(out_);
  }

 private:
  void read_row(const CsvRow& row) {
    const auto& cells = row.cells;
    if (std::all_of(
            cells.begin(), cells.end(), [](const std::string& cell) { return cell.empty(); })) {
      return;
    }
    std::size_t used = cells.size();
    while (used > columns_.columns.size() && cells[used - 1].empty()) --used;
    if (used != columns_.columns.size()) {
      return tell_bad(row,
                      std::to_string(used) + (used == 1 ? " cell" : " cells") + " where " +
                          std::to_string(columns_.columns.size()) +
                          " are expected (a separator inside a cell needs quotation marks)");
    }
    if (std::any_of(cells.begin(), cells.end(), [](const std::string& cell) {
          return cell.find('\0') != std::string::npos;
        })) {
      return tell_bad(row, "a zero byte in the middle of the text");
    }
    IncomingPerson incoming;
    incoming.file = file_;
    incoming.line = row.line;
    read_names(row, incoming.person);
    Person& person = incoming.person;
    if (person.name.empty() && person.id.empty()) return tell_bad(row, "a row without a name");
    if (count_characters(person.name) > limits::kNameCharacters) {
      return tell_bad(
          row, "a name of more than " + std::to_string(limits::kNameCharacters) + " characters");
    }
    who_ = person.shown();
    line_ = row.line;
    for (std::size_t i = 0; i < columns_.columns.size(); ++i) {
      read_cell(columns_.columns[i], i, text_of(row, i), incoming);
    }
    out_.people.push_back(std::move(incoming));
  }

  /// Blanks at the edges are dropped, unless the cell stood in quotation marks.
  static std::string text_of(const CsvRow& row, std::size_t cell) {
    return unguarded(row.quoted[cell] ? row.cells[cell] : trimmed(row.cells[cell]));
  }

  void read_names(const CsvRow& row, Person& person) {
    std::string given;
    std::string family;
    for (std::size_t i = 0; i < columns_.columns.size(); ++i) {
      const PeopleColumn& column = columns_.columns[i];
      const std::string text = on_one_line(text_of(row, i));
      if (column.field == PersonField::given_name && given.empty()) given = trimmed(text);
      if (column.field == PersonField::family_name && family.empty()) family = trimmed(text);
      if (column.field == PersonField::name && !column.again) {
        person.name = columns_.own ? text : trimmed(text);
      }
      if (column.field == PersonField::id && !column.again && is_id(trimmed(text))) {
        person.id = trimmed(text);
      }
    }
    if (person.name.empty()) {
      person.name = given + (given.empty() || family.empty() ? "" : " ") + family;
    }
  }

  void read_cell(const PeopleColumn& column,
                 std::size_t index,
                 const std::string& text,
                 IncomingPerson& incoming) {
    if (text.empty()) return;
    Person& person = incoming.person;
    switch (column.field) {
      case PersonField::none:
        return leave(column, index, text, "the column is not taken over");
      case PersonField::id:
        if (person.id != trimmed(text)) leave(column, index, text, "no id");
        return;
      case PersonField::name:
      case PersonField::given_name:
      case PersonField::family_name:
        return read_name(column, index, text, person);
      case PersonField::phone:
        return read_line(column, index, text, person.phone);
      case PersonField::email:
        return read_line(column, index, text, person.email);
      case PersonField::food:
        return read_note(column, index, text, person.food);
      case PersonField::skin:
        return read_note(column, index, text, person.skin);
      case PersonField::guardian:
        return read_line(column, index, text, incoming.guardian);
      case PersonField::can:
        return read_tags(column, index, text, person.can);
      case PersonField::no:
        return read_tags(column, index, text, person.no);
      case PersonField::likes:  // what they name is looked for once all are there
        incoming.likes += (incoming.likes.empty() ? "" : "\n") + without_controls(text);
        return;
      case PersonField::language:
      case PersonField::free:
      case PersonField::weight:
      case PersonField::born:
      case PersonField::size:
      case PersonField::answer:
      case PersonField::turnout:
        break;
    }
    if (column.again) return leave(column, index, text, "another column says it already");
    if (!read_value(column, text, incoming)) leave(column, index, text, expected(column.field));
  }

  bool read_value(const PeopleColumn& column, const std::string& text, IncomingPerson& incoming) {
    Person& person = incoming.person;
    const std::string plain = trimmed(text);
    if (column.field == PersonField::language) {
      if (!is_language_tag(plain)) return false;
      person.language = plain;
    } else if (column.field == PersonField::free) {
      person.free = free_times(text);
      return person.free.has_value();
    } else if (column.field == PersonField::weight) {
      const auto number = number_of(plain);
      if (!number || *number < 0 || *number > limits::kWeight) return false;
      const double thousandths = std::round(*number * 1000);
      if (std::abs(thousandths - *number * 1000) > 1e-6) return false;
      person.weight = static_cast<Thousandths>(thousandths);
      incoming.weight_said = true;
    } else if (column.field == PersonField::born) {
      person.born = date_of(plain, order_);
      return person.born.has_value();
    } else if (column.field == PersonField::size) {
      const auto number = number_of(plain);
      if (!number || *number < 0 || *number > limits::kSize) return false;
      person.sizes[column.size] = *number;
    } else if (column.field == PersonField::answer) {
      const auto answer = answer_word(folding_.words(text));
      if (!answer) return false;
      person.answer = *answer;
      incoming.answer_said = true;
    } else if (column.field == PersonField::turnout) {
      const auto number = number_of(plain);
      if (!number || *number < 0 || *number > 1) return false;
      person.turnout = number;
    }
    return true;
  }

  static std::string expected(PersonField field) {
    if (field == PersonField::language) return "no language tag (en, de-AT)";
    if (field == PersonField::free) {
      return "no dates as 2027-04-17 or 2027-04-18 09:00-13:00, parted by semicolons";
    }
    if (field == PersonField::born) return "no date, or one that can be read two ways (2015-04-03)";
    if (field == PersonField::answer) return "no answer: yes, maybe, no or asked";
    if (field == PersonField::turnout) return "no chance from 0 to 1";
    return "no number from 0 to " +
           std::to_string(field == PersonField::weight ? limits::kWeight : limits::kSize);
  }

  void read_name(const PeopleColumn& column,
                 std::size_t index,
                 const std::string& text,
                 const Person& person) {
    const std::string taken = folding_.words(person.name);
    const std::string said = folding_.words(text);
    // the parts of a name are in the whole name or told
    if (taken.find(said) == std::string::npos) leave(column, index, text, "another name was taken");
  }

  /// A second phone or mail is taken where the first column has none in this row.
  void read_line(const PeopleColumn& column,
                 std::size_t index,
                 const std::string& text,
                 std::string& out) {
    const std::string line = columns_.own ? on_one_line(text) : trimmed(on_one_line(text));
    if (line.empty() || line == out) return;
    if (!out.empty()) return leave(column, index, text, "another column says it already");
    if (count_characters(line) > limits::kNameCharacters) {
      return leave(column, index, text, "longer than 200 characters");
    }
    out = line;
  }

  void read_note(const PeopleColumn& column,
                 std::size_t index,
                 const std::string& text,
                 std::string& out) {
    const std::string note = without_controls(text);
    if (!out.empty()) return leave(column, index, text, "another column says it already");
    if (count_characters(note) > limits::kNoteCharacters) {
      return leave(column, index, text, "longer than 2000 characters");
    }
    out = note;
  }

  void read_tags(const PeopleColumn& column,
                 std::size_t index,
                 const std::string& text,
                 Tags& out) {
    for (std::string& tag : list_words(text)) {
      if (count_characters(tag) > limits::kTagCharacters) {
        leave(column, index, tag, "longer than 64 characters");
      } else if (std::find(out.begin(), out.end(), tag) == out.end()) {
        out.push_back(std::move(tag));
      }
    }
  }

  void leave(const PeopleColumn& column,
             std::size_t index,
             const std::string& text,
             const std::string& why) {
    const std::string header =
        column.header.empty() ? "column " + std::to_string(index + 1) : column.header;
    out_.left_out.push_back({file_, line_, who_, header, text, why});
  }

  void tell_bad(const CsvRow& row, const std::string& why) {
    std::string text;
    for (const std::string& cell : row.cells) {
      if (count_characters(text) > 200) break;
      text += (text.empty() ? "" : std::string(1, table_.delimiter)) + cell;
    }
    out_.bad.push_back({row.line, why, shortened(on_one_line(text), 200)});
  }

  const CsvRead& table_;
  const PeopleColumns& columns_;
  const std::string& file_;
  Folding folding_;
  DateOrder order_ = DateOrder::unknown;
  std::string who_;
  std::size_t line_ = 0;
  IncomingPeople out_;
};

}  // namespace

IncomingPeople people_of_table(const CsvRead& table,
                               const PeopleColumns& columns,
                               const std::string& file) {
  return RowReader(table, columns, file).read();
}

}  // namespace gp
