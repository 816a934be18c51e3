#pragma once

#include "intake/like_names.h"
#include "intake/people_index.h"
#include "store/book.h"

#include <string>
#include <vector>

// What people would like (`people[].likes`), between the pages and the production.

namespace gp {

/// What a text names of what somebody can like, and how likes are shown.
class LikeWords {
 public:
  /// \param production  must outlive this
  explicit LikeWords(const Production& production);

  /// "The King", "Noor Haddad", "lamps": for reading alone.
  [[nodiscard]] std::vector<std::string> shown(const Tags& likes) const;
  /// A line each, which read() takes for the same likes again: the name where it means one thing
  /// alone, else the id.
  [[nodiscard]] std::string lines(const Tags& likes, PersonId who) const;
  [[nodiscard]] LikeNames::Read read(const std::string& text, PersonId who) const;

 private:
  [[nodiscard]] std::string name_of(const std::string& like) const;

  const Production& production_;
  PeopleIndex index_;
  LikeNames names_;
};

/// The names that somebody wrote of those they would like to be with, among the people of a
/// production document; a part or a job of such a name is nobody to be with.
class FriendNames {
 public:
  /// Cost: O(n log n) for n people, every name folded.
  explicit FriendNames(const Document& production);

  struct Named {
    Tags people;                       ///< ids
    std::vector<std::string> unclear;  ///< texts that are nobody's name, or several people's
  };
  /// \param person  whose words they are; empty: nobody's of the production yet
  [[nodiscard]] Named read(const std::string& friends, const std::string& person) const;

 private:
  Production people_;  ///< with ids and names alone
  PeopleIndex index_;
  LikeNames names_;
};

/// A change of sign-ups, people or scenes with what follows from it for everybody's likes:
/// - the parts and jobs that a changed sign-up has ticked are its person's likes, and what is
///   ticked no more is none;
/// - whom its words name is liked, and whom they name no more is not;
/// - whoever comes in and is named by the words of somebody who came before is liked by them;
/// - what is gone from the production is nobody's like.
/// Whatever else people like, by the organiser's word, stays.
/// Cost: little where nothing of it is so; else as FriendNames, and as a difference of two
/// productions.
Change with_likes(const BookState& state, Change change);

}  // namespace gp
