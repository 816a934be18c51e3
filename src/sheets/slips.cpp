#include "sheets/kit.h"
#include "text/dates.h"
#include "text/order.h"

#include <algorithm>
#include <map>
#include <set>

namespace gp {
namespace {

constexpr double kEdge = 22;    ///< white at the edge of the paper [points]
constexpr double kInside = 15;  ///< between a cutting line and the words
constexpr double kBody = 9;     ///< sizes
constexpr double kSmall = 7.5;
constexpr double kCallSize = 27;
constexpr double kNameSize = 13;
constexpr double kCutGrey = 0.55;
constexpr std::ptrdiff_t kTogether = 6;  ///< lines of one text that stay in one column

/// A piece of a slip that is not parted between two columns.
struct Piece {
  TextBlock time, text;
  double text_x = 0, space_above = 0;
  bool line_above = false;
  [[nodiscard]] double height() const {
    return space_above + std::max(time.height(), text.height());
  }
};

/// One person's slip, measured. What is on it is theirs alone: names of others only where these
/// serve them or look after them, and nothing that is private.
struct Slip {
  std::vector<Piece> pieces;
  Rich name;  ///< for the head of a part that goes on
  double height = 0;
};

class SlipSheet {
 public:
  SlipSheet(const DayFacts& facts, Kit& kit)
      : facts_(facts),
        kit_(kit),
        own_(tongue(kit.book, facts.production().language)),
        pdf_(document_title(facts, own_, own_.words.say("sheet.slips")), own_.tag, kit.paper),
        brush_(pdf_, kit.set),
        column_((pdf_.size().width - 2 * kEdge) / 2),
        inner_(column_ - 2 * kInside) {}

  std::string make();

 private:
  /// \param shrink  all sizes times this; never below the least that may be printed
  Slip slip_of(const Stay& stay, double shrink);
  void head(Slip& slip, const Stay& stay, const Tongue& tongue);
  void times(Slip& slip, const Stay& stay, const Words& words);
  void looks(Slip& slip, const Stay& stay, const Words& words);
  void care(Slip& slip, const Stay& stay, const Words& words);
  [[nodiscard]] Rich what(const DayEngagement& one, const Words& words) const;
  void add(Slip& slip, const Rich& text, double size, double above, bool line = false);
  static void push(Slip& slip, Piece piece);
  void labelled(Slip& slip, const std::string& name, const Rich& text, double above);

  void place(const Slip& slip);
  void next_column();
  double draw(const Piece& piece, double y);
  Tongue tongue_of(const Person& person) const;
  const std::string& date_in(const std::string& tag);

  const DayFacts& facts_;
  Kit& kit_;
  Tongue own_;
  Pdf pdf_;
  Brush brush_;
  double column_, inner_;
  std::map<std::string, std::string> dates_;
  std::size_t column_index_ = 2;  ///< 0 left, 1 right, 2: no page yet
  double y_ = 0, shrink_ = 1;
};

Tongue SlipSheet::tongue_of(const Person& person) const {
  if (!person.language.empty() && kit_.book.speaks(person.language)) {
    return {kit_.book.in(person.language), person.language};
  }
  return own_;
}

const std::string& SlipSheet::date_in(const std::string& tag) {
  auto [entry, added] = dates_.emplace(tag, "");
  if (added) entry->second = short_date(facts_.day().date, tag);
  return entry->second;
}

void SlipSheet::add(Slip& slip, const Rich& text, double size, double above, bool line) {
  if (text.empty()) return;
  Piece piece;
  piece.text = brush_.block(text, size * shrink_, inner_);
  piece.space_above = above * shrink_;
  piece.line_above = line;
  push(slip, std::move(piece));
}

void SlipSheet::push(Slip& slip, Piece piece) {
  // A long text may go on in the next column, a few lines at a time.
  while (std::ssize(piece.text.lines) > kTogether) {
    Piece begin = piece;
    begin.text.lines.resize(kTogether);
    piece.text.lines.erase(piece.text.lines.begin(), piece.text.lines.begin() + kTogether);
    piece.time.lines.clear();
    piece.space_above = 0;
    piece.line_above = false;
    slip.pieces.push_back(std::move(begin));
  }
  slip.pieces.push_back(std::move(piece));
}

void SlipSheet::labelled(Slip& slip, const std::string& name, const Rich& text, double above) {
  if (text.empty()) return;
  add(slip, Rich(name, kStrong).add(text), kBody, above);
}

void SlipSheet::head(Slip& slip, const Stay& stay, const Tongue& tongue) {
  const Production& production = facts_.production();
  Rich about;
  about.add_name(production.title, kQuiet).add(" · " + date_in(tongue.tag), kQuiet);
  add(slip, about, kSmall, 0);
  slip.name.add_name(production.people[stay.person].shown(), kStrong);
  add(slip, slip.name, kNameSize, 1);

  // The call, and beside it where.
  Piece call;
  const Rich time(facts_.clock(stay.call), kStrong);
  call.time = brush_.block(time, kCallSize * shrink_, inner_, 1.15);
  call.text_x = call.time.width() + 10;
  Rich where(tongue.words.say("slip.be_here") + " ", kQuiet);
  if (facts_.day().base.valid()) {
    const Place& base = production.places[facts_.day().base];
    where = Rich();
    where.add_name(base.name.empty() ? base.id : base.name, kStrong);
    if (!base.address.empty()) where.add(" ").add_name(base.address);
  }
  call.text = brush_.block(where, kBody * shrink_, inner_ - call.text_x);
  call.space_above = 2;
  slip.pieces.push_back(std::move(call));
}

Rich SlipSheet::what(const DayEngagement& one, const Words& words) const {
  const Production& production = facts_.production();
  Rich text;
  auto person = [&](PersonId id) { return production.people[id].shown(); };
  switch (one.kind) {
    case DayEngagement::Kind::step: {
      const Station& station = production.stations[one.station];
      const Look& look = production.looks[one.look];
      text.add(
          words.say(one.part == ChainPart::on ? "slip.on" : "slip.off", {{"look", look.shown()}}));
      const std::string at = station.places > 1
                                 ? words.say("slip.at",
                                             {{"station", station.shown()},
                                              {"place", std::int64_t{one.station_place}}})
                                 : words.say("slip.at_one", {{"station", station.shown()}});
      text.add(" · " + at, kQuiet);
      if (one.by.valid()) text.add(", " + words.say("slip.by", {{"name", person(one.by)}}), kQuiet);
      break;
    }
    case DayEngagement::Kind::staffing:
      text.add(words.say("slip.staff",
                         {{"station", production.stations[one.station].shown()},
                          {"count", std::int64_t{one.people}}}));
      break;
    case DayEngagement::Kind::ready:
      text.add(words.say("slip.ready", {{"station", production.stations[one.station].shown()}}));
      break;
    case DayEngagement::Kind::cast:
      text.add(words.say("slip.as",
                         {{"scene", production.scenes[one.scene].shown()},
                          {"role", production.roles[one.role].shown()}}),
               kStrong);
      break;
    case DayEngagement::Kind::crew:
      text.add(words.say("slip.job",
                         {{"scene", production.scenes[one.scene].shown()}, {"job", one.name}}),
               kStrong);
      break;
    case DayEngagement::Kind::meal:
      text.add_name(one.name);
      break;
  }
  if (one.place.valid() && one.place != facts_.day().base) {
    const Place& place = production.places[one.place];
    text.add(" · ", kQuiet).add_name(place.name.empty() ? place.id : place.name, kQuiet);
  }
  return text;
}

void SlipSheet::times(Slip& slip, const Stay& stay, const Words& words) {
  const std::vector<DayEngagement>& list = facts_.engagements(stay.person);
  double widest = 0;
  for (const DayEngagement& one : list) {
    widest =
        std::max(widest, brush_.width(Rich(facts_.clocks(one.from, one.until)), kBody * shrink_));
  }
  auto row = [&](const std::string& time, const Rich& text, double above, bool line) {
    Piece piece;
    piece.time = brush_.block(Rich(time), kBody * shrink_, inner_);
    piece.text_x = widest + 8;
    piece.text = brush_.block(text, kBody * shrink_, inner_ - piece.text_x);
    piece.space_above = above * shrink_;
    piece.line_above = line;
    push(slip, std::move(piece));
  };
  bool first = true;
  for (const DayEngagement& one : list) {
    row(facts_.clocks(one.from, one.until), what(one, words), first ? 9 : 1.5, first);
    first = false;
  }
  row(facts_.clock(stay.released), Rich(words.say("slip.free")), first ? 9 : 1.5, first);
}

void SlipSheet::looks(Slip& slip, const Stay& stay, const Words& words) {
  const Production& production = facts_.production();
  Rich wear;
  Rich bring;
  Rich given;
  std::vector<LookId> told;
  std::set<LookId> looks;
  for (const Wear& worn : facts_.plan().wears) {
    if (worn.person == stay.person) looks.insert(worn.look);
  }
  const bool several = looks.size() > 1;
  for (const Wear& worn : facts_.plan().wears) {
    if (worn.person != stay.person) continue;
    if (std::find(told.begin(), told.end(), worn.look) != told.end()) continue;
    told.push_back(worn.look);
    const Look& look = production.looks[worn.look];
    auto put = [&](Rich& list, const std::string& words_of_look) {
      if (words_of_look.empty()) return;
      if (!list.empty()) list.add("; ");
      if (several) list.add_name(look.shown(), kQuiet).add(" ", kQuiet);
      list.add_name(words_of_look);
    };
    put(wear, look.wear);
    put(bring, look.bring);
    for (const ItemId item : worn.items) {
      if (!given.empty()) given.add(", ");
      given.add_name(production.items[item].shown());
    }
  }
  labelled(slip, label(words, words.say("slip.wear")), wear, 5);
  labelled(slip, label(words, words.say("slip.bring")), bring, 2);
  labelled(slip, label(words, words.say("slip.given")), given, 2);
}

void SlipSheet::care(Slip& slip, const Stay& stay, const Words& words) {
  const Production& production = facts_.production();
  const Person& person = production.people[stay.person];
  if (person.guardian.valid()) {
    const Person& guardian = production.people[person.guardian];
    add(slip, Rich(words.say("slip.guardian", {{"name", guardian.shown()}}), kStrong), kBody, 5);
  }
  for (const Stay* child : facts_.children_of(stay.person)) {
    add(slip,
        Rich(words.say("slip.children",
                       {{"name", production.people[child->person].shown()},
                        {"time", facts_.clock(child->call)}}),
             kStrong),
        kBody,
        5);
  }
  Rich contact;
  contact.add_name(production.contact.name);
  if (!production.contact.phone.empty())
    contact.add(" ").add_name(unbroken(production.contact.phone));
  labelled(slip, label(words, words.say("slip.ask")), contact, 5);
  const std::vector<std::string> cautions = facts_.cautions(stay.person);
  if (cautions.empty()) return;
  Rich text;
  for (const std::string& hazard : cautions) {
    text.add(caution_text(words, hazard, true)).add(" ");
  }
  add(slip, text.add(words.say("caution.more")), kSmall, 6);
}

Slip SlipSheet::slip_of(const Stay& stay, double shrink) {
  shrink_ = shrink;
  const Tongue tongue = tongue_of(facts_.production().people[stay.person]);
  Slip slip;
  head(slip, stay, tongue);
  times(slip, stay, tongue.words);
  looks(slip, stay, tongue.words);
  care(slip, stay, tongue.words);
  for (const Piece& piece : slip.pieces) slip.height += piece.height();
  return slip;
}

void SlipSheet::next_column() {
  ++column_index_;
  if (column_index_ >= 2) {
    pdf_.add_page();
    column_index_ = 0;
    pdf_.dashes(pdf_.size().width / 2,
                kEdge / 2,
                pdf_.size().width / 2,
                pdf_.size().height - kEdge / 2,
                0.5,
                kCutGrey);
  }
  y_ = kEdge;
}

double SlipSheet::draw(const Piece& piece, double y) {
  const double x = kEdge + column_ * static_cast<double>(column_index_) + kInside;
  if (piece.line_above)
    pdf_.rule(x, y + piece.space_above / 2, x + inner_, y + piece.space_above / 2, 0.8);
  y += piece.space_above;
  // A large call and the words beside it share their middle.
  const double height = std::max(piece.time.height(), piece.text.height());
  const bool large = piece.time.size > kNameSize;
  brush_.draw(piece.time, x, large ? y + (height - piece.time.height()) / 2 : y);
  brush_.draw(piece.text, x + piece.text_x, large ? y + (height - piece.text.height()) / 2 : y);
  return y + height;
}

void SlipSheet::place(const Slip& slip) {
  const double bottom = pdf_.size().height - kEdge;
  const double whole = slip.height + 2 * kInside;
  if (column_index_ >= 2 || (y_ + whole > bottom && y_ > kEdge)) next_column();
  double y = y_ + kInside;
  for (const Piece& piece : slip.pieces) {
    if (y + piece.height() > bottom - kInside && y > kEdge + kInside) {
      next_column();
      y = y_ + kInside;
      Piece again;
      Rich head;
      again.text = brush_.block(head.add(slip.name).add(" …", kStrong), kBody, inner_);
      y = draw(again, y) + 4;
    }
    y = draw(piece, y);
  }
  y_ = y + kInside;
  const double left = kEdge / 2 + (column_index_ == 0 ? 0 : pdf_.size().width / 2 - kEdge / 2);
  if (y_ < bottom) {
    pdf_.dashes(left, y_, left + pdf_.size().width / 2 - kEdge / 2, y_, 0.5, kCutGrey);
  }
}

std::string SlipSheet::make() {
  if (facts_.plan().people.empty()) return {};
  const NameOrder order(own_.tag);
  struct Sorted {
    std::string key;
    const Stay* stay;
  };
  std::vector<Sorted> sorted;
  for (const Stay& stay : facts_.plan().people) {
    sorted.push_back({order.key(facts_.production().people[stay.person].shown()), &stay});
  }
  std::stable_sort(
      sorted.begin(), sorted.end(), [](const Sorted& a, const Sorted& b) { return a.key < b.key; });
  const double column = pdf_.size().height - 2 * (kEdge + kInside);
  for (const Sorted& one : sorted) {
    Slip slip = slip_of(*one.stay, 1);
    // A day with very many changes is set smaller before it runs over into the next column.
    for (double shrink = 0.94; slip.height > column && shrink > 0.77; shrink -= 0.06) {
      slip = slip_of(*one.stay, shrink);
    }
    place(slip);
  }
  return pdf_.bytes();
}

}  // namespace

std::string slips(const DayFacts& facts, Kit& kit) {
  return SlipSheet(facts, kit).make();
}

}  // namespace gp
