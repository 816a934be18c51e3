#pragma once

#include "sheets/fonts.h"
#include "text/breaks.h"

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace gp {

/// How a stretch of text looks, apart from its size.
struct Ink {
  Weight weight = Weight::regular;
  double grey = 0;  ///< 0 black .. 1 white
  bool operator==(const Ink&) const = default;
};

/// Text with its looks, ready to be broken into lines. Built from the front to the back.
class Rich {
 public:
  Rich() = default;
  explicit Rich(std::string_view utf8, Ink ink = {}) { add(utf8, ink); }

  /// Adds words of ours (already clean, with isolates around what people wrote).
  Rich& add(std::string_view utf8, Ink ink = {});
  /// Adds what people wrote: cleaned, and kept apart so that its direction stays its own.
  Rich& add_name(std::string_view utf8, Ink ink = {});
  Rich& add(const Rich& more);

  /// The first `units` UTF-16 units and "…" after them.
  [[nodiscard]] Rich beginning(std::size_t units) const;
  [[nodiscard]] bool empty() const { return text_.empty(); }
  [[nodiscard]] const std::u16string& text() const { return text_; }
  struct Stretch {
    std::size_t until;
    Ink ink;
  };
  [[nodiscard]] const std::vector<Stretch>& stretches() const { return stretches_; }

 private:
  void append(std::u16string_view text, Ink ink);

  std::u16string text_;
  std::vector<Stretch> stretches_;
};

/// One glyph of a line; lengths in ems.
struct Glyph {
  std::uint32_t id = 0;  ///< in its face
  double advance = 0, dx = 0, dy = 0;
  std::u16string text;  ///< what it stands for when copied; empty: another glyph says it
  /// Set on the first of several glyphs that only together stand for a text, as where a vowel sign
  /// is drawn before the letter it follows: that text, and how many glyphs it takes.
  std::u16string together;
  std::size_t group = 0;
  /// Above 0: nothing to see, only text to copy, in a field so many thousandths of an em wide.
  int unseen_width = 0;
};

/// Glyphs of one face and ink, in the order in which they stand on the line.
struct GlyphRun {
  const Face* face = nullptr;
  double grey = 0;
  std::vector<Glyph> glyphs;
};

/// A line of text, shaped; to be drawn at any size.
struct Line {
  std::vector<GlyphRun> runs;
  double width = 0;            ///< in ems
  bool right_to_left = false;  ///< the paragraph's direction
};

/// Shared, because the same words stand on many sheets.
using SetLine = std::shared_ptr<const Line>;

/// Turns text into lines of glyphs: direction (UAX #9), scripts, a face for every character,
/// shaping by HarfBuzz, and breaks (UAX #14). Remembers what it has shaped; knows which characters
/// no font had. Threads: one at a time for each object.
class Typesetter {
 public:
  Typesetter(Fonts& fonts, std::string language);

  /// The text as one line.
  SetLine line(const Rich& text);
  /// The text broken into lines no wider than `width` ems. A word too long for a line is broken
  /// between its letters. Empty text gives no line.
  std::vector<SetLine> lines(const Rich& rich, double width);

  /// Characters that were set as a box, each with a text it stands in.
  [[nodiscard]] const std::map<char32_t, std::string>& without_font() const {
    return without_font_;
  }

 private:
  struct Item;
  double width_of(const Rich& text, std::size_t from, std::size_t until, const Levels& levels);
  Line shape(const Rich& text, std::size_t from, std::size_t until, const Levels& levels);
  std::vector<Item> items_of(const Rich& rich,
                             std::size_t from,
                             std::size_t until,
                             const Levels& levels);
  void shape_item(const Rich& rich, const Item& item, Line& line);

  Fonts& fonts_;
  std::string language_;
  Breaks breaks_;
  std::vector<SetLine> break_up(const Rich& rich, double width);

  std::unordered_map<std::string, SetLine> known_lines_;
  std::unordered_map<std::string, double> known_widths_;
  std::unordered_map<std::string, std::vector<SetLine>> known_paragraphs_;
  std::map<char32_t, std::string> without_font_;
};

}  // namespace gp
