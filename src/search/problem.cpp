#include "search/problem.h"

#include "ordering/windows.h"

namespace gp {

Problem::Problem(const Production& film, const Wishes& asked)
    : production(film), wishes(asked), slots(film, asked.answers), staff(film, asked.answers) {
  for (DayId day : film.days.ids()) {
    if (asked.only_day && *asked.only_day != day) continue;
    days.emplace_back(film, day, asked.answers);
  }
  for (const DayFrame& frame : days) windows.push_back(shot_windows(film, frame));
}

}  // namespace gp
