#pragma once

#include "model/production.h"
#include "web/organiser/form.h"

// Likes in the organiser's form of a person.

namespace gp {

/// Parts, jobs and people, a line each; what names none of them, or several, is told.
/// \param production  must outlive the form
FormField likes_field(Visit& visit, const Production& production, const Document& entry);

/// Parts and jobs that were entered or taken out there, ticked or not in the person's sign-up;
/// whom they like is the organiser's alone, as friends see their sign-up.
/// \param before, after  the person
void follow_likes(Document& sign_up,
                  const Production& production,
                  const Document& before,
                  const Document& after);

}  // namespace gp
