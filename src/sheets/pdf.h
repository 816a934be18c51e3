#pragma once

#include "model/production.h"
#include "sheets/shape.h"

#include <string>
#include <vector>

namespace gp {

/// Points (1/72 inch).
struct PaperSize {
  double width = 0, height = 0;
};
/// A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 inches.
PaperSize paper_size(Paper paper);

/// A PDF document. Pages are drawn first, in memory; bytes() then takes the parts of the fonts that
/// were used and has libharu write the file. Places are in points from the upper left corner of the
/// page; `y` of a text is its base line.
///
/// libharu writes the document, its pages and its streams; fonts are put in as parts made by
/// HarfBuzz, with glyphs by number and a map back to text (ISO 32000-1, 9.7 and 9.10.3), because
/// libharu 2.3.0's own way loses accents and has no shaping.
class Pdf {
 public:
  /// \param title     shown as the window's title
  /// \param language  BCP 47
  Pdf(std::string title, std::string language, Paper paper);

  [[nodiscard]] PaperSize size() const { return size_; }
  [[nodiscard]] std::size_t pages() const { return pages_.size(); }
  void add_page();
  /// Draws on this page from now on, counted from 0.
  void turn_to(std::size_t page) { current_ = page; }

  void text(const SetLine& line, double x, double y, double size);
  void rule(double x1, double y1, double x2, double y2, double width, double grey = 0);
  void dashes(double x1, double y1, double x2, double y2, double width, double grey);
  void frame(double x, double y, double width, double height, double line, double grey = 0);
  void fill(double x, double y, double width, double height, double grey);

  /// The file. Same drawing, same fonts: same bytes.
  /// \throws InternalError  libharu refused
  [[nodiscard]] std::string bytes() const;

 private:
  struct Text {
    SetLine line;
    double x = 0, y = 0, size = 0;
  };
  struct Page {
    std::string shapes;  ///< operators, drawn below all text
    std::vector<Text> texts;
  };

  Page& page() { return pages_.at(current_); }
  void stroke(double x1, double y1, double x2, double y2, double width, double grey);

  std::string title_, language_;
  PaperSize size_;
  std::vector<Page> pages_;
  std::size_t current_ = 0;
};

}  // namespace gp
