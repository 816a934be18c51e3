#pragma once

#include "intake/incoming.h"

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

// Address cards: vCard 3.0 (RFC 2426) and 4.0 (RFC 6350), and 2.1 as far as it is seen in files:
// quoted-printable, CHARSET and types without "TYPE=". Our own reader: docs/decisions/intake.md.

namespace gp {

/// One property of a card, e.g. `item1.TEL;TYPE=cell:+44 7700 900123`.
struct CardProperty {
  std::size_t line = 0;
  std::string group, name;                                     ///< name in capitals
  std::map<std::string, std::vector<std::string>> parameters;  ///< names in capitals
  std::string value;  ///< transfer encoding undone, backslashes still there

  /// Whether one of the values of TYPE is that, whatever its case.
  [[nodiscard]] bool is_type(std::string_view type) const;
};

struct Card {
  std::size_t line = 0;  ///< of its BEGIN
  std::string version;   ///< "2.1", "3.0", "4.0"; empty: it says none
  std::vector<CardProperty> properties;
};

struct CardsRead {
  std::vector<Card> cards;
  std::vector<BadLine> bad;
};

/// Whether the text is a file of cards: its first line that is not empty is BEGIN:VCARD.
bool looks_like_cards(std::string_view text);

/// Bytes with folding undone before anything is read of them: older programs fold in the middle of
/// a character (RFC 6350 section 3.2). Every line keeps its number.
std::string unfolded(std::string_view bytes);

/// \param text  UTF-8
/// Cost: O(n).
CardsRead read_cards(std::string_view text);

/// The pieces of a structured value, parted by a sign that has no backslash before it; backslashes
/// undone. Source: RFC 6350 section 3.4.
std::vector<std::string> card_pieces(std::string_view value, char sign);
/// `\n` `\,` `\;` `\\` undone.
std::string card_text(std::string_view value);

/// The people of the cards: FN (else N, NICKNAME, ORG) is the name; of several TEL and EMAIL the
/// preferred one is taken; BDAY with a year and LANG too. Photos, logos, sounds and keys are
/// ignored and counted; everything else is left out and told. \param pictures  counts what was
/// ignored
IncomingPeople people_of_cards(const CardsRead& read,
                               const std::string& file,
                               std::size_t& pictures);

}  // namespace gp
