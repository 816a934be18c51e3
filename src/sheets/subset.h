#pragma once

#include "sheets/fonts.h"

#include <cstdint>
#include <map>
#include <set>
#include <string>

namespace gp {

/// The part of a font that a document needs, as a TrueType file of its own.
struct FontPart {
  std::string bytes;
  std::map<std::uint32_t, std::uint16_t> glyphs;  ///< glyph in the whole font to glyph in the part
  std::string name;                               ///< PostScript name of the font, "NotoSans-Bold"
  int box[4] = {0, 0, 0, 0};                      ///< left, bottom, right, top [1/1000 em]
  int ascent = 0, descent = 0;                    ///< [1/1000 em], descent negative
  int cap_height = 0;
};

/// \param glyphs  glyphs of the face; what they are composed of comes with them, however deep
/// \throws InternalError  HarfBuzz refused
FontPart part_of(const Face& face, const std::set<std::uint32_t>& glyphs);

}  // namespace gp
