#include "model/plan_fields.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace gp::plan_file {

Fields::Fields(const Value& value, std::initializer_list<const char*> known, FaultList& faults)
    : path_(value.path), faults_(&faults) {
  if (value.json == nullptr || value.json->is(JsonKind::broken)) return;
  if (!value.json->is(JsonKind::object)) {
    faults.add(value.json->at(), path_, found_as(*value.json), "an object");
    return;
  }
  object_ = value.json;
  const std::vector<std::string> names(known.begin(), known.end());
  for (const JsonMember& member : object_->members()) {
    if (std::find(names.begin(), names.end(), member.key) != names.end()) continue;
    std::string expected = "one of the keys ";
    for (const std::string& name : names) expected += (&name == &names[0] ? "" : ", ") + name;
    faults.add(member.at,
               path_to_key(path_, member.key),
               "an unknown key",
               std::move(expected),
               faults.nearest_of(member.key, names));
  }
}

const Json* Fields::json(const char* key) const {
  if (object_ == nullptr) return nullptr;
  const Json* value = object_->find(key);
  return value == nullptr || value->is(JsonKind::broken) ? nullptr : value;
}

Value Fields::value(const char* key) const {
  return {json(key), path_to_key(path_, key)};
}

Value Fields::needed(const char* key, const char* expected) {
  // An object that is none, and a value that is broken, are told already.
  if (object_ != nullptr && object_->find(key) == nullptr) {
    faults_->add(object_->at(), path_, "no key \"" + std::string(key) + "\"", expected);
  }
  return value(key);
}

std::string Fields::text(const char* key) {
  const Value given = value(key);
  if (given.json == nullptr) return {};
  if (!given.json->is(JsonKind::text)) {
    faults_->add(given.json->at(), given.path, found_as(*given.json), "a text");
    return {};
  }
  return given.json->text();
}

std::string Fields::needed_text(const char* key) {
  needed(key, "a text");
  return text(key);
}

std::optional<std::int64_t> Fields::as_whole(const Value& given,
                                             std::int64_t least,
                                             std::int64_t most) {
  if (given.json == nullptr) return std::nullopt;
  if (given.json->is(JsonKind::number)) {
    const double number = given.json->number();
    if (number >= static_cast<double>(least) && number <= static_cast<double>(most) &&
        number == std::floor(number)) {
      return static_cast<std::int64_t>(number);
    }
  }
  faults_->add(given.json->at(),
               given.path,
               found_as(*given.json),
               "a whole number, " + std::to_string(least) + " to " + std::to_string(most));
  return std::nullopt;
}

std::optional<std::int64_t> Fields::whole(const char* key, std::int64_t least, std::int64_t most) {
  return as_whole(value(key), least, most);
}

std::optional<std::int64_t> Fields::needed_whole(const char* key,
                                                 std::int64_t least,
                                                 std::int64_t most) {
  return as_whole(needed(key, "a whole number"), least, most);
}

std::optional<std::int64_t> Fields::thousandths(const char* key, bool exact) {
  constexpr double kMost = 1e12;  // its thousandths are exact in a double
  const Value given = value(key);
  if (given.json == nullptr) return std::nullopt;
  if (given.json->is(JsonKind::number) && std::abs(given.json->number()) <= kMost) {
    const double scaled = given.json->number() * 1000.0;
    const double nearest_whole = std::round(scaled);
    // a decimal of three digits lies within a rounding error of its thousandths
    if (std::abs(scaled - nearest_whole) <= 1e-12 * std::abs(scaled) + 1e-9) {
      return static_cast<std::int64_t>(nearest_whole);
    }
    if (!exact) return static_cast<std::int64_t>(std::floor(scaled));
  }
  faults_->add(given.json->at(),
               given.path,
               found_as(*given.json),
               exact ? "a number of minutes with at most three decimals" : "a number of minutes");
  return std::nullopt;
}

std::optional<double> Fields::number(const char* key) {
  const Value given = value(key);
  if (given.json == nullptr) return std::nullopt;
  if (given.json->is(JsonKind::number)) return given.json->number();
  faults_->add(given.json->at(), given.path, found_as(*given.json), "a number");
  return std::nullopt;
}

std::optional<bool> Fields::boolean(const char* key) {
  const Value given = value(key);
  if (given.json == nullptr) return std::nullopt;
  if (given.json->is(JsonKind::boolean)) return given.json->boolean();
  faults_->add(given.json->at(), given.path, found_as(*given.json), "true or false");
  return std::nullopt;
}

std::optional<std::size_t> as_name(const Value& value, const KnownIds& names, FaultList& faults) {
  if (value.json == nullptr || value.json->is(JsonKind::broken)) return std::nullopt;
  if (!value.json->is(JsonKind::text)) {
    faults.add(value.json->at(), value.path, found_as(*value.json), names.noun());
    return std::nullopt;
  }
  const auto number = names.find(value.json->text());
  if (!number) {
    faults.add(value.json->at(),
               value.path,
               found_as(*value.json),
               names.noun(),
               faults.nearest_of(value.json->text(), names.names()));
  }
  return number;
}

std::optional<std::size_t> Fields::name(const char* key, const KnownIds& names) {
  return as_name(value(key), names, *faults_);
}

std::optional<std::size_t> Fields::needed_name(const char* key, const KnownIds& names) {
  return as_name(needed(key, names.noun().c_str()), names, *faults_);
}

std::vector<Value> Fields::list(const char* key) {
  const Value given = value(key);
  if (given.json == nullptr) return {};
  if (!given.json->is(JsonKind::list)) {
    faults_->add(given.json->at(), given.path, found_as(*given.json), "a list");
    return {};
  }
  std::vector<Value> rows;
  rows.reserve(given.json->items().size());
  for (const Json& item : given.json->items()) {
    rows.push_back({&item, path_to_item(given.path, rows.size())});
  }
  return rows;
}

std::vector<std::size_t> Fields::names(const char* key, const KnownIds& names) {
  std::vector<std::size_t> numbers;
  for (const Value& row : list(key)) {
    if (const auto number = as_name(row, names, *faults_)) numbers.push_back(*number);
  }
  return numbers;
}

}  // namespace gp::plan_file
