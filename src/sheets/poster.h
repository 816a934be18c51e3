#pragma once

#include "sheets/sheets.h"
#include "sheets/squares.h"

#include <string>

namespace gp {

/// What the poster says besides the production's own title, days and contact.
struct PosterWishes {
  std::string address;        ///< where the sign-up page is, as people would type it
  Squares code;               ///< the same as a QR code
  std::string templates_dir;  ///< as in SheetWishes
  std::vector<std::string> font_dirs;
};

/// A poster for the wall, "poster.pdf" and "poster.png" (150 dots to the inch), on the production's
/// paper and in its language. Same production, wishes and fonts: same bytes.
/// \throws WorldError  a font or a words file is missing
Sheets make_poster(const Production& production, const PosterWishes& wishes);

}  // namespace gp
