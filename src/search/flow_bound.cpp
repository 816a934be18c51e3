#include "search/flow_bound.h"

#include "ordering/linear_program.h"
#include "search/alike.h"
#include "search/between.h"
#include "search/flow_queues.h"
#include "search/flow_staff.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

namespace gp {
namespace {

/// Columns that are solved in a blink; and where groups are large, so that there are queues, and it
/// is worth waiting a second for (measured: a sixth more for a crowd of two hundred, a hundredth
/// where nobody is like anybody else).
constexpr std::size_t kFewColumns = 6'000;
constexpr std::size_t kManyColumns = 25'000;
/// Of how many people on average a group is large.
constexpr std::size_t kManyAlike = 4;
/// Pairs of slots, for each group and day, of which not even the columns are made.
constexpr std::size_t kMostPairs = 100'000;

using Node = Between::Node;
using Terms = std::vector<LinearProgram::Term>;

/// People alike, on one day.
struct Stream {
  FlowStaff::Crew crew;
  double weight = 1;
  std::optional<std::size_t> waits;  ///< of staff alone: their minutes in queues
  [[nodiscard]] bool staff() const { return waits.has_value(); }
  /// By node: those who come into it, and who leave.
  std::map<std::size_t, Terms> in, out;
};

class FlowBound {
 public:
  FlowBound(const Problem& problem, const Between& between)
      : problem_(problem),
        film_(problem.production),
        between_(between),
        queues_(problem, between_),
        staff_(problem, between_),
        groups_(people_alike(problem, between_, staff_.lists())) {}

  std::optional<Thousandths> least(Stop& stop) {
    if (pairs() > kMostPairs) return std::nullopt;
    choose_days();
    for (const Alike& group : groups_) {
      for (std::size_t day = 0; day < problem_.days.size(); ++day) {
        if (group.free[day].length() > Minutes{0}) add_stream(group, day);
      }
    }
    fill_slots();
    hold_strings();
    queues_.write(program_);
    staff_.write(program_);
    if (program_.columns() > most_columns()) return std::nullopt;
    return rounded_up(program_.least_cost(stop));
  }

 private:
  [[nodiscard]] std::size_t pairs() const {
    std::size_t sum = 0;
    for (const Alike& group : groups_) {
      sum += group.nodes.size() * group.nodes.size() * problem_.days.size();
    }
    return sum;
  }

  [[nodiscard]] std::size_t most_columns() const {
    std::size_t people = 0;
    for (const Alike& group : groups_) people += static_cast<std::size_t>(group.people);
    return people >= kManyAlike * groups_.size() ? kManyColumns : kFewColumns;
  }

  /// Every plan's weighted minutes are a multiple of what all weights are multiples of.
  [[nodiscard]] Thousandths rounded_up(double least) const {
    Thousandths unit = 0;
    for (const Alike& group : groups_) unit = std::gcd(unit, group.weight);
    if (unit == 0) return 0;
    const double units = std::ceil(least * 1000 / static_cast<double>(unit));
    return std::max<Thousandths>(0, static_cast<Thousandths>(units) * unit);
  }

  /// Each scene is filmed on one of the days it could be.
  void choose_days() {
    for (const Node& node : between_.nodes()) {
      const SceneId scene = node.row.scene;
      if (on_day_.contains({scene, 0}) || problem_.only_day(scene)) continue;
      Terms one;
      for (std::size_t day = 0; day < problem_.days.size(); ++day) {
        const std::size_t column = program_.add_column(0, problem_.open_on(scene, day) ? 1 : 0);
        on_day_[{scene, day}] = column;
        one.push_back({column, 1});
      }
      program_.add_row(1, 1, one);
    }
  }

  void add_stream(const Alike& group, std::size_t day) {
    Stream& stream = streams_.emplace_back();
    stream.crew.people = &group;
    stream.crew.day = day;
    stream.weight = static_cast<double>(group.weight) / 1000;
    if (!group.works.empty()) {
      // who staffs a station may do so while waiting
      stream.waits = program_.add_column(0, group.people * FlowStaff::kLongest);
      stream.crew.as_asked.push_back({*stream.waits, 1});
    }
    std::vector<std::pair<std::size_t, Span>> open;
    for (const std::size_t n : group.nodes) {
      const auto shot = between_.shot_within(between_.nodes()[n], day, group.free[day]);
      if (shot) open.emplace_back(n, *shot);
    }
    for (const auto& [n, shot] : open) add_ends(stream, n);
    for (const auto& [a, early] : open) {
      for (const auto& [b, late] : open) add_gap(stream, a, b, early, late);
    }
    for (const auto& [n, in] : stream.in) {
      Terms all = in;
      for (const auto& [column, factor] : stream.out.at(n)) all.push_back({column, -factor});
      program_.add_row(0, 0, all);
    }
    come_for_scenes(stream);
    Terms come = stream.crew.begins;
    if (stream.staff()) come.push_back({staff_.come(stream.crew, program_), 1});
    program_.add_row(0, group.people, come);
  }

  /// Own minutes of putting a look on or taking it off, the waits in it left out.
  [[nodiscard]] double own(const Node& node, bool off) const {
    double sum = 0;
    for (const Step& step : between_.steps(node, off)) sum += count(step.minutes);
    return sum;
  }

  /// People of a stream that do something.
  /// \param asked  the minutes it keeps them
  /// \param busy   those of them in which they can do nothing else
  std::size_t add_people(Stream& stream, double asked, double busy) {
    // of those who may staff stations, it is their time as a whole that counts
    const double cost = stream.staff() ? 0 : asked * stream.weight;
    const std::size_t column = program_.add_column(cost, stream.crew.people->people);
    if (stream.staff()) {
      stream.crew.as_asked.push_back({column, asked});
      stream.crew.as_busy.push_back({column, busy});
    }
    return column;
  }

  /// Those of the column go through the steps before or after the scene.
  void made_ready(const Stream& stream, const Node& node, std::size_t column, bool off, bool wait) {
    staff_.ask(node, stream.crew.day, off, column);
    if (wait) queues_.add(node, stream.crew.day, off, {column, stream.weight, stream.waits});
  }

  void add_ends(Stream& stream, std::size_t n) {
    const Node& node = between_.nodes()[n];
    const std::size_t day = stream.crew.day;
    const auto length = static_cast<double>(between_.length(node));
    const double before = static_cast<double>(between_.before(node, day)) + length;
    const double busy = count(film_.sign_in) + own(node, false) + length;
    const std::size_t begin = add_people(stream, before, busy);
    stream.crew.begins.push_back({begin, 1});
    stream.in[n].push_back({begin, 1});
    made_ready(stream, node, begin, false, true);
    const auto after = static_cast<double>(between_.after(node, day));
    const std::size_t end = add_people(stream, after, own(node, true));
    stream.out[n].push_back({end, 1});
    made_ready(stream, node, end, true, true);
  }

  void add_gap(Stream& stream, std::size_t a, std::size_t b, Span early, Span late) {
    const Node& from = between_.nodes()[a];
    const Node& to = between_.nodes()[b];
    const std::size_t day = stream.crew.day;
    const auto gap = between_.gap(from, to, day, early, late);
    if (!gap) return;
    const auto length = static_cast<double>(between_.length(to));
    const double change = gap->changed ? own(from, true) + own(to, false) : 0;
    const double busy = std::max(change, static_cast<double>(between_.way(from, to, day)));
    const std::size_t column =
        add_people(stream, static_cast<double>(gap->minutes) + length, busy + length);
    stream.in[b].push_back({column, 1});
    stream.out[a].push_back({column, 1});
    if (from.sort == to.sort) within_[from.sort].push_back({column, 1});
    if (!gap->changed) return;
    made_ready(stream, from, column, true, gap->tight);
    made_ready(stream, to, column, false, gap->tight);
  }

  /// Who is in a scene at once has come.
  void come_for_scenes(const Stream& stream) {
    std::map<SceneId, Terms> scenes;
    for (const auto& [n, in] : stream.in) {
      Terms& all = scenes[between_.nodes()[n].row.scene];
      all.insert(all.end(), in.begin(), in.end());
    }
    if (scenes.size() < 2) return;
    for (auto& [scene, all] : scenes) {
      for (const auto& [column, factor] : stream.crew.begins) all.push_back({column, -factor});
      program_.add_row(-LinearProgram::kNone, 0, all);
    }
  }

  /// Each slot has its heads, on the day of its scene.
  void fill_slots() {
    for (std::size_t n = 0; n < between_.nodes().size(); ++n) {
      const auto& row = between_.nodes()[n].row;
      for (std::size_t day = 0; day < problem_.days.size(); ++day) {
        if (!problem_.open_on(row.scene, day)) continue;
        Terms all;
        for (const Stream& stream : streams_) {
          const auto in = stream.in.find(n);
          if (stream.crew.day != day || in == stream.in.end()) continue;
          all.insert(all.end(), in->second.begin(), in->second.end());
        }
        const auto on_day = on_day_.find({row.scene, day});
        if (on_day == on_day_.end()) {
          program_.add_row(row.heads, row.heads, all);
        } else {
          all.push_back({on_day->second, -static_cast<double>(row.heads)});
          program_.add_row(0, 0, all);
        }
      }
    }
  }

  /// Strings of scenes cannot close into rings.
  void hold_strings() {
    for (const auto& [sort, going_on] : within_) {
      const auto most = static_cast<double>(between_.most_going_on()[sort]);
      program_.add_row(-LinearProgram::kNone, most, going_on);
    }
  }

  const Problem& problem_;
  const Production& film_;
  const Between& between_;
  FlowQueues queues_;
  FlowStaff staff_;
  std::vector<Alike> groups_;
  LinearProgram program_;
  /// By scene and day, where a scene has several.
  std::map<std::pair<SceneId, std::size_t>, std::size_t> on_day_;
  std::vector<Stream> streams_;
  std::map<std::size_t, Terms> within_;  ///< by sort of heads: those who go on without changing
};

}  // namespace

std::optional<Thousandths> least_flow(const Problem& problem, const Between& between, Stop& stop) {
  return FlowBound(problem, between).least(stop);
}

}  // namespace gp
