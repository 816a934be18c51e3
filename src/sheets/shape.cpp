#include "sheets/shape.h"

#include "base/errors.h"
#include "text/clean.h"
#include "text/direction.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <span>

#include <hb.h>

namespace gp {
namespace {

using Buffer = std::unique_ptr<hb_buffer_t, decltype(&hb_buffer_destroy)>;

/// The same text in the same inks has the same key. Grey does not change widths but is part of it.
std::string key_of(const Rich& text, std::size_t from, std::size_t until) {
  std::string key;
  key.reserve((until - from) * 2 + 8);
  std::size_t at = from;
  for (const Rich::Stretch& stretch : text.stretches()) {
    if (stretch.until <= at) continue;
    const std::size_t end = std::min(stretch.until, until);
    for (; at < end; ++at) {
      key.push_back(static_cast<char>(text.text()[at] & 0xFF));
      key.push_back(static_cast<char>(text.text()[at] >> 8));
    }
    // No character has the units FFFF xxxx, so keys cannot be confused.
    key += "\xFF\xFF";
    key.push_back(stretch.ink.weight == Weight::bold ? 'b' : 'r');
    key.push_back(static_cast<char>(std::lround(stretch.ink.grey * 100)));
    if (at >= until) break;
  }
  return key;
}

std::vector<Character> characters_of(std::u16string_view text) {
  std::vector<Character> characters;
  for (std::size_t at = 0; at < text.size(); at += characters.back().units) {
    characters.push_back(character_at(text, at));
  }
  return characters;
}

/// Says what the glyphs of one cluster stand for where the line runs from left to right, so that
/// copying gives the text back: each its own character where they are one for one, otherwise all
/// of them the whole.
void name_cluster(const Face& face, std::u16string_view text, std::span<Glyph> glyphs) {
  if (glyphs.size() == 1) {
    glyphs.front().text = text;
    return;
  }
  const std::vector<Character> characters = characters_of(text);
  bool one_for_one = characters.size() == glyphs.size();
  for (std::size_t i = 0; one_for_one && i < glyphs.size(); ++i) {
    hb_codepoint_t own = 0;
    hb_font_get_nominal_glyph(face.font(), characters[i].value, &own);
    one_for_one = own == glyphs[i].id;
  }
  if (!one_for_one) {
    glyphs.front().together = text;
    glyphs.front().group = glyphs.size();
    return;
  }
  for (std::size_t i = 0, at = 0; i < characters.size(); at += characters[i++].units) {
    glyphs[i].text = text.substr(at, characters[i].units);
  }
}

/// The same where the line runs from right to left. Readers turn such a line round character by
/// character, and some take several characters of one glyph (a lam-alef, a letter with its vowels)
/// in the wrong order. So the glyphs say nothing, and fields with nothing to see, one a character,
/// lie over them.
void name_backwards(const Face& face, std::u16string_view text, GlyphRun& run, std::size_t from) {
  const std::vector<Character> characters = characters_of(text);
  hb_codepoint_t blank = 0;
  hb_font_get_nominal_glyph(face.font(), U' ', &blank);
  double width = 0;
  for (std::size_t i = from; i < run.glyphs.size(); ++i) width += run.glyphs[i].advance;
  const auto field = static_cast<int>(width * 1000 / static_cast<double>(characters.size()));
  if ((characters.size() == 1 && run.glyphs.size() == from + 1) || blank == 0 || field < 1) {
    run.glyphs[from].text = text;
    return;
  }
  std::size_t end = text.size();
  for (std::size_t i = 0; i < characters.size(); ++i) {
    const std::size_t units = characters[characters.size() - 1 - i].units;
    end -= units;
    Glyph unseen;
    unseen.id = blank;
    unseen.unseen_width = field;
    unseen.dx = static_cast<double>(i) * field / 1000.0 - width;
    unseen.text = text.substr(end, units);
    run.glyphs.push_back(std::move(unseen));
  }
}

/// The stretch around `at` that no mark of direction parts.
std::u16string_view between_steering(std::u16string_view text, std::size_t at) {
  std::size_t from = at;
  std::size_t until = at;
  while (from > 0 && !steers_direction(text[from - 1])) --from;
  while (until < text.size() && !steers_direction(text[until])) ++until;
  return text.substr(from, until - from);
}

std::size_t trimmed_end(const std::u16string& text, std::size_t from, std::size_t until) {
  while (until > from && text[until - 1] == u' ') --until;
  return until;
}

}  // namespace

Rich& Rich::add(std::string_view utf8, Ink ink) {
  append(to_utf16(utf8), ink);
  return *this;
}

Rich& Rich::add_name(std::string_view utf8, Ink ink) {
  append(isolated(utf8), ink);
  return *this;
}

Rich& Rich::add(const Rich& more) {
  std::size_t from = 0;
  for (const Stretch& stretch : more.stretches_) {
    append(std::u16string_view(more.text_).substr(from, stretch.until - from), stretch.ink);
    from = stretch.until;
  }
  return *this;
}

Rich Rich::beginning(std::size_t units) const {
  Rich part;
  std::size_t from = 0;
  for (const Stretch& stretch : stretches_) {
    const std::size_t until = std::min(stretch.until, units);
    if (until <= from) break;
    part.append(std::u16string_view(text_).substr(from, until - from), stretch.ink);
    from = until;
  }
  if (!part.text_.empty() && (part.text_.back() & 0xFC00) == 0xD800) {
    part.text_.pop_back();  // half a character
    part.stretches_.back().until = part.text_.size();
  }
  part.append(u"…", part.stretches_.empty() ? Ink{} : part.stretches_.back().ink);
  return part;
}

void Rich::append(std::u16string_view text, Ink ink) {
  if (text.empty()) return;
  text_ += text;
  if (!stretches_.empty() && stretches_.back().ink == ink) {
    stretches_.back().until = text_.size();
  } else {
    stretches_.push_back({text_.size(), ink});
  }
}

/// A stretch that one call of the shaper can do.
struct Typesetter::Item {
  std::size_t from = 0, until = 0;
  std::uint8_t level = 0;
  std::string script;
  const Face* face = nullptr;  ///< null: no font has it; one character, a box
  Ink ink;
};

Typesetter::Typesetter(Fonts& fonts, std::string language)
    : fonts_(fonts), language_(std::move(language)), breaks_(language_) {}

std::vector<Typesetter::Item> Typesetter::items_of(const Rich& rich,
                                                   std::size_t from,
                                                   std::size_t until,
                                                   const Levels& levels) {
  const std::u16string& text = rich.text();
  const auto part = std::u16string_view(text).substr(from, until - from);
  const std::vector<ScriptRun> runs = script_runs(part);
  std::vector<Item> items;
  std::size_t run = 0;
  std::size_t stretch = 0;
  std::size_t begin = from;

  auto add = [&](std::size_t a, std::size_t b, const Face* face, Ink ink) {
    if (!items.empty()) {
      Item& last = items.back();
      const bool same = last.until == a && last.level == levels.at[a] &&
                        last.script == runs[run].script && last.face == face && face != nullptr &&
                        last.ink == ink;
      if (same) {
        last.until = b;
        return;
      }
    }
    items.push_back({a, b, levels.at[a], runs[run].script, face, ink});
  };

  for (const std::size_t end_in_part : breaks_.characters(part)) {
    const std::size_t end = from + end_in_part;
    while (runs[run].until <= begin - from) ++run;
    while (rich.stretches()[stretch].until <= begin) ++stretch;
    const Ink ink = rich.stretches()[stretch].ink;
    std::u32string wanted;
    bool steering = true;
    for (std::size_t at = begin; at < end;) {
      const Character point = character_at(text, at);
      if (!steers_direction(point.value)) steering = false;
      if (!is_unseen(point.value)) wanted.push_back(point.value);
      at += point.units;
    }
    if (!steering) {
      const Face* face = fonts_.find(wanted, runs[run], ink.weight);
      if (face != nullptr) {
        add(begin, end, face, ink);
      } else {
        // No font has the whole: each part of it from where it is to be had.
        for (std::size_t at = begin; at < end;) {
          const Character point = character_at(text, at);
          if (!is_unseen(point.value)) {
            const Face* own = fonts_.find({point.value}, runs[run], ink.weight);
            if (own == nullptr) {
              // Only the text between the marks that keep it apart: the name itself.
              without_font_.emplace(point.value, to_utf8(between_steering(text, at)));
            }
            add(at, at + point.units, own, ink);
          }
          at += point.units;
        }
      }
    }
    begin = end;
  }
  return items;
}

void Typesetter::shape_item(const Rich& rich, const Item& item, Line& line) {
  const std::u16string& text = rich.text();
  GlyphRun run;
  run.grey = item.ink.grey;
  if (item.face == nullptr) {
    const Face& main = fonts_.main(item.ink.weight);
    run.face = &main;
    Glyph box;
    box.advance = hb_font_get_glyph_h_advance(main.font(), 0) / main.units();
    box.text = text.substr(item.from, item.until - item.from);
    line.width += box.advance;
    run.glyphs.push_back(std::move(box));
    line.runs.push_back(std::move(run));
    return;
  }
  run.face = item.face;
  const Buffer buffer(hb_buffer_create(), &hb_buffer_destroy);
  const auto length = static_cast<int>(item.until - item.from);
  hb_buffer_add_utf16(buffer.get(),
                      reinterpret_cast<const std::uint16_t*>(text.data()),
                      static_cast<int>(text.size()),
                      static_cast<unsigned>(item.from),
                      length);
  hb_buffer_set_direction(buffer.get(),
                          (item.level & 1U) != 0 ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
  hb_buffer_set_script(buffer.get(), hb_script_from_string(item.script.c_str(), -1));
  hb_buffer_set_language(buffer.get(), hb_language_from_string(language_.c_str(), -1));
  hb_buffer_set_flags(buffer.get(), HB_BUFFER_FLAG_REMOVE_DEFAULT_IGNORABLES);
  hb_shape(item.face->font(), buffer.get(), nullptr, 0);

  unsigned count = 0;
  const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(buffer.get(), &count);
  const hb_glyph_position_t* places = hb_buffer_get_glyph_positions(buffer.get(), &count);
  std::vector<std::size_t> starts;
  starts.reserve(count + 1);
  for (unsigned i = 0; i < count; ++i) starts.push_back(infos[i].cluster);
  std::sort(starts.begin(), starts.end());
  starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
  starts.push_back(item.until);

  const double units = item.face->units();
  run.glyphs.reserve(count);
  for (unsigned i = 0; i < count;) {
    const std::size_t begin = run.glyphs.size();
    const std::size_t first = infos[i].cluster;
    for (; i < count && infos[i].cluster == first; ++i) {
      Glyph glyph;
      glyph.id = infos[i].codepoint;
      glyph.advance = places[i].x_advance / units;
      glyph.dx = places[i].x_offset / units;
      glyph.dy = places[i].y_offset / units;
      line.width += glyph.advance;
      run.glyphs.push_back(std::move(glyph));
    }
    const std::size_t next = *std::upper_bound(starts.begin(), starts.end(), first);
    const auto cluster = std::u16string_view(text).substr(first, next - first);
    if ((item.level & 1U) != 0) {
      name_backwards(*item.face, cluster, run, begin);
    } else {
      name_cluster(*item.face, cluster, std::span(run.glyphs).subspan(begin));
    }
  }
  line.runs.push_back(std::move(run));
}

Line Typesetter::shape(const Rich& text,
                       std::size_t from,
                       std::size_t until,
                       const Levels& levels) {
  Line line;
  line.right_to_left = levels.right_to_left;
  if (from >= until) return line;
  const std::vector<Item> items = items_of(text, from, until, levels);
  std::vector<std::uint8_t> item_levels;
  item_levels.reserve(items.size());
  for (const Item& item : items) item_levels.push_back(item.level);
  for (const std::size_t index : visual_order(item_levels)) shape_item(text, items[index], line);
  return line;
}

double Typesetter::width_of(const Rich& text,
                            std::size_t from,
                            std::size_t until,
                            const Levels& levels) {
  if (from >= until) return 0;
  std::string key = key_of(text, from, until);
  const auto known = known_widths_.find(key);
  if (known != known_widths_.end()) return known->second;
  const double width = shape(text, from, until, levels).width;
  known_widths_.emplace(std::move(key), width);
  return width;
}

SetLine Typesetter::line(const Rich& text) {
  std::string key = key_of(text, 0, text.text().size());
  const auto known = known_lines_.find(key);
  if (known != known_lines_.end()) return known->second;
  const Levels levels = levels_of(text.text(), BaseDirection::by_first_strong);
  auto set = std::make_shared<const Line>(
      shape(text, 0, trimmed_end(text.text(), 0, text.text().size()), levels));
  known_lines_.emplace(std::move(key), set);
  return set;
}

std::vector<SetLine> Typesetter::lines(const Rich& rich, double width) {
  width += 1e-6;  // a text fits into the width that was measured for it
  const std::u16string& text = rich.text();
  if (trimmed_end(text, 0, text.size()) == 0) return {};
  const SetLine whole = line(rich);
  if (whole->width <= width) return {whole};
  std::string key = key_of(rich, 0, text.size()) + std::to_string(std::llround(width * 1e6));
  const auto known = known_paragraphs_.find(key);
  if (known != known_paragraphs_.end()) return known->second;
  return known_paragraphs_.emplace(std::move(key), break_up(rich, width)).first->second;
}

std::vector<SetLine> Typesetter::break_up(const Rich& rich, double width) {
  std::vector<SetLine> found;
  const std::u16string& text = rich.text();
  auto keep = [&](Line line) {
    if (!line.runs.empty()) found.push_back(std::make_shared<const Line>(std::move(line)));
  };
  const Levels levels = levels_of(text, BaseDirection::by_first_strong);
  const std::vector<std::size_t> ends = breaks_.lines(text);

  std::size_t start = 0;
  std::size_t next = 0;  // index into `ends` of the first stretch not yet placed
  while (start < text.size()) {
    double used = 0;
    std::size_t end = start;
    std::vector<std::size_t> taken{start};  // where the line could end, for stepping back
    for (; next < ends.size(); ++next) {
      const std::size_t bare = trimmed_end(text, end, ends[next]);
      if (used + width_of(rich, end, bare, levels) > width) break;
      used += width_of(rich, end, ends[next], levels);
      end = ends[next];
      taken.push_back(end);
    }
    if (end == start) {
      // One stretch wider than the line: as many of its characters as fit, but at least one.
      const auto part = std::u16string_view(text).substr(start, ends[next] - start);
      const std::vector<std::size_t> characters = breaks_.characters(part);
      std::size_t fits = 0;
      for (std::size_t at = 0; at < characters.size(); ++at) {
        const double so_far = width_of(rich, start, start + characters[at], levels);
        if (at > 0 && so_far > width) break;
        fits = characters[at];
      }
      end = start + fits;
      keep(shape(rich, start, trimmed_end(text, start, end), levels));
      if (end == ends[next]) ++next;
    } else {
      Line set = shape(rich, start, trimmed_end(text, start, end), levels);
      while (set.width > width && taken.size() > 2) {
        taken.pop_back();
        end = taken.back();
        --next;
        set = shape(rich, start, trimmed_end(text, start, end), levels);
      }
      keep(std::move(set));
    }
    start = end;
    while (start < text.size() && text[start] == u' ') ++start;
  }
  return found;
}

}  // namespace gp
