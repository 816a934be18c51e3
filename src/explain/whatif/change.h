#pragma once

#include "base/ids.h"
#include "base/minutes.h"
#include "base/spans.h"
#include "model/plan.h"
#include "model/production.h"

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

// One change of a production, as people say it on a command line ("chairs paint +1") or as a
// program makes it. What it does to a production: apply.h. The words: docs/whatif.md.

namespace gp::whatif {

/// `+1`, `-2`: so many more or fewer; `=3`, `3`: so many.
struct Amount {
  bool relative = false;
  int value = 0;
  bool operator==(const Amount&) const = default;
};

/// `chairs paint +1`: places of a station.
struct Chairs {
  StationId station;
  Amount amount;
  bool operator==(const Chairs&) const = default;
};

/// `items helmet +1`: how many there are of an item.
struct Things {
  ItemId item;
  Amount amount;
  bool operator==(const Things&) const = default;
};

/// `friend guard`, `helper paint`: new people, free all days and all day, who put up with
/// everything.
struct Friends {
  int people = 1;
  Tags skills;                      ///< what each of them can
  std::vector<StationId> stations;  ///< they are of its staff, where staff is listed
  std::vector<RoleId> roles;        ///< they are among `from`, where that is listed
  Tags jobs;                        ///< the same for crew jobs
  std::string what_for;             ///< for people: "Guards"; empty: nothing in particular
  bool operator==(const Friends&) const = default;
};

/// `without bo`, `with sol`: an answer of no, or of yes.
struct Coming {
  PersonId person;
  bool comes = false;
  bool operator==(const Coming&) const = default;
};

/// `can bo paint`: a skill more.
struct Learns {
  PersonId person;
  std::string skill;
  bool operator==(const Learns&) const = default;
};

/// Hours that something may happen in. Exactly one of the three: `hours`; `always`; or `earlier`
/// and `later`, by how much what is there is widened at either end.
struct Hours {
  std::optional<WallSpan> hours;
  bool always = false;
  Minutes earlier{}, later{};
  bool operator==(const Hours&) const = default;
};

/// `free bo 09:00-18:00`, `free bo 30 earlier`, `free bo always`.
struct FreeHours {
  PersonId person;
  std::optional<DayId> day;  ///< none: every day of the production
  Hours hours;
  bool operator==(const FreeHours&) const = default;
};

/// `open paint 30 earlier`.
struct OpenHours {
  StationId station;
  Hours hours;
  bool operator==(const OpenHours&) const = default;
};

enum class DayMoment { first_shot, wrap_by, nobody_before };

/// `first-shot 10:00`, `wrap +30`, `wrap none`.
struct DayTime {
  DayMoment moment = DayMoment::first_shot;
  std::optional<DayId> day;    ///< none: every day; with `later`, every day that has such a time
  std::optional<WallTime> at;  ///< none, and `later` 0: taken away
  Minutes later{};             ///< less than 0: earlier
  bool operator==(const DayTime&) const = default;
};

/// `quicker guard 5`, `slower guard 20%`, `quicker guard off 5`: a look's chain, its waits for
/// drying apart. What goes off or comes on is shared out over the steps by their length.
struct ChainTime {
  LookId look;
  ChainPart part = ChainPart::on;
  bool per_cent = false;
  int less = 0;  ///< minutes, or per cent; less than 0: more
  bool operator==(const ChainTime&) const = default;
};

/// `shorter march 10`, `longer march 10`: the shot itself.
struct ShootTime {
  SceneId scene;
  Minutes less{};
  bool operator==(const ShootTime&) const = default;
};

/// `drop march`: as if it had never been written.
struct Drop {
  SceneId scene;
  bool operator==(const Drop&) const = default;
};

/// `any-time march`: without its `day`, `at` and `between`; light and order stay.
struct AnyTime {
  SceneId scene;
  bool operator==(const AnyTime&) const = default;
};

/// `heads march guard -1`: how many of a crowd a scene asks for.
struct Heads {
  SceneId scene;
  RoleId role;
  Amount amount;
  bool operator==(const Heads&) const = default;
};

/// One change. Its ids are those of the production it was made for.
using Change = std::variant<Chairs,
                            Things,
                            Friends,
                            Coming,
                            Learns,
                            FreeHours,
                            OpenHours,
                            DayTime,
                            ChainTime,
                            ShootTime,
                            Drop,
                            AnyTime,
                            Heads>;

/// A change that cannot be understood, or cannot be made.
struct Mistake {
  std::string found;     ///< the change or the word of it
  std::string expected;  ///< what would do there
  std::string nearest;   ///< the nearest valid word; empty: none is near

  /// One line: `found "helmt", expected the id of an item …; nearest: "helmet"`.
  [[nodiscard]] std::string text() const;
  bool operator==(const Mistake&) const = default;
};

/// Reads one change. Capital letters of the first word do not matter. Never throws for what people
/// wrote. Cost: O(n) in the names of the production. Threads: pure.
std::variant<Change, Mistake> read_change(const Production& production, std::string_view text);

/// The change in plain words, for people: "1 chair more at Face paint (4)".
std::string describe(const Production& production, const Change& change);

/// The change as read_change() reads it: "chairs paint +1". None: a change that only a program can
/// make.
std::optional<std::string> written(const Production& production, const Change& change);

/// New people for something: a role's id, a station's, a skill or a crew job; what several of them
/// are called brings all of it together, a role first. Empty: for nothing in particular. None:
/// nothing is called that.
std::optional<Friends> friends_for(const Production& production, const std::string& what);

/// Every first word of a change, for help and completion, in the order of docs/whatif.md.
const std::vector<std::string>& change_words();

}  // namespace gp::whatif
