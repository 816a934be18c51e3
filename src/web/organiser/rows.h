#pragma once

#include "web/organiser/common.h"

#include <string>

// Sign-ups as rows of a list, the same on every page.

namespace gp {

/// "state-new" and its neighbours (style.css), by which a state's word is dressed.
std::string state_class(SignUpState state);

/// Adds a section ROW: NAME, KEY (of the address), STATE, STATE_CLASS, ANSWER, WHEN, FREE, and the
/// sections IS_NEW, BRINGS (TEXT), FILMED, CAN (TEXT), FRIENDS (TEXT), ACCEPT, WAIT, DECLINE (what
/// may be done). \param back  the page to return to
ViewData& add_sign_up_row(Visit& visit,
                          ViewData& data,
                          const BookState& state,
                          const SignUp& sign_up,
                          const std::string& back);

/// What still wants the organiser's eyes.
struct WantsAnswer {
  std::size_t fresh = 0, changed = 0, notices = 0;
  [[nodiscard]] bool any() const { return fresh + changed + notices > 0; }
};
WantsAnswer wants_answer(const BookState& state);

}  // namespace gp
