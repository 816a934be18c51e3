#include "explain/whatif/best_help.h"

#include "explain/whatif/apply.h"
#include "explain/whatif/carry.h"
#include "explain/whatif/difference.h"
#include "explain/whatif/small_helps.h"
#include "model/check.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cstdint>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace gp::whatif {
namespace {

constexpr std::size_t kSearches = 3;

/// Minutes by which people come early, as better() counts them.
std::int64_t earliness(const Price& price, Aim aim) {
  constexpr std::int64_t kWholeDay = std::int64_t{24} * 60;
  return aim == Aim::latest_first_call ? price.filmed_days * kWholeDay - price.first_calls : 0;
}

Gain gain_of(const Price& before, const Price& after, Aim aim) {
  Gain gain;
  gain.won = before.not_filmed - after.not_filmed;
  gain.optional_won = before.optional_not_filmed - after.optional_not_filmed;
  gain.heads = before.unfilled - after.unfilled;
  gain.early = earliness(before, aim) - earliness(after, aim);
  gain.weighted_saved = before.weighted_on_site - after.weighted_on_site;
  gain.saved = before.on_site - after.on_site;
  gain.waiting_saved = before.waiting - after.waiting;
  return gain;
}

/// Whether the first thing in which the two plans differ differs by no more than the noise.
bool within_noise(const Gain& gain, const Gain& noise) {
  if (gain.won != 0) return gain.won <= noise.won;
  if (gain.optional_won != 0) return gain.optional_won <= noise.optional_won;
  if (gain.heads != 0) return gain.heads <= noise.heads;
  if (gain.early != 0) return gain.early <= noise.early;
  return gain.weighted_saved <= noise.weighted_saved;
}

/// The plans found for one help, one a search; nothing where a search was not made to its end.
struct Try {
  Change change;
  Changed changed;
  std::array<std::optional<Plan>, kSearches> found;
};

class Trying {
 public:
  Trying(const Production& production, const Wishes& wishes, Stop& stop, const HelpProgress& sink)
      : production_(production),
        wishes_(wishes),
        stop_(stop),
        sink_(sink),
        at_once_(std::clamp(wishes.threads, 1, 64)) {
    wishes_.threads = 1;
  }

  HelpRanking rank() {
    search_as_it_is();
    for (const Change& change :
         small_helps(production_, ranking_.plan, wishes_.answers, wishes_.only_day)) {
      auto applied = apply(production_, {change});
      // a half hour may not be there: the earliest call of a day that ends before it
      if (auto* changed = std::get_if<Changed>(&applied)) {
        tries_.push_back({change, std::move(*changed), {}});
      }
    }
    ranking_.to_try = tries_.size();
    try_all();
    learn_from_tries();
    for (const Try& one : tries_) judge(one);
    std::stable_sort(ranking_.helps.begin(),
                     ranking_.helps.end(),
                     [this](const TriedHelp& a, const TriedHelp& b) {
                       return better(a.price, b.price, production_.aim);
                     });
    for (const Try& one : tries_) {
      for (const auto& found : one.found) ranking_.whole = ranking_.whole && found;
    }
    return std::move(ranking_);
  }

 private:
  void search_as_it_is() {
    std::vector<Price> prices;
    std::size_t best = 0;
    for (std::size_t i = 0; i < kSearches; ++i) {
      if (sink_) sink_(0, 0, {});
      if (i > 0 && interrupted()) break;
      Wishes wishes = wishes_;
      wishes.seed += i;
      Stop stop = stop_;
      Plan plan = make_plan(production_, wishes, stop);
      if (i > 0 && interrupted()) break;
      prices.push_back(price(production_, plan));
      if (i == 0 || better(prices.back(), ranking_.price, production_.aim)) {
        ranking_.plan = std::move(plan);
        ranking_.price = prices.back();
        best = i;
      }
    }
    // The luckiest seed first: with the same seed a help that changes nothing gives the same plan.
    for (std::size_t i = 0; i < kSearches; ++i) {
      seeds_[i] = wishes_.seed + (best + i) % kSearches;
    }
    ranking_.searches = static_cast<int>(prices.size());
    ranking_.whole = prices.size() == kSearches;
    for (const Price& other : prices) {
      const Gain gain = gain_of(other, ranking_.price, production_.aim);
      Gain& noise = ranking_.noise;
      noise.won = std::max(noise.won, gain.won);
      noise.optional_won = std::max(noise.optional_won, gain.optional_won);
      noise.heads = std::max(noise.heads, gain.heads);
      noise.early = std::max(noise.early, gain.early);
      // hours can be compared only where the same is done in them
      if (gain.won != 0 || gain.optional_won != 0 || gain.heads != 0) continue;
      noise.weighted_saved = std::max(noise.weighted_saved, gain.weighted_saved);
      noise.saved = std::max(noise.saved, gain.saved);
    }
  }

  /// A stop that somebody asked for; the time given to each plan is no such thing.
  [[nodiscard]] bool interrupted() {
    Stop asked = stop_;
    return asked.now_exactly();
  }

  /// Every help once, then every help once more with another seed …
  void try_all() {
    const std::size_t all = tries_.size() * kSearches;
    std::atomic<std::size_t> next = 0;
    std::atomic<std::size_t> done = 0;
    std::atomic<int> running = at_once_;
    std::mutex mutex;
    std::optional<std::pair<Price, std::string>> best;
    const auto run = [&](Stop stop) {
      for (std::size_t i = next++; i < all; i = next++) {
        if (stop.now_exactly()) break;
        Try& one = tries_[i % tries_.size()];
        const std::size_t search = i / tries_.size();
        Wishes wishes = wishes_;
        wishes.seed = seeds_[search];
        Stop own = stop;  // the time given to one plan is no reason to end the others
        Plan plan = make_plan(one.changed.production, wishes, own);
        if (stop.now_exactly()) break;  // cut short: it would be judged too low
        const Price cost = price(one.changed.production, plan);
        const std::scoped_lock lock(mutex);
        one.found[search] = std::move(plan);
        ++done;
        if (better(cost, best ? best->first : ranking_.price, production_.aim)) {
          best = {cost, describe(production_, one.change)};
        }
      }
      --running;
    };
    const auto tell = [&] {
      if (!sink_) return;
      std::string name;
      {
        const std::scoped_lock lock(mutex);
        if (best) name = best->second;
      }
      sink_(done, all, name);
    };
    {
      std::vector<std::jthread> others;
      for (int t = 0; t < at_once_; ++t) others.emplace_back(run, stop_);
      while (running > 0) {
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
        tell();
      }
    }
    tell();
  }

  /// A plan found for some help that is right without it shows what the search missed, not what
  /// the help is worth.
  void learn_from_tries() {
    for (const Try& one : tries_) {
      for (const std::optional<Plan>& found : one.found) {
        if (found) learn_from(one, *found);
      }
    }
  }

  void learn_from(const Try& one, const Plan& found) {
    const Price cost = price(one.changed.production, found);
    if (!better(cost, ranking_.price, production_.aim)) return;
    if (!check(production_, found, wishes_.answers).empty()) return;
    ranking_.plan = found;
    ranking_.price = price(production_, ranking_.plan);
    ranking_.plan.totals.bound.reset();
    ranking_.plan.totals.proven = false;
    ranking_.better_without = true;
  }

  void judge(const Try& one) {
    const Production& changed = one.changed.production;
    const Plan* found = nullptr;
    Price least;
    TriedHelp help;
    for (const std::optional<Plan>& plan : one.found) {
      if (!plan) continue;
      ++help.searches;
      const Price cost = price(changed, *plan);
      if (found != nullptr && !better(cost, least, production_.aim)) continue;
      found = &*plan;
      least = cost;
    }
    if (found == nullptr) return;
    const Priced best =
        better_of(changed, *found, carried_over(ranking_.plan, one.changed, wishes_.answers));
    help.change = one.change;
    help.text = describe(production_, one.change);
    help.written = written(production_, one.change).value_or("");
    help.price = best.price;
    help.gain = gain_of(ranking_.price, best.price, production_.aim);
    if (better(ranking_.price, best.price, production_.aim)) {
      help.worth = Worth::worse;
    } else if (better(best.price, ranking_.price, production_.aim)) {
      help.worth = is_only_wrap(help.gain)                   ? Worth::nothing
                   : within_noise(help.gain, ranking_.noise) ? Worth::noise
                                                             : Worth::better;
    }
    const Difference all = difference(production_, ranking_.plan, changed, best.plan);
    for (const SceneRow& row : all.won) help.scenes_won.push_back(row.name);
    for (const SceneRow& row : all.lost) help.scenes_lost.push_back(row.name);
    ranking_.helps.push_back(std::move(help));
  }

  /// An earlier wrap alone is no hour of anybody's.
  static bool is_only_wrap(const Gain& gain) {
    return gain.won == 0 && gain.optional_won == 0 && gain.heads == 0 && gain.early == 0 &&
           gain.weighted_saved == 0;
  }

  const Production& production_;
  Wishes wishes_;
  Stop& stop_;
  const HelpProgress& sink_;
  int at_once_;
  std::array<std::uint64_t, kSearches> seeds_{};
  HelpRanking ranking_;
  std::vector<Try> tries_;
};

}  // namespace

HelpRanking best_help(const Production& production,
                      const Wishes& wishes,
                      Stop& stop,
                      const HelpProgress& progress) {
  return Trying(production, wishes, stop, progress).rank();
}

}  // namespace gp::whatif
