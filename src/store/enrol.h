#pragma once

#include "store/book.h"

#include <string>
#include <vector>

// From a sign-up to the production: what the organiser's "accept" and a friend's "I changed my
// answers" mean. All functions only make the change; Book::change() keeps it.

namespace gp {

/// Accepts a sign-up: its person and each companion become people of the production (an id made of
/// the name, e.g. "noor-haddad", numbered where taken), or, where `person` is set already, that
/// person's facts are brought up to date. Child companions get the signer as guardian.
Change accept(const BookState& state, const SignUp& sign_up, const std::string& who, UnixTime at);
/// Waiting list, decline, withdraw, or fresh again. Whoever was accepted stays in the production
/// with the answer "no", so that roles fixed to them are seen to be free.
Change set_state(const BookState& state,
                 const SignUp& sign_up,
                 SignUpState wanted,
                 const std::string& who,
                 UnixTime at);
/// New answers of the same sign-up; where it is accepted, the production follows in the same
/// change.
Change change_answers(const BookState& state, const SignUp& changed, UnixTime at);
/// A sign-up for a person who stands in the production already, so that they can get a link.
Change sign_up_for_person(const BookState& state,
                          const std::string& person,
                          const std::string& new_id,
                          const std::string& who,
                          UnixTime at);
/// Adds a notice; "I can't come" takes that day out of the person's free time in the production.
Change give_notice(const BookState& state,
                   const SignUp& sign_up,
                   const Notice& notice,
                   UnixTime at);

}  // namespace gp
