#include "explain/why/why_json.h"

#include "base/json_writer.h"
#include "time/clock.h"
#include "time/day_clock.h"

namespace gp {
namespace {

const char* name_of(WhyEngagement kind) {
  switch (kind) {
    case WhyEngagement::own_step:
      return "own-step";
    case WhyEngagement::staffs:
      return "staffs";
    case WhyEngagement::ready:
      return "ready";
    case WhyEngagement::meal:
      return "meal";
    case WhyEngagement::plays:
      return "plays";
    case WhyEngagement::crew:
      return "crew";
  }
  return "";
}

/// Writes the parts of an answer; moments as the day's clock shows them.
class WhyWriter {
 public:
  explicit WhyWriter(const Production& film) : film_(film) {
    out_.begin_object();
    out_.key("greasepaint_why").number(std::int64_t{1});
  }

  void on(DayId day) {
    clock_.emplace(film_.days[day].date, film_.zone);
    out_.key("date").text(format(film_.days[day].date));
  }

  void moment(const char* key, Minute at) { out_.key(key).text(format(clock_->shown(at))); }

  void causes(const char* key, const std::vector<WhyCause>& causes) {
    out_.key(key).begin_list();
    for (const WhyCause& cause : causes) one(cause);
    out_.end_list();
  }

  void one(const WhyCause& cause) {
    out_.begin_object(JsonLayout::compact);
    out_.key("fact").text(gp::name_of(cause.fact));
    out_.key("text").text(cause.text);
    if (cause.person.valid()) out_.key("person").text(film_.people[cause.person].id);
    if (cause.station.valid()) out_.key("station").text(film_.stations[cause.station].id);
    if (cause.place > 0) out_.key("place").number(std::int64_t{cause.place});
    if (cause.scene.valid()) out_.key("scene").text(film_.scenes[cause.scene].id);
    if (cause.item.valid()) out_.key("item").text(film_.items[cause.item].id);
    if (cause.moment) moment("moment", *cause.moment);
    if (!cause.starts.empty()) {
      std::vector<std::string> spans;
      for (const Span& span : cause.starts) {
        spans.push_back(format(clock_->shown(span.from)) + "-" + format(clock_->shown(span.until)));
      }
      out_.key("starts").texts(spans);
    }
    out_.end_object();
  }

  void link(const WhyLink& link) {
    out_.begin_object();
    out_.key("kind").text(name_of(link.kind));
    out_.key("what").text(link.what);
    out_.key("person").text(film_.people[link.person].id);
    moment("from", link.time.from);
    moment("until", link.time.until);
    if (link.station.valid()) out_.key("station").text(film_.stations[link.station].id);
    if (link.place > 0) out_.key("place").number(std::int64_t{link.place});
    if (link.look.valid()) out_.key("look").text(film_.looks[link.look].id);
    if (link.wearer.valid() && link.wearer != link.person) {
      out_.key("wearer").text(film_.people[link.wearer].id);
    }
    if (link.by.valid()) out_.key("by").text(film_.people[link.by].id);
    if (link.scene.valid()) out_.key("scene").text(film_.scenes[link.scene].id);
    if (!link.meal.empty()) out_.key("meal").text(link.meal);
    out_.key("held").boolean(link.held);
    moment("latest", link.latest);
    if (link.instead.valid()) out_.key("instead").text(film_.people[link.instead].id);
    out_.key("text").text(link.text);
    causes("causes", link.causes);
    out_.end_object();
  }

  void relief(const WhyRelief& relief) {
    out_.begin_object(JsonLayout::compact);
    out_.key("change").text(relief.change);
    moment("call", relief.call);
    out_.key("later").number(std::int64_t{relief.later.count()});
    out_.key("costs_all").number(relief.costs_all);
    out_.end_object();
  }

  void reliefs(const WhyReliefs& reliefs) {
    out_.key("let_later").begin_object();
    out_.key("tried").number(std::int64_t{reliefs.changes});
    out_.key("stopped").boolean(reliefs.stopped);
    if (reliefs.unchanged) {
      out_.key("unchanged");
      relief(*reliefs.unchanged);
    }
    out_.key("changes").begin_list();
    for (const WhyRelief& one : reliefs.found) relief(one);
    out_.end_list();
    out_.end_object();
  }

  void room(const char* key, const WhyRoom& room) {
    out_.key(key).begin_object();
    out_.key("room").number(std::int64_t{room.room.count()});
    causes("causes", room.causes);
    out_.end_object();
  }

  JsonWriter& out() { return out_; }
  std::string finish() {
    out_.end_object();
    return out_.finish();
  }

 private:
  const Production& film_;
  std::optional<CalendarDay> clock_;
  JsonWriter out_;
};

}  // namespace

std::string write_why(const Production& film, const WhyPerson& why) {
  WhyWriter writer(film);
  JsonWriter& out = writer.out();
  out.key("person").text(film.people[why.person].id);
  out.key("calls").begin_list();
  for (const WhyCall& call : why.calls) {
    out.begin_object();
    writer.on(call.day);
    writer.moment("call", call.stay.call);
    writer.moment("released", call.stay.released);
    out.key("held").boolean(call.held);
    if (call.latest == kNever) {
      out.key("latest").null();
    } else {
      writer.moment("latest", call.latest);
    }
    out.key("because").text(call.because);
    out.key("chain").begin_list();
    for (const WhyLink& link : call.chain) writer.link(link);
    out.end_list();
    if (call.reliefs.tried) writer.reliefs(call.reliefs);
    out.end_object();
  }
  out.end_list();
  if (why.calls.empty()) out.key("not_needed").texts(why.not_needed);
  return writer.finish();
}

std::string write_why(const Production& film, const WhyScene& why, const Conflicts& conflicts) {
  WhyWriter writer(film);
  JsonWriter& out = writer.out();
  out.key("scene").text(film.scenes[why.scene].id);
  if (!why.day.valid()) {
    out.key("not_filmed").text(why.not_filmed);
    if (!conflicts.all.empty()) add_conflicts(out, film, conflicts);
    return writer.finish();
  }
  writer.on(why.day);
  writer.moment("set_at", why.planned.set_at);
  writer.moment("shoot_at", why.planned.shoot_at);
  writer.moment("until", why.planned.until);
  out.key("text").text(why.text);
  writer.room("earlier", why.earlier);
  writer.room("later", why.later);
  if (!conflicts.all.empty()) add_conflicts(out, film, conflicts);
  return writer.finish();
}

std::string write_why(const Production& film, const WhyStation& why) {
  WhyWriter writer(film);
  JsonWriter& out = writer.out();
  out.key("station").text(film.stations[why.station].id);
  out.key("days").begin_list();
  for (const WhyStationDay& day : why.days) {
    out.begin_object();
    writer.on(day.day);
    out.key("busy").begin_list();
    for (const WhyBusy& busy : day.busy) {
      out.begin_object();
      writer.moment("from", busy.time.from);
      writer.moment("until", busy.time.until);
      out.key("most").number(std::int64_t{busy.most});
      out.key("all_taken").number(std::int64_t{busy.all_taken.count()});
      out.key("people").number(std::int64_t{busy.people});
      out.key("steps_on").number(std::int64_t{busy.steps});
      out.key("held").number(std::int64_t{busy.held});
      out.key("for").begin_list();
      for (const WhyBusy::For& one : busy.what_for) {
        out.begin_object(JsonLayout::compact);
        if (one.scene.valid()) out.key("scene").text(film.scenes[one.scene].id);
        out.key("people").number(std::int64_t{one.people});
        writer.moment("at", one.at);
        out.end_object();
      }
      out.end_list();
      out.key("text").text(busy.text);
      writer.causes("causes", busy.causes);
      out.end_object();
    }
    out.end_list();
    out.end_object();
  }
  out.end_list();
  if (why.days.empty()) out.key("not_in_use").text(why.text);
  return writer.finish();
}

}  // namespace gp
