#include "base/json_writer.h"
#include "explain/whatif/what_if.h"
#include "time/clock.h"

namespace gp::whatif {
namespace {

void write_price(JsonWriter& out, const Price& price) {
  out.key("not_filmed").thousandths(price.not_filmed);
  out.key("optional_not_filmed").thousandths(price.optional_not_filmed);
  out.key("unfilled").number(std::int64_t{price.unfilled});
  out.key("on_site").number(price.on_site);
  out.key("weighted_on_site").thousandths(price.weighted_on_site);
  out.key("waiting").number(price.waiting);
}

void write_time(JsonWriter& out, const char* key, const std::optional<WallTime>& time) {
  if (time) out.key(key).text(format(*time));
}

const char* name_of(Worth worth) {
  switch (worth) {
    case Worth::better:
      return "better";
    case Worth::noise:
      return "noise";
    case Worth::nothing:
      return "nothing";
    case Worth::worse:
      return "worse";
  }
  return "";
}

/// Writes one comparison; the keys stand in docs/whatif.md.
class ComparisonWriter {
 public:
  ComparisonWriter(const Production& before,
                   const std::vector<Change>& changes,
                   const Comparison& comparison)
      : before_(before), changes_(changes), comparison_(comparison) {}

  std::string write() {
    const Difference& all = comparison_.difference;
    out_.begin_object();
    out_.key("greasepaint_whatif").number(std::int64_t{1});
    out_.key("title").text(before_.title);
    out_.key("changes").begin_list();
    for (const Change& change : changes_) {
      out_.begin_object(JsonLayout::compact);
      if (const auto words = written(before_, change)) out_.key("change").text(*words);
      out_.key("text").text(describe(before_, change));
      out_.end_object();
    }
    out_.end_list();
    totals("before", comparison_.before, all.price.before, all.people.before, false);
    totals("after", comparison_.after.plan, all.price.after, all.people.after, true);
    out_.key("same_plan").boolean(comparison_.after.carried);
    if (comparison_.without_change) {
      out_.key("after_without_change").begin_object(JsonLayout::compact);
      write_price(out_, *comparison_.without_change);
      out_.end_object();
    }
    out_.key("difference").begin_object();
    sums(all);
    calls(all);
    scenes("won", all.won);
    scenes("lost", all.lost);
    scenes("dropped", all.no_longer);
    heads(all);
    out_.end_object();
    out_.end_object();
    return out_.finish();
  }

 private:
  void totals(
      const char* key, const Plan& plan, const Price& price, std::size_t people, bool after) {
    out_.key(key).begin_object();
    write_price(out_, price);
    out_.key("people").number(static_cast<std::int64_t>(people));
    if (plan.totals.bound) out_.key("bound").thousandths(*plan.totals.bound);
    out_.key("proven").boolean(plan.totals.proven);
    out_.key("days").begin_list();
    for (const DayRow& row : comparison_.difference.days) {
      out_.begin_object(JsonLayout::compact);
      out_.key("date").text(format(row.date));
      write_time(out_, "first_call", after ? row.first_call.after : row.first_call.before);
      write_time(out_, "first_shot", after ? row.first_shot.after : row.first_shot.before);
      write_time(out_, "wrap", after ? row.wrap.after : row.wrap.before);
      out_.end_object();
    }
    out_.end_list();
    out_.end_object();
  }

  /// What is less than before is less than 0.
  void sums(const Difference& all) {
    const Price& before = all.price.before;
    const Price& after = all.price.after;
    out_.key("not_filmed").thousandths(after.not_filmed - before.not_filmed);
    out_.key("optional_not_filmed")
        .thousandths(after.optional_not_filmed - before.optional_not_filmed);
    out_.key("unfilled").number(std::int64_t{after.unfilled} - before.unfilled);
    out_.key("on_site").number(after.on_site - before.on_site);
    out_.key("weighted_on_site").thousandths(after.weighted_on_site - before.weighted_on_site);
    out_.key("waiting").number(after.waiting - before.waiting);
  }

  void calls(const Difference& all) {
    out_.key("calls").begin_list();
    for (const CallRow& row : all.calls) {
      out_.begin_object(JsonLayout::compact);
      out_.key("person").text(row.person);
      out_.key("date").text(format(row.date));
      write_time(out_, "before", row.call.before);
      write_time(out_, "after", row.call.after);
      if (row.call.before && row.call.after) {
        out_.key("later").number(std::int64_t{row.later.count()});
      }
      out_.end_object();
    }
    out_.end_list();
  }

  void scenes(const char* key, const std::vector<SceneRow>& rows) {
    out_.key(key).begin_list();
    for (const SceneRow& row : rows) {
      out_.begin_object(JsonLayout::compact);
      out_.key("scene").text(row.scene);
      if (!row.why.empty()) out_.key("why").text(row.why);
      out_.end_object();
    }
    out_.end_list();
  }

  void heads(const Difference& all) {
    out_.key("heads").begin_list();
    for (const HeadsRow& row : all.heads) {
      out_.begin_object(JsonLayout::compact);
      out_.key("scene").text(row.scene);
      out_.key(row.job ? "job" : "role").text(row.what);
      out_.key("missing_before").number(std::int64_t{row.missing.before});
      out_.key("missing_after").number(std::int64_t{row.missing.after});
      out_.end_object();
    }
    out_.end_list();
  }

  const Production& before_;
  const std::vector<Change>& changes_;
  const Comparison& comparison_;
  JsonWriter out_;
};

void write_gain(JsonWriter& out, const Gain& gain, bool early) {
  out.key("won").thousandths(gain.won);
  out.key("optional_won").thousandths(gain.optional_won);
  out.key("heads").number(std::int64_t{gain.heads});
  if (early) out.key("later_begin").number(gain.early);
  out.key("saved").number(gain.saved);
  out.key("weighted_saved").thousandths(gain.weighted_saved);
}

}  // namespace

std::string write_comparison(const Production& before,
                             const std::vector<Change>& changes,
                             const Comparison& comparison) {
  return ComparisonWriter(before, changes, comparison).write();
}

std::string write_ranking(const Production& production, const HelpRanking& ranking) {
  const bool early = production.aim == Aim::latest_first_call;
  JsonWriter out;
  out.begin_object();
  out.key("greasepaint_best_help").number(std::int64_t{1});
  out.key("title").text(production.title);
  out.key("tried").number(static_cast<std::int64_t>(ranking.helps.size()));
  out.key("to_try").number(static_cast<std::int64_t>(ranking.to_try));
  out.key("whole").boolean(ranking.whole);
  out.key("now").begin_object(JsonLayout::compact);
  write_price(out, ranking.price);
  out.end_object();
  out.key("searches").number(std::int64_t{ranking.searches});
  out.key("better_without_help").boolean(ranking.better_without);
  out.key("noise").begin_object(JsonLayout::compact);
  write_gain(out, ranking.noise, early);
  out.end_object();
  out.key("helps").begin_list();
  for (const TriedHelp& help : ranking.helps) {
    out.begin_object(JsonLayout::compact);
    if (!help.written.empty()) out.key("change").text(help.written);
    out.key("text").text(help.text);
    out.key("worth").text(name_of(help.worth));
    out.key("searches").number(std::int64_t{help.searches});
    write_gain(out, help.gain, early);
    out.key("waiting_saved").number(help.gain.waiting_saved);
    if (!help.scenes_won.empty()) out.key("scenes_won").texts(help.scenes_won);
    if (!help.scenes_lost.empty()) out.key("scenes_lost").texts(help.scenes_lost);
    out.end_object();
  }
  out.end_list();
  out.end_object();
  return out.finish();
}

}  // namespace gp::whatif
