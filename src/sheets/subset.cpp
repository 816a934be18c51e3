#include "sheets/subset.h"

#include "base/errors.h"

#include <cmath>
#include <memory>

#include <hb-ot.h>
#include <hb-subset.h>
#include <hb.h>

namespace gp {
namespace {

// A PDF names glyphs by number, so that everything about letters and layout can stay out.
constexpr hb_tag_t kDropped[] = {HB_TAG('c', 'm', 'a', 'p'),
                                 HB_TAG('G', 'S', 'U', 'B'),
                                 HB_TAG('G', 'P', 'O', 'S'),
                                 HB_TAG('G', 'D', 'E', 'F'),
                                 HB_TAG('k', 'e', 'r', 'n'),
                                 HB_TAG('n', 'a', 'm', 'e'),
                                 HB_TAG('p', 'o', 's', 't'),
                                 HB_TAG('O', 'S', '/', '2'),
                                 HB_TAG('g', 'a', 's', 'p'),
                                 HB_TAG('v', 'h', 'e', 'a'),
                                 HB_TAG('v', 'm', 't', 'x'),
                                 HB_TAG('V', 'D', 'M', 'X'),
                                 HB_TAG('h', 'd', 'm', 'x'),
                                 HB_TAG('L', 'T', 'S', 'H'),
                                 HB_TAG('D', 'S', 'I', 'G')};

std::string postscript_name(const Face& face) {
  char text[128] = {};
  unsigned size = sizeof text;
  hb_ot_name_get_utf8(face.face(), HB_OT_NAME_ID_POSTSCRIPT_NAME, HB_LANGUAGE_INVALID, &size, text);
  std::string name;
  for (const char* at = text; *at != '\0'; ++at) {
    const char letter = *at;
    const bool plain = (letter >= 'A' && letter <= 'Z') || (letter >= 'a' && letter <= 'z') ||
                       (letter >= '0' && letter <= '9') || letter == '-';
    if (plain) name.push_back(letter);
  }
  return name.empty() ? "Font" : name.substr(0, 60);
}

int signed16(const unsigned char* bytes) {
  const int value = bytes[0] * 256 + bytes[1];
  return value >= 0x8000 ? value - 0x10000 : value;
}

}  // namespace

FontPart part_of(const Face& face, const std::set<std::uint32_t>& glyphs) {
  const std::unique_ptr<hb_subset_input_t, decltype(&hb_subset_input_destroy)> input(
      hb_subset_input_create_or_fail(), &hb_subset_input_destroy);
  if (!input) throw InternalError("no memory for a part of a font");
  for (const std::uint32_t glyph : glyphs) {
    hb_set_add(hb_subset_input_glyph_set(input.get()), glyph);
  }
  hb_set_t* dropped = hb_subset_input_set(input.get(), HB_SUBSET_SETS_DROP_TABLE_TAG);
  for (const hb_tag_t tag : kDropped) hb_set_add(dropped, tag);
  hb_subset_input_set_flags(input.get(),
                            HB_SUBSET_FLAGS_NO_HINTING | HB_SUBSET_FLAGS_NOTDEF_OUTLINE);
  const std::unique_ptr<hb_subset_plan_t, decltype(&hb_subset_plan_destroy)> plan(
      hb_subset_plan_create_or_fail(face.face(), input.get()), &hb_subset_plan_destroy);
  hb_face_t* small = plan ? hb_subset_plan_execute_or_fail(plan.get()) : nullptr;
  if (small == nullptr) throw InternalError("HarfBuzz could not take a part of " + face.path());

  FontPart part;
  const hb_map_t* new_glyphs = hb_subset_plan_old_to_new_glyph_mapping(plan.get());
  for (const std::uint32_t glyph : glyphs) {
    part.glyphs[glyph] = static_cast<std::uint16_t>(hb_map_get(new_glyphs, glyph));
  }
  hb_blob_t* blob = hb_face_reference_blob(small);
  unsigned length = 0;
  const char* data = hb_blob_get_data(blob, &length);
  part.bytes.assign(data, length);
  hb_blob_destroy(blob);
  hb_face_destroy(small);

  part.name = postscript_name(face);
  const double scale = 1000.0 / face.units();
  auto thousandths = [&](double units) { return static_cast<int>(std::lround(units * scale)); };
  hb_blob_t* head = hb_face_reference_table(face.face(), HB_TAG('h', 'e', 'a', 'd'));
  unsigned head_length = 0;
  const char* head_data = hb_blob_get_data(head, &head_length);
  if (head_length >= 44) {
    // head: xMin, yMin, xMax, yMax at 36 (OpenType specification, "head")
    for (std::size_t i = 0; i < 4; ++i) {
      const auto* at = reinterpret_cast<const unsigned char*>(head_data) + 36 + 2 * i;
      part.box[i] = thousandths(signed16(at));
    }
  }
  hb_blob_destroy(head);
  part.ascent = static_cast<int>(std::lround(face.ascent() * 1000));
  part.descent = -static_cast<int>(std::lround(face.descent() * 1000));
  hb_position_t cap = 0;
  if (hb_ot_metrics_get_position(face.font(), HB_OT_METRICS_TAG_CAP_HEIGHT, &cap) != 0) {
    part.cap_height = thousandths(cap);
  } else {
    part.cap_height = part.ascent * 7 / 10;
  }
  return part;
}

}  // namespace gp
