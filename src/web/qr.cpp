#include "web/qr.h"

#include "base/errors.h"

#include <memory>

#include <qrencode.h>

namespace gp {

Squares qr_code(const std::string& text) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M), &QRcode_free);
  if (!code) throw InternalError("a text of this length fits no QR code");
  Squares squares;
  squares.side = static_cast<std::size_t>(code->width);
  squares.black.resize(squares.side * squares.side);
  for (std::size_t i = 0; i < squares.black.size(); ++i) {
    squares.black[i] = (code->data[i] & 1U) != 0;  // the lowest bit says black
  }
  return squares;
}

std::string qr_for_terminal(const Squares& squares, bool colours) {
  constexpr std::ptrdiff_t kWhite = 4;  // ISO/IEC 18004: the quiet zone
  const auto end = static_cast<std::ptrdiff_t>(squares.side) + kWhite;
  std::string out;
  for (std::ptrdiff_t row = -kWhite; row < end; row += 2) {
    if (colours) out += "\x1b[38;5;16;48;5;231m";  // black 16 on white 231 of the 256 colours
    for (std::ptrdiff_t column = -kWhite; column < end; ++column) {
      // with colours a block is black; without, a block is light and the dark ground is black
      const bool upper = squares.at(row, column) == colours;
      const bool lower = squares.at(row + 1, column) == colours;
      out += upper && lower ? "█" : upper ? "▀" : lower ? "▄" : " ";
    }
    if (colours) out += "\x1b[0m";
    out += '\n';
  }
  return out;
}

}  // namespace gp
