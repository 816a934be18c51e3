#pragma once

#include "model/production.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

// Single values as lists write them.

namespace gp {

/// Without blanks at its edges (ASCII blanks, tabs, line ends, and the no-break space).
std::string trimmed(std::string_view text);
/// On one line: line ends and tabs become blanks, other control characters are left out.
std::string on_one_line(std::string_view text);
/// Control characters left out but for line ends and tabs.
std::string without_controls(std::string_view text);

/// The words of a list: parted by commas, semicolons or line ends; `\,` `\;` and `\\` stand for the
/// sign itself. Trimmed, no doubles, no empty ones.
std::vector<std::string> list_words(std::string_view text);
/// What stands in a list between semicolons or line ends.
struct ListPart {
  std::string whole;               ///< the commas in it are its own
  std::vector<std::string> words;  ///< parted by commas, as list_words() does
};
std::vector<ListPart> list_parts(std::string_view text);
/// The same back: "light; fog\, thick".
std::string listed_words(const std::vector<std::string>& words);

/// "yes", "maybe", "no", "asked", in a few languages. None: another word.
std::optional<Answer> answer_word(std::string_view folded);

/// How dates with two numbers that could both be a month are meant.
enum class DateOrder { unknown, day_first, month_first };
/// "2015-04-03", "20150403", "2015/4/3", "3.4.2015" (a dot: day first), "3/4/2015" (by the order,
/// or where one of them is above 12). None: no date, or it could be two.
std::optional<Date> date_of(std::string_view text, DateOrder order);
/// What the dates of a column say by those that can be read one way alone.
DateOrder date_order(const std::vector<std::string>& texts);

/// "2027-04-17; 2027-04-18 09:00-13:00"; "never": an empty list. None: it cannot be read.
std::optional<std::vector<FreeTime>> free_times(std::string_view text);
std::string written_free_times(const std::vector<FreeTime>& free);

/// "30", "30 min", "1 h 30", "1:30", "1.5 hours", "45'", "90 s" (rounded up). 0 .. 1440. None:
/// anything else.
std::optional<Minutes> minutes_of(std::string_view text);

/// A number written in full, with a point or a comma. None: anything else.
std::optional<double> number_of(std::string_view text);
/// The shortest text that reads back as the same number.
std::string written_number(double number);

}  // namespace gp
