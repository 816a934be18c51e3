#include "explain/why/step_hold.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace gp::why {
namespace {

/// The beginnings as spans, in order and merged.
std::vector<Span> spans_of(const std::set<Minute>& starts) {
  std::vector<Span> spans;
  for (const Minute start : starts) {
    if (!spans.empty() && spans.back().until == start) {
      spans.back().until += Minutes{1};
    } else {
      spans.push_back({start, start + Minutes{1}});
    }
  }
  return spans;
}

class StepQuestion {
 public:
  StepQuestion(const PlannedDay& day, std::size_t index, PersonId helper)
      : day_(day),
        index_(index),
        helper_(helper),
        frame_(day.frame_of(index)),
        step_(day.day.steps[index]),
        length_(step_.until - step_.from),
        there_(day.frame.station_place[step_.station]),
        wearer_rows_(day.without(step_.person, WhyEngagement::own_step, index)) {
    for (const PlannedStep& other : day.day.steps) {
      if (&other != &step_ && other.station == step_.station) others_.push_back(&other);
    }
    if (!frame_.written->by.empty()) {
      for (const PersonId person : day.film.people.ids()) {
        if (!day.able(person, step_, *frame_.written)) continue;
        if (day.stay(person) == nullptr) continue;
        helpers_.push_back(person);
      }
    }
  }

  StepHold answer() {
    find_limit();
    // of a long day at a large station most steps are nowhere near
    std::erase_if(others_, [&](const PlannedStep* other) {
      return other->until <= step_.from || other->from >= limit_ + length_;
    });
    std::map<WhyFact, std::set<Minute>> ruled_out;
    const Minute first = helper_.valid() ? step_.from : step_.from + Minutes{1};
    for (Minute start = first; start <= limit_; start += Minutes{1}) {
      const auto fact = stands_against(start);
      if (fact) {
        ruled_out[*fact].insert(start);
      } else {
        ruled_out.clear();  // only what rules out later ones is told
      }
    }
    for (const auto& [fact, starts] : ruled_out) tell(fact, starts);
    for (WhyCause& cause : limit_causes_) hold_.causes.push_back(std::move(cause));
    return std::move(hold_);
  }

 private:
  /// The way counts from the end of this step to the beginning of the next engagement of its chain.
  void limit_by(Minute next, PlaceId place, Minutes wait, WhyCause cause, const std::string& what) {
    const Minutes way = day_.film.way(there_, place);
    const Minute latest = next - std::max(wait, way) - length_;
    cause.moment = next;
    cause.text = what + " at " + day_.at(next);
    if (wait > Minutes{0} && wait >= way) {
      cause.text = minutes_text(wait) + " to dry; " + cause.text;
    } else if (way > Minutes{0}) {
      cause.text = minutes_text(way) + "' way; " + cause.text;
      if (way == Minutes{1})
        cause.text.replace(0, std::string("one minute'").size(), "one minute's");
    }
    add_limit(latest, std::move(cause));
  }

  void add_limit(Minute latest, WhyCause cause) {
    if (latest < limit_) limit_causes_.clear();
    if (latest <= limit_) limit_causes_.push_back(std::move(cause));
    limit_ = std::min(limit_, latest);
  }

  void find_limit() {
    const Minutes wait = frame_.written->then_wait;
    WhyCause cause;
    cause.person = step_.person;
    if (frame_.next != nullptr) {
      cause.fact = WhyFact::next_step;
      cause.station = frame_.next->station;
      limit_by(frame_.next->from,
               day_.frame.station_place[frame_.next->station],
               wait,
               cause,
               day_.film.stations[frame_.next->station].shown());
    } else if (step_.part == ChainPart::on) {
      if (frame_.first != nullptr) {
        cause.fact = WhyFact::first_scene;
        cause.scene = frame_.first->scene;
        limit_by(frame_.first->shoot_at,
                 day_.frame.scene_place[frame_.first->scene],
                 wait,
                 cause,
                 "shot of \"" + day_.film.scenes[frame_.first->scene].shown() + "\"");
      }
    } else {
      for (const Wear& wear : day_.day.wears) {
        if (wear.person != step_.person || wear.from < step_.until) continue;
        cause.fact = WhyFact::next_look;
        cause.moment = wear.from;
        cause.text = day_.film.looks[wear.look].shown() + " goes on at " + day_.at(wear.from);
        add_limit(wear.from - length_, cause);
      }
      const Minute released = day_.stay(step_.person)->released;
      cause = {};
      cause.fact = WhyFact::stays_longer;
      cause.person = step_.person;
      cause.moment = released;
      cause.text = day_.name(step_.person) + " goes at " + day_.at(released);
      add_limit(released - length_, cause);
    }
    if (const auto& hours = day_.film.stations[step_.station].open) {
      const Span open = day_.frame.clock.elapsed(*hours);
      cause = {};
      cause.fact = WhyFact::station_closed;
      cause.station = step_.station;
      cause.moment = open.until;
      cause.text = day_.film.stations[step_.station].shown() + " closes at " + day_.at(open.until);
      add_limit(open.until - length_, cause);
    }
  }

  [[nodiscard]] bool place_free(Minute start) const {
    const auto places = static_cast<std::size_t>(day_.film.stations[step_.station].places);
    std::vector<bool> taken(places + 1);
    std::size_t free = places;
    for (const PlannedStep* other : others_) {
      if (other->from >= start + length_ || start >= other->until) continue;
      const auto place = static_cast<std::size_t>(other->place);
      if (place > places || taken[place]) continue;
      taken[place] = true;
      --free;
    }
    return free > 0;
  }

  [[nodiscard]] Rows rows_of_helper(PersonId helper) const {
    return helper == step_.by ? day_.without(helper, WhyEngagement::staffs, index_)
                              : day_.rows(helper);
  }

  /// Whether the helper could do it then; the row in the way, if it is one.
  [[nodiscard]] bool can_help(PersonId helper, Minute start) const {
    Rows rows = rows_of_helper(helper);
    const Span time{start, start + length_};
    if (day_.in_the_way(rows, time, there_)) return false;
    if (day_.film.stations[step_.station].set_minutes > Minutes{0}) {
      const auto ready = day_.ready_from(helper, step_.station);
      if (!ready || *ready > start) return false;
    }
    insert(rows, {WhyEngagement::staffs, time, there_, index_});
    return day_.consistent(rows) && day_.stays_within(helper, rows);
  }

  [[nodiscard]] std::optional<PersonId> helper_at(Minute start) const {
    // the one who does it now first: the fewest things change
    if (start != step_.from && step_.by.valid() && can_help(step_.by, start)) return step_.by;
    for (const PersonId helper : helpers_) {
      if (helper == step_.by) continue;
      if (!day_.consistent(day_.freed_of(step_.by, index_))) return std::nullopt;
      if (can_help(helper, start)) return helper;
    }
    return std::nullopt;
  }

  /// What rules out that beginning; none: it is an option (and noted as one).
  std::optional<WhyFact> stands_against(Minute start) {
    const Span time{start, start + length_};
    if (start != step_.from) {
      if (!day_.nameable(time)) return WhyFact::clock_change;
      if (day_.in_the_way(wearer_rows_, time, there_)) return WhyFact::own_time;
      Rows rows = wearer_rows_;
      insert(rows, {WhyEngagement::own_step, time, there_, index_});
      if (!day_.consistent(rows)) return WhyFact::own_time;
      if (!day_.stays_within(step_.person, rows)) return WhyFact::stays_longer;
      if (const auto item = item_needed(time.until)) return WhyFact::item_out;
      if (!place_free(start)) return WhyFact::place_taken;
    }
    PersonId by;
    if (!frame_.written->by.empty()) {
      const auto helper = helper_at(start);
      if (!helper) return helpers_.size() < 2 ? WhyFact::nobody_able : WhyFact::helper_busy;
      by = *helper;
    }
    hold_.options.push_back({start, by, helper_.valid() && by != helper_});
    return std::nullopt;
  }

  /// The item that somebody else needs before the look would be off; of the last step off alone.
  [[nodiscard]] std::optional<ItemId> item_needed(Minute until) const {
    if (step_.part == ChainPart::on || frame_.next != nullptr || frame_.wear == nullptr) {
      return std::nullopt;
    }
    std::map<ItemId, int> worn;
    for (const ItemId item : frame_.wear->items) ++worn[item];
    for (const auto& [item, count] : worn) {
      if (day_.runs_out(item, count, {frame_.wear->from, until}, frame_.wear, nullptr)) return item;
    }
    return std::nullopt;
  }

  void tell(WhyFact fact, const std::set<Minute>& starts) {
    WhyCause cause;
    cause.fact = fact;
    cause.starts = spans_of(starts);
    if (fact == WhyFact::place_taken) return tell_places(starts);
    if (fact == WhyFact::helper_busy || fact == WhyFact::nobody_able) return tell_helpers(starts);
    if (fact == WhyFact::own_time) {
      cause.person = step_.person;
      cause.text = day_.name(step_.person) + " " + rows_in_the_way(wearer_rows_, starts);
    } else if (fact == WhyFact::item_out) {
      cause.item = item_needed(*starts.rbegin() + length_).value_or(ItemId());
      cause.text = cause.item.valid() ? "somebody else needs " + day_.film.items[cause.item].shown()
                                      : "somebody else needs what is worn";
    } else if (fact == WhyFact::stays_longer) {
      cause.person = step_.person;
      cause.text = day_.name(step_.person) + " would have to stay longer";
    } else {
      cause.text = "the clock shows no such time that night";
    }
    hold_.causes.push_back(std::move(cause));
  }

  void tell_places(const std::set<Minute>& starts) {
    for (int place = 1; place <= day_.film.stations[step_.station].places; ++place) {
      std::vector<std::string> who;
      const PlannedStep* last = nullptr;
      const PlannedStep* first = nullptr;
      bool gap = false;
      for (const Minute start : starts) {
        for (const PlannedStep* other : others_) {
          if (other->place != place || other->from >= start + length_ || start >= other->until) {
            continue;
          }
          if (other == last) continue;
          if (std::find(told_.begin(), told_.end(), other) != told_.end()) continue;
          told_.push_back(other);
          who.push_back(day_.name(other->person));
          gap = gap || (last != nullptr && other->from != last->until);
          if (first == nullptr || other->from < first->from) first = other;
          if (last == nullptr || other->until > last->until) last = other;
        }
      }
      if (last == nullptr) continue;  // cannot be: every place was taken
      WhyCause cause;
      cause.fact = WhyFact::place_taken;
      cause.starts = spans_of(starts);
      cause.station = step_.station;
      cause.place = place;
      cause.moment = last->until;
      const bool from_now = first->from <= step_.from + Minutes{1};
      cause.text = "place " + std::to_string(place) +
                   (gap ? " has no room until "
                        : (from_now ? " is taken until "
                                    : " is taken from " + day_.at(first->from) + " until ")) +
                   day_.at(last->until) + " (" + listed(who, 3) + ")";
      hold_.causes.push_back(std::move(cause));
    }
  }

  /// "paints Anna until 08:10 and eats until 08:30"
  [[nodiscard]] std::string rows_in_the_way(const Rows& rows,
                                            const std::set<Minute>& starts) const {
    std::map<Minute, std::string> texts;  // by time
    for (const Minute start : starts) {
      const auto row = day_.in_the_way(rows, {start, start + length_}, there_);
      if (row) {
        texts[row->time.from] = day_.what(*row, step_.person) + " " + day_.span(row->time);
      }
    }
    if (texts.empty()) return "has no time for the ways";
    std::vector<std::string> in_order;
    for (const auto& [from, text] : texts) in_order.push_back(text);
    return listed(in_order, 3);
  }

  void tell_helpers(const std::set<Minute>& starts) {
    const std::string skill = frame_.written->by;
    bool others = false;
    for (const PersonId helper : helpers_) {
      const bool now = helper == step_.by;
      if (now && helpers_.size() < 2 && helper_.valid() && starts.size() == 1 &&
          *starts.begin() == step_.from) {
        continue;  // they do it themselves at that time
      }
      std::set<Minute> asked = starts;
      if (now) asked.erase(step_.from);
      if (asked.empty()) continue;
      others = others || !now;
      const Rows rows = rows_of_helper(helper);
      WhyCause cause;
      cause.fact = WhyFact::helper_busy;
      cause.person = helper;
      cause.station = step_.station;
      cause.starts = spans_of(asked);
      cause.text = day_.name(helper) + " " + helper_text(helper, rows, asked);
      hold_.causes.push_back(std::move(cause));
    }
    if (!others) {
      WhyCause cause;
      cause.fact = WhyFact::nobody_able;
      cause.station = step_.station;
      cause.starts = spans_of(starts);
      cause.text = "nobody else who is there that day can do it (" + skill + ")";
      hold_.causes.push_back(std::move(cause));
    }
  }

  [[nodiscard]] std::string helper_text(PersonId helper,
                                        const Rows& rows,
                                        const std::set<Minute>& starts) const {
    std::vector<std::string> texts;
    const auto add = [&](const std::string& text) {
      if (std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(text);
    };
    const Stay& stay = *day_.stay(helper);
    for (const Minute start : starts) {
      const Span time{start, start + length_};
      if (const auto row = day_.in_the_way(rows, time, there_)) {
        add(day_.what(*row, helper) + " " + day_.span(row->time));
        continue;
      }
      const auto ready = day_.ready_from(helper, step_.station);
      if (time.until > stay.released) {
        add("goes at " + day_.at(stay.released));
      } else if (day_.film.stations[step_.station].set_minutes > Minutes{0} &&
                 (!ready || *ready > start)) {
        add(ready ? "has the station ready at " + day_.at(*ready)
                  : "has not got the station ready that day");
      } else if (start < stay.call + day_.film.sign_in || rows.empty() ||
                 start < rows.front().time.from) {
        add("comes at " + day_.at(stay.call));
      } else {
        add("has no time for the ways");
      }
    }
    return listed(texts, 3);
  }

  const PlannedDay& day_;
  std::size_t index_;
  PersonId helper_;
  StepFrame frame_;
  const PlannedStep& step_;
  Minutes length_;
  PlaceId there_;
  Rows wearer_rows_;
  std::vector<const PlannedStep*> others_;
  std::vector<PersonId> helpers_;  ///< who is there that day and could, the present one included
  std::vector<const PlannedStep*> told_;
  Minute limit_ = kDayEnd;
  std::vector<WhyCause> limit_causes_;
  StepHold hold_;
};

}  // namespace

StepHold hold_of_step(const PlannedDay& day, std::size_t step, PersonId helper) {
  return StepQuestion(day, step, helper).answer();
}

}  // namespace gp::why
