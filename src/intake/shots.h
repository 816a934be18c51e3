#pragma once

#include "intake/csv.h"
#include "intake/incoming.h"
#include "model/production.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// A list of shots, a shot a line, as scenes.

namespace gp {

/// Somebody on camera as the list says it.
struct ShotCast {
  std::string name;  ///< a role's or a person's, or a new one's; empty: just heads
  int people = 1;
  bool counted = false;  ///< a number was written
};

struct Shot {
  std::size_t line = 0;
  std::string id;  ///< its number as written: "12a"
  std::string name;
  std::string place, set, light, day;
  std::vector<ShotCast> cast;
  std::optional<Minutes> minutes;
  std::vector<std::string> notes;  ///< what has no field of its own: "Lens: 35 mm"
};

struct ShotColumn {
  std::string header;
  std::string
      field;  ///< "name", "place", "people", "minutes", "id", "set", "light", "day", "notes"
  bool wished = false;
};

struct ShotsRead {
  std::vector<ShotColumn> columns;  ///< empty: a plain text
  std::vector<Shot> shots;
  std::vector<BadLine> bad;
  std::vector<std::string> faults;  ///< of the wishes
};

/// A table of shots: its first row names the columns, in any order.
ShotsRead shots_of_table(const CsvRead& table,
                         const std::vector<std::pair<std::string, std::string>>& wishes);

/// A plain text, a shot a line:
///
///     12a. The march to the sea @ beach, with Queen, 8 guards, 30 min
///
/// A number in front is the shot's number; `@ PLACE`, `, with PEOPLE` and a length at the end may
/// each be there or not. Behind the place, "with" needs no comma. Empty lines and lines that begin
/// with
/// `#` count for nothing.
ShotsRead shots_of_text(std::string_view text);

/// A line of a text or a row's cell "Queen, 8 guards and Noor" as who is on camera.
std::vector<ShotCast> cast_of(std::string_view text);

/// What becomes of the shots.
struct ShotsMerge {
  Production production;
  std::vector<SceneId> added;
  std::vector<PlaceId> new_places;
  std::vector<RoleId> new_roles;
  /// A scene of that number or name is there already; not added unless wished.
  struct Held {
    std::size_t line = 0;
    std::string name;
    SceneId there;
    bool operator==(const Held&) const = default;
  };
  std::vector<Held> held;
  std::size_t without_minutes = 0;
  std::size_t no_room = 0;
  std::vector<std::string> remarks;  ///< "line 4: …": what went into the notes, and why
};

/// Places, roles and people are found by id or name (text/fold.h); what is not there is made: a
/// place, a part, or a crowd where a number stands before the name. A person's name makes a part
/// that is fixed to them, as themselves. What cannot be read goes into the scene's notes.
/// \param add_again  also those of whom a scene of the same number or name is there
ShotsMerge merge_shots(const Production& production,
                       const std::vector<Shot>& shots,
                       bool add_again);

}  // namespace gp
