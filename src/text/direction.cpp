#include "text/direction.h"

#include "base/errors.h"
#include "text/clean.h"

#include <algorithm>
#include <memory>

#include <unicode/ubidi.h>
#include <unicode/uscript.h>

namespace gp {

Levels levels_of(std::u16string_view paragraph, BaseDirection base) {
  Levels levels;
  if (paragraph.empty()) {
    levels.right_to_left = base == BaseDirection::right_to_left;
    return levels;
  }
  UErrorCode status = U_ZERO_ERROR;
  const std::unique_ptr<UBiDi, decltype(&ubidi_close)> bidi(ubidi_open(), &ubidi_close);
  UBiDiLevel level = UBIDI_DEFAULT_LTR;
  if (base == BaseDirection::left_to_right) level = 0;
  if (base == BaseDirection::right_to_left) level = 1;
  ubidi_setPara(bidi.get(),
                paragraph.data(),
                static_cast<std::int32_t>(paragraph.size()),
                level,
                nullptr,
                &status);
  const UBiDiLevel* found = ubidi_getLevels(bidi.get(), &status);
  if (U_FAILURE(status) != 0 || found == nullptr) {
    throw InternalError("ICU could not find the direction of a text");
  }
  levels.at.assign(found, found + paragraph.size());
  levels.right_to_left = (ubidi_getParaLevel(bidi.get()) & 1U) != 0;
  return levels;
}

std::vector<std::size_t> visual_order(const std::vector<std::uint8_t>& levels) {
  std::vector<std::int32_t> map(levels.size());
  if (!levels.empty()) {
    ubidi_reorderVisual(levels.data(), static_cast<std::int32_t>(levels.size()), map.data());
  }
  std::vector<std::size_t> order(map.size());
  std::transform(map.begin(), map.end(), order.begin(), [](std::int32_t index) {
    return static_cast<std::size_t>(index);
  });
  return order;
}

bool of_no_script(char32_t character) {
  UErrorCode status = U_ZERO_ERROR;
  const UScriptCode script = uscript_getScript(static_cast<UChar32>(character), &status);
  return U_FAILURE(status) != 0 || script == USCRIPT_COMMON || script == USCRIPT_INHERITED;
}

std::vector<ScriptRun> script_runs(std::u16string_view text) {
  struct Part {
    std::size_t from, until;
    UScriptCode script;
  };
  std::vector<Part> parts;
  for (std::size_t at = 0; at < text.size();) {
    const Character point = character_at(text, at);
    UErrorCode status = U_ZERO_ERROR;
    UScriptCode script = uscript_getScript(static_cast<UChar32>(point.value), &status);
    if (U_FAILURE(status) != 0 || script == USCRIPT_INHERITED) script = USCRIPT_COMMON;
    const bool goes_on =
        !parts.empty() && (script == USCRIPT_COMMON || parts.back().script == USCRIPT_COMMON ||
                           parts.back().script == script);
    if (goes_on) {
      if (parts.back().script == USCRIPT_COMMON) parts.back().script = script;
      parts.back().until = at + point.units;
    } else {
      parts.push_back({at, at + point.units, script});
    }
    at += point.units;
  }
  std::vector<ScriptRun> runs;
  runs.reserve(parts.size());
  for (const Part& part : parts) {
    std::string name = uscript_getName(part.script);
    std::erase(name, '_');
    runs.push_back({part.from, part.until, uscript_getShortName(part.script), std::move(name)});
  }
  return runs;
}

}  // namespace gp
