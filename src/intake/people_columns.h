#pragma once

#include "intake/csv.h"
#include "intake/incoming.h"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace gp {

/// What a column of a list of people holds.
enum class PersonField {
  none,
  id,
  name,
  given_name,
  family_name,
  phone,
  email,
  language,
  free,
  can,
  no,
  likes,
  weight,
  born,
  guardian,
  size,  ///< one measure; PeopleColumn::size names it
  food,
  skin,
  answer,
  turnout,
};

/// "name", "given-name" …; as `--columns` says it. A size: "size head_cm".
std::string name_of(PersonField field);

struct PeopleColumn {
  std::string header;  ///< empty: the file has none
  PersonField field = PersonField::none;
  std::string size;       ///< of `size`: "head_cm"
  bool wished = false;    ///< the user said so
  bool again = false;     ///< another column has that field already
  std::size_t texts = 0;  ///< rows in which something stands
};

/// `{"name", "2"}`: the field and the column, by number (from 1) or by its header. The field "none"
/// leaves a column out.
using ColumnWish = std::pair<std::string, std::string>;

/// Whether the first row names the columns.
enum class HeaderRow { guess, yes, no };

struct PeopleColumns {
  bool has_header = false;
  bool own = false;  ///< the header is that of our own export
  std::vector<PeopleColumn> columns;
  std::vector<std::string> faults;  ///< of the wishes: no such field, no such column, no name
};

/// What the columns hold, by the words of the header (English and some of its neighbours), where
/// they say nothing by what stands in them, and by what the user says.
PeopleColumns people_columns(const CsvRead& table,
                             HeaderRow header,
                             const std::vector<ColumnWish>& wishes);

/// The people of a table's rows. Rows with more or fewer cells than columns are bad, and so are
/// those without a name; a value that cannot be read is left out and told, and its person kept.
IncomingPeople people_of_table(const CsvRead& table,
                               const PeopleColumns& columns,
                               const std::string& file);

/// The columns of people_csv(), in order, without the sizes.
const std::vector<PersonField>& people_csv_fields();
/// Everybody as CSV (UTF-8, RFC 4180), each size a column of its own. What people_of_table() reads
/// back is the same people.
std::string people_csv(const Production& production);

/// As CSV, for the user to keep: file, line, who, field, text, why.
std::string left_out_csv(const std::vector<LeftOut>& left_out);

}  // namespace gp
