#include "intake/people_columns.h"

#include "intake/phone.h"
#include "intake/values.h"
#include "model/known_ids.h"
#include "text/fold.h"
#include "time/clock.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <set>
#include <sstream>

namespace gp {
namespace {

struct FieldName {
  PersonField field;
  const char* name;
};

constexpr std::array<FieldName, 19> kFieldNames = {{{PersonField::none, "none"},
                                                    {PersonField::id, "id"},
                                                    {PersonField::name, "name"},
                                                    {PersonField::given_name, "given-name"},
                                                    {PersonField::family_name, "family-name"},
                                                    {PersonField::phone, "phone"},
                                                    {PersonField::email, "email"},
                                                    {PersonField::language, "language"},
                                                    {PersonField::free, "free"},
                                                    {PersonField::can, "can"},
                                                    {PersonField::no, "no"},
                                                    {PersonField::likes, "likes"},
                                                    {PersonField::weight, "weight"},
                                                    {PersonField::born, "born"},
                                                    {PersonField::guardian, "guardian"},
                                                    {PersonField::food, "food"},
                                                    {PersonField::skin, "skin"},
                                                    {PersonField::answer, "answer"},
                                                    {PersonField::turnout, "turnout"}}};

constexpr std::string_view kSize = "size ";

std::optional<PersonField> field_called(std::string_view name) {
  for (const FieldName& one : kFieldNames) {
    if (name == one.name) return one.field;
  }
  return std::nullopt;
}

/// Headers as people write them, folded (text/fold.h). "no" and "weight" are not among them: they
/// are a number and a body's weight in other people's lists.
struct HeaderWord {
  const char* words;
  PersonField field;
};

constexpr std::array<HeaderWord, 80> kHeaderWords = {{
    {"id", PersonField::id},
    {"name", PersonField::name},
    {"full name", PersonField::name},
    {"names", PersonField::name},
    {"person", PersonField::name},
    {"who", PersonField::name},
    {"fn", PersonField::name},
    {"your name", PersonField::name},
    {"vollstandiger name", PersonField::name},
    {"nom complet", PersonField::name},
    {"nombre completo", PersonField::name},
    {"first name", PersonField::given_name},
    {"firstname", PersonField::given_name},
    {"given name", PersonField::given_name},
    {"forename", PersonField::given_name},
    {"vorname", PersonField::given_name},
    {"prenom", PersonField::given_name},
    {"nombre", PersonField::given_name},
    {"nome", PersonField::given_name},
    {"imie", PersonField::given_name},
    {"fornavn", PersonField::given_name},
    {"fornamn", PersonField::given_name},
    {"last name", PersonField::family_name},
    {"lastname", PersonField::family_name},
    {"surname", PersonField::family_name},
    {"family name", PersonField::family_name},
    {"nachname", PersonField::family_name},
    {"familienname", PersonField::family_name},
    {"nom", PersonField::family_name},
    {"nom de famille", PersonField::family_name},
    {"apellido", PersonField::family_name},
    {"apellidos", PersonField::family_name},
    {"cognome", PersonField::family_name},
    {"nazwisko", PersonField::family_name},
    {"efternamn", PersonField::family_name},
    {"etternavn", PersonField::family_name},
    {"language", PersonField::language},
    {"sprache", PersonField::language},
    {"langue", PersonField::language},
    {"idioma", PersonField::language},
    {"free", PersonField::free},
    {"available", PersonField::free},
    {"availability", PersonField::free},
    {"free on", PersonField::free},
    {"can", PersonField::can},
    {"can do", PersonField::can},
    {"skill", PersonField::can},
    {"skills", PersonField::can},
    {"will not", PersonField::no},
    {"will not do", PersonField::no},
    {"likes", PersonField::likes},
    {"like", PersonField::likes},
    {"would like", PersonField::likes},
    {"would like to do", PersonField::likes},
    {"would like to be", PersonField::likes},
    {"would like to be with", PersonField::likes},
    {"wishes", PersonField::likes},
    {"friends", PersonField::likes},
    {"born", PersonField::born},
    {"birthday", PersonField::born},
    {"birth date", PersonField::born},
    {"birthdate", PersonField::born},
    {"date of birth", PersonField::born},
    {"dob", PersonField::born},
    {"geburtstag", PersonField::born},
    {"geburtsdatum", PersonField::born},
    {"date de naissance", PersonField::born},
    {"guardian", PersonField::guardian},
    {"food", PersonField::food},
    {"diet", PersonField::food},
    {"dietary needs", PersonField::food},
    {"dietary requirements", PersonField::food},
    {"skin", PersonField::skin},
    {"answer", PersonField::answer},
    {"coming", PersonField::answer},
    {"are you coming", PersonField::answer},
    {"rsvp", PersonField::answer},
    {"reply", PersonField::answer},
    {"antwort", PersonField::answer},
    {"reponse", PersonField::answer},
}};

bool has_word(const std::string& folded, const std::set<std::string, std::less<>>& words) {
  std::istringstream stream(folded);
  for (std::string word; stream >> word;) {
    if (words.contains(word)) return true;
  }
  return false;
}

PersonField field_of_header(const std::string& folded) {
  static const std::set<std::string, std::less<>> kPhones = {"phone",
                                                             "phones",
                                                             "telephone",
                                                             "tel",
                                                             "telefon",
                                                             "mobile",
                                                             "mobil",
                                                             "cell",
                                                             "handy",
                                                             "movil",
                                                             "telefono",
                                                             "portable",
                                                             "gsm",
                                                             "phone1",
                                                             "telefone",
                                                             "telemovel"};
  static const std::set<std::string, std::less<>> kMails = {
      "email", "emails", "mail", "correo", "courriel", "emailadresse", "mailadresse"};
  static const std::set<std::string, std::less<>> kAbout = {"type", "label", "fax", "pager"};
  for (const HeaderWord& one : kHeaderWords) {
    if (folded == one.words) return one.field;
  }
  if (has_word(folded, kAbout)) return PersonField::none;
  if (has_word(folded, kMails)) return PersonField::email;
  if (has_word(folded, kPhones)) return PersonField::phone;
  return PersonField::none;
}

bool like_mail(std::string_view text) {
  const std::size_t at = text.find('@');
  return at != std::string_view::npos && at > 0 && text.find('.', at) != std::string_view::npos &&
         text.find(' ') == std::string_view::npos;
}

bool like_phone(std::string_view text) {
  const std::size_t digits = static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; }));
  return digits >= 7 && digits <= 17 && !parse_date(text) &&
         text.find_first_not_of("0123456789 +-()/.") == std::string_view::npos;
}

class ColumnGuess {
 public:
  ColumnGuess(const CsvRead& table, HeaderRow header) : table_(table) {
    std::size_t width = 0;
    if (!table.rows.empty()) width = table.rows.front().cells.size();
    out_.columns.resize(width);
    if (width == 0) return;
    for (const std::string& cell : table.rows.front().cells) {
      folded_.push_back(folding_.words(unguarded(cell)));
    }
    out_.has_header = header == HeaderRow::yes || (header == HeaderRow::guess && is_header());
    count_texts();
    if (out_.has_header) {
      for (std::size_t i = 0; i < width; ++i) {
        out_.columns[i].header = trimmed(unguarded(table.rows.front().cells[i]));
      }
      by_header();
    }
    by_content();
  }

  PeopleColumns take(const std::vector<ColumnWish>& wishes) {
    for (const auto& [field, column] : wishes) wish(field, column);
    names_alone();
    mark_doubles();
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool is_header() const {
    for (const std::string& folded : folded_) {
      if (field_of_header(folded) != PersonField::none) return true;
    }
    const auto& cells = table_.rows.front().cells;
    return std::none_of(cells.begin(), cells.end(), [](const std::string& cell) {
      return like_mail(trimmed(cell)) || like_phone(trimmed(unguarded(cell)));
    });
  }

  void count_texts() {
    for (std::size_t row = out_.has_header ? 1 : 0; row < table_.rows.size(); ++row) {
      const auto& cells = table_.rows[row].cells;
      for (std::size_t i = 0; i < std::min(cells.size(), out_.columns.size()); ++i) {
        if (!cells[i].empty()) ++out_.columns[i].texts;
      }
    }
  }

  void by_header() {
    const auto has = [&](const char* word) {
      return std::find_if(out_.columns.begin(), out_.columns.end(), [&](const PeopleColumn& one) {
               return one.header == word;
             }) != out_.columns.end();
    };
    out_.own = has("id") && has("can") && has("no") && has("turnout");
    for (std::size_t i = 0; i < out_.columns.size(); ++i) {
      PeopleColumn& column = out_.columns[i];
      if (column.header.starts_with(kSize) && is_id(column.header.substr(kSize.size()))) {
        column.field = PersonField::size;
        column.size = column.header.substr(kSize.size());
      } else if (out_.own) {
        column.field = field_called(column.header).value_or(PersonField::none);
      } else {
        column.field = field_of_header(folded_[i]);
      }
    }
  }

  /// Mails and phones are known by their look; the first column with other words is the name, where
  /// no header says better.
  void by_content() {
    if (out_.own) return;
    constexpr std::size_t kEnough = 200;  // rows
    for (std::size_t i = 0; i < out_.columns.size(); ++i) {
      if (out_.columns[i].field != PersonField::none) continue;
      if (out_.has_header && !out_.columns[i].header.empty()) {
        // a header that says something else is believed for phones: an account is a number too
        if (share(i, kEnough, like_mail) && !has(PersonField::email)) {
          out_.columns[i].field = PersonField::email;
        }
        continue;
      }
      if (share(i, kEnough, like_mail)) {
        out_.columns[i].field = PersonField::email;
      } else if (share(i, kEnough, like_phone)) {
        out_.columns[i].field = PersonField::phone;
      }
    }
    if (has(PersonField::name) || has(PersonField::given_name) || has(PersonField::family_name)) {
      return;
    }
    for (PeopleColumn& column : out_.columns) {
      const std::size_t index = static_cast<std::size_t>(&column - out_.columns.data());
      if (column.field != PersonField::none) continue;
      if (out_.has_header && !column.header.empty()) continue;
      if (!share(index, kEnough, [](std::string_view text) {
            return std::any_of(text.begin(), text.end(), [](char c) {
              return (c | 0x20) >= 'a' || static_cast<unsigned char>(c) >= 0x80;
            });
          })) {
        continue;
      }
      column.field = PersonField::name;
      return;
    }
  }

  /// Whether four in five of the texts that stand in a column look so.
  template <class Look>
  [[nodiscard]] bool share(std::size_t column, std::size_t most, Look look) const {
    std::size_t texts = 0;
    std::size_t alike = 0;
    for (std::size_t row = out_.has_header ? 1 : 0; row < table_.rows.size() && texts < most;
         ++row) {
      if (column >= table_.rows[row].cells.size()) continue;
      const std::string text = trimmed(unguarded(table_.rows[row].cells[column]));
      if (text.empty()) continue;
      ++texts;
      alike += look(text) ? 1U : 0U;
    }
    return texts > 0 && alike * 5 >= texts * 4;
  }

  [[nodiscard]] bool has(PersonField field) const {
    return std::any_of(out_.columns.begin(), out_.columns.end(), [&](const PeopleColumn& one) {
      return one.field == field;
    });
  }

  void wish(const std::string& name, const std::string& where) {
    PersonField field = PersonField::size;
    std::string size;
    if (name.starts_with(kSize) && is_id(std::string_view(name).substr(kSize.size()))) {
      size = name.substr(kSize.size());
    } else if (const auto found = field_called(name)) {
      field = *found;
    } else {
      std::string known;
      for (const FieldName& one : kFieldNames)
        known += (known.empty() ? "" : ", ") + std::string(one.name);
      out_.faults.push_back("there is no field \"" + name + "\"; the fields are " + known +
                            " and \"size NAME\"");
      return;
    }
    std::optional<std::size_t> index;
    for (std::size_t i = 0; i < out_.columns.size() && !index; ++i) {
      if (out_.has_header && out_.columns[i].header == where) index = i;
    }
    for (std::size_t i = 0; i < out_.columns.size() && !index; ++i) {
      if (out_.has_header && folded_[i] == folding_.words(where) && !folded_[i].empty()) index = i;
    }
    if (!index) {
      std::size_t number = 0;
      const auto [end, error] = std::from_chars(where.data(), where.data() + where.size(), number);
      if (error == std::errc() && end == where.data() + where.size() && number >= 1 &&
          number <= out_.columns.size()) {
        index = number - 1;
      }
    }
    if (!index) {
      out_.faults.push_back("there is no column \"" + where + "\" for " + name +
                            "; a column is named by its header or its number, 1 to " +
                            std::to_string(out_.columns.size()));
      return;
    }
    // what is wished replaces what was guessed
    for (PeopleColumn& column : out_.columns) {
      if (!column.wished && field != PersonField::none && column.field == field &&
          column.size == size) {
        column.field = PersonField::none;
      }
      // a whole name makes its parts needless, and the other way round
      const bool part =
          column.field == PersonField::given_name || column.field == PersonField::family_name;
      const bool wished_part =
          field == PersonField::given_name || field == PersonField::family_name;
      if (!column.wished && ((field == PersonField::name && part) ||
                             (wished_part && column.field == PersonField::name))) {
        column.field = PersonField::none;
      }
    }
    out_.columns[*index].field = field;
    out_.columns[*index].size = size;
    out_.columns[*index].wished = true;
  }

  /// One of two halves is the whole name where the other half is missing: "nom" alone.
  void names_alone() {
    const bool given = has(PersonField::given_name);
    const bool family = has(PersonField::family_name);
    if (has(PersonField::name) || given == family) return;
    for (PeopleColumn& column : out_.columns) {
      if (column.field == PersonField::given_name || column.field == PersonField::family_name) {
        column.field = PersonField::name;
      }
    }
  }

  void mark_doubles() {
    std::set<std::pair<PersonField, std::string>> seen;
    for (PeopleColumn& column : out_.columns) {
      if (column.field == PersonField::none) continue;
      column.again = !seen.insert({column.field, column.size}).second;
    }
    const bool named = has(PersonField::name) || has(PersonField::given_name) ||
                       (out_.own && has(PersonField::id));
    if (!out_.columns.empty() && !named) {
      out_.faults.push_back("no column with names was found; say which it is: --columns name=1");
    }
  }

  const CsvRead& table_;
  Folding folding_;
  std::vector<std::string> folded_;
  PeopleColumns out_;
};

}  // namespace

std::string name_of(PersonField field) {
  for (const FieldName& one : kFieldNames) {
    if (one.field == field) return one.name;
  }
  return "size";
}

PeopleColumns people_columns(const CsvRead& table,
                             HeaderRow header,
                             const std::vector<ColumnWish>& wishes) {
  return ColumnGuess(table, header).take(wishes);
}

const std::vector<PersonField>& people_csv_fields() {
  static const std::vector<PersonField> kFields = {PersonField::id,
                                                   PersonField::name,
                                                   PersonField::phone,
                                                   PersonField::email,
                                                   PersonField::language,
                                                   PersonField::free,
                                                   PersonField::can,
                                                   PersonField::no,
                                                   PersonField::likes,
                                                   PersonField::weight,
                                                   PersonField::born,
                                                   PersonField::guardian,
                                                   PersonField::food,
                                                   PersonField::skin,
                                                   PersonField::answer,
                                                   PersonField::turnout};
  return kFields;
}

}  // namespace gp
