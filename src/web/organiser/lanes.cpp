#include "web/organiser/lanes.h"

#include "base/utf8.h"
#include "text/width.h"

#include <algorithm>
#include <cstdint>

namespace gp {
namespace {

// All in CSS pixels.
constexpr int kMinuteWidth = 4;
constexpr int kMargin = 12;
constexpr int kAxisHeight = 26;
constexpr int kNameHeight = 21;
constexpr int kBlockHeight = 38;
constexpr int kLaneGap = 9;
constexpr int kNameEvery = 330;  ///< names of lanes are told again, so that one is always in sight
constexpr int kCellWidth = 8;    ///< of a character, on the wide side
constexpr int kHour = 60;

const char* class_of(BlockKind kind) {
  switch (kind) {
    case BlockKind::set_up:
      return "set-up";
    case BlockKind::shot:
      return "shot";
    case BlockKind::on:
      return "on";
    case BlockKind::off:
      return "off";
    case BlockKind::ready:
      return "ready";
    case BlockKind::meal:
      return "meal";
  }
  return "shot";
}

/// The pattern a kind is filled with besides its ground; empty: none.
std::string pattern_of(BlockKind kind, const std::string& key) {
  switch (kind) {
    case BlockKind::set_up:
      return "hatch-" + key;
    case BlockKind::off:
      return "dots-" + key;
    case BlockKind::ready:
      return "bars-" + key;
    case BlockKind::shot:
    case BlockKind::on:
    case BlockKind::meal:
      break;
  }
  return "";
}

std::string n(std::int64_t number) {
  return std::to_string(number);
}

std::string rectangle(int x, int y, int width, int height, int round, const std::string& more) {
  return "<rect x=\"" + n(x) + "\" y=\"" + n(y) + "\" width=\"" + n(width) + "\" height=\"" +
         n(height) + "\" rx=\"" + n(round) + "\"" + more + "/>";
}

std::string patterns(const std::string& key) {
  const auto pattern = [&](const char* name, int size, const std::string& inside) {
    return "<pattern id=\"" + std::string(name) + "-" + key + "\" width=\"" + n(size) +
           "\" height=\"" + n(size) + "\" patternUnits=\"userSpaceOnUse\">" + inside + "</pattern>";
  };
  return "<defs>" +
         pattern("hatch", 8, "<path class=\"grain\" d=\"M-2 2l4-4M0 8l8-8M6 10l4-4\"/>") +
         pattern("dots", 7, "<circle class=\"grain-dot\" cx=\"2\" cy=\"2\" r=\"1\"/>") +
         pattern("bars", 6, "<path class=\"grain\" d=\"M2 0v6\"/>") + "</defs>";
}

/// The shape of a block without its words.
std::string shape(BlockKind kind, int x, int y, int width, int height, const std::string& key) {
  const int round = kind == BlockKind::meal ? height / 2 : kind == BlockKind::shot ? 3 : 0;
  std::string out =
      rectangle(x, y, width, height, round, std::string(" class=\"block ") + class_of(kind) + "\"");
  if (const std::string fill = pattern_of(kind, key); !fill.empty()) {
    out += rectangle(x, y, width, height, round, " fill=\"url(#" + fill + ")\"");
  }
  return out;
}

class Drawing {
 public:
  Drawing(const LanePicture& picture, const std::string& key) : picture_(picture), key_(key) {}

  [[nodiscard]] std::string draw() {
    if (!find_range()) return "";
    width_ = 2 * kMargin + (until_ - from_) * kMinuteWidth;
    height_ = kAxisHeight;
    for (const Lane& lane : picture_.lanes) height_ += height_of(lane);
    std::string out = "<svg class=\"lanes\" role=\"img\" aria-labelledby=\"title-" + key_ +
                      "\" aria-describedby=\"told-" + key_ + "\" width=\"" + n(width_) +
                      "\" height=\"" + n(height_) + "\" viewBox=\"0 0 " + n(width_) + " " +
                      n(height_) + "\"><title id=\"title-" + key_ + "\">" +
                      escaped_markup(picture_.title) + "</title><desc id=\"told-" + key_ + "\">" +
                      escaped_markup(picture_.description) + "</desc>" + patterns(key_) + axis();
    int y = kAxisHeight;
    for (const Lane& lane : picture_.lanes) {
      out += draw(lane, y);
      y += height_of(lane);
    }
    return out + "</svg>";
  }

 private:
  [[nodiscard]] static int height_of(const Lane& lane) {
    return (lane.name.empty() ? 0 : kNameHeight) + kBlockHeight + kLaneGap;
  }
  bool find_range() {
    bool any = false;
    for (const Lane& lane : picture_.lanes) {
      for (const LaneBlock& block : lane.blocks) {
        from_ = any ? std::min(from_, block.from) : block.from;
        until_ = any ? std::max(until_, block.until) : block.until;
        any = true;
      }
    }
    from_ = from_ / kHour * kHour;
    until_ = (until_ + kHour - 1) / kHour * kHour;
    return any && until_ > from_;
  }
  [[nodiscard]] int x_of(int minute_of_day) const {
    return kMargin + (minute_of_day - from_) * kMinuteWidth;
  }
  [[nodiscard]] std::string axis() const {
    std::string out;
    for (int at = from_; at <= until_; at += kHour / 2) {
      const bool whole = at % kHour == 0;
      out += std::string("<path class=\"") + (whole ? "hour" : "half") + "\" d=\"M" + n(x_of(at)) +
             " " + n(kAxisHeight - 4) + "V" + n(height_) + "\"/>";
      if (whole && at < until_) {
        out += "<text class=\"clock\" x=\"" + n(x_of(at)) + "\" y=\"16\">" +
               escaped_markup(picture_.clock(at)) + "</text>";
      }
    }
    return out;
  }
  [[nodiscard]] std::string draw(const Lane& lane, int y) const {
    std::string out;
    if (!lane.name.empty()) {
      const auto most = static_cast<std::size_t>((kNameEvery - 30) / kCellWidth);
      const std::string name = escaped_markup(cut_to(lane.name, most));
      for (int x = kMargin; x < width_ - kNameEvery / 2; x += kNameEvery) {
        // told again for eyes alone: a reader of the picture has the tables
        out += "<text class=\"lane\" x=\"" + n(x) + "\" y=\"" + n(y + kNameHeight - 6) + "\">" +
               name + "</text>";
      }
      y += kNameHeight;
    }
    for (const LaneBlock& block : lane.blocks) out += draw(block, y);
    return out;
  }
  [[nodiscard]] std::string draw(const LaneBlock& block, int y) const {
    const int x = x_of(block.from);
    const int width = std::max(3, (block.until - block.from) * kMinuteWidth);
    std::string out = "<g><title>" + escaped_markup(block.told) + "</title>" +
                      shape(block.kind, x, y, width, kBlockHeight, key_);
    const int room = (width - 8) / kCellWidth;
    if (room >= 2 && !block.label.empty()) {
      const std::string label = cut_to(block.label, static_cast<std::size_t>(room));
      // a plate under the words, so that no pattern runs through them
      if (!pattern_of(block.kind, key_).empty()) {
        const int plate = std::min(width - 6, static_cast<int>(cells(label)) * kCellWidth + 4);
        out += rectangle(x + 3, y + 9, plate, 20, 0, " class=\"plate\"");
      }
      out += std::string("<text class=\"words ") + class_of(block.kind) + "-words\" x=\"" +
             n(x + 5) + "\" y=\"" + n(y + 24) + "\">" + escaped_markup(label) + "</text>";
    }
    return out + "</g>";
  }

  const LanePicture& picture_;
  const std::string& key_;
  int from_ = 0, until_ = 0, width_ = 0, height_ = 0;
};

}  // namespace

std::string escaped_markup(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = decode_utf8(text, at);
    if (point.bytes == 0) {
      append_utf8(out, 0xFFFD);
      ++at;
      continue;
    }
    switch (point.value) {
      case U'&':
        out += "&amp;";
        break;
      case U'<':
        out += "&lt;";
        break;
      case U'>':
        out += "&gt;";
        break;
      case U'"':
        out += "&quot;";
        break;
      case U'\'':
        out += "&#39;";
        break;
      default:
        if (point.value >= 0x20 && !(point.value >= 0x7F && point.value < 0xA0)) {
          out.append(text.substr(at, point.bytes));
        }
    }
    at += point.bytes;
  }
  return out;
}

std::string draw_lanes(const LanePicture& picture, const std::string& key) {
  return Drawing(picture, key).draw();
}

std::string draw_swatch(BlockKind kind, const std::string& key) {
  return "<svg class=\"lanes swatch\" aria-hidden=\"true\" focusable=\"false\" width=\"42\" "
         "height=\"22\" viewBox=\"0 0 42 22\">" +
         shape(kind, 1, 1, 40, 20, key) + "</svg>";
}

std::vector<Lane> packed(std::string name, std::vector<LaneBlock> blocks) {
  std::stable_sort(blocks.begin(), blocks.end(), [](const LaneBlock& a, const LaneBlock& b) {
    return a.from < b.from;
  });
  std::vector<Lane> lanes;
  for (LaneBlock& block : blocks) {
    const auto free = std::find_if(lanes.begin(), lanes.end(), [&](const Lane& lane) {
      return lane.blocks.back().until <= block.from;
    });
    if (free == lanes.end()) {
      lanes.push_back({lanes.empty() ? name : "", {std::move(block)}});
    } else {
      free->blocks.push_back(std::move(block));
    }
  }
  return lanes;
}

}  // namespace gp
