#include "sheets/kit.h"
#include "text/order.h"

#include <algorithm>

namespace gp {
namespace {

struct Guest {
  const Stay* stay = nullptr;
  std::string key;  ///< sorts as the production's language does
};

class DoorSheet {
 public:
  DoorSheet(const DayFacts& facts, Kit& kit)
      : facts_(facts),
        tongue_(tongue(kit.book, facts.production().language)),
        pdf_(document_title(facts, tongue_, tongue_.words.say("sheet.door")),
             tongue_.tag,
             kit.paper),
        brush_(pdf_, kit.set) {}

  std::string make();

 private:
  void list(const std::vector<Guest>& guests, bool by_call);
  void talk(Flow& flow);
  [[nodiscard]] Rich name(const Guest& guest) const;
  [[nodiscard]] Rich part(const Guest& guest) const;

  const DayFacts& facts_;
  Tongue tongue_;
  Pdf pdf_;
  Brush brush_;
};

Rich DoorSheet::name(const Guest& guest) const {
  const Person& person = facts_.production().people[guest.stay->person];
  Rich text;
  text.add_name(person.shown(), kStrong);
  if (person.guardian.valid()) {
    const std::string& guardian = facts_.production().people[person.guardian].shown();
    text.add(" · " + tongue_.words.say("sheet.guardian", {{"name", guardian}}), kQuiet);
  } else if (facts_.is_child(guest.stay->person)) {
    text.add(" · " + tongue_.words.say("sheet.child"), kQuiet);
  }
  return text;
}

Rich DoorSheet::part(const Guest& guest) const {
  return joined(facts_.parts(guest.stay->person), kQuiet);
}

void DoorSheet::list(const std::vector<Guest>& guests, bool by_call) {
  const Words& words = tongue_.words;
  const std::string title =
      words.say("sheet.door") + " · " + words.say(by_call ? "door.by_call" : "door.by_name");
  Flow flow(brush_, list_head(brush_, facts_, tongue_, title));
  flow.new_page();
  const double box = 20;
  const double clock = 50;
  const double rest = flow.width() - box - 2 * clock;
  Grid::Look look;
  look.size = 10;
  look.padding = 2.6;
  const std::string call = words.say("door.call");
  const std::string leaves = words.say("door.leaves");
  const std::string who = words.say("door.name");
  const std::string does = words.say("door.part");
  if (by_call) {
    Grid grid(brush_, flow, {{box}, {clock}, {rest * 0.55}, {rest * 0.45}, {clock}}, look);
    grid.names({"", call, who, does, leaves});
    Minute above = kNever;
    for (const Guest& guest : guests) {
      const Stay& stay = *guest.stay;
      // A call is said once; the eye finds the next by the gap.
      Rich time;
      if (stay.call != above) time.add(facts_.clock(stay.call), kStrong);
      if (stay.call == above) time.add(facts_.clock(stay.call), kQuiet);
      above = stay.call;
      grid.row({Rich(), time, name(guest), part(guest), Rich(facts_.clock(stay.released), kQuiet)},
               true);
    }
    return;
  }
  Grid grid(brush_, flow, {{box}, {rest * 0.55}, {clock}, {rest * 0.45}, {clock}}, look);
  grid.names({"", who, call, does, leaves});
  for (const Guest& guest : guests) {
    grid.row({Rich(),
              name(guest),
              Rich(facts_.clock(guest.stay->call), kStrong),
              part(guest),
              Rich(facts_.clock(guest.stay->released), kQuiet)},
             true);
  }
  talk(flow);
}

/// The day's cautions in full, to be said to everyone: the day plan may have room for a phrase each
/// only.
void DoorSheet::talk(Flow& flow) {
  constexpr double kSize = 10;
  std::vector<Rich> texts;
  for (const std::string& hazard : facts_.cautions()) {
    texts.push_back(caution_text(tongue_.words, hazard, false));
  }
  texts.emplace_back(tongue_.words.say("caution.general"), kStrong);
  flow.move(16);
  const TextBlock heading =
      brush_.block(Rich(tongue_.words.say("door.talk"), kStrong), 13, flow.width());
  flow.need(heading.height() + 4 * kSize * kLeading);
  flow.move(brush_.draw(heading, flow.left(), flow.y()) - flow.y() + 3);
  brush_.pdf().rule(flow.left(), flow.y(), flow.right(), flow.y(), 0.8);
  flow.move(4);
  for (const Rich& text : texts) {
    const TextBlock block = brush_.block(text, kSize, flow.width());
    flow.need(block.height());
    flow.move(brush_.draw(block, flow.left(), flow.y()) - flow.y() + 4);
  }
}

std::string DoorSheet::make() {
  if (facts_.plan().people.empty()) return {};
  const NameOrder order(tongue_.tag);
  std::vector<Guest> guests;
  for (const Stay& stay : facts_.plan().people) {
    guests.push_back({&stay, order.key(facts_.production().people[stay.person].shown())});
  }
  std::stable_sort(
      guests.begin(), guests.end(), [](const Guest& a, const Guest& b) { return a.key < b.key; });
  std::vector<Guest> by_call = guests;
  std::stable_sort(by_call.begin(), by_call.end(), [](const Guest& a, const Guest& b) {
    return a.stay->call < b.stay->call;
  });
  list(by_call, true);
  list(guests, false);
  number_pages(
      brush_,
      tongue_,
      tongue_.words.say("sheet.people", {{"count", static_cast<std::int64_t>(guests.size())}}));
  return pdf_.bytes();
}

}  // namespace

std::string door_list(const DayFacts& facts, Kit& kit) {
  return DoorSheet(facts, kit).make();
}

}  // namespace gp
