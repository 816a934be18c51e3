#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <functional>
#include <string>
#include <vector>

// The picture of a day: scenes and stations as lanes against time, drawn as SVG (SVG 2). It says
// everything by shape, pattern and word, nothing by colour alone, and is drawn with the colours of
// the page around it (the classes are in style.css).

namespace gp {

/// What a block of time is; each has a look of its own in black and white.
enum class BlockKind { set_up, shot, on, off, ready, meal };

struct LaneBlock {
  BlockKind kind = BlockKind::shot;
  int from = 0, until = 0;  ///< minutes of the day
  std::string label;        ///< as much of it as there is room for is written into the block
  std::string told;         ///< the whole of it, for who points at it
};

/// One row. Blocks of a lane do not overlap.
struct Lane {
  std::string name;
  std::vector<LaneBlock> blocks;
};

struct LanePicture {
  std::string title;        ///< the picture's name for screen readers
  std::string description;  ///< what is in it and where the same is told in words
  std::vector<Lane> lanes;
  std::function<std::string(int)> clock;  ///< "10:00" for a minute of the day
};

/// The picture as `<svg>…</svg>`; all texts are escaped. Empty where no lane has a block.
/// \param key  makes its ids differ from other pictures' on the same page; letters and digits
std::string draw_lanes(const LanePicture& picture, const std::string& key);
/// A small square that shows how a kind is drawn; uses the patterns of the picture with that key.
std::string draw_swatch(BlockKind kind, const std::string& key);

/// Blocks that overlap put into as few lanes as needed, in order of time; the lanes after the first
/// have no name.
std::vector<Lane> packed(std::string name, std::vector<LaneBlock> blocks);

/// Text for SVG and HTML: & < > " ' escaped; control characters left out.
std::string escaped_markup(std::string_view text);

}  // namespace gp
