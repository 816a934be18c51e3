#include "web/organiser/form.h"

#include "base/utf8.h"
#include "store/documents.h"
#include "web/organiser/common.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace gp {
namespace {

/// Spaces and characters nobody sees that slip in when text is pasted.
bool is_blank(char32_t c) {
  return c == U' ' || c == U'\t' || c == U'\n' || c == U'\r' || c == 0xA0 || c == 0x1680 ||
         (c >= 0x2000 && c <= 0x200B) || c == 0x2028 || c == 0x2029 || c == 0x202F || c == 0x205F ||
         c == 0x2060 || c == 0x3000 || c == 0xFEFF;
}

std::string label_of(const Visit& visit, const std::string& room, const char* key) {
  return organiser_words(visit, room + ".label." + key);
}

FormField field_for(const Visit& visit,
                    const std::string& room,
                    const char* key,
                    const std::string& was) {
  FormField field;
  field.name = key;
  field.key = key;
  field.label = label_of(visit, room, key);
  field.hint = organiser_words(visit, room + ".hint." + key);
  field.was = was;
  field.value = was;
  return field;
}

}  // namespace

std::string trimmed_text(std::string_view text) {
  std::size_t from = text.size();
  std::size_t until = 0;
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = decode_utf8(text, at);
    const std::size_t bytes = std::max<std::size_t>(point.bytes, 1);
    if (point.bytes == 0 || !is_blank(point.value)) {
      from = std::min(from, at);
      until = at + bytes;
    }
    at += bytes;
  }
  return from < until ? std::string(text.substr(from, until - from)) : "";
}

std::string one_line(std::string_view text) {
  std::string line = trimmed_text(text);
  std::replace(line.begin(), line.end(), '\n', ' ');
  std::replace(line.begin(), line.end(), '\r', ' ');
  return line;
}

FormField& EntryForm::add(FormField field) {
  fields_.push_back(std::move(field));
  return fields_.back();
}

void EntryForm::heading(const std::string& label) {
  FormField field;
  field.kind = FormField::Kind::heading;
  field.label = label;
  fields_.push_back(std::move(field));
}

void EntryForm::read(const HttpRequest& request) {
  for (FormField& field : fields_) {
    if (field.kind == FormField::Kind::heading) continue;
    if (field.kind == FormField::Kind::tick) {
      field.value = request.has_field(field.name) ? "1" : "";
    } else if (request.has_field(field.name)) {
      const std::string sent = request.field(field.name);
      field.value = field.kind == FormField::Kind::text ? trimmed_text(sent) : one_line(sent);
    }
  }
}

void EntryForm::take_changes_of(const EntryForm& older) {
  for (FormField& field : fields_) {
    for (const FormField& typed : older.fields()) {
      if (typed.name == field.name && typed.value != typed.was) field.value = typed.value;
    }
  }
}

bool EntryForm::apply(const Visit& visit, Document& entry) {
  for (FormField& field : fields_) {
    if (field.kind == FormField::Kind::heading) continue;
    if (field.must && field.value.empty()) {
      field.error = organiser_words(visit, "form.must", {{"what", field.label}});
      continue;
    }
    if (field.value == field.was) continue;
    if (count_characters(field.value) > field.most) {
      field.error = organiser_words(
          visit, "form.too_long", {{"most", static_cast<std::int64_t>(field.most)}});
      continue;
    }
    if (field.kind == FormField::Kind::choice &&
        std::none_of(field.choices.begin(), field.choices.end(), [&](const FormChoice& choice) {
          return choice.value == field.value;
        })) {
      field.error = organiser_words(visit, "form.choose");
      continue;
    }
    if (field.put) field.error = field.put(entry, field.value);
  }
  return !has_errors();
}

std::string EntryForm::value(const std::string& name) const {
  for (const FormField& field : fields_) {
    if (field.name == name) return field.value;
  }
  return "";
}

bool EntryForm::has_errors() const {
  return std::any_of(
      fields_.begin(), fields_.end(), [](const FormField& field) { return !field.error.empty(); });
}

std::vector<std::string> EntryForm::tell(const std::vector<Fault>& faults,
                                         const std::string& prefix) {
  std::vector<std::string> others;
  for (const Fault& fault : faults) {
    FormField* at = nullptr;
    if (fault.path.starts_with(prefix)) {
      const std::string rest = fault.path.substr(prefix.size());
      const std::string key = rest.substr(0, rest.find_first_of(".["));
      for (FormField& field : fields_) {
        // of several fields of one key the changed one is meant
        if (!field.key.empty() && field.key == key && (at == nullptr || at->value == at->was)) {
          at = &field;
        }
      }
    }
    if (at == nullptr) {
      others.push_back(fault_words(fault));
    } else if (at->error.empty()) {
      Fault without_path = fault;
      without_path.path.clear();
      at->error = fault_words(without_path);
    }
  }
  return others;
}

std::string EntryForm::draw(Visit& visit) const {
  ViewData data;
  for (const FormField& field : fields_) {
    ViewData& row = data.add("FIELD");
    if (field.kind == FormField::Kind::heading) {
      row.add("HEADING").set("TEXT", field.label);
      continue;
    }
    const auto fill = [&](ViewData& part) {
      part.set("NAME", field.name).set("LABEL", field.label).set("VALUE", field.value);
      if (!field.hint.empty()) part.add("HINT").set("TEXT", field.hint);
      if (!field.error.empty()) {
        part.show("WRONG");
        part.add("ERROR").set("TEXT", field.error);
      }
      if (!field.hint.empty() || !field.error.empty()) {
        std::string ids = field.hint.empty() ? "" : field.name + "-hint";
        if (!field.error.empty()) ids += (ids.empty() ? "" : " ") + field.name + "-error";
        part.add("DESCRIBED").set("IDS", ids);
      }
    };
    switch (field.kind) {
      case FormField::Kind::line:
        fill(row.add("LINE"));
        break;
      case FormField::Kind::number:
        fill(row.add("NUMBER"));
        break;
      case FormField::Kind::text:
        fill(row.add("AREA"));
        break;
      case FormField::Kind::choice: {
        ViewData& choice = row.add("CHOICE");
        fill(choice);
        for (const FormChoice& one : field.choices) {
          ViewData& option = choice.add("OPTION");
          option.set("OPTION_VALUE", one.value).set("OPTION_LABEL", one.label);
          if (one.value == field.value) option.show("SELECTED");
        }
        break;
      }
      case FormField::Kind::tick: {
        ViewData& tick = row.add("TICK");
        fill(tick);
        if (!field.value.empty()) tick.show("TICKED");
        break;
      }
      case FormField::Kind::heading:
        break;
    }
  }
  return visit.site.views().part("organiser/fields", data, visit.language);
}

void EntryForm::show_problems(ViewData& data, const std::vector<std::string>& others) const {
  if (!has_errors() && others.empty()) return;
  ViewData& problem = data.add("PROBLEM");
  for (const FormField& field : fields_) {
    if (field.error.empty()) continue;
    problem.add("PROBLEM_LINE")
        .set("NAME", field.name)
        .set("TEXT", field.label + ": " + field.error);
  }
  for (const std::string& other : others) problem.add("PROBLEM_OTHER").set("TEXT", other);
}

std::string member_text(const Document& entry, const char* key) {
  const auto found = entry.find(key);
  if (found == entry.end()) return "";
  if (found->is_string()) return found->get<std::string>();
  if (found->is_number_integer()) return std::to_string(found->get<std::int64_t>());
  if (found->is_number()) return number_text(found->get<double>());
  return "";
}

std::string member_words(const Document& entry, const char* key) {
  return listed(words_at(entry, key));
}

std::vector<std::string> words_in(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  const auto finish = [&] {
    word = one_line(word);
    if (!word.empty() && std::find(words.begin(), words.end(), word) == words.end()) {
      words.push_back(word);
    }
    word.clear();
  };
  for (const char c : text) {
    if (c == ',' || c == ';' || c == '\n') {
      finish();
    } else {
      word += c;
    }
  }
  finish();
  return words;
}

void put_member(Document& entry, const char* key, Document value) {
  const bool nothing = value.is_null() || (value.is_string() && value.get<std::string>().empty()) ||
                       (value.is_array() && value.empty());
  if (nothing) {
    entry.erase(key);
  } else {
    entry[key] = std::move(value);
  }
}

std::optional<double> decimal_number(std::string text) {
  std::replace(text.begin(), text.end(), ',', '.');
  constexpr std::size_t kMostDigits = 12;
  if (text.empty() || text.size() > kMostDigits) return std::nullopt;
  double number = 0;
  double unit = 0;
  int decimals = 0;
  bool digits = false;
  for (const char c : text) {
    if (c == '.' && unit == 0) {
      unit = 1;
      continue;
    }
    if (c < '0' || c > '9') return std::nullopt;
    digits = true;
    if (unit > 0) {
      constexpr int kMostDecimals = 3;
      if (++decimals > kMostDecimals) return std::nullopt;
      unit *= 10;
    }
    number = number * 10 + (c - '0');
  }
  if (!digits) return std::nullopt;
  return unit > 0 ? number / unit : number;
}

std::string number_text(double number) {
  char text[64];
  const int length = std::snprintf(text, sizeof text, "%.3f", number);
  std::string out(text, length > 0 ? static_cast<std::size_t>(length) : 0);
  while (out.find('.') != std::string::npos && (out.back() == '0' || out.back() == '.')) {
    const bool point = out.back() == '.';
    out.pop_back();
    if (point) break;
  }
  return out;
}

FormField line_field(const Visit& visit,
                     const std::string& room,
                     const char* key,
                     const Document& entry,
                     std::size_t most) {
  FormField field = field_for(visit, room, key, member_text(entry, key));
  field.most = most;
  field.put = [key](Document& into, const std::string& value) {
    put_member(into, key, value);
    return std::string();
  };
  return field;
}

FormField text_field(const Visit& visit,
                     const std::string& room,
                     const char* key,
                     const Document& entry,
                     std::size_t most) {
  FormField field = line_field(visit, room, key, entry, most);
  field.kind = FormField::Kind::text;
  return field;
}

FormField words_field(const Visit& visit,
                      const std::string& room,
                      const char* key,
                      const Document& entry) {
  constexpr std::size_t kMostWords = 2000;
  FormField field = field_for(visit, room, key, member_words(entry, key));
  field.most = kMostWords;
  field.put = [key](Document& into, const std::string& value) {
    Document list = Document::array();
    for (const std::string& word : words_in(value)) list.push_back(word);
    put_member(into, key, std::move(list));
    return std::string();
  };
  return field;
}

FormField minutes_field(const Visit& visit,
                        const std::string& room,
                        const char* key,
                        const Document& entry) {
  FormField field = field_for(visit, room, key, member_text(entry, key));
  field.kind = FormField::Kind::number;
  const std::string wrong = organiser_words(visit, "form.minutes");
  field.put = [key, wrong](Document& into, const std::string& value) {
    constexpr int kMost = 1440;
    if (value.empty()) {
      into.erase(key);
      return std::string();
    }
    const auto minutes = whole_number(value, 0, kMost);
    if (!minutes) return wrong;
    into[key] = *minutes;
    return std::string();
  };
  return field;
}

FormField choice_field(const Visit& visit,
                       const std::string& room,
                       const char* key,
                       const Document& entry,
                       std::vector<FormChoice> choices) {
  const std::string given = member_text(entry, key);
  FormField field = field_for(visit, room, key, given.empty() ? choices.front().value : given);
  field.kind = FormField::Kind::choice;
  const std::string nothing = choices.front().value;
  field.choices = std::move(choices);
  field.put = [key, nothing](Document& into, const std::string& value) {
    put_member(into, key, value == nothing ? "" : value);
    return std::string();
  };
  return field;
}

}  // namespace gp
