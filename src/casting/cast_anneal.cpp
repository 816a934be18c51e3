#include "casting/cast_anneal.h"

#include <algorithm>
#include <cmath>

namespace gp {
namespace {

constexpr double kCold = 0.06;  ///< at the end, as `hot`
// of so many moves: other heads below the first, other moments below the second, ...
constexpr std::size_t kKinds = 1000;
constexpr std::size_t kHeads = 850;
constexpr std::size_t kMoments = 925;
constexpr std::size_t kParts = 975;
constexpr int kNobody = -1;
constexpr std::int64_t kTold = 20;  ///< times of all moves

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

/// A draw of the exponential distribution with mean 1, without std::log, which machines round as
/// they like.
double patience(Random& random) {
  int exponent = 0;
  const double mantissa = std::frexp(1.0 - random.unit(), &exponent);
  const double x = (1.0 - mantissa) / (1.0 + mantissa);  // -ln m = 2 artanh x, to 3 in 1,000
  return 2 * x * (1 + x * x / 3) - 0.6931471805599453 * exponent;
}

}  // namespace

CastAnneal::CastAnneal(const CastProblem& problem)
    : problem_(problem), liked_by_(liked_by(problem)) {
  any_friends_ =
      std::any_of(liked_by_.begin(), liked_by_.end(), [](const auto& by) { return !by.empty(); });
  rows_in_.resize(problem.scenes.size());
  for (std::size_t s = 0; s < problem.scenes.size(); ++s) {
    const auto& scene = problem.scenes[s];
    if (scene.openings.size() > 1) choice_.push_back(s);
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      rows_in_[s].push_back(rows_.size());
      if (scene.places[k].part < 0) {
        seats_.insert(seats_.end(), at(scene.places[k].people), rows_.size());
      }
      rows_.push_back({s, k, &scene.places[k], at(scene.group) * at(problem.people), may_.size()});
      for (const auto& opening : scene.openings) {
        const std::size_t first = may_.size();
        may_.resize(first + at(problem.people), 0);
        for (const int p : opening.candidates[k]) may_[first + at(p)] = 1;
      }
    }
  }
  for (std::size_t r = 0; r < problem.parts.size(); ++r) {
    const auto& part = problem.parts[r];
    if (part.fixed < 0 && part.candidates.size() > 1 && !part.places.empty()) free_.push_back(r);
    part_may_.emplace_back(at(problem.people), char{0});
    for (const int p : part.candidates) part_may_.back()[at(p)] = 1;
  }
}

bool CastAnneal::may(std::size_t row, int person) const {
  return may_at(row, opening_[rows_[row].scene], person);
}

bool CastAnneal::may_at(std::size_t row, int opening, int person) const {
  return may_[rows_[row].may + at(opening) * at(problem_.people) + at(person)] != 0;
}

const std::vector<int>& CastAnneal::candidates(std::size_t row) const {
  const Row& it = rows_[row];
  return problem_.scenes[it.scene].openings[at(opening_[it.scene])].candidates[it.places];
}

/// Where they are at the time of this row; -1: nowhere.
int& CastAnneal::row_of(std::size_t row, int person) {
  return taken_[rows_[row].group + at(person)];
}

/// Friendships between somebody and those who are in the scene, in points.
std::int64_t CastAnneal::ties(const Row& row, int person) const {
  if (!any_friends_) return 0;
  std::int64_t number = 0;
  const int* const group = &taken_[row.group];
  for (const auto* others : {&problem_.friends[at(person)], &liked_by_[at(person)]}) {
    for (const int other : *others) {
      if (group[other] >= 0 && rows_[at(group[other])].scene == row.scene) ++number;
    }
  }
  return number * problem_.friend_worth;
}

/// What their coming would add, the empty place that it fills taken off.
std::int64_t CastAnneal::comes_for(std::size_t row, int person) const {
  const Row& it = rows_[row];
  return it.of->wish[at(person)] + one_more_[at(person)] - ties(it, person) - it.of->missing;
}

void CastAnneal::come(std::size_t row, int person) {
  cost_ += comes_for(row, person);
  one_more_[at(person)] += 2 * problem_.burden[at(person)];
  row_of(row, person) = static_cast<int>(row);
  in_[row].push_back(person);
  done_.push_back({Done::What::came, row, person});
}

void CastAnneal::leave(std::size_t row, int person) {
  in_[row].erase(std::find(in_[row].begin(), in_[row].end(), person));
  row_of(row, person) = -1;
  one_more_[at(person)] -= 2 * problem_.burden[at(person)];
  cost_ -= comes_for(row, person);
  done_.push_back({Done::What::left, row, person});
}

void CastAnneal::undo() {
  std::vector<Done> back;
  back.swap(done_);
  for (auto it = back.rbegin(); it != back.rend(); ++it) {
    switch (it->what) {
      case Done::What::came:
        leave(it->row, it->was);
        break;
      case Done::What::left:
        come(it->row, it->was);
        break;
      case Done::What::moved:
        opening_[it->row] = it->was;
        break;
      case Done::What::given:
        part_[it->row] = it->was;
        break;
    }
  }
  done_.clear();
}

void CastAnneal::take_over(const CastSolution& it) {
  part_ = it.part;
  opening_ = it.opening;
  in_.assign(rows_.size(), {});
  taken_.assign(at(problem_.groups) * at(problem_.people), -1);
  one_more_.assign(problem_.burden.begin(), problem_.burden.end());
  for (std::size_t row = 0; row < rows_.size(); ++row) {
    in_[row] = it.filled[rows_[row].scene][rows_[row].places];
    for (const int p : in_[row]) {
      row_of(row, p) = static_cast<int>(row);
      one_more_[at(p)] += 2 * problem_.burden[at(p)];
    }
  }
  cost_ = cast_cost(problem_, it);
  done_.clear();
}

CastSolution CastAnneal::solution() const {
  CastSolution it;
  it.part = part_;
  it.opening = opening_;
  it.filled.resize(problem_.scenes.size());
  for (std::size_t s = 0; s < it.filled.size(); ++s) {
    for (const std::size_t row : rows_in_[s]) {
      it.filled[s].push_back(in_[row]);
      std::sort(it.filled[s].back().begin(), it.filled[s].back().end());
    }
  }
  it.cost = cast_cost(problem_, it);
  return it;
}

/// Fills what is empty with the cheapest who may and are in nothing else then.
void CastAnneal::refill(std::size_t row) {
  const Row& it = rows_[row];
  int empty = it.of->people - static_cast<int>(in_[row].size());
  // with friends, who comes first makes others cheaper
  const int at_once = any_friends_ ? 1 : empty;
  const int* const taken = &taken_[it.group];
  const std::int32_t* const wish = it.of->wish.data();
  const std::int64_t* const one_more = one_more_.data();
  while (empty > 0) {
    cheapest_.clear();
    for (const int p : candidates(row)) {
      if (taken[p] >= 0) continue;
      const std::int64_t cost = wish[p] + one_more[p] - ties(it, p);
      // the cheapest first, as many as can come
      if (static_cast<int>(cheapest_.size()) == at_once) {
        if (cost >= cheapest_.back().first) continue;
        cheapest_.pop_back();
      }
      const std::pair<std::int64_t, int> here{cost, p};
      cheapest_.insert(std::upper_bound(cheapest_.begin(), cheapest_.end(), here), here);
    }
    if (cheapest_.empty()) return;
    for (const auto& [cost, p] : cheapest_) come(row, p);
    empty -= static_cast<int>(cheapest_.size());
    if (at_once > 1) return;
  }
}

/// Whoever has a part is in it where they can be; who can no longer be there is not.
void CastAnneal::seat_parts(std::size_t scene) {
  for (const std::size_t row : rows_in_[scene]) {
    const int part = rows_[row].of->part;
    if (part < 0) continue;
    const int who = part_[at(part)];
    if (!in_[row].empty() && (in_[row].front() != who || !may(row, who))) {
      leave(row, int{in_[row].front()});
    }
    if (who < 0 || !in_[row].empty() || !may(row, who)) continue;
    const int other = row_of(row, who);
    if (other >= 0) {
      if (rows_[at(other)].of->part >= 0) continue;  // another part then
      leave(at(other), who);
      come(row, who);
      refill(at(other));
      continue;
    }
    come(row, who);
  }
}

bool CastAnneal::move_scene(std::size_t scene, int opening) {
  if (opening == opening_[scene]) return false;
  done_.push_back({Done::What::moved, scene, opening_[scene]});
  opening_[scene] = opening;
  for (const std::size_t row : rows_in_[scene]) {
    for (std::size_t i = in_[row].size(); i-- > 0;) {
      if (!may(row, in_[row][i])) leave(row, int{in_[row][i]});
    }
  }
  seat_parts(scene);
  for (const std::size_t row : rows_in_[scene]) {
    if (rows_[row].of->part < 0) refill(row);
  }
  return true;
}

bool CastAnneal::other_head(Random& random) {
  if (seats_.empty()) return false;
  const std::size_t row = seats_[random.index(seats_.size())];
  const auto& others = candidates(row);
  if (others.empty()) return false;
  const bool empty = static_cast<int>(in_[row].size()) < rows_[row].of->people;
  const int now = empty ? kNobody : in_[row][random.index(in_[row].size())];
  const int next = others[random.index(others.size())];
  const int other = row_of(row, next);
  if (other == static_cast<int>(row)) return false;
  if (other >= 0) {
    if (rows_[at(other)].of->part >= 0) return false;
    leave(at(other), next);
  }
  if (now != kNobody) leave(row, now);
  come(row, next);
  if (other < 0) return true;
  if (now != kNobody && may(at(other), now)) {
    come(at(other), now);
  } else {
    refill(at(other));
  }
  return true;
}

bool CastAnneal::other_moment(Random& random) {
  if (choice_.empty()) return false;
  const std::size_t scene = choice_[random.index(choice_.size())];
  return move_scene(scene, static_cast<int>(random.index(problem_.scenes[scene].openings.size())));
}

bool CastAnneal::give_part(std::size_t part, int person, Random& random) {
  for (const int other : problem_.parts[part].apart) {
    if (part_[at(other)] == person) return false;
  }
  done_.push_back({Done::What::given, part, part_[part]});
  part_[part] = person;
  for (const auto& [s, k] : problem_.parts[part].places) {
    const std::size_t scene = at(s);
    const auto& openings = problem_.scenes[scene].openings;
    if (!may(rows_in_[scene][at(k)], person)) {
      // the first moment from any on that suits this person and whoever has another part there
      const std::size_t first = random.index(openings.size());
      for (std::size_t i = 0; i < openings.size(); ++i) {
        const int o = static_cast<int>((first + i) % openings.size());
        bool suits = true;
        for (const std::size_t row : rows_in_[scene]) {
          const int its = rows_[row].of->part;
          if (its < 0 || part_[at(its)] < 0) continue;
          suits = suits && may_at(row, o, part_[at(its)]);
        }
        if (!suits) continue;
        move_scene(scene, o);
        break;
      }
    }
    seat_parts(scene);
  }
  return true;
}

bool CastAnneal::other_person(Random& random) {
  if (free_.empty()) return false;
  const std::size_t part = free_[random.index(free_.size())];
  const auto& may = problem_.parts[part].candidates;
  const int person = may[random.index(may.size())];
  return person != part_[part] && give_part(part, person, random);
}

bool CastAnneal::exchange_parts(Random& random) {
  if (free_.size() < 2) return false;
  const std::size_t one = free_[random.index(free_.size())];
  const std::size_t two = free_[random.index(free_.size())];
  const int first = part_[one];
  const int second = part_[two];
  if (first == second || first < 0 || second < 0) return false;
  if (part_may_[one][at(second)] == 0 || part_may_[two][at(first)] == 0) return false;
  // the second part is nobody's meanwhile
  done_.push_back({Done::What::given, two, second});
  part_[two] = -1;
  for (const auto& place : problem_.parts[two].places) seat_parts(at(place.first));
  return give_part(one, second, random) && give_part(two, first, random);
}

bool CastAnneal::any_move(Random& random) {
  const std::size_t kind = random.index(kKinds);
  if (kind < kHeads) return other_head(random);
  if (kind < kMoments) return other_moment(random);
  if (kind < kParts) return other_person(random);
  return exchange_parts(random);
}

void CastAnneal::better(CastSolution& it,
                        std::int64_t moves,
                        double hot,
                        Random& random,
                        Stop& stop,
                        const Tell& tell) {
  take_over(it);
  std::int64_t usual = 1;
  for (const std::int32_t burden : problem_.burden) usual += burden;
  const double scale =
      2.0 * static_cast<double>(usual) / static_cast<double>(std::max(1, problem_.people));
  std::int64_t best = it.cost;
  Kept kept;
  for (std::int64_t move = 0; move < moves; ++move) {
    if (stop.now()) break;
    const double share = static_cast<double>(move) / static_cast<double>(moves);
    if (tell && move % std::max<std::int64_t>(1, moves / kTold) == 0) tell(share, best);
    // from `hot` to kCold, quickly at first
    const double heat = scale * hot / (1 + share * share * (hot / kCold - 1));
    const std::int64_t before = cost_;
    done_.clear();
    const bool some = any_move(random);
    if (done_.empty()) continue;
    const auto worse = static_cast<double>(cost_ - before);
    if (!some || (worse > 0 && worse > heat * patience(random))) {
      undo();
      continue;
    }
    if (cost_ < best) {
      best = cost_;
      kept.part = part_;
      kept.opening = opening_;
      kept.in = in_;
    }
  }
  if (best == it.cost) return;
  part_.swap(kept.part);
  opening_.swap(kept.opening);
  in_.swap(kept.in);
  it = solution();
}

}  // namespace gp
