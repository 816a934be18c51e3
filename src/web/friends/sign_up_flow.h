#pragma once

#include "web/friends/sign_up_form.h"
#include "web/site.h"

#include <string>

namespace gp {

/// How long a browser keeps a personal link [s].
inline constexpr int kPersonalLinkSeconds = 180 * 24 * 60 * 60;

/// What a walk through the pages of the sign-up is for: a new one, or other answers of an old one.
class SignUpKeeper {
 public:
  virtual ~SignUpKeeper() = default;
  [[nodiscard]] virtual std::string address() const = 0;   ///< where its forms go
  [[nodiscard]] virtual std::string form_key() const = 0;  ///< empty where nothing new is made
  [[nodiscard]] virtual SignUp before() const = 0;
  virtual HttpAnswer keep(Visit& visit, SignUp sign_up) = 0;
};

/// Shows a page with nothing typed yet but what the sign-up says already.
HttpAnswer begin_flow(Visit& visit, SignUpKeeper& keeper, SignUpStep at);
/// Takes one page's form and shows the next, the same again with what to put right, or keeps all.
/// Nothing is stored between two pages: every answer travels in the form.
HttpAnswer go_on_with_flow(Visit& visit, SignUpKeeper& keeper);

/// Whether a new sign-up would go to the waiting list.
bool is_full(const BookState& state);

}  // namespace gp
