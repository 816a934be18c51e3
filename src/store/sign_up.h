#pragma once

#include "base/fault.h"
#include "base/minutes.h"
#include "model/production.h"
#include "store/document.h"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

// What one person told us about themselves: through the sign-up page, or kept for them by the
// organiser. The production holds what planning needs of it; the rest stays here and is private.

namespace gp {

/// Seconds since 1970-01-01T00:00Z.
using UnixTime = std::int64_t;

enum class SignUpState {
  fresh,     ///< sent in, nobody has decided yet
  accepted,  ///< `person` is in the production
  waiting,   ///< on the waiting list
  declined,
  withdrawn,  ///< they took it back
};

/// As its document says it: "fresh".
std::string name_of(SignUpState state);

/// Somebody a person brings along; a child unless `child` is false. Becomes a person of the
/// production of their own, with the one who signs up as guardian.
struct Companion {
  std::string name;
  bool child = true;
  std::optional<Date> born;  ///< or `age`
  std::optional<int> age;    ///< years, 0 .. 17, at the time of signing up
  std::string person;        ///< id in the production once accepted
  std::string skin, food;    ///< private
  bool operator==(const Companion&) const = default;
};

/// "I'll be late" or "I can't come", as it reached the organiser.
struct Notice {
  Date day;
  bool cannot_come = false;
  int minutes_late = 0;  ///< 1 .. 600 where not `cannot_come`
  std::string words;     ///< what they wrote besides; may be empty
  UnixTime at = 0;
  bool seen = false;  ///< by the organiser
  bool operator==(const Notice&) const = default;
};

struct SignUp {
  std::string id;  ///< short, random, no secret: it stands in addresses
  SignUpState state = SignUpState::fresh;
  std::string person;  ///< id in the production; empty until accepted
  UnixTime sent_at = 0, changed_at = 0;
  bool seen = false;     ///< the organiser has looked at it since it last changed
  std::string language;  ///< BCP 47, of the pages they used
  std::string name, phone, email;
  Answer answer = Answer::yes;
  std::optional<std::vector<FreeTime>> free;  ///< none: all days, all day
  Tags can;                                   ///< skills
  Tags likes;                                 ///< what they would like to do: roles, jobs
  std::string friends;                        ///< whom they would like to be with, in their words
  Tags no;                                    ///< what they will not do
  std::map<std::string, double> sizes;
  std::string food, skin;                ///< private; skin: allergies, asthma
  std::string need_name, need_phone;     ///< whom to call in need; private
  bool adult = true;                     ///< 18 or over, as they say
  std::optional<Date> born;              ///< only where not adult
  std::string guardian, guardian_phone;  ///< only where not adult
  std::vector<Companion> brings;
  bool may_be_filmed = false;
  std::string consent_text;  ///< the words they agreed to
  std::string words;         ///< anything else they wrote
  std::vector<Notice> notices;
  bool operator==(const SignUp&) const = default;
};

/// Longest values kept, in characters (code points); the pages say the same.
inline constexpr std::size_t kMostNameLength = 120;
inline constexpr std::size_t kMostLineLength = 200;
inline constexpr std::size_t kMostTextLength = 1000;
inline constexpr std::size_t kMostCompanions = 12;

/// The document a sign-up is kept as; keys that say nothing are left out.
Document write_sign_up(const SignUp& sign_up);
/// Read back, or every fault. What write_sign_up wrote comes back the same.
std::variant<SignUp, std::vector<Fault>> read_sign_up(const Document& document);

}  // namespace gp
