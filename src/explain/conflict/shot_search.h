#pragma once

#include "base/stop.h"
#include "explain/conflict/ground.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace gp::conflict {

/// Who does one step when.
struct DoneStep {
  Span when;
  PersonId by;  ///< none: needs nobody
};

/// Somebody getting a station ready.
struct ReadyTime {
  PersonId who;
  StationId station;
  Span when;
};

/// The scene at one start of its shot, whole but for the meals.
struct Arrangement {
  Minute shot{};
  std::vector<PersonId> people;                ///< by head
  std::vector<std::vector<DoneStep>> on, off;  ///< by head, in the order of the chain
  std::vector<ReadyTime> ready;
};

/// When a meal together is held in a search: everybody who is surely there then eats then.
using HeldMeals = std::vector<std::optional<Span>>;

/// All arrangements of one scene for one start of its shot (but for those that are no better than
/// one of them), told one by one.
class ShotSearch {
 public:
  /// \param take  told each arrangement, and whether it is whole (else a station is not got ready
  /// in time); true: that is it, search no more
  ShotSearch(const DayGround& ground,
             std::uint64_t& work,
             std::uint64_t most_work,
             Stop& stop,
             std::function<bool(const Arrangement&, bool)> take);

  enum class End {
    taken,      ///< `take` was content
    exhausted,  ///< there are no more
    cut,        ///< the work or the time allowed is over
  };
  /// \param held  none: meals are left out of account
  End search(Minute shot, const HeldMeals* held);

 private:
  struct Busy {
    Span when;
    PlaceId place;
    bool eats = false;  ///< takes no way
  };
  struct Diary {
    std::vector<Busy> rows;
    int window = -1;  ///< which free span; -1: not settled
  };
  struct Use {
    StationId station;
    Span when;
  };
  struct Way {
    PersonId by;
    int window = -1;
    Minute start{};
  };

  bool assign(std::size_t head, std::size_t from);
  template <class Rest>
  bool with_step(std::size_t head,
                 const ChainStep& step,
                 const Way& way,
                 DoneStep& placed,
                 std::size_t& done,
                 const Rest& rest);
  bool prepare(std::size_t left, Minute last_end);
  bool undress(std::size_t left, Minute last_start);
  bool get_ready(std::size_t left, Minute last_end);
  bool leaf();

  [[nodiscard]] bool over();
  [[nodiscard]] bool twin_before(std::size_t head, bool before) const;
  std::vector<Way> ways_for(std::size_t head, bool before);
  std::optional<Minute> place_step(const ChainStep& step,
                                   PersonId wearer,
                                   PersonId by,
                                   int by_window,
                                   Minute least,
                                   Minute most,
                                   bool late) const;
  [[nodiscard]] Minute conflict(PersonId who, PlaceId place, Span span, bool late) const;
  [[nodiscard]] Minute crowded(StationId station, Span span, bool late) const;
  [[nodiscard]] std::optional<Span> ready_of(PersonId who, StationId station) const;
  [[nodiscard]] bool missing_ready(PersonId who, StationId station) const;
  void engage(PersonId who, Span when, PlaceId place);
  void disengage(PersonId who);

  const DayGround& ground_;
  std::uint64_t& work_;
  std::uint64_t most_work_;
  Stop& stop_;
  std::function<bool(const Arrangement&, bool)> take_;

  Minute shot_{};
  const HeldMeals* held_ = nullptr;
  bool cut_ = false;
  bool hopeless_ = false;    ///< what follows the shot cannot be done, whatever comes before it
  bool sides_meet_ = false;  ///< what comes before the shot bears on what can follow it
  bool leaves_seen_ = false;
  std::vector<std::vector<Fitting>> fits_;  ///< by slot
  Table<PersonId, Diary> diaries_;
  std::vector<Use> uses_;
  std::vector<std::size_t> choice_;     ///< by head: index into fits_
  std::vector<std::size_t> base_rows_;  ///< by head: the shot and the meals in their diary
  std::vector<std::size_t> done_on_, done_off_;
  Arrangement now_;
};

}  // namespace gp::conflict
