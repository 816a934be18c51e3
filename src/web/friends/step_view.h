#pragma once

#include "web/friends/sign_up_form.h"
#include "web/views.h"

#include <string>
#include <vector>

namespace gp {

/// What one page of the sign-up is made of.
struct StepPage {
  SignUpStep step = SignUpStep::you;
  std::size_t companion = 0;        ///< which, on the page `companion`
  const TypedAnswers& typed;        // NOLINT: lives as long as the answer is made
  const Asked& asked;               // NOLINT
  const std::string& consent;       // NOLINT: the words of the agreement to be filmed
  std::vector<SignUpFault> faults;  ///< of this page alone
  const SayFriends& say;            // NOLINT
};

/// Fills in the questions of a page (template friends/step).
void fill_step(ViewData& data, const StepPage& page);

/// One row of the page that shows all answers: what was asked, what was said, where to change it.
struct AnswerRow {
  SignUpStep step = SignUpStep::you;
  std::string label, value;  ///< value empty: nothing was given
};
std::vector<AnswerRow> answer_rows(const SignUp& sign_up,
                                   const Asked& asked,
                                   const std::string& date_language,
                                   const SayFriends& say);

}  // namespace gp
