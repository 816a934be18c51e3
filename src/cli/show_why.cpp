#include "cli/show_why.h"

#include "cli/flow.h"
#include "text/width.h"
#include "time/clock.h"
#include "time/day_clock.h"

#include <cstdlib>

namespace gp {
namespace {

constexpr std::size_t kIndent = 15;  // two spaces, "07:50-08:05" and two more

class WhyText {
 public:
  WhyText(const Production& production, const View& view) : production_(production), view_(view) {}

  void heading(const std::string& name, std::optional<DayId> day) {
    if (!text.empty()) text += "\n";
    std::string line = harmless(name);
    if (day) {
      line += ", " + date_text(production_.days[*day].date);
      clock_.emplace(production_.days[*day].date, production_.zone);
    }
    text += view_.paint.heading(line) + "\n";
  }

  void paragraph(const std::string& words, std::size_t indent = 0) {
    text += std::string(indent, ' ') + flow_text(harmless(words), indent, view_.columns) + "\n";
  }

  void row(Span time, const std::string& what, const std::string& words) {
    text += "\n  " + span(time) + "  " + flow_text(harmless(what), kIndent, view_.columns) + "\n";
    paragraph(words, kIndent);
  }

  void item(const std::string& words) {
    constexpr std::size_t kUnder = 4;
    text += "  - " + flow_text(harmless(words), kUnder, view_.columns) + "\n";
  }

  [[nodiscard]] std::string at(Minute moment) const { return format(clock_->shown(moment)); }
  [[nodiscard]] std::string span(Span time) const { return at(time.from) + "-" + at(time.until); }

  std::string text;

 private:
  const Production& production_;
  const View& view_;
  std::optional<CalendarDay> clock_;
};

std::string cost_text(std::int64_t minutes) {
  if (minutes == 0) return "costs nobody anything";
  const std::string length = length_text(std::abs(minutes));
  return minutes > 0 ? "costs all together " + length : "saves all together " + length + " besides";
}

std::string relief_text(const WhyText& text, const WhyRelief& relief) {
  return "call " + text.at(relief.call) + ", " + length_text(relief.later.count()) + " later; " +
         cost_text(relief.costs_all);
}

void show_reliefs(const WhyReliefs& reliefs, WhyText& text) {
  text.text += "\n";
  if (reliefs.unchanged) {
    text.paragraph("Planning again with nothing changed already lets them come later: " +
                   relief_text(text, *reliefs.unchanged) + ".");
  }
  if (reliefs.found.empty()) {
    text.paragraph(reliefs.stopped ? "Interrupted before anything was found that lets them come "
                                     "later."
                                   : "None of the " + std::to_string(reliefs.changes) +
                                         " small changes tried lets them come later.");
    return;
  }
  text.paragraph("What would let them come later (" + std::to_string(reliefs.changes) +
                 " small changes tried by planning again" +
                 (reliefs.stopped ? "; interrupted" : "") + "):");
  for (const WhyRelief& relief : reliefs.found) {
    text.item(relief.change + ": " + relief_text(text, relief));
  }
}

}  // namespace

std::string show_why(const Production& production, const WhyPerson& why, const View& view) {
  WhyText text(production, view);
  const std::string& name = production.people[why.person].shown();
  if (why.calls.empty()) {
    text.heading(name, std::nullopt);
    std::string reasons;
    for (const std::string& reason : why.not_needed) {
      reasons += (reasons.empty() ? "" : "; ") + reason;
    }
    text.paragraph("Not called: " + reasons + ".");
  }
  for (const WhyCall& call : why.calls) {
    text.heading(name, call.day);
    text.paragraph(call.because);
    for (const WhyLink& link : call.chain) {
      const bool theirs = link.person == why.person;
      const std::string whose = theirs ? "" : production.people[link.person].shown() + ": ";
      text.row(link.time, whose + link.what, link.text);
    }
    if (call.reliefs.tried) show_reliefs(call.reliefs, text);
  }
  return text.text;
}

std::string show_why(const Production& production, const WhyScene& why, const View& view) {
  WhyText text(production, view);
  const std::string& name = production.scenes[why.scene].shown();
  if (!why.day.valid()) {
    text.heading(name, std::nullopt);
    text.paragraph("Not filmed: " + why.not_filmed);
    return text.text;
  }
  text.heading(name, why.day);
  const PlannedScene& planned = why.planned;
  text.paragraph("Set-up " + text.at(planned.set_at) + ", shot " + text.at(planned.shoot_at) +
                 ", until " + text.at(planned.until) + ".");
  text.paragraph(why.text);
  return text.text;
}

std::string show_why(const Production& production, const WhyStation& why, const View& view) {
  WhyText text(production, view);
  const std::string& name = production.stations[why.station].shown();
  if (why.days.empty()) {
    text.heading(name, std::nullopt);
    text.paragraph(why.text);
  }
  for (const WhyStationDay& day : why.days) {
    text.heading(name, day.day);
    for (const WhyBusy& busy : day.busy) text.paragraph(busy.text);
  }
  return text.text;
}

}  // namespace gp
