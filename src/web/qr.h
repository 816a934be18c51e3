#pragma once

#include "sheets/squares.h"

#include <string>

namespace gp {

/// A QR code (ISO/IEC 18004) with error correction level M, without the white around it.
/// \throws InternalError  the text is too long (above 2,331 bytes)
Squares qr_code(const std::string& text);

/// For a terminal: two rows of squares to a line of half blocks, with the white of four squares
/// around. \param colours  sets black on white itself, so that it reads on any ground; without them
/// it is drawn for a dark terminal, the white squares as light blocks
std::string qr_for_terminal(const Squares& squares, bool colours);

}  // namespace gp
