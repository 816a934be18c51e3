#include "explain/conflict/shot_search.h"

#include <algorithm>

namespace gp::conflict {
namespace {

/// Whether every head can have somebody of its own (augmenting paths).
bool all_seated(const std::vector<Head>& heads,
                const std::vector<std::vector<Fitting>>& fits,
                std::size_t people) {
  std::vector<std::ptrdiff_t> seat_of(people, -1);
  std::vector<char> asked(people);
  const std::function<bool(std::size_t)> seat = [&](std::size_t head) {
    for (const Fitting& fitting : fits[heads[head].slot]) {
      const std::size_t who = fitting.who.index();
      if (asked[who] != 0) continue;
      asked[who] = 1;
      if (seat_of[who] < 0 || seat(static_cast<std::size_t>(seat_of[who]))) {
        seat_of[who] = static_cast<std::ptrdiff_t>(head);
        return true;
      }
    }
    return false;
  };
  for (std::size_t head = 0; head < heads.size(); ++head) {
    std::fill(asked.begin(), asked.end(), 0);
    if (!seat(head)) return false;
  }
  return true;
}

}  // namespace

ShotSearch::ShotSearch(const DayGround& ground,
                       std::uint64_t& work,
                       std::uint64_t most_work,
                       Stop& stop,
                       std::function<bool(const Arrangement&, bool)> take)
    : ground_(ground),
      work_(work),
      most_work_(most_work),
      stop_(stop),
      take_(std::move(take)),
      diaries_(ground.film->people.size()) {
  for (const PersonId who : ground.film->people.ids()) {
    sides_meet_ = sides_meet_ || ground.frame.free[who].size() > 1;
  }
  sides_meet_ = sides_meet_ || ground.longest_way() > ground.shoot();
}

bool ShotSearch::over() {
  if (++work_ > most_work_ || stop_.now()) cut_ = true;
  return cut_;
}

ShotSearch::End ShotSearch::search(Minute shot, const HeldMeals* held) {
  shot_ = shot;
  held_ = held;
  cut_ = false;
  const std::size_t heads = ground_.heads.size();
  fits_.clear();
  for (std::size_t s = 0; s < ground_.slots.size(); ++s) {
    fits_.push_back(ground_.fitting(s, shot));
    if (held_ != nullptr) {
      // A meal not held is one that nobody may be there for from end to end.
      std::erase_if(fits_.back(), [&](const Fitting& fitting) {
        for (std::size_t m = 0; m < held_->size(); ++m) {
          const MealFrame& meal = ground_.frame.meals[m];
          if (meal.together && !(*held_)[m] && fitting.sure.covers(meal.between)) return true;
        }
        return false;
      });
    }
    ++work_;
  }
  if (!all_seated(ground_.heads, fits_, ground_.film->people.size())) return End::exhausted;
  if (!ground_.stations_suffice(shot, fits_)) return End::exhausted;
  now_ = Arrangement{shot, std::vector<PersonId>(heads), {}, {}, {}};
  for (std::size_t h = 0; h < heads; ++h) {
    now_.on.emplace_back(ground_.on[h].size());
    now_.off.emplace_back(ground_.off[h].size());
  }
  choice_.assign(heads, 0);
  base_rows_.assign(heads, 0);
  done_on_.assign(heads, 0);
  done_off_.assign(heads, 0);
  uses_.clear();
  for (Diary& diary : diaries_) diary = Diary();
  if (assign(0, 0)) return End::taken;
  return cut_ ? End::cut : End::exhausted;
}

bool ShotSearch::assign(std::size_t head, std::size_t from) {
  if (over()) return false;
  if (head == ground_.heads.size()) {
    std::size_t steps = 0;
    for (const auto& chain : ground_.on) steps += chain.size();
    hopeless_ = false;
    leaves_seen_ = false;
    return prepare(steps, kNever);
  }
  const Head& spec = ground_.heads[head];
  const auto& fits = fits_[spec.slot];
  const bool goes_on = head + 1 < ground_.heads.size() && ground_.heads[head + 1].slot == spec.slot;
  std::vector<std::pair<int, std::size_t>> tried;
  for (std::size_t c = from; c < fits.size(); ++c) {
    const Fitting& fitting = fits[c];
    Diary& diary = diaries_[fitting.who];
    if (!diary.rows.empty()) continue;
    const std::pair<int, std::size_t> like{ground_.kind[fitting.who], fitting.window};
    if (std::find(tried.begin(), tried.end(), like) != tried.end()) continue;
    tried.push_back(like);
    const Minute begins = spec.crew ? shot_ - ground_.set_up() : shot_;
    engage(fitting.who, {begins, shot_ + ground_.shoot()}, ground_.place());
    diary.window = static_cast<int>(fitting.window);
    if (held_ != nullptr) {
      for (const auto& meal : *held_) {
        if (meal && fitting.sure.covers(*meal)) diary.rows.push_back({*meal, PlaceId(), true});
      }
    }
    const bool clear = diary.rows.size() < 2 || [&] {
      return std::none_of(diary.rows.begin() + 1, diary.rows.end(), [&](const Busy& row) {
        return row.when.overlaps(diary.rows.front().when);
      });
    }();
    choice_[head] = c;
    base_rows_[head] = diary.rows.size();
    now_.people[head] = fitting.who;
    const bool found = clear && assign(head + 1, goes_on ? c + 1 : 0);
    diary = Diary();
    if (found || cut_) return found;
  }
  return false;
}

void ShotSearch::engage(PersonId who, Span when, PlaceId place) {
  diaries_[who].rows.push_back({when, place, false});
}

void ShotSearch::disengage(PersonId who) {
  diaries_[who].rows.pop_back();
  if (diaries_[who].rows.empty()) diaries_[who].window = -1;
}

/// Whether another head that nothing tells from this one has its turn first.
bool ShotSearch::twin_before(std::size_t head, bool before) const {
  const auto& done = before ? done_on_ : done_off_;
  const auto only_their_own = [&](std::size_t h) {
    return diaries_[now_.people[h]].rows.size() ==
           base_rows_[h] + (before ? 0 : ground_.on[h].size());
  };
  if (done[head] != 0 || !only_their_own(head)) return false;
  const Fitting& self = fits_[ground_.heads[head].slot][choice_[head]];
  for (std::size_t h = 0; h < head; ++h) {
    if (ground_.heads[h].slot != ground_.heads[head].slot || done[h] != 0) continue;
    const Fitting& other = fits_[ground_.heads[h].slot][choice_[h]];
    if (ground_.kind[other.who] == ground_.kind[self.who] && other.window == self.window &&
        only_their_own(h)) {
      return true;
    }
  }
  return false;
}

/// Where a span collides with somebody's day: the latest start (or the earliest) that gets round
/// the first collision; the span's own start where there is none.
Minute ShotSearch::conflict(PersonId who, PlaceId place, Span span, bool late) const {
  for (const Busy& row : diaries_[who].rows) {
    const Minutes way = row.eats ? Minutes{0} : ground_.way(place, row.place);
    if (span.until + way <= row.when.from || row.when.until + way <= span.from) continue;
    return late ? row.when.from - way - span.length() : row.when.until + way;
  }
  return span.from;
}

/// The same for the places of a station.
Minute ShotSearch::crowded(StationId station, Span span, bool late) const {
  std::vector<Span> there;
  for (const Use& use : uses_) {
    if (use.station == station && use.when.overlaps(span)) there.push_back(use.when);
  }
  const auto places = static_cast<std::size_t>(ground_.film->stations[station].places);
  if (there.size() < places) return span.from;
  bool full = false;
  for (const Span& one : there) {
    const Minute at = std::max(one.from, span.from);
    const auto at_once = std::count_if(there.begin(), there.end(), [&](const Span& other) {
      return other.from <= at && (at < other.until || (other.from == at && other.until == at));
    });
    full = full || static_cast<std::size_t>(at_once) >= places;
  }
  if (!full) return span.from;
  Minute next = late ? kAlwaysBefore : kNever;
  for (const Span& one : there) {
    if (late) {
      const Minute start = one.from - span.length();
      if (start < span.from) next = std::max(next, start);
    } else if (one.until > span.from) {
      next = std::min(next, one.until);
    }
  }
  return next;
}

std::optional<Span> ShotSearch::ready_of(PersonId who, StationId station) const {
  for (const ReadyTime& row : now_.ready) {
    if (row.who == who && row.station == station) return row.when;
  }
  return std::nullopt;
}

/// The latest (or earliest) start of the step within the bounds that suits its wearer, its place
/// and whoever does it, called within that free span.
std::optional<Minute> ShotSearch::place_step(const ChainStep& step,
                                             PersonId wearer,
                                             PersonId by,
                                             int by_window,
                                             Minute least,
                                             Minute most,
                                             bool late) const {
  const auto& wearers = ground_.frame.free[wearer];
  const Span& window = wearers[static_cast<std::size_t>(diaries_[wearer].window)];
  least = std::max({least, step.open.from, ground_.reach(window, step.place)});
  most = std::min({most, step.open.until, window.until});
  if (by.valid()) {
    const Span& hands = ground_.frame.free[by][static_cast<std::size_t>(by_window)];
    least = std::max(least, ground_.reach(hands, step.place) + step.ready);
    most = std::min(most, hands.until);
    if (const auto ready = ready_of(by, step.station)) least = std::max(least, ready->until);
  }
  Minute start = late ? most - step.minutes : least;
  while (start >= least && start + step.minutes <= most) {
    const Span span{start, start + step.minutes};
    Minute next = conflict(wearer, step.place, span, late);
    if (next == start && by.valid()) next = conflict(by, step.place, span, late);
    if (next == start) next = crowded(step.station, span, late);
    if (next == start) return start;
    start = next;
  }
  return std::nullopt;
}

/// Everybody who could do the head's next step, with the best time of each, the best first.
std::vector<ShotSearch::Way> ShotSearch::ways_for(std::size_t head, bool before) {
  const auto& chain = before ? ground_.on[head] : ground_.off[head];
  const auto& done = before ? now_.on[head] : now_.off[head];
  const std::size_t k = before ? chain.size() - 1 - done_on_[head] : done_off_[head];
  const ChainStep& step = chain[k];
  const PersonId wearer = now_.people[head];
  Minute least = minute(0) - Minutes{1440};
  Minute most = kDayEnd;
  if (before) {
    most = (k + 1 == chain.size() ? shot_ : done[k + 1].when.from) - step.then_wait;
    const auto& holds = ground_.film->looks[ground_.heads[head].look].holds_for;
    if (k + 1 == chain.size() && holds) {
      least = shot_ + ground_.shoot() - *holds - step.minutes;
    }
  } else {
    least = k == 0 ? shot_ + ground_.shoot() : done[k - 1].when.until + chain[k - 1].then_wait;
  }
  std::vector<Way> ways;
  const auto add = [&](PersonId by, int window) {
    ++work_;
    const auto start = place_step(step, wearer, by, window, least, most, before);
    if (start) ways.push_back({by, window, *start});
  };
  if (!step.by) {
    add(PersonId(), -1);
  } else {
    std::vector<int> untouched;  // kinds of those with nothing to do yet
    for (const PersonId by : step.staff) {
      if (by == wearer) continue;
      const Diary& diary = diaries_[by];
      if (diary.rows.empty()) {
        if (std::find(untouched.begin(), untouched.end(), ground_.kind[by]) != untouched.end()) {
          continue;
        }
        untouched.push_back(ground_.kind[by]);
        for (std::size_t w = 0; w < ground_.frame.free[by].size(); ++w) {
          add(by, static_cast<int>(w));
        }
      } else {
        add(by, diary.window);
      }
    }
  }
  std::stable_sort(ways.begin(), ways.end(), [&](const Way& a, const Way& b) {
    return before ? a.start > b.start : a.start < b.start;
  });
  return ways;
}

/// Whether somebody staffs a step there before the shot, and has not got it ready.
bool ShotSearch::missing_ready(PersonId who, StationId station) const {
  if (ready_of(who, station)) return false;
  for (std::size_t h = 0; h < ground_.on.size(); ++h) {
    for (std::size_t i = 0; i < done_on_[h]; ++i) {
      const std::size_t k = ground_.on[h].size() - 1 - i;
      if (ground_.on[h][k].station == station && now_.on[h][k].by == who) return true;
    }
  }
  return false;
}

/// Places a step, goes on with the rest, and takes the step back.
template <class Rest>
bool ShotSearch::with_step(std::size_t head,
                           const ChainStep& step,
                           const Way& way,
                           DoneStep& placed,
                           std::size_t& done,
                           const Rest& rest) {
  const Span span{way.start, way.start + step.minutes};
  placed = {span, way.by};
  engage(now_.people[head], span, step.place);
  if (way.by.valid()) {
    engage(way.by, span, step.place);
    diaries_[way.by].window = way.window;
  }
  uses_.push_back({step.station, span});
  ++done;
  const bool found = rest();
  --done;
  uses_.pop_back();
  if (way.by.valid()) disengage(way.by);
  disengage(now_.people[head]);
  return found;
}

/// What comes before the shot, from the last to the first: each step (and each getting ready) as
/// late as it can be, in order of their ends.
bool ShotSearch::prepare(std::size_t left, Minute last_end) {
  if (over()) return false;
  struct Choice {
    std::size_t head;
    Way way;
    Minute end;
  };
  std::vector<Choice> choices;
  for (std::size_t h = 0; h < ground_.heads.size(); ++h) {
    if (done_on_[h] == ground_.on[h].size() || twin_before(h, true)) continue;
    // Whoever cannot go on as things stand will not be able to later either.
    const auto ways = ways_for(h, true);
    if (ways.empty()) return false;
    const std::size_t k = ground_.on[h].size() - 1 - done_on_[h];
    for (const Way& way : ways) {
      const Minute end = way.start + ground_.on[h][k].minutes;
      // What could end later than the one before it comes before it in another order.
      if (end <= last_end) choices.push_back({h, way, end});
    }
  }
  std::stable_sort(choices.begin(), choices.end(), [&](const Choice& a, const Choice& b) {
    const auto rest = [&](const Choice& c) { return ground_.on[c.head].size() - done_on_[c.head]; };
    return a.end != b.end ? a.end > b.end : rest(a) > rest(b);
  });
  for (const Choice& choice : choices) {
    const std::size_t h = choice.head;
    const std::size_t k = ground_.on[h].size() - 1 - done_on_[h];
    const bool found = with_step(h, ground_.on[h][k], choice.way, now_.on[h][k], done_on_[h], [&] {
      return prepare(left - 1, now_.on[h][k].when.until);
    });
    if (found || cut_ || hopeless_) return found;
  }
  return get_ready(left, last_end);
}

bool ShotSearch::get_ready(std::size_t left, Minute last_end) {
  bool owing = false;
  for (std::size_t h = 0; h < ground_.heads.size(); ++h) {
    for (std::size_t i = 0; i < done_on_[h]; ++i) {
      const std::size_t k = ground_.on[h].size() - 1 - i;
      const ChainStep& step = ground_.on[h][k];
      const PersonId who = now_.on[h][k].by;
      if (!who.valid() || step.ready == Minutes{0} || !missing_ready(who, step.station)) continue;
      owing = true;
      Minute first = kNever;
      for (std::size_t g = 0; g < ground_.heads.size(); ++g) {
        for (std::size_t j = 0; j < done_on_[g]; ++j) {
          const std::size_t q = ground_.on[g].size() - 1 - j;
          if (now_.on[g][q].by == who && ground_.on[g][q].station == step.station) {
            first = std::min(first, now_.on[g][q].when.from);
          }
        }
      }
      const auto& free = ground_.frame.free[who];
      const Span& window = free[static_cast<std::size_t>(diaries_[who].window)];
      const Minute least = ground_.reach(window, step.place);
      Minute start = first - step.ready;
      while (start >= least) {
        const Minute next = conflict(who, step.place, {start, start + step.ready}, true);
        if (next == start) break;
        start = next;
      }
      if (start < least) return false;
      const Span span{start, start + step.ready};
      if (span.until > last_end) continue;
      now_.ready.push_back({who, step.station, span});
      engage(who, span, step.place);
      const bool found = prepare(left, span.until);
      disengage(who);
      now_.ready.pop_back();
      if (found || cut_ || hopeless_) return found;
    }
  }
  if (owing || left > 0) return false;
  std::size_t steps = 0;
  for (const auto& chain : ground_.off) steps += chain.size();
  const bool found = undress(steps, kAlwaysBefore);
  // What follows the shot knows of what came before only which span of theirs somebody spends.
  if (!found && !sides_meet_ && !leaves_seen_) hopeless_ = true;
  return found;
}

/// What follows the shot, each step as early as it can be, in order of their starts.
bool ShotSearch::undress(std::size_t left, Minute last_start) {
  if (over()) return false;
  if (left == 0) return leaf();
  struct Choice {
    std::size_t head;
    Way way;
  };
  std::vector<Choice> choices;
  for (std::size_t h = 0; h < ground_.heads.size(); ++h) {
    if (done_off_[h] == ground_.off[h].size() || twin_before(h, false)) continue;
    const auto ways = ways_for(h, false);
    if (ways.empty()) return false;
    for (const Way& way : ways) {
      if (way.start >= last_start) choices.push_back({h, way});
    }
  }
  std::stable_sort(choices.begin(), choices.end(), [&](const Choice& a, const Choice& b) {
    const auto rest = [&](const Choice& c) {
      return ground_.off[c.head].size() - done_off_[c.head];
    };
    return a.way.start != b.way.start ? a.way.start < b.way.start : rest(a) > rest(b);
  });
  for (const Choice& choice : choices) {
    const std::size_t h = choice.head;
    const std::size_t k = done_off_[h];
    const bool found =
        with_step(h, ground_.off[h][k], choice.way, now_.off[h][k], done_off_[h], [&] {
          return undress(left - 1, now_.off[h][k].when.from);
        });
    if (found || cut_) return found;
  }
  return false;
}

bool ShotSearch::leaf() {
  leaves_seen_ = true;
  // Whoever staffs a station only after the shot gets it ready before their first step there, as
  // late as they can.
  const std::size_t ready_before = now_.ready.size();
  bool whole = true;
  for (std::size_t h = 0; h < ground_.heads.size() && whole; ++h) {
    for (std::size_t k = 0; k < ground_.off[h].size() && whole; ++k) {
      const ChainStep& step = ground_.off[h][k];
      const PersonId who = now_.off[h][k].by;
      if (!who.valid() || step.ready == Minutes{0} || ready_of(who, step.station)) continue;
      Minute first = kNever;
      for (std::size_t g = 0; g < ground_.heads.size(); ++g) {
        for (std::size_t q = 0; q < ground_.off[g].size(); ++q) {
          if (now_.off[g][q].by == who && ground_.off[g][q].station == step.station) {
            first = std::min(first, now_.off[g][q].when.from);
          }
        }
      }
      const auto& free = ground_.frame.free[who];
      const Minute least =
          ground_.reach(free[static_cast<std::size_t>(diaries_[who].window)], step.place);
      Minute start = first - step.ready;
      while (start >= least) {
        const Minute next = conflict(who, step.place, {start, start + step.ready}, true);
        if (next == start) break;
        start = next;
      }
      whole = start >= least;
      if (!whole) break;
      now_.ready.push_back({who, step.station, {start, start + step.ready}});
      engage(who, now_.ready.back().when, step.place);
    }
  }
  const bool found = take_(now_, whole);
  while (now_.ready.size() > ready_before) {
    disengage(now_.ready.back().who);
    now_.ready.pop_back();
  }
  return found;
}

}  // namespace gp::conflict
