#include "cli/show_whatif.h"

#include "cli/commands/commands.h"
#include "cli/flow.h"
#include "text/width.h"
#include "time/clock.h"

#include <algorithm>
#include <cstdlib>

namespace gp {
namespace {

using whatif::Both;
using whatif::CallRow;
using whatif::Comparison;
using whatif::DayRow;
using whatif::Difference;
using whatif::HeadsRow;
using whatif::SceneRow;

constexpr std::size_t kName = 22;
constexpr std::size_t kCell = 16;

std::string row(const std::string& name,
                const std::string& before,
                const std::string& after,
                const std::string& difference = "") {
  std::string line = "  " + padded(name, kName) + padded(before, kCell);
  line += difference.empty() ? after : padded(after, kCell) + difference;
  return line + "\n";
}

std::string more_or_less(std::int64_t minutes) {
  if (minutes == 0) return "the same";
  return length_text(std::abs(minutes)) + (minutes < 0 ? " less" : " more");
}

std::string length_row(const std::string& name, std::int64_t before, std::int64_t after) {
  return row(name, length_text(before), length_text(after), more_or_less(after - before));
}

/// Minutes counted in thousandths, to the nearest whole one.
std::int64_t whole_minutes(Thousandths value) {
  return (value >= 0 ? value + 500 : value - 500) / 1000;
}

bool weights_differ(const Production& production) {
  return std::any_of(production.people.begin(), production.people.end(), [](const Person& person) {
    return person.weight != 1000;
  });
}

std::string time_text(const std::optional<WallTime>& time) {
  return time ? format(*time) : "-";
}

std::string scenes_lost(const Plan& plan) {
  return plan.not_filmed.empty() ? "none" : counted(plan.not_filmed.size(), "scene", "scenes");
}

std::string days(const Difference& all, const View& view) {
  std::string text;
  for (const DayRow& day : all.days) {
    text += "\n" + view.paint.heading(date_text(day.date)) + "\n" +
            row("first call", time_text(day.first_call.before), time_text(day.first_call.after)) +
            row("first shot", time_text(day.first_shot.before), time_text(day.first_shot.after)) +
            row("wrap", time_text(day.wrap.before), time_text(day.wrap.after));
  }
  return text;
}

std::string call_difference(const CallRow& call) {
  if (!call.call.before) return "called now";
  if (!call.call.after) return "not called any more";
  return length_text(std::abs(call.later.count())) +
         (call.later > Minutes{0} ? " later" : " earlier");
}

std::string calls(const Difference& all, const View& view) {
  if (all.calls.empty()) return "\nNo call moves.\n";
  std::size_t earlier = 0;
  std::size_t later = 0;
  for (const CallRow& call : all.calls) {
    if (!call.call.before || !call.call.after) continue;
    ++(call.later > Minutes{0} ? later : earlier);
  }
  std::string text = "\n" + view.paint.heading("Calls that move") + ": " + std::to_string(later) +
                     " later, " + std::to_string(earlier) + " earlier";
  if (const std::size_t others = all.calls.size() - later - earlier; others > 0) {
    text += ", " + std::to_string(others) + " new or gone";
  }
  text += "\n";
  Date date{};
  for (const CallRow& call : all.calls) {
    if (call.date != date && all.days.size() > 1) text += "  " + date_text(call.date) + "\n";
    date = call.date;
    const std::string indent = all.days.size() > 1 ? "    " : "  ";
    text += indent + padded(cut_to(harmless(call.name), kName + kCell - 10), kName + kCell - 8) +
            padded(time_text(call.call.before), 8) + padded(time_text(call.call.after), 8) +
            call_difference(call) + "\n";
  }
  return text;
}

std::string scenes(const std::string& heading,
                   const std::vector<SceneRow>& rows,
                   const View& view) {
  if (rows.empty()) return "";
  std::string text = "\n" + view.paint.heading(heading) + "\n";
  for (const SceneRow& scene : rows) {
    const std::string words = scene.why.empty() ? scene.name : scene.name + ": " + scene.why;
    text += "  " + flow_text(harmless(words), 4, view.columns) + "\n";
  }
  return text;
}

std::string heads(const Difference& all, const View& view) {
  if (all.heads.empty()) return "";
  std::string text = "\n" + view.paint.heading("Heads missing") + "\n";
  for (const HeadsRow& one : all.heads) {
    text += "  " +
            flow_text(harmless(one.what_name + " in " + one.scene_name) + ": " +
                          std::to_string(one.missing.before) + " before, " +
                          std::to_string(one.missing.after) + " after",
                      4,
                      view.columns) +
            "\n";
  }
  return text;
}

/// What must be known so that the numbers are not believed too much.
std::string remarks(const Production& production, const Comparison& comparison, const View& view) {
  std::string text;
  const auto say = [&](const std::string& words) {
    text += "\n" + flow_text(words, 0, view.columns) + "\n";
  };
  if (comparison.after.carried) {
    say("The plan there was stays right with the change, and the search found no better one.");
  }
  if (comparison.without_change) {
    const Price& now = comparison.difference.price.before;
    const std::int64_t saved =
        whole_minutes(now.weighted_on_site - comparison.without_change->weighted_on_site);
    const bool same_done =
        now.not_filmed == comparison.without_change->not_filmed &&
        now.optional_not_filmed == comparison.without_change->optional_not_filmed &&
        now.unfilled == comparison.without_change->unfilled;
    std::string what = "what it does better is luck of the search, not the change";
    if (same_done && production.aim == Aim::least_time) {
      what = length_text(saved) + " of what it saves is luck of the search, not the change";
    }
    say("The plan with the change would be right without it too: " + what +
        ". Search longer, with --seconds.");
  }
  return text;
}

}  // namespace

std::string show_comparison(const Production& before,
                            const std::vector<std::string>& changes,
                            const Comparison& comparison,
                            const View& view) {
  const Difference& all = comparison.difference;
  const Price& one = all.price.before;
  const Price& two = all.price.after;
  std::string what;
  for (const std::string& change : changes) what += (what.empty() ? "" : "; ") + change;
  std::string text =
      view.paint.heading("What if") + ": " + flow_text(harmless(what), 9, view.columns) + "\n\n";
  text += "  " + std::string(kName, ' ') + view.paint.quiet(padded("before", kCell) + "after") +
          "\n" +
          row("not filmed", scenes_lost(comparison.before), scenes_lost(comparison.after.plan)) +
          row("heads missing", std::to_string(one.unfilled), std::to_string(two.unfilled)) +
          length_row("people's time", one.on_site, two.on_site);
  if (weights_differ(before)) {
    text += length_row(
        "  weighted", whole_minutes(one.weighted_on_site), whole_minutes(two.weighted_on_site));
  }
  text += length_row("  of it waiting", one.waiting, two.waiting) +
          row("people called", std::to_string(all.people.before), std::to_string(all.people.after));
  text += days(all, view) + scenes("Filmed after the change", all.won, view) +
          scenes("No longer filmed", all.lost, view) + scenes("Dropped", all.no_longer, view) +
          heads(all, view) + calls(all, view) + remarks(before, comparison, view);
  return text;
}

}  // namespace gp
