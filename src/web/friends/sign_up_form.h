#pragma once

#include "store/book.h"
#include "web/friends/asked.h"
#include "web/http.h"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace gp {

/// The pages of the sign-up, one matter each, in their order.
enum class SignUpStep {
  you,
  guardian,
  when,
  like,
  can,
  no,
  sizes,
  care,
  need,
  brings,
  companion,
  film,
  check,
};
std::string_view name_of(SignUpStep step);
std::optional<SignUpStep> sign_up_step(std::string_view name);

/// The answers as they were typed, under the names of their fields. Only names that the sign-up
/// knows are kept: nothing else that a browser sends can reach a sign-up.
class TypedAnswers {
 public:
  TypedAnswers() = default;
  explicit TypedAnswers(const HttpRequest& request);

  [[nodiscard]] std::string first(std::string_view name) const;
  [[nodiscard]] std::vector<std::string> all(std::string_view name) const;
  [[nodiscard]] bool has(std::string_view name, std::string_view value) const;
  void add(std::string_view name, std::string_view value);
  void set(std::string_view name, std::string_view value);  ///< empty: taken away
  void erase(std::string_view name);

  /// Those brought along, numbered from 0 without gaps.
  [[nodiscard]] std::size_t companions() const;
  void erase_companion(std::size_t index);

  [[nodiscard]] const std::vector<std::pair<std::string, std::string>>& list() const {
    return fields_;
  }

 private:
  std::vector<std::pair<std::string, std::string>> fields_;
};

/// On which page a field is asked; none: it is no answer.
std::optional<SignUpStep> step_of_field(std::string_view name);
/// "c3_" for the fields of one who is brought along.
std::string companion_field(std::size_t index, std::string_view name);

/// Something to put right: the field (the first wrong part of a date, the first choice of a
/// group), and what to do in words.
struct SignUpFault {
  SignUpStep step = SignUpStep::you;
  std::string field;
  std::string text;
};

struct ReadAnswers {
  SignUp sign_up;
  std::vector<SignUpFault> faults;  ///< in the order of the pages
};

/// What the answers say. Blanks at the ends, double blanks and characters that are not seen are
/// left out rather than told.
/// \param before  the sign-up as it is: what this production does not ask for stays
/// \param today   to judge ages by
ReadAnswers read_answers(const TypedAnswers& typed,
                         const Asked& asked,
                         const SignUp& before,
                         const std::string& consent_text,
                         Date today,
                         const SayFriends& say);
/// The answers that would give this sign-up, to change them.
TypedAnswers typed_of(const SignUp& sign_up, const Asked& asked, Date today);

/// Whether a page is shown at all.
bool is_asked(SignUpStep step, const Asked& asked, const TypedAnswers& typed);
/// The next and the one before, among those shown; `check` is the last.
SignUpStep step_after(SignUpStep step, const Asked& asked, const TypedAnswers& typed);
std::optional<SignUpStep> step_before(SignUpStep step,
                                      const Asked& asked,
                                      const TypedAnswers& typed);

/// One line of text, tidied: composed, trimmed, without what is not seen.
std::string tidy_line(std::string_view text);
/// Several lines, each tidied.
std::string tidy_text(std::string_view text);
/// Years from a birth date to a day.
int years_between(Date born, Date day);

}  // namespace gp
