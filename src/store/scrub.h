#pragma once

#include "store/document.h"

#include <set>
#include <string>

// Takes out of documents what shall be forgotten; for forget.cpp. Every revision of a document goes
// through the same scrubber.

namespace gp {

class Scrubber {
 public:
  Scrubber() = default;
  Scrubber(const Scrubber&) = delete;
  Scrubber& operator=(const Scrubber&) = delete;
  virtual ~Scrubber() = default;
  /// The document without it; null: nothing is left.
  virtual Document scrub(const std::string& name, Document document) = 0;
  /// Texts taken out so far, and whose they were (ids of people or sign-ups).
  [[nodiscard]] const std::set<std::string>& removed() const { return removed_; }
  [[nodiscard]] const std::set<std::string>& touched() const { return touched_; }

 protected:
  /// Notes every text in a value.
  void note(const Document& value);
  /// Takes a member out of an object. \return whether it was there
  bool take(Document& object, const char* key);
  void touch(const std::string& id) { touched_.insert(id); }
  void note_text(const std::string& text) {
    if (!text.empty()) removed_.insert(text);
  }

 private:
  std::set<std::string> removed_;
  std::set<std::string> touched_;
};

/// What is private of everybody.
class PrivateScrubber final : public Scrubber {
 public:
  Document scrub(const std::string& name, Document document) override;

 private:
  void scrub_all(Document& object, const std::string& id, std::initializer_list<const char*> keys);
};

/// One person altogether, with those they bring.
class PersonScrubber final : public Scrubber {
 public:
  /// \param people   ids in the production
  /// \param sign_ups  ids of their own sign-ups
  /// \param names     what they are called, for what others wrote of whom to be with
  /// \param stand_in  an id nobody has: "somebody", "somebody-2" …; one a person is made of it
  PersonScrubber(std::set<std::string> people,
                 std::set<std::string> sign_ups,
                 std::set<std::string> names,
                 std::string stand_in)
      : people_(std::move(people)),
        sign_ups_(std::move(sign_ups)),
        stand_in_(std::move(stand_in)),
        names_(std::move(names)) {}

  Document scrub(const std::string& name, Document document) override;
  /// A plan: its ids and names.
  Document scrub_plan(Document plan);
  [[nodiscard]] std::string stand_in_for(const std::string& person) const;
  [[nodiscard]] const std::set<std::string>& people() const { return people_; }
  [[nodiscard]] const std::set<std::string>& sign_ups() const { return sign_ups_; }

 private:
  Document scrub_production(Document document);
  /// A list of names without theirs.
  std::string without_them(const std::string& list);
  /// Replaces ids where the production names people. \return those it found
  void rename(Document& value, bool names_people, std::set<std::string>& found);
  void replace_everywhere(Document& value);

  std::set<std::string> people_;
  std::set<std::string> sign_ups_;
  std::string stand_in_;
  std::set<std::string> names_;  ///< given, and seen so far
};

}  // namespace gp
