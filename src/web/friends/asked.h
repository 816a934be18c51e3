#pragma once

#include "base/minutes.h"
#include "base/spans.h"
#include "model/production.h"
#include "store/settings.h"
#include "text/words.h"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// Says a sentence of the friends' room in the reader's language.
using SayFriends = std::function<std::string(std::string_view, const std::vector<WordValue>&)>;

/// Something to tick: the tag as the production writes it, and what people read.
struct AskedChoice {
  std::string tag, label, hint;
  bool operator==(const AskedChoice&) const = default;
};

struct AskedDay {
  Date date;
  std::string label;            ///< "Saturday, 25 September 2027"
  std::string hint;             ///< when it begins and ends, where
  std::vector<WallTime> times;  ///< to choose hours from, in order; at least two
};

struct AskedSize {
  std::string key;    ///< "head_cm"
  std::string label;  ///< "Head, in centimetres"
};

/// What this production needs to know of a friend, and nothing else: each question stands here
/// because something in the production uses its answer.
struct Asked {
  std::vector<AskedDay> days;
  std::vector<AskedChoice> parts;  ///< parts and crowds still open
  std::vector<AskedChoice> jobs;   ///< behind the camera, still open
  std::vector<AskedChoice> can;    ///< skills that steps, crew and parts need
  std::vector<AskedChoice> no;     ///< tags and hazards in use
  std::vector<AskedSize> sizes;    ///< only where costumes are handed out
  bool food = false;               ///< there is a meal
  bool skin = false;               ///< paint, glitter, latex, fog or animals are planned
  bool paint = false, glitter = false, latex = false, fog = false, animals = false;
};

/// Cost: O(scenes × crew); some 60 sentences.
/// \param language  for dates; its region is the production's where the language is the same
Asked what_is_asked(const Production& production,
                    const std::string& language,
                    const SayFriends& say);

/// The label of a tag among the choices; the tag itself, made readable, where it is not offered.
std::string label_of(const std::string& tag, const std::vector<AskedChoice>& choices);
/// "small-camera" as "small camera".
std::string readable(std::string_view tag);
/// Skills and things in the way that have words of their own: `skill.<tag>`, `no.<tag>.name`.
const std::vector<std::string>& worded_skills();
const std::vector<std::string>& worded_refusals();
const std::vector<std::string>& worded_sizes();
/// The reader's language with the production's region where both speak the same.
std::string date_language(const Production& production, const std::string& language);
/// "09:30"; "00:45 after midnight" in words.
std::string clock_words(WallTime time, const SayFriends& say);

}  // namespace gp
