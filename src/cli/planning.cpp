#include "cli/planning.h"

#include "base/errors.h"
#include "cli/commands/commands.h"
#include "cli/interrupt.h"
#include "cli/show_plan.h"
#include "model/check.h"
#include "model/price.h"
#include "time/clock.h"

#include <algorithm>
#include <chrono>
#include <vector>

namespace gp {

std::optional<DayId> chosen_day(const Arguments& arguments, const Production& production) {
  if (!arguments.has("day")) return std::nullopt;
  const std::string wanted = arguments.text("day");
  std::string all;
  for (const DayId day : production.days.ids()) {
    const std::string date = format(production.days[day].date);
    if (date == wanted) return day;
    all += (all.empty() ? "" : ", ") + date;
  }
  throw UsageError("--day takes a day of the production, not \"" + wanted + "\"; it has " + all);
}

Wishes wishes_of(const Arguments& arguments, const Production& production) {
  Wishes wishes;
  wishes.answers = answers_of(arguments);
  wishes.only_day = chosen_day(arguments, production);
  wishes.seed = arguments.whole("seed");
  wishes.threads = static_cast<int>(arguments.whole("threads"));
  if (const double seconds = arguments.decimal("seconds"); seconds > 0) wishes.seconds = seconds;
  return wishes;
}

Stop stop_of(const Wishes& wishes) {
  return Stop(std::nullopt, Interrupt::flag()).within(wishes.seconds);
}

bool interrupted(const Arguments& arguments, Shell& shell, const std::string& given) {
  if (!Interrupt::came()) return false;
  if (!arguments.has("quiet")) shell.err << "interrupted: " << given << " found until then\n";
  return true;
}

ProgressLine::~ProgressLine() {
  if (shown_) shell_.err << "\r\x1b[K" << std::flush;  // erase to the end of the line (ECMA-48 EL)
}

ProgressSink ProgressLine::sink() {
  if (!wanted_) return {};
  return [this](const Progress& progress) {
    const int share = static_cast<int>(progress.share * 100.0);
    constexpr int kCells = 20;
    const auto full = static_cast<std::size_t>(std::clamp(share * kCells / 100, 0, kCells));
    std::string text = "planning [" + std::string(full, '#') + std::string(kCells - full, '.') +
                       "] " + std::to_string(share) + " %, " +
                       std::to_string(static_cast<int>(progress.seconds)) + " s, " +
                       length_text(progress.best.on_site) + " on site";
    const Thousandths value =
        progress.best.span > 0 ? progress.best.span * 1000 : progress.best.weighted_on_site;
    if (progress.bound && *progress.bound > 0 && value >= *progress.bound) {
      const auto gap = (value - *progress.bound) * 100 / *progress.bound;
      text += gap == 0 ? std::string(", as good as can be")
                       : ", at most " + std::to_string(gap) + " % above the least there can be";
    }
    show(text);
  };
}

void ProgressLine::show(const std::string& text) {
  if (!wanted_) return;
  shown_ = true;
  shell_.err << "\r\x1b[K" << text << std::flush;
}

void must_be_right(const Production& production, const Plan& plan, Answers answers) {
  const std::vector<Broken> broken = check(production, plan, answers);
  if (!broken.empty()) {
    throw InternalError("the plan made breaks rule " + std::to_string(broken.front().rule) + ": " +
                        broken.front().where + ": " + broken.front().what + " (" +
                        counted(broken.size(), "rule broken", "rules broken") +
                        "; nothing was written)");
  }
  const Price recounted = price(production, plan);
  if (recounted.on_site != plan.totals.on_site || recounted.waiting != plan.totals.waiting ||
      recounted.weighted_on_site != plan.totals.weighted_on_site) {
    throw InternalError("the plan's totals are not those of its people; nothing was written");
  }
}

}  // namespace gp
