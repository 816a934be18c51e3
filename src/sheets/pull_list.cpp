#include "sheets/kit.h"
#include "text/order.h"

#include <algorithm>
#include <map>

namespace gp {
namespace {

constexpr std::size_t kLongWear = 200;  ///< bytes; more do not fit beside a heading

class PullSheet {
 public:
  PullSheet(const DayFacts& facts, Kit& kit)
      : facts_(facts),
        tongue_(tongue(kit.book, facts.production().language)),
        pdf_(document_title(facts, tongue_, tongue_.words.say("sheet.pull")),
             tongue_.tag,
             kit.paper),
        brush_(pdf_, kit.set),
        flow_(brush_, list_head(brush_, facts, tongue_, tongue_.words.say("sheet.pull"))) {}

  std::string make();

 private:
  void costumes();
  void props();
  void give_back();
  void section(const char* key);
  Grid grid();
  [[nodiscard]] Rich back_to(ItemId item) const;
  void row(
      Grid& grid, Minute from, Minute until, const Rich& what, const Rich& who, const Rich& to);

  const DayFacts& facts_;
  Tongue tongue_;
  Pdf pdf_;
  Brush brush_;
  Flow flow_;
  std::map<ItemId, int> used_;  ///< most at once
};

void PullSheet::section(const char* key) {
  if (pdf_.pages() == 0) {
    flow_.new_page();
  } else {
    flow_.move(12);
    flow_.need(90);
  }
  const TextBlock block = brush_.block(Rich(tongue_.words.say(key), kStrong), 13, flow_.width());
  flow_.move(brush_.draw(block, flow_.left(), flow_.y()) - flow_.y() + 2);
}

Grid PullSheet::grid() {
  const double box = 32;
  const double clock = 44;
  const double rest = flow_.width() - 2 * box - 2 * clock;
  Grid::Look look;
  look.size = 9.5;
  look.padding = 2.6;
  return Grid(brush_,
              flow_,
              {{box, Align::centre},
               {clock},
               {clock},
               {rest * 0.37},
               {rest * 0.36},
               {rest * 0.27},
               {box, Align::centre}},
              look);
}

Rich PullSheet::back_to(ItemId item) const {
  Rich text;
  const PersonId lender = facts_.production().items[item].lent_by;
  if (lender.valid()) text.add_name(facts_.production().people[lender].shown());
  return text;
}

void PullSheet::row(
    Grid& grid, Minute from, Minute until, const Rich& what, const Rich& who, const Rich& to) {
  grid.boxes({0, 6});
  grid.row({Rich(),
            Rich(facts_.clock(from), kStrong),
            Rich(facts_.clock(until)),
            what,
            who,
            to,
            Rich()});
}

void PullSheet::costumes() {
  const Production& production = facts_.production();
  const Words& words = tongue_.words;
  std::map<LookId, std::vector<const Wear*>> by_look;
  for (const Wear& wear : facts_.plan().wears) {
    const Look& look = production.looks[wear.look];
    if (!wear.items.empty() || !look.wear.empty()) by_look[wear.look].push_back(&wear);
  }
  if (by_look.empty()) return;
  section("pull.costumes");
  Grid table = grid();
  table.names({words.say("pull.out"),
               words.say("pull.from"),
               words.say("pull.until"),
               words.say("pull.item"),
               words.say("pull.who"),
               words.say("pull.back_to"),
               words.say("pull.back")});
  for (const auto& [id, wears] : by_look) {
    const Look& look = production.looks[id];
    Rich heading;
    heading.add_name(look.shown(), kStrong);
    const bool at_length = look.wear.size() > kLongWear;
    if (!look.wear.empty() && !at_length) {
      heading.add(" · " + words.say("pull.wear", {{"text", look.wear}}), kQuiet);
    }
    table.heading(heading, 10.5);
    if (at_length) {
      Rich wear;
      wear.add_name(look.wear, kQuiet);
      table.row({Rich(), Rich(), Rich(), wear, Rich(), Rich(), Rich()});
    }
    for (const Wear* wear : wears) {
      Rich who;
      who.add_name(production.people[wear->person].shown());
      if (wear->items.empty()) {
        Rich what;
        what.add_name(look.shown(), kQuiet);
        row(table, wear->from, wear->until, what, who, Rich());
        continue;
      }
      for (std::size_t i = 0; i < wear->items.size(); ++i) {
        const ItemId item = wear->items[i];
        Rich what;
        what.add_name(production.items[item].shown(), kStrong);
        if (i < look.items.size() && look.items[i] != item) {
          what.add(
              " " + words.say("pull.instead", {{"item", production.items[look.items[i]].shown()}}),
              kQuiet);
        }
        row(table, wear->from, wear->until, what, who, back_to(item));
      }
    }
  }
}

void PullSheet::props() {
  const Production& production = facts_.production();
  const Words& words = tongue_.words;
  struct Use {
    const PlannedScene* scene;
    int count;
  };
  std::map<ItemId, std::vector<Use>> by_item;
  for (const PlannedScene& scene : facts_.plan().scenes) {
    for (const Prop& prop : production.scenes[scene.scene].props) {
      by_item[prop.item].push_back({&scene, prop.count});
    }
  }
  if (by_item.empty()) return;
  section("pull.props");
  Grid table = grid();
  table.names({words.say("pull.out"),
               words.say("pull.from"),
               words.say("pull.until"),
               words.say("pull.item"),
               words.say("pull.scene"),
               words.say("pull.back_to"),
               words.say("pull.back")});
  for (const auto& [item, uses] : by_item) {
    for (const Use& use : uses) {
      Rich what;
      if (use.count > 1) what.add(std::to_string(use.count) + " × ");
      what.add_name(production.items[item].shown(), kStrong);
      Rich scene;
      scene.add_name(production.scenes[use.scene->scene].shown());
      const PlaceId place = production.place_of(use.scene->scene, facts_.plan().day);
      if (place.valid()) {
        const Place& where = production.places[place];
        scene.add(" · ", kQuiet).add_name(where.name.empty() ? where.id : where.name, kQuiet);
      }
      row(table, use.scene->set_at, use.scene->until, what, scene, back_to(item));
    }
  }
}

void PullSheet::give_back() {
  const Production& production = facts_.production();
  // For each item the most that are out at once: so many have to come back.
  struct Use {
    Minute from, until;
    int count;
  };
  std::map<ItemId, std::vector<Use>> uses;
  for (const Wear& wear : facts_.plan().wears) {
    for (const ItemId item : wear.items) uses[item].push_back({wear.from, wear.until, 1});
  }
  for (const PlannedScene& scene : facts_.plan().scenes) {
    for (const Prop& prop : production.scenes[scene.scene].props) {
      uses[prop.item].push_back({scene.set_at, scene.until, prop.count});
    }
  }
  std::map<PersonId, std::vector<std::pair<ItemId, int>>> by_lender;
  for (const auto& [item, list] : uses) {
    const PersonId lender = production.items[item].lent_by;
    if (!lender.valid()) continue;
    int most = 0;
    for (const Use& at : list) {
      int out = 0;
      for (const Use& other : list) {
        if (other.from <= at.from && at.from < other.until) out += other.count;
      }
      most = std::max(most, out);
    }
    by_lender[lender].emplace_back(item, std::max(most, 1));
  }
  if (by_lender.empty()) return;
  section("pull.give_back");
  Grid::Look look;
  look.size = 10;
  Grid table(brush_, flow_, {{22}, {flow_.width() * 0.35}, {flow_.width() * 0.65 - 22}}, look);
  table.names({tongue_.words.say("pull.back"),
               tongue_.words.say("pull.back_to"),
               tongue_.words.say("pull.item")});
  const NameOrder order(tongue_.tag);
  std::vector<std::pair<std::string, PersonId>> lenders;
  for (const auto& [lender, items] : by_lender) {
    lenders.emplace_back(order.key(production.people[lender].shown()), lender);
  }
  std::sort(lenders.begin(), lenders.end());
  for (const auto& [key, lender] : lenders) {
    Rich name;
    name.add_name(production.people[lender].shown(), kStrong);
    Rich items;
    for (const auto& [item, count] : by_lender[lender]) {
      if (!items.empty()) items.add(", ");
      if (count > 1) items.add(std::to_string(count) + " × ");
      items.add_name(production.items[item].shown());
    }
    table.row({Rich(), name, items}, true);
  }
}

std::string PullSheet::make() {
  costumes();
  props();
  if (pdf_.pages() == 0) return {};
  give_back();
  number_pages(brush_, tongue_, tongue_.words.say("sheet.pull"));
  return pdf_.bytes();
}

}  // namespace

std::string pull_list(const DayFacts& facts, Kit& kit) {
  return PullSheet(facts, kit).make();
}

}  // namespace gp
