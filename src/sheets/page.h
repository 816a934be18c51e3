#pragma once

#include "sheets/pdf.h"
#include "sheets/shape.h"

#include <functional>
#include <string>
#include <vector>

namespace gp {

/// Nothing on a sheet is set smaller [points].
inline constexpr double kLeastSize = 7;
/// From line to line, in sizes.
inline constexpr double kLeading = 1.32;
/// White around everything, so that any printer reaches it: 12.7 mm.
inline constexpr double kMargin = 36;

enum class Align { left, centre, right };

/// A paragraph, broken into lines and measured.
struct TextBlock {
  std::vector<SetLine> lines;
  double size = 0;
  double leading = kLeading;

  [[nodiscard]] double height() const { return static_cast<double>(lines.size()) * step(); }
  [[nodiscard]] double step() const { return size * leading; }
  [[nodiscard]] double width() const;  ///< of its longest line [points]
};

/// Measures text and draws it; never smaller than kLeastSize.
class Brush {
 public:
  Brush(Pdf& pdf, Typesetter& set) : pdf_(pdf), set_(set) {}

  [[nodiscard]] Pdf& pdf() { return pdf_; }
  [[nodiscard]] TextBlock block(const Rich& text,
                                double size,
                                double width,
                                double leading = kLeading);
  /// Width of the text on one line.
  [[nodiscard]] double width(const Rich& text, double size) {
    return set_.line(text)->width * at_least(size);
  }
  /// Width of the longest stretch that a line may not be broken in.
  [[nodiscard]] double longest_word(const std::string& text, double size);
  /// At most `lines` lines; the last of a longer text ends in "…". \return whether it was cut
  bool cut(TextBlock& block, const Rich& text, double width, std::size_t lines);

  /// \param top  of the block; \return the bottom of it
  double draw(
      const TextBlock& block, double x, double top, double width = 0, Align align = Align::left);
  /// The base line that a block at `top` has its first line on.
  static double base_line(const TextBlock& block, double top);

  static double at_least(double size) { return size < kLeastSize ? kLeastSize : size; }

 private:
  Pdf& pdf_;
  Typesetter& set_;
};

/// Shares stretches that may not be parted among columns of the same width, in order, so that the
/// longest column is as short as can be.
struct Columns {
  std::vector<std::size_t> ends;  ///< one for each column: index after its last stretch
  double height = 0;              ///< of the longest
};
Columns share_out(const std::vector<double>& heights, std::size_t columns);

/// Pages filled from the top to the bottom with rows; every page begins with the same head.
class Flow {
 public:
  using Head = std::function<double(double top)>;  ///< draws it and returns its bottom

  Flow(Brush& brush, Head head) : brush_(brush), head_(std::move(head)) {}

  [[nodiscard]] double left() const { return kMargin; }
  [[nodiscard]] double right() const { return brush_.pdf().size().width - kMargin; }
  [[nodiscard]] double width() const { return right() - left(); }
  [[nodiscard]] double y() const { return y_; }
  void move(double by) { y_ += by; }
  void new_page();
  /// Turns the page where less than this is left. \return whether it did
  bool need(double height);
  [[nodiscard]] double bottom() const;
  /// Height of a page below its head.
  [[nodiscard]] double room() const { return bottom() - top_; }

 private:
  Brush& brush_;
  Head head_;
  double y_ = 0, top_ = 0;
};

/// Room kept free for the foot of a page.
inline constexpr double kFoot = 14;

/// Rows of cells in columns, on a Flow: turns pages, and says the head of the table again on each.
class Grid {
 public:
  struct Column {
    double width = 0;  ///< points, with the gap after it
    Align align = Align::left;
  };
  struct Look {
    double size = 9;
    double padding = 2.5;    ///< above and below a row
    double gap = 8;          ///< between columns
    double rule_grey = 0.8;  ///< of the line below a row
  };

  Grid(Brush& brush, Flow& flow, std::vector<Column> columns, Look look);

  /// Small words over the columns, said again on each page.
  void names(const std::vector<std::string>& names);
  /// A heading inside the table, kept together with the row after it.
  void heading(const Rich& text, double size);
  /// \param box  a box to tick stands in the first column
  void row(const std::vector<Rich>& cells, bool box = false);
  /// A box to tick in any of the columns of the next row.
  void boxes(std::vector<std::size_t> columns) { boxes_ = std::move(columns); }

 private:
  void draw_names();
  /// A row higher than a page, over several.
  void tall_row(std::vector<TextBlock> blocks);

  Brush& brush_;
  Flow& flow_;
  std::vector<Column> columns_;
  Look look_;
  std::vector<std::string> names_;
  std::vector<std::size_t> boxes_;
  Rich waiting_heading_;
  double waiting_size_ = 0;
};

}  // namespace gp
