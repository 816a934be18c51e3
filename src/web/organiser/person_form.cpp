#include "model/limits.h"
#include "model/read_production.h"
#include "model/texts.h"
#include "store/json_diff.h"
#include "text/dates.h"
#include "time/clock.h"
#include "web/likes.h"
#include "web/organiser/common.h"
#include "web/organiser/form.h"
#include "web/organiser/likes_field.h"

#include <algorithm>
#include <array>

namespace gp {
namespace {

constexpr const char* kAllDay = "all";
constexpr const char* kSomeHours = "hours";
constexpr const char* kNotThisDay = "no";

/// The entries of `free` for one day: how long, and the hours as text.
struct DayChoice {
  std::string how = kAllDay;
  std::string hours;
};

DayChoice choice_of(const Document& entry, const std::string& date) {
  const auto free = entry.find("free");
  if (free == entry.end() || !free->is_array()) return {};
  DayChoice choice{kNotThisDay, ""};
  std::vector<std::string> hours;
  for (const Document& one : *free) {
    if (!one.is_string()) continue;
    const std::string text = one.get<std::string>();
    if (!text.starts_with(date)) continue;
    if (text.size() == date.size()) return {};
    hours.push_back(text.substr(date.size() + 1));
  }
  if (!hours.empty()) choice = {kSomeHours, listed(hours)};
  return choice;
}

/// Writes one day's hours into `free`; where there was none, all days stand in it first.
void put_day(Document& entry,
             const std::vector<std::string>& dates,
             const std::string& date,
             const std::vector<std::string>& spans) {
  std::vector<std::string> all;
  const auto free = entry.find("free");
  if (free == entry.end()) {
    all = dates;
  } else {
    for (const Document& one : *free) {
      if (one.is_string()) all.push_back(one.get<std::string>());
    }
  }
  std::erase_if(all, [&](const std::string& text) { return text.starts_with(date); });
  all.insert(all.end(), spans.begin(), spans.end());
  std::stable_sort(all.begin(), all.end());
  Document list = Document::array();
  for (const std::string& one : all) list.push_back(one);
  entry["free"] = std::move(list);
}

/// "9:00-13:00, 15.30 – 18" as spans, or what is wrong.
std::variant<std::vector<std::string>, std::string> spans_in(const Visit& visit,
                                                             const std::string& text) {
  std::vector<std::string> spans;
  for (const std::string& word : words_in(text)) {
    std::string span = parse_wall_span(word) ? word : span_like(word);
    const auto read = parse_wall_span(span);
    if (!read) return organiser_words(visit, "form.hours", {{"what", word}});
    if (read->until <= read->from) {
      return organiser_words(visit, "form.hours_turned", {{"what", word}});
    }
    spans.push_back(std::move(span));
  }
  if (spans.empty()) return organiser_words(visit, "form.hours_missing");
  return spans;
}

void add_days(Visit& visit, EntryForm& form, const Production& production, const Document& entry) {
  std::vector<std::string> dates;
  for (const Day& day : production.days) dates.push_back(format(day.date));
  form.heading(organiser_words(visit, "person_form.days"));
  for (const Day& day : production.days) {
    const std::string date = format(day.date);
    const DayChoice choice = choice_of(entry, date);
    const std::string shown = long_date(day.date, date_tongue(visit));
    FormField how;
    how.kind = FormField::Kind::choice;
    how.name = "day-" + date;
    how.key = "free";
    how.label = shown;
    how.was = how.value = choice.how;
    how.choices = {{kAllDay, organiser_words(visit, "person_form.all_day")},
                   {kSomeHours, organiser_words(visit, "person_form.some_hours")},
                   {kNotThisDay, organiser_words(visit, "person_form.not_this_day")}};
    how.put = [date, dates](Document& into, const std::string& value) {
      // the hours are written by their own field
      if (value == kAllDay) put_day(into, dates, date, {date});
      if (value == kNotThisDay) put_day(into, dates, date, {});
      return std::string();
    };
    form.add(std::move(how));
    FormField hours;
    hours.name = "hours-" + date;
    hours.label = organiser_words(visit, "person_form.hours_of", {{"day", shown}});
    hours.hint = organiser_words(visit, "person_form.hours_hint");
    hours.was = hours.value = choice.hours;
    form.add(std::move(hours));
  }
}

/// The hours count where their day says "some hours"; done after the other fields, because they
/// need both.
bool apply_hours(Visit& visit, EntryForm& form, const Production& production, Document& entry) {
  std::vector<std::string> dates;
  for (const Day& day : production.days) dates.push_back(format(day.date));
  for (FormField& field : form.fields()) {
    if (!field.name.starts_with("hours-")) continue;
    const std::string date = field.name.substr(6);
    const auto how =
        std::find_if(form.fields().begin(), form.fields().end(), [&](const FormField& other) {
          return other.name == "day-" + date;
        });
    if (how == form.fields().end() || how->value != kSomeHours) continue;
    if (how->was == kSomeHours && field.value == field.was) continue;
    const auto spans = spans_in(visit, field.value);
    if (const auto* wrong = std::get_if<std::string>(&spans)) {
      field.error = *wrong;
      continue;
    }
    std::vector<std::string> entries;
    for (const std::string& span : std::get<std::vector<std::string>>(spans)) {
      entries.push_back(date + " " + span);
    }
    put_day(entry, dates, date, entries);
  }
  return !form.has_errors();
}

FormField sizes_field(const Visit& visit, const Document& entry) {
  std::string lines;
  if (const auto sizes = entry.find("sizes"); sizes != entry.end() && sizes->is_object()) {
    for (const auto& [name, size] : sizes->items()) {
      if (!size.is_number()) continue;
      lines += (lines.empty() ? "" : "\n") + name + " " + number_text(size.get<double>());
    }
  }
  FormField field = text_field(visit, "person_form", "sizes", Document::object(), 2000);
  field.was = field.value = lines;
  const std::string wrong = organiser_words(visit, "form.sizes");
  field.put = [wrong](Document& into, const std::string& value) {
    Document sizes = Document::object();
    // a line each: a comma may stand inside a number
    for (std::size_t from = 0; from <= value.size();) {
      const std::size_t end = std::min(value.find_first_of("\n;", from), value.size());
      const std::string line = one_line(value.substr(from, end - from));
      from = end + 1;
      if (line.empty()) continue;
      const std::size_t space = line.find_last_of(" :=");
      const auto size =
          space == std::string::npos ? std::nullopt : decimal_number(line.substr(space + 1));
      const std::string name = space == std::string::npos ? "" : one_line(line.substr(0, space));
      if (!size || name.empty()) return wrong;
      sizes[name] = *size;
    }
    if (sizes.empty()) {
      into.erase("sizes");
    } else {
      into["sizes"] = std::move(sizes);
    }
    return std::string();
  };
  return field;
}

FormField turnout_field(const Visit& visit, const Document& entry) {
  FormField field = line_field(visit, "person_form", "turnout", Document::object(), 20);
  field.kind = FormField::Kind::number;
  if (const auto turnout = entry.find("turnout"); turnout != entry.end() && turnout->is_number()) {
    field.was = field.value = number_text(turnout->get<double>() * 100);
  }
  const std::string wrong = organiser_words(visit, "form.percent");
  field.put = [wrong](Document& into, const std::string& value) {
    if (value.empty()) {
      into.erase("turnout");
      return std::string();
    }
    std::string number = value;
    while (!number.empty() && (number.back() == '%' || number.back() == ' ')) number.pop_back();
    const auto percent = decimal_number(number);
    if (!percent || *percent > 100) return wrong;
    into["turnout"] = *percent / 100;
    return std::string();
  };
  return field;
}

FormField weight_field(const Visit& visit, const Document& entry) {
  FormField field = line_field(visit, "person_form", "weight", entry, 20);
  field.kind = FormField::Kind::number;
  const std::string wrong = organiser_words(visit, "form.number");
  field.put = [wrong](Document& into, const std::string& value) {
    if (value.empty()) {
      into.erase("weight");
      return std::string();
    }
    const auto weight = decimal_number(value);
    if (!weight) return wrong;
    into["weight"] = *weight;
    return std::string();
  };
  return field;
}

FormField born_field(const Visit& visit, const Document& entry) {
  FormField field = line_field(visit, "person_form", "born", entry, 20);
  const std::string wrong = organiser_words(visit, "form.date");
  field.put = [wrong](Document& into, const std::string& value) {
    const std::string date = parse_date(value) ? value : date_like(value);
    if (!value.empty() && !parse_date(date)) return wrong;
    put_member(into, "born", date);
    return std::string();
  };
  return field;
}

EntryForm form_of(Visit& visit, const Production& production, const Document& entry) {
  const std::string room = "person_form";
  EntryForm form;
  form.add(line_field(visit, room, "name", entry, limits::kNameCharacters)).must = true;
  form.add(choice_field(visit,
                        room,
                        "answer",
                        entry,
                        {{"yes", organiser_words(visit, "answer.yes")},
                         {"maybe", organiser_words(visit, "answer.maybe")},
                         {"asked", organiser_words(visit, "answer.asked")},
                         {"no", organiser_words(visit, "answer.no")}}));
  form.add(line_field(visit, room, "phone", entry, limits::kNameCharacters));
  form.add(line_field(visit, room, "email", entry, limits::kNameCharacters));
  form.add(line_field(visit, room, "language", entry, 35));
  add_days(visit, form, production, entry);
  form.heading(organiser_words(visit, "person_form.what"));
  form.add(words_field(visit, room, "can", entry));
  form.add(likes_field(visit, production, entry));
  form.add(words_field(visit, room, "no", entry));
  form.add(turnout_field(visit, entry));
  form.add(weight_field(visit, entry));
  form.heading(organiser_words(visit, "person_form.private"));
  std::vector<FormChoice> adults = {{"", organiser_words(visit, "person_form.no_guardian")}};
  for (const Person& person : production.people) {
    if (person.id != member_text(entry, "id")) adults.push_back({person.id, person.shown()});
  }
  form.add(born_field(visit, entry));
  form.add(choice_field(visit, room, "guardian", entry, std::move(adults)));
  form.add(sizes_field(visit, entry));
  form.add(line_field(visit, room, "food", entry, limits::kNoteCharacters));
  form.add(line_field(visit, room, "skin", entry, limits::kNoteCharacters));
  return form;
}

struct Shown {
  std::string key;  ///< of the address; empty: a new person
  std::string name;
  Revision seen = 0;
  std::vector<std::string> others;  ///< faults that belong to no field
  const std::vector<Collision>* collisions = nullptr;
  int status = 200;
};

HttpAnswer show_form(Visit& visit, const EntryForm& form, const Shown& shown) {
  ViewData data;
  form.show_problems(data, shown.others);
  data.set("CSRF", visit.csrf)
      .set("KEY", shown.key)
      .set("SEEN", shown.seen)
      .set("ACTION",
           shown.key.empty() ? "/organise/new-person" : "/organise/people/" + shown.key + "/change")
      .set("BACK", shown.key.empty() ? "/organise/people" : "/organise/people/" + shown.key);
  // drawn by a template of ours, which escaped every value
  data.set_markup("FIELDS", form.draw(visit));
  const std::string title =
      shown.key.empty() ? organiser_words(visit, "person_form.new")
                        : organiser_words(visit, "person_form.title", {{"name", shown.name}});
  data.set("HEADING", title);
  if (!shown.key.empty()) data.show("REMOVABLE");
  if (shown.collisions != nullptr) add_collisions(visit, data, *shown.collisions);
  const bool wrong = shown.status != 200;
  return visit.site.show(
      visit,
      "organiser/person_form",
      wrong ? organiser_words(visit, "form.error_title", {{"title", title}}) : title,
      data,
      shown.status);
}

/// The person of an address: by their sign-up or by their own key.
std::string person_of(const BookState& state, const std::string& key) {
  if (const auto sign_up = state.sign_up(key)) return sign_up->person;
  const auto person = person_by_key(*state.production, key);
  return person ? state.production->people[*person].id : "";
}

/// What the organiser changed of a person is changed in their sign-up too, so that the friend sees
/// it and does not change it back with their next answers.
std::optional<Edit> follow_in_sign_up(const BookState& state,
                                      const std::string& person,
                                      const Document& before,
                                      const Document& after) {
  const auto sign_up = state.sign_up_of_person(person);
  if (!sign_up) return std::nullopt;
  const Document document = write_sign_up(*sign_up);
  const Production& production = *state.production;
  Document changed = document;
  static constexpr std::array<const char*, 10> kShared = {
      "name", "phone", "email", "answer", "free", "can", "no", "sizes", "food", "skin"};
  for (const char* const key : kShared) {
    const Document was = before.contains(key) ? before.at(key) : Document();
    const Document is = after.contains(key) ? after.at(key) : Document();
    if (was == is) continue;
    if (is.is_null()) {
      changed.erase(key);
    } else {
      changed[key] = is;
    }
  }
  follow_likes(changed, production, before, after);
  Document patch = difference(document, changed);
  if (patch.empty()) return std::nullopt;
  return Edit{"sign-up/" + sign_up->id, std::move(patch)};
}

HttpAnswer edit_person(Visit& visit) {
  const auto state = visit.site.book().state();
  const std::string person = person_of(*state, visit.path.front());
  const auto place = entry_place(*state->production_document, "people", person);
  if (person.empty() || !place) return visit.site.show_error(visit, 404);
  const Document& entry = state->production_document->at("people").at(*place);
  const EntryForm form = form_of(visit, *state->production, entry);
  return show_form(
      visit, form, {visit.path.front(), form.value("name"), state->revision, {}, nullptr, 200});
}

/// The newest entry with what was typed over it, and both sides told.
HttpAnswer show_collision(Visit& visit,
                          const EntryForm& typed,
                          Shown shown,
                          const std::string& person,
                          const Refusal& refusal) {
  const auto newest = visit.site.book().state();
  const auto place = entry_place(*newest->production_document, "people", person);
  if (!place) return show_refusal(visit, refusal, "/organise/people");
  EntryForm form =
      form_of(visit, *newest->production, newest->production_document->at("people").at(*place));
  form.take_changes_of(typed);
  shown.seen = newest->revision;
  shown.collisions = &refusal.collisions;
  shown.status = 409;
  return show_form(visit, form, shown);
}

HttpAnswer keep_person(Visit& visit) {
  const auto newest = visit.site.book().state();
  const std::string person = person_of(*newest, visit.path.front());
  const auto state = state_seen(visit);
  const auto place = entry_place(*state->production_document, "people", person);
  if (person.empty() || !place) return visit.site.show_error(visit, 404);
  const Document& before = *state->production_document;
  const Document& entry = before.at("people").at(*place);
  EntryForm form = form_of(visit, *state->production, entry);
  form.read(visit.request);
  Shown shown{visit.path.front(), form.value("name"), state->revision, {}, nullptr, 422};
  Document mine = entry;
  const bool right = form.apply(visit, mine);
  if (!apply_hours(visit, form, *state->production, mine) || !right) {
    return show_form(visit, form, shown);
  }
  const std::string back = "/organise/people/" + visit.path.front();
  Document after = before;
  after["people"][*place] = mine;
  Change change;
  change.edits.push_back({"production", difference(before, after)});
  if (change.edits.front().patch.empty()) return HttpAnswer::go_to(back);
  if (auto edit = follow_in_sign_up(*state, person, entry, mine)) {
    change.edits.push_back(std::move(*edit));
  }
  change.who = "organiser";
  change.why = "changed a person";
  change.at = visit.now;
  change.seen = state->revision;
  const auto result = visit.site.book().change(with_likes(*state, std::move(change)));
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    if (!refusal->collisions.empty()) {
      return show_collision(visit, form, shown, person, *refusal);
    }
    shown.others = form.tell(refusal->faults, "people[" + std::to_string(*place) + "].");
    return show_form(visit, form, shown);
  }
  return after_change(visit, result, back);
}

HttpAnswer new_person(Visit& visit) {
  const auto state = visit.site.book().state();
  const EntryForm form = form_of(visit, *state->production, Document::object());
  return show_form(visit, form, {"", "", state->revision, {}, nullptr, 200});
}

HttpAnswer keep_new_person(Visit& visit) {
  const auto state = state_seen(visit);
  const Document& before = *state->production_document;
  EntryForm form = form_of(visit, *state->production, Document::object());
  form.read(visit.request);
  Shown shown{"", "", state->revision, {}, nullptr, 422};
  Document mine = Document::object();
  const bool right = form.apply(visit, mine);
  if (!apply_hours(visit, form, *state->production, mine) || !right) {
    return show_form(visit, form, shown);
  }
  // the id comes from the state that the form was made from: the same form sent twice makes the
  // same person, and the book sees that both say the same
  Document with_id = Document::object();
  with_id["id"] = new_entry_id(before, "people", form.value("name"));
  with_id.update(mine);
  Document after = before;
  if (!after.contains("people")) after["people"] = Document::array();
  after["people"].push_back(with_id);
  Change change;
  change.edits.push_back({"production", difference(before, after)});
  change.who = "organiser";
  change.why = "added a person";
  change.at = visit.now;
  change.seen = state->revision;
  const auto result = visit.site.book().change(with_likes(*state, std::move(change)));
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    if (!refusal->collisions.empty()) return show_refusal(visit, *refusal, "/organise/people");
    const std::size_t place = after["people"].size() - 1;
    shown.others = form.tell(refusal->faults, "people[" + std::to_string(place) + "].");
    return show_form(visit, form, shown);
  }
  return after_change(visit, result, "/organise/people");
}

HttpAnswer remove_person(Visit& visit) {
  const auto newest = visit.site.book().state();
  const std::string person = person_of(*newest, visit.path.front());
  const auto state = state_seen(visit);
  const auto place = entry_place(*state->production_document, "people", person);
  if (person.empty() || !place) return visit.site.show_error(visit, 404);
  Document after = *state->production_document;
  after["people"].erase(*place);
  Change change;
  change.edits.push_back({"production", difference(*state->production_document, after)});
  change.who = "organiser";
  change.why = "took out a person";
  change.at = visit.now;
  change.seen = state->revision;
  return after_change(
      visit, visit.site.book().change(with_likes(*state, std::move(change))), "/organise/people");
}

}  // namespace

void add_person_forms(Site& site) {
  site.add({"GET", "/organise/new-person", Access::organiser, new_person});
  site.add({"POST", "/organise/new-person", Access::organiser, keep_new_person});
  site.add({"GET", "/organise/people/:key/change", Access::organiser, edit_person});
  site.add({"POST", "/organise/people/:key/change", Access::organiser, keep_person});
  site.add({"POST", "/organise/people/:key/remove", Access::organiser, remove_person});
}

}  // namespace gp
