#include "store/settings.h"

namespace gp {
namespace {

constexpr int kMostPeople = 100'000;
constexpr int kLongestKept = 3650;  // days

const Document* member(const Document& document, const char* key) {
  if (!document.is_object()) return nullptr;
  const auto found = document.find(key);
  return found == document.end() ? nullptr : &*found;
}

void truth(const Document& document, const char* key, bool& out) {
  const Document* const value = member(document, key);
  if (value != nullptr && value->is_boolean()) out = value->get<bool>();
}

void text(const Document& document, const char* key, std::string& out) {
  const Document* const value = member(document, key);
  if (value != nullptr && value->is_string()) out = value->get<std::string>();
}

std::optional<int> whole(const Document& document, const char* key, int least, int most) {
  const Document* const value = member(document, key);
  if (value == nullptr || !value->is_number_integer()) return std::nullopt;
  const auto number = value->get<std::int64_t>();
  if (number < least || number > most) return std::nullopt;
  return static_cast<int>(number);
}

}  // namespace

Settings read_settings(const Document& document) {
  Settings settings;
  truth(document, "sign_ups_open", settings.sign_ups_open);
  settings.most_people = whole(document, "most_people", 0, kMostPeople);
  truth(document, "accept_at_once", settings.accept_at_once);
  text(document, "about", settings.about);
  text(document, "consent", settings.consent);
  if (const auto days = whole(document, "forget_after_days", 1, kLongestKept)) {
    settings.forget_after_days = *days;
  }
  return settings;
}

Document write_settings(const Settings& settings) {
  const Settings standard;
  Document document = Document::object();
  if (settings.sign_ups_open != standard.sign_ups_open) {
    document["sign_ups_open"] = settings.sign_ups_open;
  }
  if (settings.most_people) document["most_people"] = *settings.most_people;
  if (settings.accept_at_once) document["accept_at_once"] = true;
  if (!settings.about.empty()) document["about"] = settings.about;
  if (!settings.consent.empty()) document["consent"] = settings.consent;
  if (settings.forget_after_days != standard.forget_after_days) {
    document["forget_after_days"] = settings.forget_after_days;
  }
  return document;
}

}  // namespace gp
