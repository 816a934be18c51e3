#pragma once

#include "store/document.h"

#include <optional>
#include <string>

namespace gp {

/// What the organiser sets for the pages; kept in the book's document "settings", part of the
/// history. Everything has a default.
struct Settings {
  bool sign_ups_open = true;
  std::optional<int> most_people;  ///< above it a sign-up goes to the waiting list; none: no limit
  bool accept_at_once = false;     ///< a sign-up below the limit is accepted without the organiser
  std::string about;               ///< what the day is, in the organiser's words
  std::string consent;             ///< replaces the standard text of the agreement to be filmed
  int forget_after_days = 30;      ///< after the last day, 1 .. 3650: see forget.h
  bool operator==(const Settings&) const = default;
};

/// Values that are missing or wrong are the defaults.
Settings read_settings(const Document& document);
Document write_settings(const Settings& settings);

}  // namespace gp
