#include "sheets/day_texts.h"
#include "text/dates.h"

#include <algorithm>
#include <limits>

namespace gp {
namespace {

/// Every next one says less than the one before it.
constexpr Density kDensities[] = {
    {Density::Who::names, Density::Calls::each, 8.5, false, false},
    {Density::Who::crowds_counted, Density::Calls::each, 8.5, false, false},
    {Density::Who::crowds_counted, Density::Calls::by_call, 8, false, false},
    {Density::Who::parts_only, Density::Calls::by_call, 7.5, false, false},
    {Density::Who::parts_only, Density::Calls::by_call, 7.25, true, false},
    {Density::Who::parts_only, Density::Calls::by_part, 7, true, false},
    {Density::Who::numbers_only, Density::Calls::by_part, 7, true, false},
    {Density::Who::numbers_only, Density::Calls::numbers_only, 7, true, false},
    {Density::Who::numbers_only, Density::Calls::numbers_only, 7, true, true},
};

constexpr double kMostSize = 11.5;
constexpr double kMostAir = 2;
constexpr std::size_t kCutLines = 3;  ///< of any text, where not even the least fits
constexpr double kShade = 0.92;
constexpr double kHair = 0.3;

/// One page of a day: the same code measures and draws, so that what was measured is what stands on
/// the paper.
class DayPage {
 public:
  DayPage(const DayFacts& facts, const Plan& plan, Kit& kit)
      : facts_(facts),
        kit_(kit),
        tongue_(tongue(kit.book, facts.production().language)),
        pdf_(
            document_title(facts, tongue_, tongue_.words.say("sheet.day")), tongue_.tag, kit.paper),
        brush_(pdf_, kit.set),
        texts_(facts, plan, tongue_.words),
        left_(kMargin),
        right_(pdf_.size().width - kMargin),
        bottom_(pdf_.size().height - kMargin) {}

  std::string make();

 private:
  double lay_out();
  double top_of_page(double y);
  double figures(double y);
  double about(double y);
  double section(const std::string& key, double y);
  double scenes(double y);
  double calls(double y);
  double cautions(double y);
  double notes(double y);
  /// Texts in columns of the same width, in order.
  double in_columns(const std::vector<CallRow>& rows, std::size_t columns, double y, bool timed);
  void load(const Density& density);
  void fit();
  void shorten();

  TextBlock block(const Rich& text, double size, double width) {
    TextBlock made = brush_.block(text, size, width);
    if (density_.cut && brush_.cut(made, text, width, kCutLines)) texts_cut_ = true;
    return made;
  }
  double draw(
      const TextBlock& block, double x, double y, double width = 0, Align align = Align::left) {
    return drawing_ ? brush_.draw(block, x, y, width, align) : y + block.height();
  }
  void rule(double y, double width, double grey) {
    if (drawing_) pdf_.rule(left_, y, right_, y, width, grey);
  }
  [[nodiscard]] double width() const { return right_ - left_; }
  [[nodiscard]] double gap() const { return size_ * air_; }

  const DayFacts& facts_;
  Kit& kit_;
  Tongue tongue_;
  Pdf pdf_;
  Brush brush_;
  DayTexts texts_;
  double left_, right_, bottom_;

  Density density_;
  double size_ = kMostSize, air_ = 1;
  bool drawing_ = false, texts_cut_ = false;
  std::vector<Figure> figures_;
  std::vector<DayFact> about_;
  std::vector<SceneRow> scenes_;
  std::vector<CallRow> calls_;
  std::vector<Rich> cautions_, notes_;
};

void DayPage::load(const Density& density) {
  density_ = density;
  figures_ = texts_.figures();
  about_ = texts_.about();
  scenes_ = texts_.scenes(density.who);
  bool all_named = true;
  calls_ = texts_.calls(density.calls, all_named);
  if (!all_named) {
    calls_.push_back({"", Rich(tongue_.words.say("day.door_list"), kQuiet)});
  }
  cautions_ = texts_.cautions(density.brief);
  cautions_.emplace_back(tongue_.words.say("caution.general"), kStrong);
  notes_ = texts_.notes();
}

double DayPage::top_of_page(double y) {
  const Words& words = tongue_.words;
  const Production& production = facts_.production();
  Rich title;
  title.add_name(production.title, kStrong);
  std::string about = words.say("sheet.day");
  if (production.days.size() > 1) {
    about += " · " + words.say("sheet.day_of",
                               {{"day", static_cast<std::int64_t>(facts_.plan().day.index() + 1)},
                                {"days", static_cast<std::int64_t>(production.days.size())}});
  }
  const TextBlock what = block(Rich(about, kQuiet), size_ * 0.95, width() * 0.4);
  const double title_width = width() - what.width() - 2 * size_;
  TextBlock name = brush_.block(title, size_ * 1.1, title_width);
  if (brush_.cut(name, title, title_width, 2)) texts_cut_ = true;
  draw(what, left_, y, width(), Align::right);
  y = draw(name, left_, y);
  const Rich date(long_date(facts_.day().date, tongue_.tag), kStrong);
  const double large =
      std::min(size_ * 2.3, size_ * 2.3 * width() / brush_.width(date, size_ * 2.3));
  y = draw(brush_.block(date, large, width() + 1, 1.25), left_, y);
  y += 0.3 * size_;
  rule(y, 1.6, 0);
  return y + 0.5 * gap();
}

double DayPage::figures(double y) {
  if (figures_.empty()) return y;
  const std::size_t rows = (figures_.size() + 5) / 6;
  const std::size_t in_row = (figures_.size() + rows - 1) / rows;
  for (std::size_t row = 0; row < rows; ++row) {
    const std::size_t from = row * in_row;
    const std::size_t until = std::min(figures_.size(), from + in_row);
    double shares = 0;
    for (std::size_t i = from; i < until; ++i) shares += figures_[i].main ? 1.0 : 1.25;
    double x = left_;
    double bottom = y;
    for (std::size_t i = from; i < until; ++i) {
      const Figure& figure = figures_[i];
      const double cell = width() * (figure.main ? 1.0 : 1.25) / shares;
      const Rich value(figure.value, kStrong);
      const double room = cell - size_;
      double large = size_ * (figure.main ? 2.1 : 1.45);
      large = std::min(large, large * room / brush_.width(value, large));
      const TextBlock label = block(Rich(figure.label, kQuiet), size_ * 0.8, room);
      const double label_bottom = draw(label, x, y);
      // All values stand on one base line, whatever their size.
      const double deep = size_ * 2.1 * 1.2 - large * 1.2;
      const TextBlock number = brush_.block(value, large, cell, 1.2);
      bottom = std::max(bottom, draw(number, x, label_bottom + deep * 0.78) + deep * 0.22);
      x += cell;
    }
    y = bottom + 0.2 * gap();
  }
  return y + 0.2 * gap();
}

double DayPage::about(double y) {
  if (about_.empty()) return y;
  rule(y, kHair, 0.5);
  y += 0.45 * gap();
  const double cell = width() / static_cast<double>(about_.size());
  double bottom = y;
  for (std::size_t i = 0; i < about_.size(); ++i) {
    const double x = left_ + cell * static_cast<double>(i);
    const double room = cell - 1.2 * size_;
    double at = draw(block(Rich(about_[i].label, kQuiet), size_ * 0.8, room), x, y);
    at = draw(block(about_[i].text, size_ * 0.95, room), x, at);
    bottom = std::max(bottom, at);
  }
  return bottom + 0.5 * gap();
}

double DayPage::section(const std::string& key, double y) {
  y += 0.55 * gap();
  y = draw(brush_.block(Rich(tongue_.words.say(key), kStrong), size_ * 1.15, width()), left_, y);
  rule(y + 0.12 * size_, 0.8, 0);
  return y + 0.3 * size_;
}

double DayPage::scenes(double y) {
  if (scenes_.empty()) {
    return draw(block(Rich(tongue_.words.say("day.nothing")), size_, width()), left_, y + gap());
  }
  y = section("day.scenes", y);
  const Words& words = tongue_.words;
  const double gutter = size_ * 0.9;
  const double small = size_ * 0.75;
  // Clock columns hold their longest time and the longest word of their name.
  double clocks[3] = {};
  const char* clock_names[] = {"day.set_up", "day.shot", "day.until"};
  for (std::size_t i = 0; i < 3; ++i) {
    clocks[i] = brush_.longest_word(words.say(clock_names[i]), small);
    for (const SceneRow& row : scenes_) {
      const std::string& text = i == 0 ? row.set_up : i == 1 ? row.shot : row.until;
      clocks[i] = std::max(clocks[i], brush_.width(Rich(text, kStrong), size_));
    }
    clocks[i] += gutter * 0.8;
  }
  double where_width = 0;
  for (const SceneRow& row : scenes_) {
    where_width = std::max(where_width, brush_.width(row.where, size_));
  }
  const double rest = width() - clocks[0] - clocks[1] - clocks[2];
  where_width = std::min(where_width + gutter, rest * 0.22);
  const bool numbers = density_.who == Density::Who::numbers_only;
  const double scene_width = (rest - where_width) * (numbers ? 0.6 : 0.38);
  const double columns[] = {
      clocks[0], clocks[1], clocks[2], scene_width, where_width, rest - scene_width - where_width};
  const char* names[] = {
      "day.set_up", "day.shot", "day.until", "day.scene", "day.where", "day.who"};
  double x = left_;
  double bottom = y;
  for (std::size_t i = 0; i < 6; ++i) {
    const TextBlock name = brush_.block(Rich(words.say(names[i]), kQuiet), small, columns[i] - 2);
    bottom = std::max(bottom, draw(name, x, y));
    x += columns[i];
  }
  y = bottom;
  const double padding = 0.22 * size_ * air_;
  for (const SceneRow& row : scenes_) {
    const TextBlock cells[] = {block(Rich(row.set_up, kQuiet), size_, clocks[0]),
                               block(Rich(row.shot, kStrong), size_, clocks[1]),
                               block(Rich(row.until), size_, clocks[2]),
                               block(row.scene, size_, scene_width - gutter),
                               block(row.where, size_, where_width - gutter),
                               block(row.who, size_, columns[5])};
    double height = size_ * kLeading;
    for (const TextBlock& cell : cells) height = std::max(height, cell.height());
    height += 2 * padding;
    if (drawing_ && row.meal) pdf_.fill(left_, y, width(), height, kShade);
    x = left_;
    for (std::size_t i = 0; i < 6; ++i) {
      draw(cells[i], x, y + padding);
      x += columns[i];
    }
    y += height;
    rule(y, kHair, 0.75);
  }
  return y;
}

double DayPage::in_columns(const std::vector<CallRow>& rows,
                           std::size_t columns,
                           double y,
                           bool timed) {
  const double gutter = 1.6 * size_;
  const auto count = static_cast<double>(columns);
  const double column = (width() - gutter * (count - 1)) / count;
  double hang = 0;
  if (timed) {
    for (const CallRow& row : rows) {
      hang = std::max(hang, brush_.width(Rich(row.time, kStrong), size_));
    }
    hang += 0.7 * size_;
  }
  const double padding = (timed ? 0.12 : 0.2) * size_ * air_;
  std::vector<TextBlock> blocks;
  std::vector<double> heights;
  for (const CallRow& row : rows) {
    const double size = timed ? size_ : size_ * 0.92;
    blocks.push_back(block(row.text, size, column - hang));
    heights.push_back(blocks.back().height() + 2 * padding);
  }
  const Columns shared = share_out(heights, columns);
  std::size_t next = 0;
  for (std::size_t i = 0; i < columns; ++i) {
    const double x = left_ + (column + gutter) * static_cast<double>(i);
    double at = y;
    std::string time_above;
    for (; next < shared.ends[i]; ++next) {
      if (timed && rows[next].time != time_above) {
        draw(brush_.block(Rich(rows[next].time, kStrong), size_, hang), x, at + padding);
        time_above = rows[next].time;
      }
      draw(blocks[next], x + hang, at + padding);
      at += heights[next];
    }
  }
  return y + shared.height;
}

double DayPage::calls(double y) {
  if (calls_.empty()) return y;
  y = section("day.calls", y);
  std::size_t columns = 2;
  if (density_.calls == Density::Calls::each) columns = calls_.size() < 5 ? calls_.size() : 3;
  if (density_.calls == Density::Calls::each && calls_.size() < 7) columns = 2;
  if (density_.calls == Density::Calls::numbers_only) columns = 4;
  return in_columns(calls_, columns, y + 0.1 * size_, true);
}

double DayPage::cautions(double y) {
  y = section("day.cautions", y);
  std::vector<CallRow> rows;
  for (const Rich& text : cautions_) rows.push_back({"", text});
  return in_columns(rows, rows.size() > 1 ? 2 : 1, y, false);
}

double DayPage::notes(double y) {
  if (notes_.empty()) return y;
  y = section("day.notes", y);
  for (const Rich& note : notes_) {
    y = draw(block(note, size_, width()), left_, y) + 0.15 * gap();
  }
  return y;
}

double DayPage::lay_out() {
  double y = top_of_page(kMargin);
  y = figures(y);
  y = about(y);
  y = scenes(y);
  y = calls(y);
  y = notes(y);
  return cautions(y);
}

void DayPage::shorten() {
  // Not even numbers fit: both lists end early, by the same share, until the page holds them.
  constexpr std::size_t kParts = 128;
  const std::size_t all_scenes = scenes_.size();
  const std::size_t all_calls = calls_.size();
  const std::vector<SceneRow> scenes = scenes_;
  const std::vector<CallRow> calls = calls_;
  std::size_t kept_scenes = all_scenes;
  std::size_t kept_calls = all_calls;
  auto keep = [&](std::size_t parts) {
    auto share = [&](std::size_t all) {
      return all == 0 ? all : std::max<std::size_t>(1, all * parts / kParts);
    };
    kept_scenes = share(all_scenes);
    kept_calls = share(all_calls);
    scenes_.assign(scenes.begin(), scenes.begin() + static_cast<std::ptrdiff_t>(kept_scenes));
    calls_.assign(calls.begin(), calls.begin() + static_cast<std::ptrdiff_t>(kept_calls));
    if (kept_scenes < all_scenes) {
      SceneRow more;
      more.scene.add(tongue_.words.say(
          "day.more_scenes", {{"count", static_cast<std::int64_t>(all_scenes - kept_scenes)}}));
      scenes_.push_back(more);
    }
    if (kept_calls < all_calls) {
      calls_.push_back(
          {"",
           Rich(tongue_.words.say(
               "day.more_calls", {{"count", static_cast<std::int64_t>(all_calls - kept_calls)}}))});
    }
    return lay_out() <= bottom_;
  };
  if (!keep(kParts)) {
    std::size_t fits = 0;
    std::size_t beyond = kParts;
    while (beyond - fits > 1) {
      const std::size_t middle = (fits + beyond) / 2;
      (keep(middle) ? fits : beyond) = middle;
    }
    keep(fits);
  }
  while (lay_out() > bottom_ && !notes_.empty()) notes_.pop_back();
  const Words& english = kit_.book.in("en");
  auto warn = [&](const char* what) {
    kit_.warnings.push_back(english.say(
        "day.cut", {{"date", long_date(facts_.day().date, "en-GB")}, {"what", english.say(what)}}));
  };
  if (kept_scenes < all_scenes) warn("day.cut_scenes");
  if (kept_calls < all_calls) warn("day.cut_calls");
  if (texts_cut_) warn("day.cut_texts");
}

void DayPage::fit() {
  air_ = 1;
  for (const Density& density : kDensities) {
    load(density);
    size_ = density.least;
    if (lay_out() <= bottom_) break;
  }
  if (lay_out() > bottom_ || density_.cut) {
    shorten();
    return;
  }
  double fits = size_;
  double beyond = kMostSize + 0.25;
  while (beyond - fits > 0.25) {
    size_ = (fits + beyond) / 2;
    (lay_out() <= bottom_ ? fits : beyond) = size_;
  }
  size_ = fits;
  double most = kMostAir;
  double least = 1;
  for (int i = 0; i < 5; ++i) {
    air_ = i == 0 ? most : (least + most) / 2;
    if (lay_out() <= bottom_) {
      least = air_;
      if (i == 0) break;
    } else {
      most = air_;
    }
  }
  air_ = least;
}

std::string DayPage::make() {
  fit();
  texts_cut_ = false;
  drawing_ = true;
  pdf_.add_page();
  lay_out();
  return pdf_.bytes();
}

}  // namespace

std::string day_page(const DayFacts& facts, const Plan& plan, Kit& kit) {
  return DayPage(facts, plan, kit).make();
}

}  // namespace gp
