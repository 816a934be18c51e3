#pragma once

#include "text/direction.h"

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <vector>

struct hb_face_t;
struct hb_font_t;

namespace gp {

enum class Weight { regular, bold };

/// One font file, open. Lengths are in ems (the font's size is 1).
class Face {
 public:
  /// \throws WorldError  the file is no font, or none that a PDF can take in (outlines must be
  /// TrueType's)
  Face(std::string path, bool thicken);
  ~Face();
  Face(const Face&) = delete;
  Face& operator=(const Face&) = delete;

  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] hb_face_t* face() const { return face_; }
  [[nodiscard]] hb_font_t* font() const { return font_; }
  [[nodiscard]] double units() const { return units_; }  ///< of the font to an em
  [[nodiscard]] double ascent() const { return ascent_; }
  [[nodiscard]] double descent() const { return descent_; }  ///< below the line, positive
  [[nodiscard]] bool has(char32_t character) const;
  /// Bold was wanted and the family has none: the outlines are to be thickened.
  [[nodiscard]] bool thicken() const { return thicken_; }

 private:
  std::string path_;
  hb_face_t* face_ = nullptr;
  hb_font_t* font_ = nullptr;
  double units_ = 1000, ascent_ = 1, descent_ = 0.3;
  bool thicken_ = false;
};

/// The fonts that are there, opened when first needed, chosen by what they cover.
/// Threads: one at a time for each object.
class Fonts {
 public:
  /// \param folders  searched with everything below them; the first file of a name counts
  /// \throws WorldError  the main font (Noto Sans) is not there
  explicit Fonts(const std::vector<std::string>& folders);

  /// The face everything is set in that it covers; its glyph 0 is the box for what no font covers.
  [[nodiscard]] const Face& main(Weight weight) const { return *main_[weight == Weight::bold]; }

  /// The best face that has every one of the characters; null: none has.
  const Face* find(const std::u32string& characters, const ScriptRun& run, Weight weight);

  /// Debian's package that most likely has a font for a script (ISO 15924 code);
  /// empty: none has.
  static std::string package_for(const std::string& script);

 private:
  const Face* open(const std::string& family, Weight weight, bool only_weight);
  const std::vector<const Face*>& candidates(const ScriptRun& run, Weight weight, bool plain_first);

  std::map<std::string, std::string> files_;  ///< lower-case file name to path
  std::map<std::string, std::unique_ptr<Face>> open_;
  std::map<std::string, std::vector<const Face*>> candidates_;
  const Face* main_[2] = {nullptr, nullptr};
};

}  // namespace gp
