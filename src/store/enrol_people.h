#pragma once

#include "store/document.h"
#include "store/sign_up.h"

#include <set>
#include <string>
#include <utility>
#include <vector>

// The people of a production document, changed by patches; for enrol.cpp.

namespace gp {

/// Keys of a person in the production with what a sign-up says about each; null: nothing said.
using Facts = std::vector<std::pair<std::string, Document>>;

Facts facts_of(const SignUp& sign_up);
/// A companion comes when the signer comes; a child has the signer as guardian.
Facts facts_of(const Companion& companion, const SignUp& signer);

/// Collects a JSON Patch on the production that changes its people.
class PeoplePatch {
 public:
  /// \param production  must outlive this
  explicit PeoplePatch(const Document& production);

  [[nodiscard]] bool has(const std::string& id) const;
  /// A free id made of a name: "noor-haddad", "noor-haddad-2" …
  std::string new_id(const std::string& name);

  void add(const std::string& id, const Facts& facts);
  /// What is said replaces what stands there; what is not said stays.
  void bring_up_to_date(const std::string& id, const Facts& facts);
  /// Only what differs between two sayings is changed; what the organiser set besides stays.
  void follow(const std::string& id, const Facts& before, const Facts& now);
  /// One value; null takes it away. Nothing happens where nobody has the id.
  void set(const std::string& id, const std::string& key, const Document& value);

  Document take() { return std::move(patch_); }

 private:
  /// Index in the list; the list's length: none.
  [[nodiscard]] std::size_t place_of(const std::string& id) const;
  const Document* people_;  ///< null: the production has no list
  Document patch_ = Document::array();
  std::set<std::string> taken_;
  bool list_made_ = false;
};

}  // namespace gp
