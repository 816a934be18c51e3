#pragma once

#include "web/organiser/form.h"

namespace gp {

/// The form of one scene: an entry of "scenes" in the production's document.
EntryForm scene_form(Visit& visit,
                     const Production& production,
                     const Document& document,
                     const Document& entry);
/// What is typed in rows of several fields (crew), written after the single fields.
/// \return false: something is wrong, told at its fields
bool apply_crew(Visit& visit, EntryForm& form, Document& entry);

}  // namespace gp
