#pragma once

#include "model/plan.h"
#include "model/production.h"
#include "sheets/day_facts.h"
#include "sheets/page.h"
#include "sheets/shape.h"
#include "text/words.h"

#include <string>
#include <vector>

namespace gp {

/// What every sheet is made with.
struct Kit {
  Typesetter& set;
  WordBook& book;
  Paper paper;
  std::vector<std::string>& warnings;
};

inline constexpr Ink kPlain{Weight::regular, 0};
inline constexpr Ink kStrong{Weight::bold, 0};
inline constexpr Ink kQuiet{Weight::regular, 0.38};  ///< about 6 : 1 on white

/// The words of the production's language, and the tag to write dates in: the production's own
/// where there are words for it, English otherwise, so that a page has one language.
struct Tongue {
  const Words& words;
  std::string tag;
};
Tongue tongue(WordBook& book, const std::string& language);

/// "The Kettle That Rang · Day plan · Saturday, 27 March 2027", for a document's title.
std::string document_title(const DayFacts& facts, const Tongue& tongue, const std::string& sheet);

/// The head of a list's page: what it is, large; the production and the date beside it.
Flow::Head list_head(Brush& brush,
                     const DayFacts& facts,
                     const Tongue& tongue,
                     const std::string& sheet);
/// "2 / 5" at the foot of every page.
void number_pages(Brush& brush, const Tongue& tongue, const std::string& left);

/// "Wear: ", with the space before the colon that French wants.
std::string label(const Words& words, const std::string& text);

/// The caution for a hazard, its name first: in full for everyone, or in one phrase. A hazard that
/// has no words of its own is named as it is written.
Rich caution_text(const Words& words, const std::string& hazard, bool brief);

/// A telephone number whose groups stay on one line.
std::string unbroken(const std::string& number);

/// Names joined: "Guard, light".
Rich joined(const std::vector<std::string>& names, Ink ink, const char* between = ", ");

/// A PDF's bytes for each sheet; empty: nothing stands on it that day.
std::string day_page(const DayFacts& facts, const Plan& plan, Kit& kit);
std::string slips(const DayFacts& facts, Kit& kit);
std::string station_lists(const DayFacts& facts, Kit& kit);
std::string door_list(const DayFacts& facts, Kit& kit);
std::string pull_list(const DayFacts& facts, Kit& kit);

}  // namespace gp
