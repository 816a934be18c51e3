#pragma once

#include "intake/incoming.h"
#include "model/production.h"

#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace gp {

/// What to do with somebody who is perhaps there already.
enum class IfThere {
  hold,     ///< nothing: they are shown, and wait for a decision
  skip,     ///< nothing, decided
  fill,     ///< what the person there lacks is filled in; nothing of theirs is changed
  replace,  ///< what the list says replaces what stands there
  add,      ///< somebody else of that name or phone: added
};

struct MergeWishes {
  /// For everybody who is perhaps there already. `fill` and `replace` count only for pairs whose
  /// names agree: a mother and her son share a phone. The others wait.
  IfThere same = IfThere::hold;
  /// By number (from 1, over all lists together), before `same`.
  std::map<std::size_t, IfThere> decided;
  Answer answer = Answer::asked;  ///< of those whose list says none
};

/// A value that differs. `there` or `comes` may be empty.
struct FieldPair {
  std::string field, there, comes;
};

/// Somebody who comes in and somebody who is there, perhaps the same.
struct PossiblePair {
  std::size_t number = 0;  ///< of the one who comes in
  std::string file;
  std::size_t line = 0;
  std::string comes;              ///< the name
  PersonId there;                 ///< in PeopleMerge::production
  std::vector<std::string> same;  ///< what is the same: "name", "phone", "mail", "id"
  bool names_agree = false;
  std::vector<FieldPair> fields;  ///< those that differ
  std::size_t others = 0;         ///< more people who are perhaps the same
  IfThere done = IfThere::hold;
};

struct PeopleMerge {
  Production production;          ///< with those who came in
  std::vector<PersonId> added;    ///< in the order of the lists
  std::vector<PersonId> changed;  ///< ascending
  std::vector<PossiblePair> pairs;
  std::size_t there_already = 0;               ///< of whom the lists say nothing new
  std::size_t no_room = 0;                     ///< beyond the most people that a production holds
  std::vector<std::size_t> unknown_decisions;  ///< numbers that are no pair's
  std::vector<LeftOut> left_out;
};

/// Brings people into a production. Somebody is perhaps the same whose id, name (text/fold.h), mail
/// (whatever its case) or phone (intake/phone.h) is the same; also among those who come in. Nobody
/// is merged unless the wishes say so. Ids are made of the names; guardians and friends are looked
/// for among all, parts and jobs in the production, by id or by name.
/// Cost: O((n + m) log(n + m)) for n people there and m coming.
PeopleMerge merge_people(const Production& production,
                         const std::vector<IncomingPerson>& people,
                         const MergeWishes& wishes);

}  // namespace gp
