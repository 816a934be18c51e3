#include "sheets/page.h"

#include <algorithm>

namespace gp {
namespace {

constexpr double kNamesSize = 7;
constexpr double kNamesGrey = 0.35;

constexpr double kRoomForNames = 24;  ///< for the names of the columns on a new page

}  // namespace

double TextBlock::width() const {
  double widest = 0;
  for (const SetLine& line : lines) widest = std::max(widest, line->width);
  return widest * size;
}

TextBlock Brush::block(const Rich& text, double size, double width, double leading) {
  TextBlock block;
  block.size = at_least(size);
  block.leading = leading;
  block.lines = set_.lines(text, width / block.size);
  return block;
}

double Brush::longest_word(const std::string& text, double size) {
  double longest = 0;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t until = std::min(text.find(' ', from), text.size());
    longest = std::max(longest, width(Rich(text.substr(from, until - from)), size));
    from = until + 1;
  }
  return longest + 2;
}

bool Brush::cut(TextBlock& block, const Rich& text, double width, std::size_t lines) {
  if (block.lines.size() <= lines) return false;
  // The longest beginning that fits with the mark behind it, found by halving.
  const std::u16string& whole = text.text();
  std::size_t fits = 0;
  // No letter is narrower than a fifth of an em on average, so that the search can begin there.
  const double most = static_cast<double>(lines) * width / block.size * 5 + 20;
  std::size_t beyond = std::min(whole.size(), static_cast<std::size_t>(most));
  std::vector<SetLine> best;
  while (beyond - fits > 1) {
    const std::size_t middle = fits + (beyond - fits) / 2;
    std::vector<SetLine> tried = set_.lines(text.beginning(middle), width / block.size);
    if (tried.size() <= lines) {
      fits = middle;
      best = std::move(tried);
    } else {
      beyond = middle;
    }
  }
  block.lines = std::move(best);
  return true;
}

double Brush::base_line(const TextBlock& block, double top) {
  // Capitals (0.714 em in Noto Sans) stand in the middle of the line's height.
  return top + block.step() / 2 + 0.357 * block.size;
}

double Brush::draw(const TextBlock& block, double x, double top, double width, Align align) {
  double y = base_line(block, top);
  for (const SetLine& line : block.lines) {
    double at = x;
    if (align == Align::right) at += width - line->width * block.size;
    if (align == Align::centre) at += (width - line->width * block.size) / 2;
    pdf_.text(line, at, y, block.size);
    y += block.step();
  }
  return top + block.height();
}

Columns share_out(const std::vector<double>& heights, std::size_t columns) {
  Columns shared;
  auto fill = [&](double limit) {
    shared.ends.clear();
    shared.height = 0;
    double used = 0;
    for (std::size_t i = 0; i < heights.size(); ++i) {
      if (used > 0 && used + heights[i] > limit) {
        shared.ends.push_back(i);
        used = 0;
      }
      used += heights[i];
      shared.height = std::max(shared.height, used);
    }
    shared.ends.push_back(heights.size());
    return shared.ends.size() <= columns;
  };
  double low = 0;
  double high = 0;
  for (const double height : heights) {
    low = std::max(low, height);
    high += height;
  }
  for (int i = 0; i < 40 && high - low > 0.01; ++i) {
    const double middle = (low + high) / 2;
    (fill(middle) ? high : low) = middle;
  }
  fill(high);
  shared.ends.resize(columns, heights.size());
  return shared;
}

void Flow::new_page() {
  brush_.pdf().add_page();
  y_ = head_(kMargin);
  top_ = y_;
}

double Flow::bottom() const {
  return brush_.pdf().size().height - kMargin - kFoot;
}

bool Flow::need(double height) {
  if (y_ + height <= bottom()) return false;
  new_page();
  return true;
}

Grid::Grid(Brush& brush, Flow& flow, std::vector<Column> columns, Look look)
    : brush_(brush), flow_(flow), columns_(std::move(columns)), look_(look) {}

void Grid::names(const std::vector<std::string>& names) {
  names_ = names;
  flow_.need(4 * look_.size * kLeading);
  draw_names();
}

void Grid::draw_names() {
  if (names_.empty()) return;
  double x = flow_.left();
  double bottom = flow_.y();
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const double width = columns_[i].width - look_.gap;
    const TextBlock block = brush_.block(
        Rich(names_[i], {Weight::regular, kNamesGrey}), kNamesSize, std::max(width, kNamesSize));
    bottom = std::max(bottom, brush_.draw(block, x, flow_.y(), width, columns_[i].align));
    x += columns_[i].width;
  }
  flow_.move(bottom - flow_.y() + 1.5);
  brush_.pdf().rule(flow_.left(), flow_.y(), flow_.right(), flow_.y(), 0.8);
}

void Grid::heading(const Rich& text, double size) {
  waiting_heading_ = text;
  waiting_size_ = size;
}

void Grid::row(const std::vector<Rich>& cells, bool box) {
  std::vector<TextBlock> blocks;
  double height = look_.size * kLeading;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    blocks.push_back(brush_.block(cells[i], look_.size, columns_[i].width - look_.gap));
    height = std::max(height, blocks.back().height());
  }
  height += 2 * look_.padding;
  double heading_height = 0;
  TextBlock heading;
  if (!waiting_heading_.empty()) {
    heading = brush_.block(waiting_heading_, waiting_size_, flow_.width());
    heading_height = heading.height() + 2 * look_.padding + 2;
  }
  if (height + heading_height > flow_.room() - kRoomForNames) {
    tall_row(std::move(blocks));
    return;
  }
  if (flow_.need(height + heading_height)) draw_names();
  if (heading_height > 0) {
    brush_.draw(heading, flow_.left(), flow_.y() + 2 * look_.padding);
    flow_.move(heading_height);
    brush_.pdf().rule(flow_.left(), flow_.y(), flow_.right(), flow_.y(), 0.4, 0.5);
    waiting_heading_ = {};
  }
  const double side = look_.size * 0.95;
  const double middle = flow_.y() + look_.padding + look_.size * kLeading / 2;
  auto draw_box = [&](std::size_t column) {
    double x = flow_.left();
    for (std::size_t i = 0; i < column; ++i) x += columns_[i].width;
    if (columns_[column].align == Align::centre) {
      x += (columns_[column].width - look_.gap - side) / 2;
    }
    brush_.pdf().frame(x, middle - side / 2, side, side, 0.7, 0.15);
  };
  if (box) draw_box(0);
  for (const std::size_t column : boxes_) draw_box(column);
  boxes_.clear();
  double x = flow_.left();
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    brush_.draw(
        blocks[i], x, flow_.y() + look_.padding, columns_[i].width - look_.gap, columns_[i].align);
    x += columns_[i].width;
  }
  flow_.move(height);
  brush_.pdf().rule(flow_.left(), flow_.y(), flow_.right(), flow_.y(), 0.3, look_.rule_grey);
}

void Grid::tall_row(std::vector<TextBlock> blocks) {
  if (!waiting_heading_.empty()) {
    blocks.insert(blocks.begin(), brush_.block(waiting_heading_, look_.size, columns_[0].width));
    waiting_heading_ = {};
    const TextBlock heading = blocks.front();
    blocks.erase(blocks.begin());
    if (flow_.need(heading.height() * 3)) draw_names();
    flow_.move(brush_.draw(heading, flow_.left(), flow_.y()) - flow_.y());
  }
  bool more = true;
  while (more) {
    more = false;
    if (flow_.need(3 * look_.size * kLeading)) draw_names();
    const double room = flow_.bottom() - flow_.y() - 2 * look_.padding;
    double x = flow_.left();
    double used = 0;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
      TextBlock now = blocks[i];
      const auto fit = static_cast<std::size_t>(room / now.step());
      if (now.lines.size() > fit) {
        now.lines.resize(fit);
        more = true;
      }
      blocks[i].lines.erase(
          blocks[i].lines.begin(),
          blocks[i].lines.begin() + static_cast<std::ptrdiff_t>(now.lines.size()));
      brush_.draw(
          now, x, flow_.y() + look_.padding, columns_[i].width - look_.gap, columns_[i].align);
      used = std::max(used, now.height());
      x += columns_[i].width;
    }
    flow_.move(used + 2 * look_.padding);
  }
  brush_.pdf().rule(flow_.left(), flow_.y(), flow_.right(), flow_.y(), 0.3, look_.rule_grey);
}

}  // namespace gp
