#include "sheets/fonts.h"

#include "base/errors.h"
#include "sheets/sheets.h"

#include <algorithm>
#include <cctype>
#include <filesystem>

#include <hb-ot.h>
#include <hb.h>

namespace gp {
namespace {

namespace fs = std::filesystem;

constexpr const char* kMainFamily = "NotoSans";
// For scripts whose letters are not in a Noto file of their own, in order of use: Han, kana and
// Hangul; then symbols and emoji; then whatever has many letters.
constexpr const char* kEastAsian[] = {
    "DroidSansFallbackFull", "DroidSansFallback", "NanumGothic", "wqy-zenhei"};
constexpr const char* kSymbols[] = {
    "NotoSansSymbols", "NotoSansSymbols2", "NotoSansMath", "Symbola_hint", "Symbola", "DejaVuSans"};

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char letter) {
    return static_cast<char>(std::tolower(letter));
  });
  return text;
}

bool is_east_asian(const std::string& script) {
  for (const char* known : {"Hani", "Hira", "Kana", "Hang", "Bopo"}) {
    if (script == known) return true;
  }
  return false;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : ", ") + part;
  return out;
}

}  // namespace

Face::Face(std::string path, bool thicken) : path_(std::move(path)), thicken_(thicken) {
  hb_blob_t* blob = hb_blob_create_from_file_or_fail(path_.c_str());
  if (blob == nullptr) throw WorldError("cannot read the font " + path_);
  face_ = hb_face_create(blob, 0);
  hb_blob_destroy(blob);
  hb_blob_t* outlines = hb_face_reference_table(face_, HB_TAG('g', 'l', 'y', 'f'));
  const bool usable = hb_blob_get_length(outlines) > 0 && hb_face_get_glyph_count(face_) > 0;
  hb_blob_destroy(outlines);
  if (!usable) {
    hb_face_destroy(face_);
    throw WorldError("cannot use the font " + path_ + ": it has no TrueType outlines");
  }
  units_ = static_cast<double>(hb_face_get_upem(face_));
  font_ = hb_font_create(face_);
  hb_font_extents_t extents{};
  if (hb_font_get_h_extents(font_, &extents) != 0) {
    ascent_ = extents.ascender / units_;
    descent_ = -extents.descender / units_;
  }
}

Face::~Face() {
  hb_font_destroy(font_);
  hb_face_destroy(face_);
}

bool Face::has(char32_t character) const {
  hb_codepoint_t glyph = 0;
  return hb_font_get_nominal_glyph(font_, character, &glyph) != 0 && glyph != 0;
}

std::vector<std::string> default_font_dirs() {
  return {"/usr/local/share/fonts",
          "/usr/share/fonts/truetype/noto",
          "/usr/share/fonts/truetype",
          "/usr/share/fonts-droid-fallback/truetype",
          "/usr/share/fonts"};
}

Fonts::Fonts(const std::vector<std::string>& folders) {
  const std::vector<std::string> places = folders.empty() ? default_font_dirs() : folders;
  for (const std::string& folder : places) {
    std::error_code error;
    auto found = fs::recursive_directory_iterator(
        folder, fs::directory_options::skip_permission_denied, error);
    // Sorted, because the order in which a disk lists its files must not choose a font.
    std::map<std::string, std::string> here;
    for (; !error && found != fs::recursive_directory_iterator(); found.increment(error)) {
      const fs::path path = found->path();
      const std::string ending = lower(path.extension().string());
      if (ending != ".ttf" && ending != ".ttc") continue;
      auto [entry, added] = here.emplace(lower(path.stem().string()), path.string());
      if (!added) entry->second = std::min(entry->second, path.string());
    }
    files_.insert(here.begin(), here.end());
  }
  main_[0] = open(kMainFamily, Weight::regular, true);
  main_[1] = open(kMainFamily, Weight::bold, true);
  if (main_[0] == nullptr || main_[1] == nullptr) {
    throw WorldError(
        "cannot print: install the package fonts-noto-core, or name the folder its fonts are in; "
        "NotoSans-Regular.ttf and NotoSans-Bold.ttf were looked for in " +
        joined(places));
  }
}

const Face* Fonts::open(const std::string& family, Weight weight, bool only_weight) {
  const bool bold = weight == Weight::bold;
  std::vector<std::string> names;
  if (bold) names.push_back(lower(family) + "-bold");
  if (!bold || !only_weight) {
    names.push_back(lower(family) + "-regular");
    names.push_back(lower(family));
  }
  for (const std::string& name : names) {
    const auto file = files_.find(name);
    if (file == files_.end()) continue;
    const bool thicken = bold && !name.ends_with("-bold");
    auto& slot = open_[name + (thicken ? "+" : "")];
    if (!slot) {
      try {
        slot = std::make_unique<Face>(file->second, thicken);
      } catch (const WorldError&) {
        continue;  // another file may have what this one cannot give
      }
    }
    return slot.get();
  }
  return nullptr;
}

const std::vector<const Face*>& Fonts::candidates(const ScriptRun& run,
                                                  Weight weight,
                                                  bool plain_first) {
  const std::string key =
      run.script + (weight == Weight::bold ? "/bold" : "/regular") + (plain_first ? "/plain" : "");
  const auto known = candidates_.find(key);
  if (known != candidates_.end()) return known->second;

  std::vector<const Face*> faces;
  auto add = [&](const Face* face) {
    if (face != nullptr && std::find(faces.begin(), faces.end(), face) == faces.end()) {
      faces.push_back(face);
    }
  };
  if (plain_first) add(&main(weight));
  if (is_east_asian(run.script)) {
    for (const char* family : kEastAsian) add(open(family, weight, false));
  } else if (run.script != "Zyyy") {
    add(open(kMainFamily + run.name, weight, false));
    add(open("NotoSerif" + run.name, weight, false));
  }
  add(&main(weight));
  for (const char* family : kSymbols) add(open(family, weight, false));
  for (const char* family : kEastAsian) add(open(family, weight, false));
  return candidates_.emplace(key, std::move(faces)).first->second;
}

const Face* Fonts::find(const std::u32string& characters, const ScriptRun& run, Weight weight) {
  if (characters.empty()) return &main(weight);
  // Digits and commas among other letters look as they do everywhere else on the page.
  const bool plain_first = of_no_script(characters.front());
  for (const Face* face : candidates(run, weight, plain_first)) {
    if (std::all_of(characters.begin(), characters.end(), [&](char32_t character) {
          return face->has(character);
        })) {
      return face;
    }
  }
  return nullptr;
}

std::string Fonts::package_for(const std::string& script) {
  if (is_east_asian(script)) return "fonts-droid-fallback";
  if (script == "Zyyy" || script == "Zinh") return "fonts-symbola";
  if (script == "Zzzz") return "";  // assigned to nothing that a font could be made for
  return "fonts-noto-core";
}

}  // namespace gp
