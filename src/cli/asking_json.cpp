#include "base/json_writer.h"
#include "cli/show_asking.h"
#include "time/clock.h"

#include <vector>

namespace gp {
namespace {

void write_number(JsonWriter& out, const std::string& key, const std::optional<int>& number) {
  out.key(key);
  if (number) {
    out.number(std::int64_t{*number});
  } else {
    out.null();
  }
}

std::vector<std::string> ids(const Production& production, const std::vector<PersonId>& people) {
  std::vector<std::string> list;
  list.reserve(people.size());
  for (const PersonId id : people) list.push_back(production.people[id].id);
  return list;
}

void write_row(JsonWriter& out, const Production& production, const NeedRow& row) {
  out.begin_object();
  switch (row.kind) {
    case NeedRow::Kind::part:
      out.key("part").text(production.roles[row.role].id);
      break;
    case NeedRow::Kind::crowd:
      out.key("crowd").text(production.roles[row.role].id);
      break;
    case NeedRow::Kind::crew:
      out.key("job").text(row.job);
      break;
    case NeedRow::Kind::helper:
      out.key("station").text(production.stations[row.station].id).key("skill").text(row.job);
      break;
  }
  std::vector<std::string> scenes;
  for (const SceneId id : row.scenes) scenes.push_back(production.scenes[id].id);
  out.key("scenes").texts(scenes);
  out.key("needed").number(std::int64_t{row.wanted});
  out.key("people").texts(ids(production, row.people));
  out.key("expected").number(row.expected);
  out.key("chance").number(row.chance);
  out.key("ask_first").texts(ids(production, row.ask_first));
  out.key("asked").begin_list();
  for (const AskedFor& asked : row.asked) {
    out.begin_object(JsonLayout::compact);
    out.key("sure").number(asked.sure).key("yeses").number(std::int64_t{asked.yeses});
    write_number(out, "others", asked.more);
    write_number(out, "others_only", asked.others_only);
    out.end_object();
  }
  out.end_list().end_object();
}

void write_whole(JsonWriter& out,
                 const Production& production,
                 const Asking& asking,
                 const WholeChance& whole) {
  out.begin_object();
  if (whole.day) out.key("date").text(format(production.days[*whole.day].date));
  out.key("scenes").number(static_cast<std::int64_t>(whole.scenes));
  out.key("chance").number(whole.chance.chance).key("exact").boolean(whole.chance.exact);
  out.key("standard_error").number(whole.chance.error);
  out.key("cut_short").number(whole.cut_short);
  out.key("others").begin_list();
  for (std::size_t i = 0; i < asking.sure.size(); ++i) {
    out.begin_object(JsonLayout::compact).key("sure").number(asking.sure[i]);
    write_number(out, "others", whole.others[i]);
    out.end_object();
  }
  out.end_list().key("best_yes").begin_list();
  for (const Yes& yes : whole.best_yes) {
    out.begin_object(JsonLayout::compact);
    out.key("person").text(production.people[yes.person].id).key("raises").number(yes.raises);
    out.end_object();
  }
  out.end_list().end_object();
}

}  // namespace

std::string write_asking(const Production& production, const Asking& asking) {
  JsonWriter out;
  out.begin_object();
  out.key("greasepaint_ask").number(std::int64_t{1}).key("title").text(production.title);
  out.key("turnout").number(asking.each);
  out.key("whole").begin_list();
  for (const WholeChance& whole : asking.whole) write_whole(out, production, asking, whole);
  out.end_list().key("rows").begin_list();
  for (const NeedRow& row : asking.rows) write_row(out, production, row);
  out.end_list().end_object();
  return out.finish();
}

}  // namespace gp
