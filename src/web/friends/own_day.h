#pragma once

#include "model/production.h"
#include "sheets/day_facts.h"
#include "web/friends/slip_words.h"

#include <optional>
#include <string>
#include <vector>

namespace gp {

/// One line of a person's day: from, until and what.
struct OwnLine {
  std::string from, until, what;
  std::string place;    ///< only where it is not where the day begins
  bool strong = false;  ///< in front of the camera or behind it, not on the way there
};

/// A person's own day, in words. Names of others only where these serve them or they look after
/// them, and first names at that; nothing private.
struct OwnDay {
  Date date;
  std::string call, released;
  Minute call_at{}, released_at{};
  std::string place, address;
  std::optional<Geo> geo;
  std::vector<OwnLine> lines;
  std::vector<std::string> wear, bring, given;
  std::vector<SlipWords::Caution> cautions;
  std::string guardian;  ///< first name; empty: none
  std::string notes;     ///< the organiser's, for all
  bool passes_midnight = false;
};

/// None: the person is not needed on that day.
std::optional<OwnDay> own_day(const DayFacts& facts,
                              PersonId person,
                              const std::string& language,
                              SlipWords& words);
/// "Inês" of "Inês Sequeira"; the whole name where it is one word.
std::string first_name(const std::string& name);

}  // namespace gp
