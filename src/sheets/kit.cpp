#include "sheets/kit.h"

#include "text/dates.h"

namespace gp {

Tongue tongue(WordBook& book, const std::string& language) {
  if (book.speaks(language)) return {book.in(language), language};
  return {book.in("en"), "en-GB"};
}

std::string document_title(const DayFacts& facts, const Tongue& tongue, const std::string& sheet) {
  return facts.production().title + " · " + sheet + " · " + long_date(facts.day().date, tongue.tag);
}

Flow::Head list_head(Brush& brush,
                     const DayFacts& facts,
                     const Tongue& tongue,
                     const std::string& sheet) {
  const std::string date = long_date(facts.day().date, tongue.tag);
  const std::string title = facts.production().title;
  return [&brush, date, title, sheet](double top) {
    const double left = kMargin;
    const double width = brush.pdf().size().width - 2 * kMargin;
    const double side = width * 0.42;
    Rich about;
    about.add_name(title, kQuiet);
    const TextBlock name = brush.block(Rich(sheet, kStrong), 18, width - side - 12, 1.2);
    TextBlock production = brush.block(about, 9, side);
    brush.cut(production, about, side, 2);
    const TextBlock day = brush.block(Rich(date, kStrong), 9, side);
    double bottom = brush.draw(name, left, top);
    double right = brush.draw(production, left + width - side, top, side, Align::right);
    right = brush.draw(day, left + width - side, right, side, Align::right);
    bottom = std::max(bottom, right) + 4;
    brush.pdf().rule(left, bottom, left + width, bottom, 1.4);
    return bottom + 8;
  };
}

void number_pages(Brush& brush, const Tongue& tongue, const std::string& left) {
  Pdf& pdf = brush.pdf();
  const double width = pdf.size().width - 2 * kMargin;
  const double top = pdf.size().height - kMargin - kLeastSize * kLeading + 2;
  const auto pages = static_cast<std::int64_t>(pdf.pages());
  for (std::int64_t page = 0; page < pages; ++page) {
    pdf.turn_to(static_cast<std::size_t>(page));
    Rich about;
    about.add_name(left, kQuiet);
    TextBlock block = brush.block(about, kLeastSize, width - 60);
    brush.cut(block, about, width - 60, 1);
    brush.draw(block, kMargin, top);
    const Rich number(tongue.words.say("sheet.page", {{"page", page + 1}, {"pages", pages}}),
                      kQuiet);
    brush.draw(brush.block(number, kLeastSize, 60), kMargin, top, width, Align::right);
  }
}

std::string label(const Words& words, const std::string& text) {
  return words.say("sheet.label", {{"label", text}});
}

Rich caution_text(const Words& words, const std::string& hazard, bool brief) {
  Rich text;
  const std::string key = "caution." + hazard;
  if (!words.has(key + ".text")) {
    return text.add(label(words, hazard), kStrong).add(words.say("caution.unknown"));
  }
  const std::string name = words.say(key + ".name");
  text.add(brief ? label(words, name) : name + ". ", kStrong);
  return text.add(words.say(key + (brief ? ".brief" : ".text")));
}

std::string unbroken(const std::string& number) {
  std::string text;
  for (const char letter : number) {
    if (letter == ' ') {
      text += "\u00a0";
    } else {
      text += letter;
    }
  }
  return text;
}

Rich joined(const std::vector<std::string>& names, Ink ink, const char* between) {
  Rich text;
  for (const std::string& name : names) {
    if (!text.empty()) text.add(between, ink);
    text.add_name(name, ink);
  }
  return text;
}

}  // namespace gp
