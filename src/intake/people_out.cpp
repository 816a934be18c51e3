#include "intake/people_columns.h"
#include "intake/values.h"
#include "time/clock.h"

#include <set>

// People as CSV, and what an import left out.

namespace gp {
namespace {

std::string written_thousandths(Thousandths value) {
  std::string out = std::to_string(value / 1000);
  if (value % 1000 == 0) return out;
  std::string rest = std::to_string(value % 1000 + 1000).substr(1);
  while (rest.ends_with('0')) rest.pop_back();
  return out + "." + rest;
}

std::string text_of_field(const Production& production, const Person& person, PersonField field) {
  switch (field) {
    case PersonField::id:
      return person.id;
    case PersonField::name:
      return person.name;
    case PersonField::phone:
      return person.phone;
    case PersonField::email:
      return person.email;
    case PersonField::language:
      return person.language;
    case PersonField::free:
      return person.free ? written_free_times(*person.free) : std::string();
    case PersonField::can:
      return listed_words(person.can);
    case PersonField::no:
      return listed_words(person.no);
    case PersonField::likes:
      return listed_words(person.likes);
    case PersonField::weight:
      return written_thousandths(person.weight);
    case PersonField::born:
      return person.born ? format(*person.born) : std::string();
    case PersonField::guardian:
      return person.guardian.valid() ? production.people[person.guardian].id : std::string();
    case PersonField::food:
      return person.food;
    case PersonField::skin:
      return person.skin;
    case PersonField::answer:
      return name_of(person.answer);
    case PersonField::turnout:
      return person.turnout ? written_number(*person.turnout) : std::string();
    case PersonField::none:
    case PersonField::given_name:
    case PersonField::family_name:
    case PersonField::size:
      break;
  }
  return {};
}

}  // namespace

std::string people_csv(const Production& production) {
  std::set<std::string> sizes;
  for (const Person& person : production.people) {
    for (const auto& [name, size] : person.sizes) sizes.insert(name);
  }
  std::vector<std::string> header;
  for (const PersonField field : people_csv_fields()) header.push_back(name_of(field));
  for (const std::string& size : sizes) header.push_back("size " + size);
  std::string out = csv_row(header);
  for (const Person& person : production.people) {
    std::vector<std::string> cells;
    for (const PersonField field : people_csv_fields()) {
      cells.push_back(text_of_field(production, person, field));
    }
    for (const std::string& size : sizes) {
      const auto found = person.sizes.find(size);
      cells.push_back(found == person.sizes.end() ? std::string() : written_number(found->second));
    }
    out += csv_row(cells);
  }
  return out;
}

std::string left_out_csv(const std::vector<LeftOut>& left_out) {
  std::string out = csv_row({"file", "line", "who", "field", "text", "why"});
  for (const LeftOut& one : left_out) {
    out += csv_row({one.file, std::to_string(one.line), one.who, one.field, one.text, one.why});
  }
  return out;
}

}  // namespace gp
