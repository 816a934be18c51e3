#pragma once

#include <cstddef>
#include <string>
#include <string_view>

// Text on a terminal, where everything is a grid of cells. All text is UTF-8; stray bytes count as
// the replacement character U+FFFD.

namespace gp {

/// How many cells of a terminal the text takes: 2 for wide and full-width characters and emoji, 0
/// for combining marks and other characters that draw nothing of their own, 1 for the rest.
/// Character by character, as terminals do: an emoji joined from several counts for each of its
/// parts. Source: Unicode Standard Annex 11 (East Asian Width), property values as ICU has them.
std::size_t cells(std::string_view text);

/// The text in at most `most` cells: whole, or cut at a character a person sees as one (UAX 29) and
/// ended with "…".
std::string cut_to(std::string_view text, std::size_t most);

/// The text with what could command a terminal or hide its meaning taken out: what clean() makes of
/// it, as UTF-8.
std::string harmless(std::string_view text);

}  // namespace gp
