#include "web/organiser/scene_form.h"

#include "model/hazards.h"
#include "model/limits.h"
#include "model/texts.h"
#include "text/dates.h"
#include "time/clock.h"
#include "web/organiser/common.h"

#include <algorithm>

namespace gp {
namespace {

constexpr std::size_t kNewCrewRows = 2;
const char* const kRoom = "scene_form";

/// The entry of a scene's list that names something; null: none.
const Document* named_in(const Document& scene,
                         const char* list,
                         const char* key,
                         const std::string& id) {
  const auto entries = scene.find(list);
  if (entries == scene.end() || !entries->is_array()) return nullptr;
  for (const Document& entry : *entries) {
    if (entry.is_object() && member_text(entry, key) == id) return &entry;
  }
  return nullptr;
}

/// How many of something a scene has: its number, 1 where none is given, none where it is not
/// there.
std::string count_in(const Document* entry, const char* key) {
  if (entry == nullptr) return "";
  const std::string number = member_text(*entry, key);
  return number.empty() ? "1" : number;
}

/// Sets how many of something a scene has, in the place where it stood.
void put_count(Document& scene,
               const char* list,
               const char* key,
               const std::string& id,
               const char* count_key,
               std::int64_t count) {
  Document kept = Document::array();
  bool found = false;
  if (const auto entries = scene.find(list); entries != scene.end() && entries->is_array()) {
    for (Document entry : *entries) {
      if (entry.is_object() && member_text(entry, key) == id) {
        found = true;
        if (count == 0) continue;
        if (count == 1 && !entry.contains(count_key)) {
          kept.push_back(std::move(entry));
          continue;
        }
        entry[count_key] = count;
      }
      kept.push_back(std::move(entry));
    }
  }
  if (!found && count > 0) {
    Document entry = Document::object();
    entry[key] = id;
    if (count > 1) entry[count_key] = count;
    kept.push_back(std::move(entry));
  }
  put_member(scene, list, std::move(kept));
}

FormField count_field(Visit& visit,
                      const char* list,
                      const char* key,
                      const char* count_key,
                      const std::string& id,
                      const std::string& label,
                      const Document& entry) {
  FormField field;
  field.kind = FormField::Kind::number;
  field.name = std::string(list) + "-" + id;
  field.key = list;
  field.label = label;
  field.was = field.value = count_in(named_in(entry, list, key, id), count_key);
  const std::string wrong = organiser_words(visit, "form.count");
  field.put = [=](Document& into, const std::string& value) {
    const auto count =
        value.empty() ? std::optional<std::int64_t>(0) : whole_number(value, 0, limits::kHeads);
    if (!count) return wrong;
    put_count(into, list, key, id, count_key, *count);
    return std::string();
  };
  return field;
}

void add_cast(Visit& visit, EntryForm& form, const Production& production, const Document& entry) {
  if (production.roles.empty()) return;
  form.heading(organiser_words(visit, "scene_form.cast"));
  for (const Role& role : production.roles) {
    if (role.crowd) {
      form.add(count_field(visit,
                           "cast",
                           "role",
                           "people",
                           role.id,
                           organiser_words(visit, "scene_form.heads", {{"role", role.shown()}}),
                           entry));
      continue;
    }
    FormField field;
    field.kind = FormField::Kind::tick;
    field.name = "cast-" + role.id;
    field.key = "cast";
    field.label = role.shown();
    field.was = field.value = named_in(entry, "cast", "role", role.id) == nullptr ? "" : "1";
    const std::string id = role.id;
    field.put = [id](Document& into, const std::string& value) {
      put_count(into, "cast", "role", id, "people", value.empty() ? 0 : 1);
      return std::string();
    };
    form.add(std::move(field));
  }
}

/// One row of crew; a row left without a job is taken out.
void add_crew_row(Visit& visit, EntryForm& form, std::size_t row, const Document& entry) {
  const std::string stem = "crew-" + std::to_string(row);
  const auto number = static_cast<std::int64_t>(row + 1);
  const auto add = [&](const char* part, const std::string& was, FormField::Kind kind) {
    FormField field;
    field.kind = kind;
    field.name = stem + "-" + part;
    field.key = "crew";
    field.label =
        organiser_words(visit, std::string("scene_form.crew_") + part, {{"number", number}});
    field.was = field.value = was;
    form.add(std::move(field));
  };
  add("job", member_text(entry, "job"), FormField::Kind::line);
  add("people", entry.empty() ? "" : count_in(&entry, "people"), FormField::Kind::number);
  add("needs", member_words(entry, "needs"), FormField::Kind::line);
}

void add_crew(Visit& visit, EntryForm& form, const Document& entry) {
  form.heading(organiser_words(visit, "scene_form.crew"));
  std::size_t row = 0;
  if (const auto crew = entry.find("crew"); crew != entry.end() && crew->is_array()) {
    for (const Document& one : *crew) add_crew_row(visit, form, row++, one);
  }
  for (std::size_t i = 0; i < kNewCrewRows; ++i) {
    add_crew_row(visit, form, row++, Document::object());
  }
}

void add_props(Visit& visit, EntryForm& form, const Production& production, const Document& entry) {
  if (production.items.empty()) return;
  form.heading(organiser_words(visit, "scene_form.props"));
  for (const Item& item : production.items) {
    form.add(count_field(visit, "props", "item", "count", item.id, item.shown(), entry));
  }
}

bool has_word(const Document& entry, const char* key, const std::string& word) {
  const auto list = entry.find(key);
  return list != entry.end() && list->is_array() &&
         std::any_of(list->begin(), list->end(), [&](const Document& one) {
           return one.is_string() && one.get<std::string>() == word;
         });
}

/// A tick that puts a word into a list of words or takes it out.
FormField word_tick(const char* key,
                    const std::string& word,
                    const std::string& label,
                    const Document& entry) {
  FormField field;
  field.kind = FormField::Kind::tick;
  field.name = std::string(key) + "-" + word;
  field.key = key;
  field.label = label;
  field.was = field.value = has_word(entry, key, word) ? "1" : "";
  field.put = [key, word](Document& into, const std::string& value) {
    Document list = Document::array();
    if (const auto old = into.find(key); old != into.end() && old->is_array()) {
      for (const Document& one : *old) {
        if (!one.is_string() || one.get<std::string>() != word) list.push_back(one);
      }
    }
    if (!value.empty()) list.push_back(word);
    put_member(into, key, std::move(list));
    return std::string();
  };
  return field;
}

FormField time_field(Visit& visit, const Document& entry) {
  FormField field = line_field(visit, kRoom, "at", entry, 20);
  const std::string wrong = organiser_words(visit, "form.time");
  field.put = [wrong](Document& into, const std::string& value) {
    const std::string time = parse_wall_time(value) ? value : time_like(value);
    if (!value.empty() && !parse_wall_time(time)) return wrong;
    put_member(into, "at", time);
    return std::string();
  };
  return field;
}

FormField between_field(Visit& visit, const Document& entry) {
  FormField field = line_field(visit, kRoom, "between", entry, 30);
  const std::string wrong = organiser_words(visit, "form.span");
  field.put = [wrong](Document& into, const std::string& value) {
    const std::string span = parse_wall_span(value) ? value : span_like(value);
    if (!value.empty() && !parse_wall_span(span)) return wrong;
    put_member(into, "between", span);
    return std::string();
  };
  return field;
}

FormField worth_field(Visit& visit, const Document& entry) {
  FormField field = line_field(visit, kRoom, "worth", entry, 20);
  field.kind = FormField::Kind::number;
  const std::string wrong = organiser_words(visit, "form.number");
  field.put = [wrong](Document& into, const std::string& value) {
    const auto worth = decimal_number(value);
    if (!value.empty() && !worth) return wrong;
    put_member(into, "worth", worth ? Document(*worth) : Document());
    return std::string();
  };
  return field;
}

FormField optional_tick(Visit& visit, const Document& entry) {
  FormField field;
  field.kind = FormField::Kind::tick;
  field.name = field.key = "optional";
  field.label = organiser_words(visit, "scene_form.label.optional");
  const auto found = entry.find("optional");
  field.was = field.value =
      found != entry.end() && found->is_boolean() && found->get<bool>() ? "1" : "";
  field.put = [](Document& into, const std::string& value) {
    put_member(into, "optional", value.empty() ? Document() : Document(true));
    return std::string();
  };
  return field;
}

void add_when(Visit& visit, EntryForm& form, const Production& production, const Document& entry) {
  form.heading(organiser_words(visit, "scene_form.when"));
  std::vector<FormChoice> days = {{"", organiser_words(visit, "scene_form.any_day")}};
  for (const Day& day : production.days) {
    days.push_back({format(day.date), long_date(day.date, date_tongue(visit))});
  }
  form.add(choice_field(visit, kRoom, "day", entry, std::move(days)));
  form.add(time_field(visit, entry));
  form.add(between_field(visit, entry));
  std::vector<FormChoice> lights;
  for (const char* const light : {"any", "day", "golden", "dusk", "dark"}) {
    lights.push_back({light, organiser_words(visit, std::string("light.") + light)});
  }
  form.add(choice_field(visit, kRoom, "light", entry, std::move(lights)));
  form.heading(organiser_words(visit, "scene_form.after"));
  for (const Scene& scene : production.scenes) {
    if (scene.id != member_text(entry, "id")) {
      form.add(word_tick("after", scene.id, scene.shown(), entry));
    }
  }
}

void add_hazards(Visit& visit, EntryForm& form, const Document& entry) {
  form.heading(organiser_words(visit, "scene_form.hazards"));
  for (const std::string& hazard : known_hazards()) {
    form.add(word_tick("hazards", hazard, organiser_words(visit, "hazard." + hazard), entry));
  }
}

}  // namespace

EntryForm scene_form(Visit& visit,
                     const Production& production,
                     const Document& document,
                     const Document& entry) {
  EntryForm form;
  form.add(line_field(visit, kRoom, "name", entry, limits::kNameCharacters)).must = true;
  std::vector<FormChoice> places = {{"", organiser_words(visit, "scene_form.base")}};
  for (const Place& place : production.places) {
    places.push_back({place.id, place.name.empty() ? place.id : place.name});
  }
  form.add(choice_field(visit, kRoom, "place", entry, std::move(places)));
  if (document.contains("units") && production.units.size() > 1) {
    std::vector<FormChoice> units = {{"", organiser_words(visit, "scene_form.first_unit")}};
    for (const Unit& unit : production.units) units.push_back({unit.id, unit.shown()});
    form.add(choice_field(visit, kRoom, "unit", entry, std::move(units)));
  }
  form.add(line_field(visit, kRoom, "set", entry, limits::kNameCharacters));
  form.add(minutes_field(visit, kRoom, "shoot_minutes", entry));
  form.add(minutes_field(visit, kRoom, "set_minutes", entry));
  form.add(minutes_field(visit, kRoom, "reset_minutes", entry));
  add_cast(visit, form, production, entry);
  add_crew(visit, form, entry);
  add_props(visit, form, production, entry);
  add_when(visit, form, production, entry);
  add_hazards(visit, form, entry);
  form.heading(organiser_words(visit, "scene_form.more"));
  form.add(worth_field(visit, entry));
  form.add(optional_tick(visit, entry));
  form.add(text_field(visit, kRoom, "notes", entry, limits::kNoteCharacters));
  return form;
}

bool apply_crew(Visit& visit, EntryForm& form, Document& entry) {
  Document crew = Document::array();
  const auto old = entry.find("crew");
  const std::size_t there = old != entry.end() && old->is_array() ? old->size() : 0;
  bool changed = false;
  const auto find = [&](std::size_t row, const char* part) -> FormField* {
    const std::string name = "crew-" + std::to_string(row) + "-" + part;
    for (FormField& field : form.fields()) {
      if (field.name == name) return &field;
    }
    return nullptr;
  };
  for (std::size_t row = 0; row < there + kNewCrewRows; ++row) {
    FormField* const job = find(row, "job");
    FormField* const people = find(row, "people");
    FormField* const needs = find(row, "needs");
    if (job == nullptr || people == nullptr || needs == nullptr) continue;
    const bool same =
        job->value == job->was && people->value == people->was && needs->value == needs->was;
    Document one = row < there ? (*old)[row] : Document::object();
    if (same) {
      if (row < there) crew.push_back(std::move(one));
      continue;
    }
    changed = true;
    if (job->value.empty()) {
      if (!people->value.empty() && people->value != people->was) {
        job->error = organiser_words(visit, "form.job");
      }
      continue;  // the row is taken out
    }
    put_member(one, "job", job->value);
    const auto count = people->value.empty() ? std::optional<std::int64_t>(1)
                                             : whole_number(people->value, 1, limits::kHeads);
    if (!count) {
      people->error = organiser_words(visit, "form.count");
      continue;
    }
    if (*count > 1 || one.contains("people")) one["people"] = *count;
    Document list = Document::array();
    for (const std::string& word : words_in(needs->value)) list.push_back(word);
    put_member(one, "needs", std::move(list));
    crew.push_back(std::move(one));
  }
  if (changed && !form.has_errors()) put_member(entry, "crew", std::move(crew));
  return !form.has_errors();
}

}  // namespace gp
