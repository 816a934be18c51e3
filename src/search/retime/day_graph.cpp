#include "search/retime/day_graph.h"

#include "search/stays.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace gp {

class DayGraph::Loader {
 public:
  Loader(DayGraph& result, const Problem& problem, const Ground& ground, const DayPlan& plan)
      : result_(result),
        problem_(problem),
        film_(problem.production),
        ground_(ground),
        frame_(*ground.frame),
        plan_(plan),
        on_(result.part_ == ChainPart::on) {}

  void load() {
    queues_.resize(film_.people.size());
    for (const StationId station : film_.stations.ids()) {
      result_.first_chair_.push_back(queues_.size());
      queues_.resize(queues_.size() + static_cast<std::size_t>(film_.stations[station].places));
    }
    for (const Stay& stay : plan_.people) stays_[stay.person] = &stay;
    find_scarce_items();
    add_scenes();
    add_meals();
    add_readying();
    add_steps();
    join_chains();
    join_readying();
    fill_queues();
    add_aim();
    std::vector<std::vector<std::int32_t>> ways(film_.places.size());
    for (const PlaceId a : film_.places.ids()) {
      for (const PlaceId b : film_.places.ids())
        ways[a.index()].push_back(count(ground_.way(a, b)));
    }
    result_.graph_ =
        std::make_unique<RetimeGraph>(std::move(nodes_), std::move(queues_), std::move(ways));
  }

 private:
  /// When it starts in the graph's time.
  [[nodiscard]] std::int32_t graph_start(Minute from, Minute until) const {
    return on_ ? count(from) : -count(until);
  }
  static std::int32_t index_of(PlaceId place) {
    return place.valid() ? static_cast<std::int32_t>(place.index()) : -1;
  }
  static std::int32_t queue_of(PersonId who) { return static_cast<std::int32_t>(who.index()); }

  std::size_t add(Minute from, Minute until, PlaceId place, PersonId who, PersonId helper) {
    RetimeNode node;
    node.length = count(until - from);
    node.where = index_of(place);
    node.queue[0] = queue_of(who);
    if (helper.valid()) node.queue[1] = queue_of(helper);
    node.fixed = true;
    node.lo = graph_start(from, until);
    nodes_.push_back(node);
    starts_.push_back(node.lo);
    return nodes_.size() - 1;
  }

  void add_scenes() {
    for (const PlannedScene& scene : plan_.scenes) {
      const PlaceId place = frame_.scene_place[scene.scene];
      for (const CastEntry& entry : scene.cast) {
        const Role& role = film_.roles[entry.role];
        for (const PersonId who : entry.people) {
          const std::size_t node = add(scene.shoot_at, scene.until, place, who, PersonId());
          if (role.look_kind == LookKind::look) {
            shots_[who].push_back({scene.shoot_at, scene.until, role.look, node});
          }
        }
      }
      for (const CrewEntry& entry : scene.crew) {
        for (const PersonId who : entry.people) {
          add(scene.set_at, scene.until, place, who, PersonId());
        }
      }
    }
  }

  void add_meals() {
    for (const PlannedMeal& meal : plan_.meals) {
      for (const PersonId who : meal.people) {
        const std::size_t node = add(meal.from, meal.until, PlaceId(), who, PersonId());
        nodes_[node].nowhere = true;
        eats_.insert({who, meal.meal});
      }
    }
  }

  void add_readying() {
    for (std::size_t i = 0; i < plan_.ready.size(); ++i) {
      const Ready& row = plan_.ready[i];
      const PlaceId place = frame_.station_place[row.station];
      const std::size_t node = add(row.from, row.until, place, row.person, PersonId());
      readied_[{row.person, row.station}] = node;
      if (!on_) continue;
      const Minute open = frame_.open[row.station].from;
      free_node(node, std::max(earliest(row.person, place), count(open)));
      result_.origins_.push_back({node, false, i});
    }
  }

  void add_steps() {
    for (std::size_t i = 0; i < plan_.steps.size(); ++i) {
      const PlannedStep& row = plan_.steps[i];
      const PlaceId place = frame_.station_place[row.station];
      const std::size_t node = add(row.from, row.until, place, row.person, row.by);
      step_nodes_.push_back(node);
      const std::size_t chairs = result_.first_chair_[row.station.index()];
      nodes_[node].queue[2] = static_cast<std::int32_t>(chairs) + row.place - 1;
      if (row.part != result_.part_) continue;
      result_.origins_.push_back({node, true, i});
      std::int32_t lo = earliest(row.person, place);
      const Span open = frame_.open[row.station];
      lo = std::max(lo, on_ ? count(open.from) : -count(open.until));
      if (row.by.valid()) lo = std::max(lo, earliest(row.by, place));
      lo = std::max(lo, look_limit(row));
      free_node(node, lo);
      nodes_[node].hi = on_ ? count(open.until) : -count(open.from);
      const int places = film_.stations[row.station].places;
      for (int k = 0; places > 1 && k < places; ++k) {
        nodes_[node].chairs.push_back(static_cast<std::int32_t>(chairs) + k);
      }
      if (row.by.valid()) add_helpers(row, node, place);
    }
  }

  /// Lets a node move from `lo` on; what already stands before it stays possible.
  void free_node(std::size_t node, std::int32_t lo) {
    nodes_[node].fixed = false;
    nodes_[node].lo = std::min(lo, starts_[node]);
    nodes_[node].hi = 1'000'000;
  }

  void add_helpers(const PlannedStep& row, std::size_t node, PlaceId place) {
    const auto& staff = problem_.staff.of(row.look, !on_, static_cast<std::size_t>(row.step));
    std::int32_t lo = nodes_[node].lo;
    std::vector<std::int32_t> helpers;
    for (const PersonId who : staff) {
      if (who == row.person || !stays_.contains(who)) continue;
      if (film_.stations[row.station].set_minutes > Minutes{0}) {
        const auto readied = readied_.find({who, row.station});
        if (readied == readied_.end()) continue;
        if (ready_until(who, row.station) > row.from) continue;
      }
      const std::int32_t least = earliest(who, place);
      if (least > starts_[node]) continue;
      lo = std::max(lo, least);
      helpers.push_back(queue_of(who));
    }
    if (helpers.size() < 2) return;
    nodes_[node].helpers = std::move(helpers);
    nodes_[node].lo = std::min(lo, starts_[node]);
  }

  [[nodiscard]] Minute ready_until(PersonId who, StationId station) const {
    for (const Ready& row : plan_.ready) {
      if (row.person == who && row.station == station) return row.until;
    }
    return kNever;
  }

  /// The least graph start of an activity of theirs there that keeps their stay within the hours
  /// they are free and away from meals they do not eat.
  std::int32_t earliest(PersonId who, PlaceId place) {
    const auto known = earliest_.find({who, place});
    if (known != earliest_.end()) return known->second;
    const Stay& stay = *stays_.at(who);
    Span free{kAlwaysBefore, kNever};
    for (const Span& span : frame_.free[who]) {
      if (span.covers({stay.call, stay.released})) free = span;
    }
    for (std::size_t m = 0; m < frame_.meals.size(); ++m) {
      if (eats_.contains({who, frame_.meals[m].name})) continue;
      const auto& held = ground_.together[m];
      if (frame_.meals[m].together && !held) continue;
      const Span meal = frame_.meals[m].together ? *held : frame_.meals[m].between;
      if (stay.call > meal.from) {
        free.from = std::max(free.from, meal.from + Minutes{1});
      } else if (stay.released < meal.until) {
        free.until = std::min(free.until, meal.until - Minutes{1});
      }
    }
    std::int32_t least = -1'000'000;
    if (!on_) {
      least = -count(free.until);
    } else if (free.from != kAlwaysBefore) {
      constexpr int kTries = 24 * 60;  // round_to is never more
      const Minutes lead = ground_.lead(place);
      Minute start = free.from + lead;
      for (int k = 0; k < kTries; ++k, start += Minutes{1}) {
        const auto call = frame_.call_for(start, lead);
        if (call && *call >= free.from) break;
      }
      least = count(start);
    }
    earliest_[{who, place}] = least;
    return least;
  }

  /// Items are held from the first step of a look to the last: where some are scarce, no longer
  /// than now.
  void find_scarce_items() {
    std::map<ItemId, int> wanted;
    for (const Wear& wear : plan_.wears) {
      for (const ItemId item : wear.items) ++wanted[item];
    }
    for (const PlannedScene& scene : plan_.scenes) {
      for (const Prop& prop : film_.scenes[scene.scene].props) wanted[prop.item] += prop.count;
    }
    for (const auto& [item, number] : wanted) {
      if (number > film_.items[item].count) scarce_.insert(item);
    }
  }

  [[nodiscard]] const Wear* wear_of(const PlannedStep& row) const {
    for (const Wear& wear : plan_.wears) {
      if (wear.person == row.person && wear.look == row.look && wear.from <= row.from &&
          wear.until >= row.until) {
        return &wear;
      }
    }
    return nullptr;
  }

  /// What the look itself asks of a step's least start.
  [[nodiscard]] std::int32_t look_limit(const PlannedStep& row) const {
    const Wear* wear = wear_of(row);
    if (wear == nullptr) return graph_start(row.from, row.until);
    std::int32_t least = -1'000'000;
    const bool outermost =
        on_ ? row.step == 0 : row.step + 1 == static_cast<int>(film_.looks[row.look].off.size());
    const bool scarce = std::any_of(wear->items.begin(), wear->items.end(), [&](ItemId item) {
      return scarce_.contains(item);
    });
    if (outermost && scarce) least = graph_start(row.from, row.until);
    for (const Wear& other : plan_.wears) {
      if (other.person != row.person) continue;
      if (on_ && other.until <= wear->from) {
        const auto& off = film_.looks[other.look].off;
        const Minutes wait = off.empty() ? Minutes{0} : off.back().then_wait;
        least = std::max(least, count(other.until + wait));
      }
      if (!on_ && other.from >= wear->until) {
        const Minutes wait = film_.looks[row.look].off.back().then_wait;
        least = std::max(least, -count(other.from - wait));
      }
    }
    const auto& holds = film_.looks[row.look].holds_for;
    const bool last = row.step + 1 == static_cast<int>(film_.looks[row.look].steps.size());
    if (on_ && last && holds) {
      for (const Shot& shot : shots_of(row.person)) {
        if (shot.look == row.look && shot.from >= wear->from && shot.until <= wear->until) {
          least = std::max(least, count(shot.until - *holds) - count(row.until - row.from));
        }
      }
    }
    return least;
  }

  struct Shot {
    Minute from, until;
    LookId look;
    std::size_t node;
  };
  [[nodiscard]] const std::vector<Shot>& shots_of(PersonId who) const {
    static const std::vector<Shot> kNone;
    const auto found = shots_.find(who);
    return found == shots_.end() ? kNone : found->second;
  }

  void join(std::size_t before, std::size_t after, Minutes wait) {
    nodes_[before].next.push_back({after, count(wait)});
  }

  void join_chains() {
    for (std::size_t i = 0; i < plan_.steps.size(); ++i) {
      const PlannedStep& row = plan_.steps[i];
      if (row.part != result_.part_) continue;
      const Look& look = film_.looks[row.look];
      const auto step = static_cast<std::size_t>(row.step);
      const Wear* wear = wear_of(row);
      if (wear == nullptr) {  // nothing to hold it by: it stays
        nodes_[step_nodes_[i]].fixed = true;
        continue;
      }
      const auto& chain = on_ ? look.steps : look.off;
      for (std::size_t j = 0; j < plan_.steps.size(); ++j) {
        const PlannedStep& other = plan_.steps[j];
        if (other.part != row.part || other.person != row.person || other.look != row.look ||
            other.step != row.step + 1 || other.from < wear->from || other.until > wear->until) {
          continue;
        }
        const Minutes wait = chain[step].then_wait;
        if (on_) {
          join(step_nodes_[i], step_nodes_[j], wait);
        } else {
          join(step_nodes_[j], step_nodes_[i], wait);
        }
      }
      if (on_ ? step + 1 == chain.size() : step == 0) join_shots(row, *wear, step_nodes_[i]);
    }
  }

  void join_shots(const PlannedStep& row, const Wear& wear, std::size_t node) {
    const Shot* nearest = nullptr;
    for (const Shot& shot : shots_of(row.person)) {
      if (shot.look != row.look || shot.from < wear.from || shot.until > wear.until) continue;
      const bool nearer =
          nearest == nullptr || (on_ ? shot.from < nearest->from : shot.until > nearest->until);
      if (nearer) nearest = &shot;
    }
    if (nearest == nullptr) {
      nodes_[node].fixed = true;
      return;
    }
    const auto& steps = film_.looks[row.look].steps;
    join(node,
         nearest->node,
         on_ ? steps[static_cast<std::size_t>(row.step)].then_wait : Minutes{0});
  }

  /// Whoever helps at a station, or may, has it ready before.
  void join_readying() {
    for (std::size_t i = 0; i < plan_.steps.size(); ++i) {
      const PlannedStep& row = plan_.steps[i];
      const std::size_t node = step_nodes_[i];
      std::set<std::int32_t> helpers(nodes_[node].helpers.begin(), nodes_[node].helpers.end());
      if (row.by.valid()) helpers.insert(queue_of(row.by));
      for (const std::int32_t helper : helpers) {
        const PersonId who(static_cast<std::size_t>(helper));
        const auto found = readied_.find({who, row.station});
        if (found == readied_.end()) continue;
        if (on_) {
          join(found->second, node, Minutes{0});
        } else {
          join(node, found->second, Minutes{0});
        }
      }
    }
  }

  void fill_queues() {
    for (std::size_t node = 0; node < nodes_.size(); ++node) {
      for (const std::int32_t queue : nodes_[node].queue) {
        if (queue >= 0) queues_[static_cast<std::size_t>(queue)].push_back(node);
      }
    }
    for (auto& line : queues_) {
      std::sort(line.begin(), line.end(), [&](std::size_t a, std::size_t b) {
        return std::tuple(starts_[a], starts_[a] + nodes_[a].length, a) <
               std::tuple(starts_[b], starts_[b] + nodes_[b].length, b);
      });
    }
  }

  void add_aim() {
    RetimeAim& aim = result_.aim_;
    for (const Stay& stay : plan_.people) {
      aim.people.push_back({queue_of(stay.person), film_.people[stay.person].weight});
    }
    aim.first_call_first = on_ && film_.aim == Aim::latest_first_call;
    if (!on_) {
      aim.call = [](std::int32_t start, std::int32_t) { return start; };
      return;
    }
    aim.call = [&ground = ground_](std::int32_t start, std::int32_t where) {
      const PlaceId place = where < 0 ? PlaceId() : PlaceId(static_cast<std::size_t>(where));
      const auto call = ground.frame->call_for(minute(start), ground.lead(place));
      // no clock shows such a call: as bad as can be
      return call ? count(*call) : start - 24 * 60;
    };
  }

  DayGraph& result_;
  const Problem& problem_;
  const Production& film_;
  const Ground& ground_;
  const DayFrame& frame_;
  const DayPlan& plan_;
  bool on_;
  std::vector<RetimeNode> nodes_;
  std::vector<std::int32_t> starts_;  ///< as planned, by node
  std::vector<std::vector<std::size_t>> queues_;
  std::vector<std::size_t> step_nodes_;  ///< by DayPlan::steps
  std::map<PersonId, const Stay*> stays_;
  std::map<PersonId, std::vector<Shot>> shots_;
  std::map<std::pair<PersonId, StationId>, std::size_t> readied_;
  std::map<std::pair<PersonId, PlaceId>, std::int32_t> earliest_;
  std::set<std::pair<PersonId, std::string>> eats_;
  std::set<ItemId> scarce_;
};

DayGraph::DayGraph(const Problem& problem,
                   const Ground& ground,
                   const DayPlan& plan,
                   ChainPart part)
    : part_(part) {
  Loader(*this, problem, ground, plan).load();
}

DayPlan DayGraph::moved(const DayPlan& plan) const {
  DayPlan result = plan;
  for (const Origin& origin : origins_) {
    const std::int32_t start = graph_->start(origin.node);
    const std::int32_t end = graph_->end(origin.node);
    const Minute from = minute(part_ == ChainPart::on ? start : -end);
    const Minute until = minute(part_ == ChainPart::on ? end : -start);
    if (!origin.is_step) {
      result.ready[origin.index].from = from;
      result.ready[origin.index].until = until;
      continue;
    }
    PlannedStep& step = result.steps[origin.index];
    step.from = from;
    step.until = until;
    const auto helper = graph_->queue_of(origin.node, 1);
    if (helper >= 0) step.by = PersonId(static_cast<std::size_t>(helper));
    const auto chair = static_cast<std::size_t>(graph_->queue_of(origin.node, 2));
    step.place = static_cast<int>(chair - first_chair_[step.station.index()]) + 1;
  }
  for (Wear& wear : result.wears) {
    // a look's chains are those that lay within the wear before
    const Wear before = wear;
    bool found_on = false;
    bool found_off = false;
    for (std::size_t i = 0; i < plan.steps.size(); ++i) {
      const PlannedStep& old = plan.steps[i];
      if (old.person != before.person || old.look != before.look || old.from < before.from ||
          old.until > before.until) {
        continue;
      }
      const PlannedStep& now = result.steps[i];
      if (now.part == ChainPart::on) {
        wear.from = found_on ? std::min(wear.from, now.from) : now.from;
        found_on = true;
      } else {
        wear.until = found_off ? std::max(wear.until, now.until) : now.until;
        found_off = true;
      }
    }
  }
  std::erase_if(result.ready, [&](const Ready& row) {
    return std::none_of(result.steps.begin(), result.steps.end(), [&](const PlannedStep& step) {
      return step.by == row.person && step.station == row.station;
    });
  });
  put_in_order(result);
  return result;
}

}  // namespace gp
