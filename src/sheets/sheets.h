#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <optional>
#include <string>
#include <vector>

namespace gp {

/// One printed sheet as a whole PDF file.
struct SheetFile {
  std::string name;  ///< "day-2027-04-17.pdf", "slips-…", "stations-…", "door-…", "pull-…"
  std::string bytes;
  bool operator==(const SheetFile&) const = default;
};

/// What the caller asks of the printing.
struct SheetWishes {
  std::optional<Paper> paper;  ///< none: the production's
  /// Where the data of the program lies; the words are read from `words/en.json` and its
  /// neighbours in it.
  std::string templates_dir;
  /// Searched with everything below them, first to last; empty: Debian's, see default_font_dirs().
  std::vector<std::string> font_dirs;
};

/// The sheets, and what the person who prints should know about them.
struct Sheets {
  std::vector<SheetFile> files;  ///< by day; within a day: day, slips, stations, door, pull
  /// One plain sentence each, e.g. which character of which name no font has and is printed as a
  /// box, or what a day plan had to leave out to stay one page.
  std::vector<std::string> warnings;
};

/// Where Debian's font packages put their files.
std::vector<std::string> default_font_dirs();

/// Every sheet of every day of the plan: the day plan (always one page), a slip for each person, a
/// list for each station, the door list and the pull list. A sheet with nothing on it is left out.
/// Same production, plan, wishes and fonts: same bytes.
/// \param plan  a right one (check() finds nothing), of this production
/// \throws WorldError  a font or a words file is missing: what was looked for, what to install
/// Cost: about a third of a second for 200 people. Threads: pure; may run on several at once.
Sheets make_sheets(const Production& production, const Plan& plan, const SheetWishes& wishes);

}  // namespace gp
