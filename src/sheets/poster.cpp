#include "sheets/poster.h"

#include "sheets/kit.h"
#include "sheets/picture.h"
#include "text/clean.h"
#include "text/dates.h"

#include <algorithm>
#include <vector>

namespace gp {
namespace {

constexpr double kDotsPerPoint = 150.0 / 72.0;
constexpr double kWhiteSquares = 4;  ///< around the code (ISO/IEC 18004)
constexpr std::size_t kMostDays = 6;

/// What stands where, so that the paper and the picture show the same.
struct PosterPage {
  struct Text {
    SetLine line;
    double x = 0, y = 0, size = 0;
  };
  struct Box {
    double x = 0, y = 0, width = 0, height = 0;
  };
  PaperSize size;
  std::vector<Text> texts;
  std::vector<Box> boxes;
};

class PosterMaker {
 public:
  PosterMaker(const Production& production,
              const PosterWishes& wishes,
              Typesetter& set,
              const Words& words,
              std::string language)
      : production_(production),
        wishes_(wishes),
        set_(set),
        words_(words),
        language_(std::move(language)) {
    page_.size = paper_size(production.paper);
    middle_ = page_.size.width / 2;
    width_ = page_.size.width - 2 * kMargin;
  }

  PosterPage make() {
    // From above: the film and its days. From below: whom to ask, how, the address. The code takes
    // what is left between them.
    double top = kMargin + 10;
    Rich title;
    title.add_name(production_.title, kStrong);
    top = put_shrunk(title, 46, 26, 3, top) + 6;
    top = put(Rich(days()), 17, top) + 18;
    top = put(Rich(words_.say("poster.invite"), kStrong), 26, top) + 6;

    std::vector<Block> below;
    below.push_back(block(Rich(words_.say("poster.how")), 15));
    Rich address;
    address.add_name(shown_address(), kStrong);
    below.push_back(shrunk(address, 24, 11, 1));
    below.push_back(block(Rich(words_.say("poster.network"), kQuiet), 11));
    if (!production_.contact.name.empty()) {
      Rich contact;
      contact.add(words_.say("poster.contact") + " ").add_name(production_.contact.name, kStrong);
      if (!production_.contact.phone.empty()) {
        contact.add(" · ").add_name(unbroken(production_.contact.phone));
      }
      below.push_back(block(contact, 13));
    }
    double height = 0;
    for (const Block& one : below) height += one.height() + kBetween;
    const double bottom = page_.size.height - kMargin - height;
    draw_code(top, bottom);
    double y = bottom + kBetween;
    for (const Block& one : below) y = draw(one, y) + kBetween;
    return std::move(page_);
  }

 private:
  static constexpr double kBetween = 9;
  struct Block {
    std::vector<SetLine> lines;
    double size = 0;
    [[nodiscard]] double height() const {
      return static_cast<double>(lines.size()) * size * kLeading;
    }
  };

  Block block(const Rich& text, double size) { return {set_.lines(text, width_ / size), size}; }
  /// As large as can be, in at most so many lines; at the least size cut nowhere, only longer.
  Block shrunk(const Rich& text, double size, double least, std::size_t lines) {
    Block out = block(text, size);
    while (out.lines.size() > lines && out.size > least) out = block(text, out.size - 1);
    return out;
  }
  double draw(const Block& block, double top) {
    for (const SetLine& line : block.lines) {
      page_.texts.push_back(
          {line, middle_ - line->width * block.size / 2, top + block.size, block.size});
      top += block.size * kLeading;
    }
    return top;
  }
  double put(const Rich& text, double size, double top) { return draw(block(text, size), top); }
  double put_shrunk(const Rich& text, double size, double least, std::size_t lines, double top) {
    return draw(shrunk(text, size, least, lines), top);
  }

  /// Without the scheme, which nobody needs to type, unless it is needed.
  [[nodiscard]] std::string shown_address() const {
    const std::string plain = "http://";
    return wishes_.address.starts_with(plain) ? wishes_.address.substr(plain.size())
                                              : wishes_.address;
  }

  [[nodiscard]] std::string days() const {
    std::string out;
    std::size_t count = 0;
    for (const Day& day : production_.days) {
      if (++count > kMostDays) return out + " …";
      out += (out.empty() ? "" : "  ·  ") + short_date(day.date, language_);
    }
    return out;
  }

  void draw_code(double top, double bottom) {
    const double room = std::min({bottom - top, width_, 430.0});
    const double square = room / (static_cast<double>(wishes_.code.side) + 2 * kWhiteSquares);
    if (square <= 0) return;
    const double left = middle_ - room / 2 + kWhiteSquares * square;
    const double upper = top + (bottom - top - room) / 2 + kWhiteSquares * square;
    const auto side = static_cast<std::ptrdiff_t>(wishes_.code.side);
    for (std::ptrdiff_t row = 0; row < side; ++row) {
      for (std::ptrdiff_t from = 0; from < side;) {
        std::ptrdiff_t until = from;
        while (wishes_.code.at(row, until)) ++until;
        if (until > from) {
          page_.boxes.push_back({left + static_cast<double>(from) * square,
                                 upper + static_cast<double>(row) * square,
                                 static_cast<double>(until - from) * square,
                                 square});
        }
        from = until + 1;
      }
    }
  }

  const Production& production_;
  const PosterWishes& wishes_;
  Typesetter& set_;
  const Words& words_;
  std::string language_;
  PosterPage page_;
  double middle_ = 0, width_ = 0;
};

std::string as_pdf(const PosterPage& page, const Production& production, const std::string& tag) {
  Pdf pdf(production.title, tag, production.paper);
  pdf.add_page();
  for (const PosterPage::Box& box : page.boxes) pdf.fill(box.x, box.y, box.width, box.height, 0);
  for (const PosterPage::Text& text : page.texts) pdf.text(text.line, text.x, text.y, text.size);
  return pdf.bytes();
}

std::string as_png(const PosterPage& page) {
  Picture picture(page.size.width, page.size.height, kDotsPerPoint);
  for (const PosterPage::Box& box : page.boxes) {
    picture.fill(box.x, box.y, box.width, box.height, 0);
  }
  for (const PosterPage::Text& text : page.texts) {
    picture.text(text.line, text.x, text.y, text.size);
  }
  return picture.png();
}

}  // namespace

Sheets make_poster(const Production& production, const PosterWishes& wishes) {
  Fonts fonts(wishes.font_dirs.empty() ? default_font_dirs() : wishes.font_dirs);
  WordBook book(wishes.templates_dir + "/words");
  Typesetter set(fonts, production.language);
  const Tongue own = tongue(book, production.language);
  const PosterPage page = PosterMaker(production, wishes, set, own.words, own.tag).make();
  Sheets sheets;
  sheets.files.push_back({"poster.pdf", as_pdf(page, production, own.tag)});
  sheets.files.push_back({"poster.png", as_png(page)});
  return sheets;
}

}  // namespace gp
