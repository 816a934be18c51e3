#include "sheets/pdf.h"

#include "base/errors.h"
#include "sheets/subset.h"
#include "text/clean.h"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <map>
#include <memory>
#include <set>
#include <tuple>
#include <utility>

// The only place that knows libharu, and that looks at its internal objects: 2.3.0 has no public
// way to put in a font that another library has made. Debian 12 ships these headers.
#include <hb.h>
#include <hpdf.h>
#include <hpdf_doc.h>
#include <hpdf_info.h>
#include <hpdf_objects.h>
#include <hpdf_pages.h>

namespace gp {
namespace {

constexpr double kThickening = 0.018;  ///< ems of stroke that make a regular face look bold

/// A number as PDF writes it: no exponent, no locale, no more digits than a printer can show.
void put(std::string& out, double value) {
  std::array<char, 32> digits{};
  const double rounded = std::round(value * 1000) / 1000;
  const auto end = std::to_chars(digits.data(),
                                 digits.data() + digits.size(),
                                 rounded == 0 ? 0 : rounded,
                                 std::chars_format::fixed,
                                 3);
  std::string_view text(digits.data(), static_cast<std::size_t>(end.ptr - digits.data()));
  while (text.ends_with('0')) text.remove_suffix(1);
  if (text.ends_with('.')) text.remove_suffix(1);
  out += text;
  out += ' ';
}

void put_hex(std::string& out, std::uint32_t value) {
  constexpr char kDigits[] = "0123456789ABCDEF";
  for (int shift = 12; shift >= 0; shift -= 4) out += kDigits[(value >> shift) & 0xFU];
}

void put_utf16_hex(std::string& out, const std::u16string& text) {
  for (const char16_t unit : text) put_hex(out, unit);
}

/// Codes that a document gives to the glyphs of one face: a glyph that stands for different texts
/// has a code for each, so that both can be copied.
struct Codes {
  struct Key {
    std::uint32_t glyph;
    std::u16string text;
    int width;  ///< as the file declares it [1/1000 em]
    bool operator<(const Key& other) const {
      return std::tie(glyph, text, width) < std::tie(other.glyph, other.text, other.width);
    }
  };
  std::map<Key, std::uint16_t> codes;
  std::vector<Key> in_order;  ///< code 1 first

  std::uint16_t of(const Glyph& glyph, int width) {
    const Key key{glyph.id, glyph.text, width};
    const auto found = codes.find(key);
    if (found != codes.end()) return found->second;
    in_order.push_back(key);
    const auto code = static_cast<std::uint16_t>(in_order.size());
    if (in_order.size() > 0xFFFEU) throw InternalError("more glyphs than a font of a PDF can name");
    codes.emplace(key, code);
    return code;
  }
};

int declared_width(const Face& face, std::uint32_t glyph);

struct UsedFonts {
  std::vector<const Face*> faces;  ///< in order of first use; the name of the first is F1
  std::map<const Face*, std::size_t> index;
  std::vector<Codes> codes;

  std::size_t of(const Face* face) {
    const auto [entry, added] = index.emplace(face, faces.size());
    if (added) {
      faces.push_back(face);
      codes.emplace_back();
    }
    return entry->second;
  }
};

/// Writes the glyphs of one run; returns how far the pen has gone [ems].
double put_run(std::string& out, const GlyphRun& run, Codes& codes, double size) {
  double pen = 0;       // where the next glyph belongs
  double declared = 0;  // where the widths in the file would put it
  double rise = 0;
  std::string strings;
  std::string codes_now;
  auto close_string = [&] {
    if (!codes_now.empty()) strings += "<" + codes_now + ">";
    codes_now.clear();
  };
  auto close_array = [&] {
    close_string();
    if (!strings.empty()) out += "[" + strings + "]TJ\n";
    strings.clear();
  };
  std::size_t left_of_group = 0;
  for (const Glyph& glyph : run.glyphs) {
    if (glyph.group > 0) {
      // ISO 32000-1, 14.9.4: what a reader should copy instead of these glyphs.
      close_array();
      out += "/Span<</ActualText<FEFF";
      put_utf16_hex(out, glyph.together);
      out += ">>>BDC\n";
      left_of_group = glyph.group;
    }
    if (std::abs(glyph.dy - rise) > 1e-6) {
      close_array();
      put(out, glyph.dy * size);
      out += "Ts\n";
      rise = glyph.dy;
    }
    const double shift = (pen + glyph.dx - declared) * 1000;
    if (std::abs(shift) >= 0.5) {
      close_string();
      put(strings, -std::round(shift));
      declared += std::round(shift) / 1000;
    }
    const int width =
        glyph.unseen_width > 0 ? glyph.unseen_width : declared_width(*run.face, glyph.id);
    put_hex(codes_now, codes.of(glyph, width));
    declared += width / 1000.0;
    pen += glyph.advance;
    if (left_of_group > 0 && --left_of_group == 0) {
      close_array();
      out += "EMC\n";
    }
  }
  close_array();
  if (rise != 0) out += "0 Ts\n";
  return pen;
}

struct LibraryError {
  HPDF_STATUS code = HPDF_OK;
  HPDF_STATUS detail = HPDF_OK;
};

// Called from inside the library: only notes the first error, never throws across C.
void note_error(HPDF_STATUS code, HPDF_STATUS detail, void* user) {
  auto* error = static_cast<LibraryError*>(user);
  if (error->code == HPDF_OK) *error = {code, detail};
}

void write_stream(HPDF_Dict stream, std::string_view bytes) {
  HPDF_Stream_Write(stream->stream,
                    reinterpret_cast<const HPDF_BYTE*>(bytes.data()),
                    static_cast<HPDF_UINT>(bytes.size()));
}

HPDF_Dict new_stream(HPDF_Doc doc, std::string_view bytes) {
  HPDF_Dict stream = HPDF_DictStream_New(doc->mmgr, doc->xref);
  if (stream == nullptr) return nullptr;
  stream->filter = HPDF_STREAM_FILTER_FLATE_DECODE;
  write_stream(stream, bytes);
  return stream;
}

HPDF_Dict new_object(HPDF_Doc doc) {
  HPDF_Dict dict = HPDF_Dict_New(doc->mmgr);
  if (dict == nullptr || HPDF_Xref_Add(doc->xref, dict) != HPDF_OK) return nullptr;
  return dict;
}

std::string to_unicode_map(const Codes& codes) {
  std::string map =
      "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
      "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
      "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
      "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n";
  std::vector<std::string> rows;
  for (std::size_t i = 0; i < codes.in_order.size(); ++i) {
    if (codes.in_order[i].text.empty()) continue;
    std::string row = "<";
    put_hex(row, static_cast<std::uint32_t>(i + 1));
    row += "> <";
    put_utf16_hex(row, codes.in_order[i].text);
    rows.push_back(row + ">\n");
  }
  // At most 100 entries a block (Adobe Technical Note 5014).
  for (std::size_t from = 0; from < rows.size(); from += 100) {
    const std::size_t until = std::min(rows.size(), from + 100);
    map += std::to_string(until - from) + " beginbfchar\n";
    for (std::size_t i = from; i < until; ++i) map += rows[i];
    map += "endbfchar\n";
  }
  return map + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n";
}

/// Six capitals that differ when the content differs, as the standard wants before a part's name.
std::string part_tag(const std::string& bytes, std::size_t index) {
  std::uint64_t hash = 1469598103934665603ULL + index;  // FNV-1a
  for (const char byte : bytes) {
    hash = (hash ^ static_cast<unsigned char>(byte)) * 1099511628211ULL;
  }
  std::string tag;
  for (int i = 0; i < 6; ++i, hash /= 26) tag += static_cast<char>('A' + hash % 26);
  return tag + "+";
}

HPDF_Dict new_font(HPDF_Doc doc, const Face& face, const Codes& codes, std::size_t index) {
  std::set<std::uint32_t> glyphs;
  for (const Codes::Key& key : codes.in_order) glyphs.insert(key.glyph);
  const FontPart part = part_of(face, glyphs);
  const std::string name = part_tag(part.bytes, index) + part.name;

  HPDF_Dict file = new_stream(doc, part.bytes);
  HPDF_Dict about = new_object(doc);
  HPDF_Dict letters = new_object(doc);
  HPDF_Dict font = new_object(doc);
  if (file == nullptr || about == nullptr || letters == nullptr || font == nullptr) return nullptr;
  HPDF_Dict_AddNumber(file, "Length1", static_cast<HPDF_INT32>(part.bytes.size()));

  HPDF_Dict_AddName(about, "Type", "FontDescriptor");
  HPDF_Dict_AddName(about, "FontName", name.c_str());
  HPDF_Dict_AddNumber(about, "Flags", 4);  // symbolic: glyphs are named by number
  HPDF_Array box = HPDF_Array_New(doc->mmgr);
  for (const int side : part.box) HPDF_Array_AddNumber(box, side);
  HPDF_Dict_Add(about, "FontBBox", box);
  HPDF_Dict_AddNumber(about, "ItalicAngle", 0);
  HPDF_Dict_AddNumber(about, "Ascent", part.ascent);
  HPDF_Dict_AddNumber(about, "Descent", part.descent);
  HPDF_Dict_AddNumber(about, "CapHeight", part.cap_height);
  HPDF_Dict_AddNumber(about, "StemV", 80);
  HPDF_Dict_Add(about, "FontFile2", file);

  HPDF_Array widths = HPDF_Array_New(doc->mmgr);
  HPDF_Array run = HPDF_Array_New(doc->mmgr);
  std::string to_glyph(2, '\0');  // code 0 is not used
  for (const Codes::Key& key : codes.in_order) {
    HPDF_Array_AddNumber(run, key.width);
    const std::uint16_t in_part = part.glyphs.at(key.glyph);
    to_glyph += static_cast<char>(in_part >> 8U);
    to_glyph += static_cast<char>(in_part & 0xFFU);
  }
  HPDF_Array_AddNumber(widths, 1);
  HPDF_Array_Add(widths, run);

  HPDF_Dict_AddName(letters, "Type", "Font");
  HPDF_Dict_AddName(letters, "Subtype", "CIDFontType2");
  HPDF_Dict_AddName(letters, "BaseFont", name.c_str());
  HPDF_Dict system = HPDF_Dict_New(doc->mmgr);
  HPDF_Dict_Add(letters, "CIDSystemInfo", system);
  HPDF_Dict_Add(system, "Registry", HPDF_String_New(doc->mmgr, "Adobe", nullptr));
  HPDF_Dict_Add(system, "Ordering", HPDF_String_New(doc->mmgr, "Identity", nullptr));
  HPDF_Dict_AddNumber(system, "Supplement", 0);
  HPDF_Dict_Add(letters, "FontDescriptor", about);
  HPDF_Dict_AddNumber(letters, "DW", 0);
  HPDF_Dict_Add(letters, "W", widths);
  HPDF_Dict_Add(letters, "CIDToGIDMap", new_stream(doc, to_glyph));

  HPDF_Dict_AddName(font, "Type", "Font");
  HPDF_Dict_AddName(font, "Subtype", "Type0");
  HPDF_Dict_AddName(font, "BaseFont", name.c_str());
  HPDF_Dict_AddName(font, "Encoding", "Identity-H");
  HPDF_Array descendants = HPDF_Array_New(doc->mmgr);
  HPDF_Array_Add(descendants, letters);
  HPDF_Dict_Add(font, "DescendantFonts", descendants);
  HPDF_Dict_Add(font, "ToUnicode", new_stream(doc, to_unicode_map(codes)));
  return font;
}

/// A text string of a PDF: UTF-16 with its mark (ISO 32000-1, 7.9.2.2); libharu's own way knows the
/// basic plane only.
HPDF_Binary new_text(HPDF_Doc doc, const std::string& utf8) {
  std::string bytes = "\xFE\xFF";
  for (const char16_t unit : clean(utf8).substr(0, 2000)) {
    bytes += static_cast<char>(unit >> 8U);
    bytes += static_cast<char>(unit & 0xFFU);
  }
  std::vector<HPDF_BYTE> raw(bytes.begin(), bytes.end());
  return HPDF_Binary_New(doc->mmgr, raw.data(), static_cast<HPDF_UINT>(raw.size()));
}

void add_about(HPDF_Doc doc, const std::string& title, const std::string& language) {
  // 1.4: the first version with a language.
  doc->pdf_version = HPDF_VER_14;
  HPDF_SetInfoAttr(doc, HPDF_INFO_CREATOR, "greasepaint");
  HPDF_Dict_Add(doc->info, "Title", new_text(doc, title));
  HPDF_Dict_Add(doc->catalog, "Lang", HPDF_String_New(doc->mmgr, language.c_str(), nullptr));
  HPDF_Dict show = HPDF_Dict_New(doc->mmgr);
  HPDF_Dict_Add(doc->catalog, "ViewerPreferences", show);
  HPDF_Dict_AddBoolean(show, "DisplayDocTitle", HPDF_TRUE);
}

std::string saved(HPDF_Doc doc) {
  std::string out;
  if (HPDF_SaveToStream(doc) != HPDF_OK) return out;
  HPDF_ResetStream(doc);
  out.resize(HPDF_GetStreamSize(doc));
  auto size = static_cast<HPDF_UINT32>(out.size());
  std::vector<HPDF_BYTE> buffer(out.size());
  HPDF_ReadFromStream(doc, buffer.data(), &size);
  out.assign(buffer.begin(), buffer.begin() + static_cast<std::ptrdiff_t>(size));
  return out;
}

}  // namespace

PaperSize paper_size(Paper paper) {
  constexpr double kPointsPerMillimetre = 72 / 25.4;
  if (paper == Paper::letter) return {612, 792};
  return {210 * kPointsPerMillimetre, 297 * kPointsPerMillimetre};
}

Pdf::Pdf(std::string title, std::string language, Paper paper)
    : title_(std::move(title)), language_(std::move(language)), size_(paper_size(paper)) {}

void Pdf::add_page() {
  pages_.emplace_back();
  current_ = pages_.size() - 1;
}

void Pdf::text(const SetLine& line, double x, double y, double size) {
  if (line && !line->runs.empty()) page().texts.push_back({line, x, y, size});
}

void Pdf::stroke(double x1, double y1, double x2, double y2, double width, double grey) {
  std::string& out = page().shapes;
  put(out, grey);
  out += "G ";
  put(out, width);
  out += "w ";
  put(out, x1);
  put(out, size_.height - y1);
  out += "m ";
  put(out, x2);
  put(out, size_.height - y2);
  out += "l S\n";
}

void Pdf::rule(double x1, double y1, double x2, double y2, double width, double grey) {
  stroke(x1, y1, x2, y2, width, grey);
}

void Pdf::dashes(double x1, double y1, double x2, double y2, double width, double grey) {
  page().shapes += "[4 3] 0 d ";
  stroke(x1, y1, x2, y2, width, grey);
  page().shapes += "[] 0 d\n";
}

void Pdf::frame(double x, double y, double width, double height, double line, double grey) {
  std::string& out = page().shapes;
  put(out, grey);
  out += "G ";
  put(out, line);
  out += "w ";
  put(out, x);
  put(out, size_.height - y - height);
  put(out, width);
  put(out, height);
  out += "re S\n";
}

void Pdf::fill(double x, double y, double width, double height, double grey) {
  std::string& out = page().shapes;
  put(out, grey);
  out += "g ";
  put(out, x);
  put(out, size_.height - y - height);
  put(out, width);
  put(out, height);
  out += "re f\n";
}

namespace {

int declared_width(const Face& face, std::uint32_t glyph) {
  return static_cast<int>(
      std::lround(hb_font_get_glyph_h_advance(face.font(), glyph) * 1000.0 / face.units()));
}

}  // namespace

std::string Pdf::bytes() const {
  UsedFonts fonts;
  std::vector<std::string> contents;
  for (const Page& page : pages_) {
    std::string out = page.shapes;
    if (!page.texts.empty()) out += "BT\n";
    for (const Text& text : page.texts) {
      double x = text.x;
      for (const GlyphRun& run : text.line->runs) {
        const std::size_t index = fonts.of(run.face);
        put(out, run.grey);
        out += "g /F" + std::to_string(index + 1) + " ";
        put(out, text.size);
        out += "Tf 1 0 0 1 ";
        put(out, x);
        put(out, size_.height - text.y);
        out += "Tm ";
        if (run.face->thicken()) {
          put(out, run.grey);
          out += "G ";
          put(out, kThickening * text.size);
          out += "w 2 Tr ";
        }
        x += put_run(out, run, fonts.codes[index], text.size) * text.size;
        if (run.face->thicken()) out += "0 Tr\n";
      }
    }
    if (!page.texts.empty()) out += "ET\n";
    contents.push_back(std::move(out));
  }

  LibraryError error;
  const std::unique_ptr<HPDF_Doc_Rec, decltype(&HPDF_Free)> doc(HPDF_New(note_error, &error),
                                                                &HPDF_Free);
  if (!doc) throw InternalError("libharu gave no document");
  HPDF_SetCompressionMode(doc.get(), HPDF_COMP_ALL);
  HPDF_Dict names = new_object(doc.get());
  for (const std::string& content : contents) {
    HPDF_Page page = HPDF_AddPage(doc.get());
    if (page == nullptr || names == nullptr) break;
    HPDF_Page_SetWidth(page, static_cast<HPDF_REAL>(size_.width));
    HPDF_Page_SetHeight(page, static_cast<HPDF_REAL>(size_.height));
    auto* resources =
        static_cast<HPDF_Dict>(HPDF_Page_GetInheritableItem(page, "Resources", HPDF_OCLASS_DICT));
    HPDF_Dict_Add(resources, "Font", names);
    write_stream(static_cast<HPDF_PageAttr>(page->attr)->contents, content);
  }
  for (std::size_t i = 0; error.code == HPDF_OK && i < fonts.faces.size(); ++i) {
    HPDF_Dict font = new_font(doc.get(), *fonts.faces[i], fonts.codes[i], i);
    if (font != nullptr) HPDF_Dict_Add(names, ("F" + std::to_string(i + 1)).c_str(), font);
  }
  add_about(doc.get(), title_, language_);
  std::string out = saved(doc.get());
  if (error.code != HPDF_OK || out.empty()) {
    throw InternalError("libharu could not write the sheet (code " + std::to_string(error.code) +
                        ", detail " + std::to_string(error.detail) + ")");
  }
  return out;
}

}  // namespace gp
