#include "casting/solve_cast.h"

#include "base/random.h"
#include "casting/cast_anneal.h"
#include "casting/friend_wishes.h"
#include "casting/head_flow.h"

#include <algorithm>
#include <numeric>

namespace gp {
namespace {

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

constexpr std::int64_t kMovesPerHead = 40'000;  ///< of annealing, at effort 1
constexpr std::int64_t kMostMoves = 6'000'000;  ///< however many heads, at effort 1
constexpr int kRounds = 2;                      ///< that share them
constexpr double kHot = 2;                      ///< the first begins so hot, and the others
constexpr double kWarm = 1;
constexpr double kAnnealing = 0.75;           ///< of the time, about
constexpr std::int64_t kWork = 15'000;        ///< heads filled, at effort 1
constexpr std::int64_t kLeastFillings = 400;  ///< but no more heads than kLeastHeads for them
constexpr std::int64_t kLeastHeads = 6'000;
constexpr std::size_t kMostTried = 40;  ///< people for one part, the cheapest by a look
constexpr int kShaken = 3;              ///< parts at once

class CastSearch {
 public:
  CastSearch(const CastProblem& problem,
             const CastEffort& effort,
             Stop& stop,
             const CastProgress& progress)
      : problem_(problem),
        flow_(problem),
        friends_(problem),
        random_(effort.seed),
        stop_(stop),
        progress_(progress) {
    std::int64_t heads = 1;
    for (const auto& scene : problem.scenes) {
      for (const auto& places : scene.places) heads += places.people;
    }
    moves_ = static_cast<std::int64_t>(
        static_cast<double>(std::min(kMostMoves, kMovesPerHead * heads)) * effort.effort);
    allowed_ = std::max<std::int64_t>(
        std::clamp<std::int64_t>(kLeastHeads / heads, 6, kLeastFillings),
        static_cast<std::int64_t>(static_cast<double>(kWork) * effort.effort) / heads);
  }

  CastSolution run() {
    begin();
    fill(now_);
    best_ = now_;
    anneal();
    descend();
    while (more() && problem_.parts.size() + problem_.scenes.size() > 1) {
      now_ = best_;
      if (!shake()) break;
      if (!fill(now_)) break;
      descend();
    }
    // whoever can be in none of a part's scenes does not have it
    for (const int part : free_) {
      const auto& places = problem_.parts[at(part)].places;
      if (std::none_of(places.begin(), places.end(), [&](const auto& place) {
            return !best_.filled[at(place.first)][at(place.second)].empty();
          })) {
        best_.part[at(part)] = -1;
      }
    }
    return best_;
  }

 private:
  [[nodiscard]] bool more() { return made_ < allowed_ && !stop_.now_exactly(); }

  void keep() {
    if (now_.cost < best_.cost) best_ = now_;
  }

  /// \return false: stopped before that was done, `it` is not to be used
  bool fill(CastSolution& it) {
    ++made_;
    // the first has nothing to fall back on: it is finished
    if (!flow_.fill(it, {}, best_.part.empty() ? nullptr : &stop_)) return false;
    friends_.bring_together(flow_, it, stop_);
    tell(best_.part.empty() ? it.cost : std::min(it.cost, best_.cost));
    return true;
  }

  void tell(std::int64_t cost) const {
    if (!progress_) return;
    const double filled = static_cast<double>(made_) / static_cast<double>(allowed_);
    progress_(kAnnealing * annealed_ + (1 - kAnnealing) * std::min(1.0, filled), cost);
  }

  /// Everything at once, then the heads again at the least cost for what was found.
  void anneal() {
    CastAnneal annealing(problem_);
    for (int round = 0; round < kRounds && !stop_.now_exactly(); ++round) {
      const auto told = [&](double share, std::int64_t cost) {
        annealed_ = (round + share) / kRounds;
        tell(std::min(cost, best_.cost));
      };
      annealing.better(now_, moves_ / kRounds, round == 0 ? kHot : kWarm, random_, stop_, told);
      keep();
      annealed_ = static_cast<double>(round + 1) / kRounds;
      if (fill(now_)) keep();
      now_ = best_;
    }
  }

  // --- parts and openings to begin with ---

  [[nodiscard]] bool can_be(int scene, int places, int opening, int person) const {
    const auto& may = problem_.scenes[at(scene)].openings[at(opening)].candidates[at(places)];
    return std::binary_search(may.begin(), may.end(), person);
  }
  [[nodiscard]] bool goes_with_parts(const CastSolution& it, int part, int person) const {
    for (const int other : problem_.parts[at(part)].apart) {
      if (it.part[at(other)] == person) return false;
    }
    return true;
  }

  /// What the part would cost with this person, by a look: its own scenes alone.
  [[nodiscard]] std::int64_t looked_at(const CastSolution& it, int part, int person) const {
    std::int64_t cost = 0;
    std::int64_t scenes = 0;
    for (const auto& [scene, places] : problem_.parts[at(part)].places) {
      const auto& of = problem_.scenes[at(scene)];
      bool some = false;
      for (std::size_t o = 0; o < of.openings.size() && !some; ++o) {
        some = can_be(scene, places, static_cast<int>(o), person);
      }
      if (!some) {
        cost += of.places[at(places)].missing;
        continue;
      }
      if (!can_be(scene, places, it.opening[at(scene)], person)) cost += 2;  // it must move
      cost += of.places[at(places)].wish[at(person)];
      ++scenes;
    }
    std::int64_t others = 0;
    for (std::size_t r = 0; r < it.part.size(); ++r) {
      if (it.part[r] == person && r != at(part)) {
        others += static_cast<std::int64_t>(problem_.parts[r].places.size());
      }
    }
    const std::int64_t burden = problem_.burden[at(person)];
    return cost + burden * ((others + scenes) * (others + scenes) - others * others);
  }

  [[nodiscard]] std::vector<int> cheapest(const CastSolution& it, int part) const {
    std::vector<std::pair<std::int64_t, int>> ranked;
    for (const int person : problem_.parts[at(part)].candidates) {
      ranked.emplace_back(looked_at(it, part, person), person);
    }
    std::sort(ranked.begin(), ranked.end());
    std::vector<int> people;
    for (const auto& [cost, person] : ranked) {
      if (people.size() == kMostTried) break;
      people.push_back(person);
    }
    return people;
  }

  /// Scenes of the part that do not suit whoever has it go to the opening that suits most.
  void move_scenes(CastSolution& it, int part) const {
    const int person = it.part[at(part)];
    if (person < 0) return;
    for (const auto& [scene, places] : problem_.parts[at(part)].places) {
      if (can_be(scene, places, it.opening[at(scene)], person)) continue;
      const auto& of = problem_.scenes[at(scene)];
      int best = -1;
      std::int64_t least = 0;
      for (int o = 0; o < static_cast<int>(of.openings.size()); ++o) {
        if (!can_be(scene, places, o, person)) continue;
        std::int64_t lost = 0;
        for (int k = 0; k < static_cast<int>(of.places.size()); ++k) {
          const auto& other = of.places[at(k)];
          if (other.part < 0) continue;
          const int who = it.part[at(other.part)];
          if (who >= 0 && !can_be(scene, k, o, who)) lost += other.missing;
        }
        if (best < 0 || lost < least) {
          best = o;
          least = lost;
        }
      }
      if (best >= 0) it.opening[at(scene)] = best;
    }
  }

  void begin() {
    now_.part.assign(problem_.parts.size(), -1);
    now_.opening.assign(problem_.scenes.size(), 0);
    now_.filled.assign(problem_.scenes.size(), {});
    std::vector<int> order;
    for (std::size_t r = 0; r < problem_.parts.size(); ++r) {
      const auto& part = problem_.parts[r];
      now_.part[r] = part.fixed;
      if (part.fixed < 0) {
        free_.push_back(static_cast<int>(r));
      } else {
        move_scenes(now_, static_cast<int>(r));
      }
    }
    order = free_;
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      const auto& left = problem_.parts[at(a)];
      const auto& right = problem_.parts[at(b)];
      if (left.candidates.size() != right.candidates.size()) {
        return left.candidates.size() < right.candidates.size();
      }
      return left.places.size() > right.places.size();
    });
    for (const int part : order) {
      for (const int person : cheapest(now_, part)) {
        if (!goes_with_parts(now_, part, person)) continue;
        now_.part[at(part)] = person;
        move_scenes(now_, part);
        break;
      }
    }
  }

  // --- improving ---

  bool try_it(CastSolution candidate) {
    if (candidate.part == now_.part && candidate.opening == now_.opening) return false;
    if (!fill(candidate) || candidate.cost >= now_.cost) return false;
    now_ = std::move(candidate);
    keep();
    return true;
  }

  bool improve_part(int part) {
    bool better = false;
    for (const int person : cheapest(now_, part)) {
      if (!more()) return better;
      if (now_.part[at(part)] == person) continue;
      CastSolution candidate = now_;
      candidate.part[at(part)] = person;
      move_scenes(candidate, part);
      if (goes_with_parts(now_, part, person)) {
        better = try_it(std::move(candidate)) || better;
        continue;
      }
      // the person has a part that cannot be theirs as well: exchange it, or give it away
      for (const int other : problem_.parts[at(part)].apart) {
        if (candidate.part[at(other)] != person) continue;
        if (problem_.parts[at(other)].fixed >= 0) break;
        better = give_away(candidate, part, other) || better;
        break;
      }
    }
    return better;
  }

  bool give_away(const CastSolution& taken, int part, int other) {
    const int was = now_.part[at(part)];
    std::vector<int> heirs;
    const auto& may = problem_.parts[at(other)].candidates;
    if (was >= 0 && std::binary_search(may.begin(), may.end(), was)) heirs.push_back(was);
    for (const int person : cheapest(now_, other)) {
      if (heirs.size() >= 4) break;
      if (person != was && person != taken.part[at(other)]) heirs.push_back(person);
    }
    for (const int heir : heirs) {
      if (!more()) return false;
      CastSolution candidate = taken;
      candidate.part[at(other)] = heir;
      if (!goes_with_parts(candidate, part, candidate.part[at(part)]) ||
          !goes_with_parts(candidate, other, heir)) {
        continue;
      }
      move_scenes(candidate, other);
      if (try_it(std::move(candidate))) return true;
    }
    return false;
  }

  bool improve_opening(int scene) {
    bool better = false;
    const int count = static_cast<int>(problem_.scenes[at(scene)].openings.size());
    for (int o = 0; o < count; ++o) {
      if (!more()) return better;
      CastSolution candidate = now_;
      candidate.opening[at(scene)] = o;
      better = try_it(std::move(candidate)) || better;
    }
    return better;
  }

  void descend() {
    keep();
    for (bool better = true; better && more();) {
      better = false;
      for (const int part : free_) better = improve_part(part) || better;
      for (int s = 0; s < static_cast<int>(problem_.scenes.size()); ++s) {
        better = improve_opening(s) || better;
      }
    }
  }

  /// \return whether there was anything to shake
  bool shake() {
    bool some = false;
    for (int i = 0; i < kShaken; ++i) {
      const std::size_t choice = random_.index(free_.size() + problem_.scenes.size());
      if (choice < free_.size()) {
        const int part = free_[choice];
        const auto& may = problem_.parts[at(part)].candidates;
        if (may.empty()) continue;
        const int person = may[random_.index(may.size())];
        if (!goes_with_parts(now_, part, person)) continue;
        some = some || now_.part[at(part)] != person;
        now_.part[at(part)] = person;
        move_scenes(now_, part);
      } else {
        const std::size_t scene = choice - free_.size();
        const int opening = static_cast<int>(random_.index(problem_.scenes[scene].openings.size()));
        some = some || now_.opening[scene] != opening;
        now_.opening[scene] = opening;
      }
    }
    return some || ++idle_ < 100;
  }

  const CastProblem& problem_;
  HeadFlow flow_;
  FriendWishes friends_;
  Random random_;
  Stop& stop_;
  const CastProgress& progress_;
  std::int64_t moves_ = 0;  ///< of annealing, in all rounds
  double annealed_ = 0;     ///< share of them done
  CastSolution now_, best_;
  std::vector<int> free_;
  std::int64_t made_ = 0;
  std::int64_t allowed_ = 0;
  int idle_ = 0;
};

}  // namespace

CastSolution solve_cast(const CastProblem& problem,
                        const CastEffort& effort,
                        Stop& stop,
                        const CastProgress& progress) {
  return CastSearch(problem, effort, stop, progress).run();
}

}  // namespace gp
