#include "web/friends/step_view.h"

#include "time/clock.h"

#include <algorithm>

namespace gp {
namespace {

struct Line {
  std::string field, label;
  std::string hint;
  const char* type = "text";
  const char* keyboard = "text";  ///< inputmode
  const char* fills = "off";      ///< autocomplete: only for the reader's own data
  const char* width = "";
  bool optional = false;
};

class StepFiller {
 public:
  StepFiller(ViewData& data, const StepPage& page) : data_(data), page_(page) {}

  void fill() {
    switch (page_.step) {
      case SignUpStep::you:
        you();
        break;
      case SignUpStep::guardian:
        guardian();
        break;
      case SignUpStep::when:
        when();
        break;
      case SignUpStep::like:
        choices("like", "like.parts", page_.asked.parts);
        choices("like", "like.jobs", page_.asked.jobs);
        area("friends", say("like.friends"), say("like.friends_hint"));
        break;
      case SignUpStep::can:
        choices("can", "", page_.asked.can);
        break;
      case SignUpStep::no:
        choices("no", "", page_.asked.no);
        break;
      case SignUpStep::sizes:
        sizes();
        break;
      case SignUpStep::care:
        care();
        break;
      case SignUpStep::need:
        line({"need_name", say("need.name"), "", "text", "text", "off", "", true});
        line({"need_phone", say("need.phone"), "", "tel", "tel", "off", "", true});
        break;
      case SignUpStep::brings:
        brings();
        break;
      case SignUpStep::companion:
        companion();
        break;
      case SignUpStep::film:
        film();
        break;
      case SignUpStep::check:
        break;
    }
  }

 private:
  [[nodiscard]] std::string say(std::string_view key,
                                const std::vector<WordValue>& values = {}) const {
    return page_.say(key, values);
  }
  [[nodiscard]] const SignUpFault* fault_of(std::string_view field) const {
    for (const SignUpFault& fault : page_.faults) {
      if (fault.field == field) return &fault;
    }
    return nullptr;
  }
  static void describe(ViewData& item, const std::string& field, bool hint, bool wrong) {
    std::string ids;
    if (hint) ids = field + "-hint";
    if (wrong) ids += (ids.empty() ? "" : " ") + field + "-error";
    if (!ids.empty()) item.add("DESCRIBED").set("BY", ids);
  }

  void fill_line(ViewData& item, const Line& line) {
    const SignUpFault* const fault = fault_of(line.field);
    item.set("FIELD", line.field)
        .set("LABEL", line.label)
        .set("TYPE", line.type)
        .set("KEYBOARD", line.keyboard)
        .set("FILLS", line.fills)
        .set("WIDTH", line.width)
        .set("VALUE", page_.typed.first(line.field));
    if (line.optional) item.show("OPTIONAL");
    if (!line.hint.empty()) item.add("HINTED").set("HINT", line.hint);
    if (fault != nullptr) item.add("WRONG").set("WHAT", fault->text);
    describe(item, line.field, !line.hint.empty(), fault != nullptr);
  }
  void line(const Line& line) { fill_line(data_.add("ITEM").add("LINE"), line); }
  void area(const std::string& field, const std::string& label, const std::string& hint) {
    fill_line(data_.add("ITEM").add("AREA"), {field, label, hint, "", "", "", "", true});
  }

  struct Group {
    std::string field, legend, hint;
    const char* type = "checkbox";
    /// Where a fault of the group may stand besides at `field`.
    std::string other_fault;
  };
  ViewData& group(const Group& group) {
    ViewData& item = data_.add("ITEM").add("GROUP");
    const SignUpFault* fault = fault_of(group.field);
    if (fault == nullptr && !group.other_fault.empty()) fault = fault_of(group.other_fault);
    if (group.legend.empty()) {
      item.show("BY_HEADING");
    } else {
      item.add("LEGEND").set("WORDS", group.legend);
    }
    if (!group.hint.empty()) {
      item.add("GROUP_HINTED").set("GROUP_HINT", group.hint).set("GROUP_FIELD", group.field);
    }
    if (fault != nullptr) {
      item.add("GROUP_WRONG").set("WHAT", fault->text).set("GROUP_FIELD", group.field);
    }
    std::string ids;
    if (!group.hint.empty()) ids = group.field + "-hint";
    if (fault != nullptr) ids += (ids.empty() ? "" : " ") + group.field + "-error";
    if (!ids.empty()) item.add("GROUP_DESCRIBED").set("BY", ids);
    item.set("NAME", group.field).set("KIND", group.type);
    return item;
  }
  /// \param first  whether the summary of problems leads here
  ViewData& box(ViewData& group,
                const std::string& field,
                const std::string& value,
                const std::string& label,
                const std::string& hint,
                std::size_t number) {
    ViewData& one = group.add("BOX");
    one.set("ID", number == 0 ? field : field + "-" + std::to_string(number))
        .set("OPTION", value)
        .set("TEXT", label);
    if (page_.typed.has(field, value)) one.show("ON");
    if (!hint.empty()) one.add("BOX_HINTED").set("BOX_HINT", hint);
    return one;
  }
  void yes_or_no(const Group& wanted, const std::string& yes, const std::string& no) {
    ViewData& item = group(wanted);
    box(item, wanted.field, "yes", yes, "", 0);
    box(item, wanted.field, "no", no, "", 1);
  }
  void choices(const std::string& field,
               const std::string& legend,
               const std::vector<AskedChoice>& list) {
    if (list.empty()) return;
    // the second group of one page goes on counting: ids stand once on a page
    ViewData& item = group({field, legend.empty() ? "" : say(legend), "", "checkbox", ""});
    for (const AskedChoice& one : list) {
      box(item, field, one.tag, one.label, one.hint, boxes_++);
    }
  }

  void you() {
    line({"name", say("you.name"), say("you.name_hint"), "text", "text", "name", "", false});
    line({"phone", say("you.phone"), "", "tel", "tel", "tel", "", false});
    line({"email", say("you.email"), "", "email", "email", "email", "", false});
    yes_or_no({"adult", say("you.adult"), "", "radio", ""}, say("yes"), say("you.under"));
  }

  void guardian() {
    ViewData& item = data_.add("ITEM").add("DATE");
    const SignUpFault* wrong = nullptr;
    for (const char* part : {"born_day", "born_month", "born_year"}) {
      if (wrong == nullptr) wrong = fault_of(part);
    }
    item.set("DATE_LEGEND", say("guardian.born")).set("DATE_HINT", say("guardian.born_hint"));
    if (wrong != nullptr) item.add("DATE_WRONG").set("WHAT", wrong->text);
    item.set("DATE_BY", wrong != nullptr ? "born-hint born-error" : "born-hint");
    struct Part {
      const char *field, *label, *keyboard, *fills, *width;
    };
    for (const Part& part :
         {Part{"born_day", "guardian.day", "numeric", "bday-day", "narrow"},
          Part{"born_month", "guardian.month", "text", "bday-month", "middle"},
          Part{"born_year", "guardian.year", "numeric", "bday-year", "narrow"}}) {
      ViewData& one = item.add("PART");
      one.set("FIELD", part.field)
          .set("LABEL", say(part.label))
          .set("KEYBOARD", part.keyboard)
          .set("FILLS", part.fills)
          .set("WIDTH", part.width)
          .set("VALUE", page_.typed.first(part.field));
      if (fault_of(part.field) != nullptr) one.show("PART_WRONG");
    }
    line({"guardian", say("guardian.name"), "", "text", "text", "off", "", false});
    line({"guardian_phone",
          say("guardian.phone"),
          say("guardian.phone_hint"),
          "tel",
          "tel",
          "off",
          "",
          false});
    ViewData& agrees = group({"guardian_agrees", say("guardian.agreement"), "", "checkbox", ""});
    box(agrees, "guardian_agrees", "yes", say("guardian.agrees"), "", 0);
  }

  void when() {
    for (const AskedDay& day : page_.asked.days) {
      const std::string date = format(day.date);
      const std::string field = "day_" + date;
      ViewData& item = group({field, day.label, day.hint, "radio", "from_" + date});
      box(item, field, "all", say("when.all"), "", 0);
      ViewData& part = box(item, field, "part", say("when.part"), "", 1);
      hours(part.add("HOURS"), day, date);
      box(item, field, "not", say("when.not"), "", 2);
    }
    ViewData& sure = group({"unsure", say("when.sure"), "", "checkbox", ""});
    box(sure, "unsure", "yes", say("when.unsure"), "", 0);
  }

  void hours(ViewData& item, const AskedDay& day, const std::string& date) {
    item.set("FROM_FIELD", "from_" + date).set("UNTIL_FIELD", "until_" + date);
    item.set("FROM_LABEL", say("when.from")).set("UNTIL_LABEL", say("when.until"));
    const auto options = [&](const std::string& field, const char* section, WallTime usual) {
      const std::string typed = page_.typed.first(field);
      const auto chosen = parse_wall_time(typed).value_or(usual);
      std::vector<WallTime> times = day.times;
      if (std::find(times.begin(), times.end(), chosen) == times.end()) {
        times.push_back(chosen);
        std::sort(times.begin(), times.end());
      }
      for (const WallTime time : times) {
        ViewData& option = item.add(section);
        option.set("CLOCK", format(time)).set("CLOCK_WORDS", clock_words(time, page_.say));
        if (time == chosen) option.show("CHOSEN");
      }
    };
    options("from_" + date, "FROM_TIME", day.times.front());
    options("until_" + date, "UNTIL_TIME", day.times.back());
  }

  void sizes() {
    for (const AskedSize& size : page_.asked.sizes) {
      line({"size_" + size.key, size.label, "", "text", "decimal", "off", "narrow", true});
    }
  }

  void care() {
    const Asked& asked = page_.asked;
    if (asked.food) area("food", say("care.food"), say("care.food_hint"));
    if (!asked.skin) return;
    area("skin", say("care.skin"), say("care.skin_hint"));
    ViewData& notice = data_.add("ITEM").add("CAUTIONS");
    const auto tell = [&](bool planned, const char* key) {
      if (planned) notice.add("CAUTION").set("WORDS", say(key));
    };
    tell(asked.paint, "care.about.paint");
    tell(asked.glitter, "care.about.glitter");
    tell(asked.latex, "care.about.latex");
    tell(asked.fog, "care.about.fog");
    tell(asked.animals, "care.about.animals");
    tell(asked.paint || asked.glitter || asked.latex, "care.about.reaction");
    notice.set("PROMPTS", say("care.prompts"));
  }

  void brings() {
    const std::size_t count = page_.typed.companions();
    ViewData* const list = count > 0 ? &data_.add("BROUGHT") : nullptr;
    for (std::size_t i = 0; i < count; ++i) {
      ViewData& one = list->add("ONE");
      const std::string name = tidy_line(page_.typed.first(companion_field(i, "name")));
      const std::string age = page_.typed.first(companion_field(i, "age"));
      const bool child = page_.typed.first(companion_field(i, "child")) != "no";
      one.set("WHO", name.empty() ? "…" : name);
      if (child && !age.empty()) one.add("AGED").set("AGE", say("brings.age", {{"age", age}}));
      one.set("CHANGE", "change-" + std::to_string(i)).set("REMOVE", "remove-" + std::to_string(i));
    }
    if (count >= kMostCompanions) {
      data_.add("ITEM").add("TEXT_ONLY").set("WORDS", say("brings.most"));
      return;
    }
    yes_or_no({"brings", say(count == 0 ? "brings.any" : "brings.more"), "", "radio", ""},
              say(count == 0 ? "brings.yes" : "brings.yes_more"),
              say(count == 0 ? "brings.no" : "brings.no_more"));
  }

  void companion() {
    const auto field = [&](std::string_view name) {
      return companion_field(page_.companion, name);
    };
    line({field("name"), say("companion.name"), "", "text", "text", "off", "", false});
    yes_or_no({field("child"), say("companion.child"), say("companion.child_hint"), "radio", ""},
              say("companion.under"),
              say("companion.adult"));
    line({field("age"),
          say("companion.age"),
          say("companion.age_hint"),
          "text",
          "numeric",
          "off",
          "narrow",
          false});
    if (page_.asked.food) area(field("food"), say("companion.food"), "");
    if (page_.asked.skin) area(field("skin"), say("companion.skin"), say("care.skin_hint"));
  }

  void film() {
    ViewData& text = data_.add("ITEM").add("CONSENT");
    std::string rest = page_.consent;
    while (!rest.empty()) {
      const std::size_t end = rest.find('\n');
      const std::string paragraph = rest.substr(0, end);
      rest = end == std::string::npos ? "" : rest.substr(end + 1);
      if (!paragraph.empty()) text.add("PARAGRAPH").set("WORDS", paragraph);
    }
    yes_or_no({"film", say("film.question"), "", "radio", ""}, say("film.yes"), say("film.no"));
  }

  ViewData& data_;
  const StepPage& page_;
  std::size_t boxes_ = 0;
};

}  // namespace

void fill_step(ViewData& data, const StepPage& page) {
  StepFiller(data, page).fill();
}

}  // namespace gp
