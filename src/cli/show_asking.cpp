#include "cli/show_asking.h"

#include "cli/commands/commands.h"
#include "cli/flow.h"
#include "cli/plain_number.h"
#include "text/width.h"
#include "time/clock.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace gp {
namespace {

constexpr std::size_t kMostNames = 6;
constexpr std::size_t kMostYeses = 5;

int per_cent(double chance) {
  return static_cast<int>(std::floor(chance * 100 + 1e-9));
}

/// "95 %", "97.5 %"
std::string person(const Production& production, PersonId id) {
  return harmless(production.people[id].shown());
}

std::string with_answer(const Production& production, PersonId id) {
  return person(production, id) +
         (production.people[id].answer == Answer::maybe ? " (maybe)" : " (not answered)");
}

std::string name_of(const Production& production, const NeedRow& row) {
  switch (row.kind) {
    case NeedRow::Kind::part:
    case NeedRow::Kind::crowd:
      return harmless(production.roles[row.role].shown());
    case NeedRow::Kind::crew:
      return harmless(row.job);
    case NeedRow::Kind::helper:
      break;
  }
  return harmless(row.job + " at " + production.stations[row.station].shown());
}

std::string scenes_text(const Production& production, const NeedRow& row) {
  std::string text = harmless(production.scenes[row.scenes.front()].shown());
  if (row.scenes.size() > 1) {
    text += " and " + counted(row.scenes.size() - 1, "more scene", "more scenes");
  }
  return text;
}

std::string others_text(const NeedRow& row, int number) {
  std::string text = std::to_string(number) + (number == 1 ? " other" : " others");
  if (row.others == NeedRow::Others::with_skill) {
    text += " who can ";
    for (std::size_t i = 0; i < row.needs.size(); ++i) {
      text += (i == 0 ? "" : " and ") + harmless(row.needs[i]);
    }
  }
  return text;
}

/// What makes the row as sure as that.
std::string remedy(const NeedRow& row, const AskedFor& asked) {
  const std::string yes =
      asked.yeses == 0
          ? ""
          : "a firm yes from " + (asked.yeses == 1 ? std::string("the first of these")
                                                   : "the first " + std::to_string(asked.yeses));
  std::string text;
  if (asked.more == 0) {
    text = yes;
  } else if (asked.more) {
    text = yes + (yes.empty() ? "ask " : ", and ask ") + others_text(row, *asked.more);
  }
  if (asked.others_only && *asked.others_only > 0 && asked.yeses > 0) {
    text += (text.empty() ? "ask " : "; or ask ") + others_text(row, *asked.others_only);
  }
  return text;
}

/// Why asking others cannot do it.
std::string no_remedy(const Production& production, const NeedRow& row, double each) {
  if (row.others != NeedRow::Others::named) {
    return each <= 0 ? "nobody else comes at a turnout of 0" : "not by asking 1000 others";
  }
  if (row.kind == NeedRow::Kind::part && production.roles[row.role].person.valid()) {
    return "the part is given to " + person(production, production.roles[row.role].person) +
           " alone";
  }
  return row.kind == NeedRow::Kind::helper ? "only the station's own staff may: name more there"
                                           : "only those named in \"from\" may: name more there";
}

std::string first_line(const Production& production, const NeedRow& row) {
  return name_of(production, row) + ": " + std::to_string(row.wanted) + " needed (" +
         scenes_text(production, row) + "), " + std::to_string(row.people.size()) +
         " could: " + chance_text(row.chance);
}

std::string row_text(const Production& production,
                     const Asking& asking,
                     const NeedRow& row,
                     const View& view) {
  std::string text = "  " + flow_text(first_line(production, row), 4, view.columns) + "\n";
  const auto wanting = std::find_if(row.asked.begin(), row.asked.end(), [&](const AskedFor& one) {
    return row.chance < one.sure;
  });
  if (wanting == row.asked.end()) return text;
  if (!row.ask_first.empty()) {
    std::string names;
    for (std::size_t i = 0; i < row.ask_first.size() && i < kMostNames; ++i) {
      names += (i == 0 ? "" : ", ") + with_answer(production, row.ask_first[i]);
    }
    if (row.ask_first.size() > kMostNames) {
      names += " and " + std::to_string(row.ask_first.size() - kMostNames) + " more";
    }
    text += "    " + flow_text("ask first: " + names, 6, view.columns) + "\n";
  }
  for (const AskedFor& asked : row.asked) {
    if (row.chance >= asked.sure) continue;
    const std::string what = remedy(row, asked);
    text += "    " +
            flow_text(wish_text(asked.sure) + ": " +
                          (what.empty() ? no_remedy(production, row, asking.each) : what),
                      6,
                      view.columns) +
            "\n";
    if (what.empty()) break;  // it is no better for more
  }
  return text;
}

std::string whole_name(const Production& production, const WholeChance& whole) {
  if (whole.day) return "Scenes of " + date_text(production.days[*whole.day].date) + " alone";
  return production.days.size() > 1 ? "All days" : "The day";
}

std::string whole_text(const Production& production,
                       const Asking& asking,
                       const WholeChance& whole,
                       const View& view) {
  std::string text =
      "  " +
      flow_text(whole_name(production, whole) + ": everybody needed for " +
                    counted(whole.scenes, "scene", "scenes") + ": " + chance_text(whole.chance),
                4,
                view.columns) +
      "\n";
  const auto say = [&](const std::string& words) {
    text += "    " + flow_text(words, 6, view.columns) + "\n";
  };
  if (!whole.best_yes.empty()) {
    std::string names;
    for (std::size_t i = 0; i < whole.best_yes.size() && i < kMostYeses; ++i) {
      const Yes& yes = whole.best_yes[i];
      const int raises = per_cent(yes.raises);
      names += (i == 0 ? "" : ", ") + person(production, yes.person) + " (" +
               (raises > 0 ? "+" + std::to_string(raises) : std::string("under +1")) + ")";
    }
    say("whose firm yes helps most, in per cent of chance: " + names);
  }
  for (std::size_t i = 0; i < asking.sure.size(); ++i) {
    if (whole.chance.chance >= asking.sure[i]) continue;
    if (!whole.others[i]) {
      say(wish_text(asking.sure[i]) +
          ": not by asking others alone; see the least likely parts, jobs and helpers above");
      break;
    }
    say(wish_text(asking.sure[i]) + ": ask " + std::to_string(*whole.others[i]) +
        (*whole.others[i] == 1 ? " other" : " others") + " who will do anything");
  }
  if (whole.cut_short > 0) {
    say("An upper limit: on about " + std::to_string(per_cent(whole.cut_short) + 1) +
        " % of the days not every choice of parts was tried.");
  }
  return text;
}

std::string kind_heading(NeedRow::Kind kind) {
  switch (kind) {
    case NeedRow::Kind::part:
      return "Parts";
    case NeedRow::Kind::crowd:
      return "Crowds";
    case NeedRow::Kind::crew:
      return "Behind the camera";
    case NeedRow::Kind::helper:
      break;
  }
  return "Helpers at the stations";
}

}  // namespace

std::string wish_text(double sure) {
  return plain_number(static_cast<double>(std::llround(sure * 100'000)) / 1000) + " %";
}

std::string chance_text(double chance) {
  if (chance >= 1) return "sure";
  if (chance <= 0) return "impossible";
  const int whole = per_cent(chance);
  if (whole >= 100) return "over 99 %";
  return whole == 0 ? "under 1 %" : "about " + std::to_string(whole) + " %";
}

std::string chance_text(const Likelihood& likelihood) {
  if (likelihood.exact) return chance_text(likelihood.chance) + " (every case counted)";
  const int error = static_cast<int>(std::ceil(likelihood.error * 200 - 1e-9));
  const int whole = per_cent(likelihood.chance);
  return (whole == 0 ? std::string("under 1 %") : "about " + std::to_string(whole) + " %") +
         " (over " + std::to_string(kRandomDaysDrawn) + " random days; give or take " +
         std::to_string(std::max(error, 1)) + " %)";
}

std::string show_asking(const Production& production, const Asking& asking, const View& view) {
  std::string text = view.paint.heading(flow_text(harmless(production.title), 0, view.columns)) +
                     "\n\n" + view.paint.heading("Everything") + "\n";
  for (const WholeChance& whole : asking.whole) {
    text += whole_text(production, asking, whole, view);
  }
  std::optional<NeedRow::Kind> kind;
  for (const NeedRow& row : asking.rows) {
    if (row.kind != kind) text += "\n" + view.paint.heading(kind_heading(row.kind)) + "\n";
    kind = row.kind;
    text += row_text(production, asking, row, view);
  }
  return text + "\n" +
         flow_text("Others come with a chance of " + std::to_string(per_cent(asking.each)) +
                       " % each (--turnout). People are thought to decide for themselves, but for "
                       "children and their guardian; who shares a car stays away together, which "
                       "makes the true chance smaller. Chairs and the order of the scenes are the "
                       "plan's business.",
                   0,
                   view.columns) +
         "\n";
}

}  // namespace gp
