#pragma once

#include "store/book.h"
#include "web/site.h"

#include <optional>
#include <string>
#include <variant>
#include <vector>

// What the organiser's pages share.

namespace gp {

/// Words of the room "organiser".
std::string organiser_words(const Visit& visit,
                            std::string_view key,
                            const std::vector<WordValue>& values = {});

/// How a person stands in addresses: their id is made of their name, which must not.
/// "p" and 12 hexadecimal digits of the id's SHA-256.
std::string person_key(std::string_view person_id);
/// None: nobody has that key.
std::optional<PersonId> person_by_key(const Production& production, std::string_view key);
std::optional<PersonId> person_by_id(const Production& production, std::string_view id);

/// "Wed, 25 November, 12:37" on the production's clock, as the reader's language has it.
std::string moment_words(const Production& production, UnixTime at, const std::string& language);
/// For dates: the reader's language, with the production's region where both speak the same, so
/// that an English film does not write its days the American way.
std::string date_tongue(const Visit& visit);
/// The date it is there at a moment.
Date date_at(const Production& production, UnixTime at);
/// "every day", or the days with their hours; days that the production does not have are left out.
std::string free_words(const Visit& visit,
                       const Production& production,
                       const std::optional<std::vector<FreeTime>>& free);
/// "a, b, c" (no language's own way: these are lists of words).
std::string listed(const std::vector<std::string>& words);
/// Whole per cent with the word for "about": a chance is never shown more exactly.
std::string chance_words(const Visit& visit, double chance);

/// A whole number within limits; none: anything else.
std::optional<std::int64_t> whole_number(std::string_view text,
                                         std::int64_t least,
                                         std::int64_t most);
/// A value of the address's query; empty: there is none.
std::string query_of(const Visit& visit, const std::string& name);

/// Whether the production has changed since the plan was made.
bool out_of_date(const BookState& state, const ReadPlan& plan);

/// Goes on to `back`, which says what was done and offers to undo it; where the change was refused,
/// a page with every reason.
HttpAnswer after_change(Visit& visit,
                        const std::variant<Kept, Refusal>& result,
                        const std::string& back);
/// Adds the section DONE of the page that after_change() went to.
void show_done(Visit& visit, ViewData& data);
/// A page that shows why a change was not kept, with both sides of each place.
HttpAnswer show_refusal(Visit& visit, const Refusal& refusal, const std::string& back);
/// Sets COLLISIONS to a table of both sides of each place; nothing where there are none.
void add_collisions(Visit& visit, ViewData& data, const std::vector<Collision>& collisions);
/// A fault in a sentence: "people[3].born: found …, expected …".
std::string fault_words(const Fault& fault);

/// A new id for an entry of one of the production's lists ("people", "scenes"), made of its name,
/// numbered where taken.
std::string new_entry_id(const Document& production, const char* list, const std::string& name);

/// The state that a form was made from: its field "seen"; the newest where that is no revision.
std::shared_ptr<const BookState> state_seen(Visit& visit);
/// The place of an entry in one of the production's lists; none: it is not there.
std::optional<std::size_t> entry_place(const Document& production,
                                       const char* list,
                                       const std::string& id);

/// The rooms' parts; add_organiser_pages() calls them all.
void add_overview_pages(Site& site);
void add_people_pages(Site& site);
void add_person_pages(Site& site);
void add_person_forms(Site& site);
void add_needs_pages(Site& site);
void add_plan_pages(Site& site);
void add_scene_pages(Site& site);
void add_history_pages(Site& site);
void add_settings_pages(Site& site);
void add_export_pages(Site& site);
void add_door_pages(Site& site);

}  // namespace gp
