#include "store/sign_up.h"

#include "time/clock.h"

namespace gp {

std::string name_of(SignUpState state) {
  switch (state) {
    case SignUpState::fresh:
      return "fresh";
    case SignUpState::accepted:
      return "accepted";
    case SignUpState::waiting:
      return "waiting";
    case SignUpState::declined:
      return "declined";
    case SignUpState::withdrawn:
      break;
  }
  return "withdrawn";
}

namespace {

/// Leaves out what says nothing.
class ObjectWriter {
 public:
  ObjectWriter& text(const char* key, const std::string& value) {
    if (!value.empty()) object_[key] = value;
    return *this;
  }
  ObjectWriter& truth(const char* key, bool value, bool otherwise = false) {
    if (value != otherwise) object_[key] = value;
    return *this;
  }
  ObjectWriter& date(const char* key, const std::optional<Date>& value) {
    if (value) object_[key] = format(*value);
    return *this;
  }
  ObjectWriter& list(const char* key, Document list, bool otherwise_empty = true) {
    if (!otherwise_empty || !list.empty()) object_[key] = std::move(list);
    return *this;
  }
  Document& operator[](const char* key) { return object_[key]; }
  Document take() { return std::move(object_); }

 private:
  Document object_ = Document::object();
};

Document words_of(const Tags& tags) {
  Document list = Document::array();
  for (const std::string& tag : tags) list.push_back(tag);
  return list;
}

Document written(const Companion& companion) {
  ObjectWriter out;
  out.text("name", companion.name).truth("child", companion.child, true);
  out.date("born", companion.born);
  if (companion.age) out["age"] = *companion.age;
  out.text("person", companion.person).text("skin", companion.skin).text("food", companion.food);
  return out.take();
}

Document written(const Notice& notice) {
  ObjectWriter out;
  out["day"] = format(notice.day);
  out.truth("cannot_come", notice.cannot_come);
  if (notice.minutes_late != 0) out["minutes_late"] = notice.minutes_late;
  out.text("words", notice.words);
  out["at"] = notice.at;
  out.truth("seen", notice.seen);
  return out.take();
}

}  // namespace

Document write_free_times(const std::vector<FreeTime>& free) {
  Document list = Document::array();
  for (const FreeTime& one : free) {
    list.push_back(format(one.date) + (one.hours ? " " + format(*one.hours) : ""));
  }
  return list;
}

Document write_sign_up(const SignUp& sign_up) {
  ObjectWriter out;
  out["id"] = sign_up.id;
  out["state"] = name_of(sign_up.state);
  out.text("person", sign_up.person);
  out["sent_at"] = sign_up.sent_at;
  out["changed_at"] = sign_up.changed_at;
  out.truth("seen", sign_up.seen).text("language", sign_up.language);
  out.text("name", sign_up.name).text("phone", sign_up.phone).text("email", sign_up.email);
  if (sign_up.answer != Answer::yes) out["answer"] = name_of(sign_up.answer);
  if (sign_up.free) out["free"] = write_free_times(*sign_up.free);
  out.list("can", words_of(sign_up.can)).list("likes", words_of(sign_up.likes));
  out.text("friends", sign_up.friends).list("no", words_of(sign_up.no));
  for (const auto& [name, size] : sign_up.sizes) out["sizes"][name] = size;
  out.text("food", sign_up.food).text("skin", sign_up.skin);
  out.text("need_name", sign_up.need_name).text("need_phone", sign_up.need_phone);
  out.truth("adult", sign_up.adult, true).date("born", sign_up.born);
  out.text("guardian", sign_up.guardian).text("guardian_phone", sign_up.guardian_phone);
  for (const Companion& companion : sign_up.brings) out["brings"].push_back(written(companion));
  out.truth("may_be_filmed", sign_up.may_be_filmed).text("consent_text", sign_up.consent_text);
  out.text("words", sign_up.words);
  for (const Notice& notice : sign_up.notices) out["notices"].push_back(written(notice));
  return out.take();
}

}  // namespace gp
