#include "cli/commands/commands.h"
#include "cli/flow.h"
#include "cli/show_whatif.h"
#include "text/width.h"

#include <algorithm>
#include <cstdlib>

namespace gp {
namespace {

using whatif::Gain;
using whatif::HelpRanking;
using whatif::TriedHelp;
using whatif::Worth;

std::string joined(const std::vector<std::string>& parts, const std::string& between) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : between) + part;
  return text;
}

std::int64_t whole_minutes(Thousandths value) {
  return (value >= 0 ? value + 500 : value - 500) / 1000;
}

/// "wins the scene March, 2 heads more, saves 1 h 05 min (weighted 1 h 20 min)"
std::string gain_text(const TriedHelp& help, bool early) {
  std::vector<std::string> parts;
  const Gain& gain = help.gain;
  if (!help.scenes_won.empty()) {
    parts.push_back((help.scenes_won.size() == 1 ? "wins the scene " : "wins the scenes ") +
                    joined(help.scenes_won, " and "));
  }
  if (!help.scenes_lost.empty()) parts.push_back("loses " + joined(help.scenes_lost, " and "));
  // with less filmed, fewer heads are missing and hours are saved, which is no gain
  if (gain.won < 0 || (gain.won == 0 && gain.optional_won < 0)) return joined(parts, ", ");
  if (gain.heads != 0) {
    parts.push_back(counted(static_cast<std::size_t>(std::abs(gain.heads)), "head", "heads") +
                    (gain.heads > 0 ? " more filled" : " fewer filled"));
  }
  if (early && gain.early != 0) {
    parts.push_back("the day begins " + length_text(std::abs(gain.early)) +
                    (gain.early > 0 ? " later" : " earlier"));
  }
  if (gain.saved != 0) {
    parts.push_back((gain.saved > 0 ? "saves " : "costs ") + length_text(std::abs(gain.saved)));
  }
  if (const std::int64_t weighted = whole_minutes(gain.weighted_saved); weighted != gain.saved) {
    parts.push_back((weighted < 0 ? "weighted costs " : "weighted saves ") +
                    length_text(std::abs(weighted)));
  }
  return joined(parts, ", ");
}

/// How far two searches for the same production may be apart.
std::string noise_text(const Gain& noise) {
  std::vector<std::string> parts;
  if (noise.won > 0 || noise.optional_won > 0) parts.emplace_back("in the scenes filmed");
  if (noise.heads > 0) {
    parts.push_back("by " + counted(static_cast<std::size_t>(noise.heads), "head", "heads"));
  }
  if (noise.early > 0) parts.push_back("by " + length_text(noise.early) + " of the first calls");
  if (noise.weighted_saved > 0) {
    parts.push_back("by " + length_text(whole_minutes(noise.weighted_saved)) + " of people's time");
  }
  return parts.empty() ? "not at all" : joined(parts, " and ");
}

class RankingText {
 public:
  RankingText(const Production& production, const HelpRanking& ranking, const View& view)
      : production_(production), ranking_(ranking), view_(view) {}

  std::string write() {
    begin();
    gains();
    others(Worth::noise, "Better, but by no more than two searches may differ");
    others(Worth::worse, "Found worse");
    others(Worth::nothing, "No better plan found with");
    end();
    return std::move(text_);
  }

 private:
  void say(const std::string& words) { text_ += flow_text(words, 0, view_.columns) + "\n"; }

  void begin() {
    const Price& now = ranking_.price;
    text_ += view_.paint.heading("Which help is worth most") + "\n";
    std::string words = "Without help: " + length_text(now.on_site) + " of people's time, " +
                        length_text(now.waiting) + " of it waiting";
    if (!ranking_.plan.not_filmed.empty()) {
      words += ", " + counted(ranking_.plan.not_filmed.size(), "scene", "scenes") + " not filmed";
    }
    if (now.unfilled > 0) {
      words += ", " + counted(static_cast<std::size_t>(now.unfilled), "head", "heads") + " missing";
    }
    say(words + ".");
  }

  [[nodiscard]] std::vector<const TriedHelp*> of(Worth worth) const {
    std::vector<const TriedHelp*> some;
    for (const TriedHelp& help : ranking_.helps) {
      if (help.worth == worth) some.push_back(&help);
    }
    return some;
  }

  void gains() {
    const bool early = production_.aim == Aim::latest_first_call;
    const std::vector<const TriedHelp*> some = of(Worth::better);
    if (some.empty()) {
      text_ += "\nNone of the helps tried is worth anything that is more than noise.\n";
      return;
    }
    text_ += "\n";
    for (std::size_t i = 0; i < some.size(); ++i) {
      text_ +=
          padded_left(std::to_string(i + 1), 3) + ". " +
          flow_text(harmless(some[i]->text + ": " + gain_text(*some[i], early)), 5, view_.columns) +
          "\n";
    }
  }

  void others(Worth worth, const std::string& heading) {
    const bool early = production_.aim == Aim::latest_first_call;
    const std::vector<const TriedHelp*> some = of(worth);
    if (some.empty()) return;
    text_ += "\n" + view_.paint.heading(heading) + "\n";
    if (worth == Worth::nothing) {
      std::vector<std::string> names;
      for (const TriedHelp* help : some) names.push_back(harmless(help->text));
      text_ += "  " + flow(names, ";", 2, view_.columns) + "\n";
      return;
    }
    for (const TriedHelp* help : some) {
      text_ += "  " +
               flow_text(harmless(help->text + ": " + gain_text(*help, early)), 5, view_.columns) +
               "\n";
    }
  }

  void end() {
    text_ += "\n";
    std::string words = "Tried " + std::to_string(ranking_.helps.size()) + " of " +
                        counted(ranking_.to_try, "help", "helps") +
                        ", one at a time, with up to 3 searches each. ";
    if (ranking_.searches > 1) {
      words += "The " + std::to_string(ranking_.searches) + " searches without help differ " +
               noise_text(ranking_.noise) + ".";
    } else {
      words += "How far two searches differ is not known.";
    }
    if (ranking_.better_without) {
      words += " The plan without help is one found while trying a help that it does not need.";
    }
    say(words);
    if (!ranking_.whole) {
      text_ += view_.paint.warning("Incomplete: interrupted before everything was tried.") + "\n";
    }
  }

  const Production& production_;
  const HelpRanking& ranking_;
  const View& view_;
  std::string text_;
};

}  // namespace

std::string show_ranking(const Production& production,
                         const HelpRanking& ranking,
                         const View& view) {
  return RankingText(production, ranking, view).write();
}

}  // namespace gp
