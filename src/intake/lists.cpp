#include "intake/lists.h"

#include "intake/vcard.h"
#include "text/decode.h"

#include <algorithm>

namespace gp {
namespace {

/// The text, or why there is none.
std::optional<std::string> text_of_list(std::string_view bytes,
                                        const ListWishes& wishes,
                                        ListForm& form,
                                        std::vector<std::string>& faults) {
  if (bytes.size() > kMostListBytes) {
    faults.emplace_back("it is larger than 128 MB; part it into smaller files");
    return std::nullopt;
  }
  std::string mended;
  if (wishes.encoding.empty() && looks_like_cards(bytes) && !is_utf8(bytes)) {
    mended = unfolded(bytes);  // folded in the middle of a character
    if (is_utf8(mended)) bytes = mended;
  }
  auto decoded = decode_text(bytes, wishes.encoding);
  if (!decoded) {
    faults.push_back("there is no encoding \"" + wishes.encoding +
                     "\"; try UTF-8, UTF-16, ISO-8859-1 or windows-1252");
    return std::nullopt;
  }
  form.encoding = decoded->encoding;
  form.encoding_guessed = decoded->guessed;
  form.broken = decoded->broken;
  // a zero here and there is a bad row; more of them are a picture, a program, a packed file
  if (decoded->zeros > 8 && decoded->zeros * 20 > decoded->text.size()) {
    faults.emplace_back("it is no text; save the list as CSV or as address cards (vCard) first");
    return std::nullopt;
  }
  return std::move(decoded->text);
}

bool ends_in(const std::string& name, std::string_view end) {
  if (name.size() < end.size()) return false;
  return std::equal(end.begin(),
                    end.end(),
                    name.end() - static_cast<std::ptrdiff_t>(end.size()),
                    [](char a, char b) { return a == (b >= 'A' && b <= 'Z' ? b + 32 : b); });
}

}  // namespace

PeopleList read_people_list(std::string_view bytes,
                            const std::string& name,
                            const ListWishes& wishes) {
  PeopleList list;
  const auto text = text_of_list(bytes, wishes, list.form, list.faults);
  if (!text) return list;
  if (looks_like_cards(*text)) {
    const CardsRead cards = read_cards(*text);
    list.entries = cards.cards.size();
    list.people = people_of_cards(cards, name, list.pictures);
  } else {
    const CsvRead table = read_csv(*text, wishes.delimiter);
    list.form.table = true;
    list.form.delimiter = table.delimiter;
    list.columns = people_columns(table, wishes.header, wishes.columns);
    list.entries = table.rows.size() - (list.columns.has_header ? 1 : 0);
    list.faults = list.columns.faults;
    if (list.faults.empty()) list.people = people_of_table(table, list.columns, name);
    list.people.bad = list.faults.empty() ? std::move(list.people.bad) : table.bad;
  }
  if (list.faults.empty() && list.entries == 0 && list.people.bad.empty()) {
    list.faults.emplace_back("nobody stands in it");
  }
  return list;
}

ShotsList read_shots_list(std::string_view bytes,
                          const std::string& name,
                          const ListWishes& wishes) {
  ShotsList list;
  const auto text = text_of_list(bytes, wishes, list.form, list.faults);
  if (!text) return list;
  const CsvRead table = read_csv(*text, wishes.delimiter);
  ShotsRead as_table = shots_of_table(table, wishes.columns);
  const auto named = std::count_if(as_table.columns.begin(),
                                   as_table.columns.end(),
                                   [](const ShotColumn& one) { return one.field != "notes"; });
  const bool is_table = ends_in(name, ".csv") || ends_in(name, ".tsv") || !wishes.columns.empty() ||
                        wishes.delimiter || named >= 2;
  list.form.table = is_table;
  list.form.delimiter = table.delimiter;
  list.read = is_table ? std::move(as_table) : shots_of_text(*text);
  list.faults = list.read.faults;
  if (list.faults.empty() && list.read.shots.empty() && list.read.bad.empty()) {
    list.faults.emplace_back("no shot stands in it");
  }
  return list;
}

}  // namespace gp
