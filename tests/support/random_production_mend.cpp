#include "support/random_production_mend.h"

#include <algorithm>
#include <set>
#include <string>
#include <vector>

namespace gp::test {
namespace {

using Object = nlohmann::ordered_json;

std::string someone_coming(const Object& out, Random& random) {
  std::vector<std::string> coming;
  for (const Object& person : out["people"]) {
    if (!person.contains("answer") || person["answer"] == "yes") coming.push_back(person["id"]);
  }
  return coming.at(random.index(coming.size()));
}

bool has(const Object& row, const char* key, const std::string& value) {
  if (!row.contains(key)) return false;
  return std::find(row[key].begin(), row[key].end(), value) != row[key].end();
}

bool refuses(const Object& person, const Object& row, const char* key) {
  if (!row.contains(key)) return false;
  return std::any_of(
      row[key].begin(), row[key].end(), [&](const Object& tag) { return has(person, "no", tag); });
}

bool may_play(const Object& out, const Object& role, const Object& person) {
  if (person.contains("answer") && person["answer"] != "yes") return false;
  if (role.contains("from") && !has(role, "from", person["id"])) return false;
  if (role.contains("needs")) {
    for (const auto& need : role["needs"]) {
      if (!has(person, "can", need)) return false;
    }
  }
  if (refuses(person, role, "tags")) return false;
  if (role.contains("look") && out.contains("looks")) {
    for (const Object& look : out["looks"]) {
      if (look["id"] == role["look"] && refuses(person, look, "tags")) return false;
    }
  }
  for (const Object& scene : out["scenes"]) {
    if (!scene.contains("cast")) continue;
    for (const Object& call : scene["cast"]) {
      if (call["role"] == role["id"] && refuses(person, scene, "hazards")) return false;
    }
  }
  return true;
}

/// A part just fixed leaves every scene in which its person has another fixed part.
void drop_doubles(Object& out, const Object& role) {
  std::set<std::string> same;
  for (const Object& other : out["roles"]) {
    if (other["id"] != role["id"] && other.contains("person") &&
        other["person"] == role["person"]) {
      same.insert(other["id"]);
    }
  }
  for (Object& scene : out["scenes"]) {
    if (!scene.contains("cast")) continue;
    Object& cast = scene["cast"];
    const bool meets = std::any_of(
        cast.begin(), cast.end(), [&](const Object& call) { return same.contains(call["role"]); });
    if (!meets) continue;
    Object left = Object::array();
    for (const Object& call : cast) {
      if (call["role"] != role["id"]) left.push_back(call);
    }
    scene["cast"] = left;
  }
}

}  // namespace

/// A part that nobody may play is a fault of the file: such a one is given to somebody.
void mend_parts(Object& out, Random& random) {
  for (Object& role : out["roles"]) {
    if (role.contains("crowd") || role.contains("person")) continue;
    bool anybody = false;
    for (const Object& person : out["people"]) anybody = anybody || may_play(out, role, person);
    if (anybody) continue;
    for (const char* key : {"from", "needs", "tags"}) role.erase(key);
    role["person"] = someone_coming(out, random);
    drop_doubles(out, role);
  }
}

/// Whoever a part is fixed to will do it, or the file has a fault: what they would refuse in it
/// is taken off their list.
void mend_refusals(Object& out) {
  for (const Object& role : out["roles"]) {
    if (!role.contains("person")) continue;
    std::set<std::string> asked;
    const auto ask = [&asked](const Object& row, const char* key) {
      if (row.contains(key)) asked.insert(row[key].begin(), row[key].end());
    };
    ask(role, "tags");
    for (const Object& look : out.value("looks", Object::array())) {
      if (role.contains("look") && look["id"] == role["look"]) ask(look, "tags");
    }
    for (const Object& scene : out["scenes"]) {
      for (const Object& call : scene.value("cast", Object::array())) {
        if (call["role"] == role["id"]) ask(scene, "hazards");
      }
    }
    for (Object& person : out["people"]) {
      if (person["id"] != role["person"] || !person.contains("no")) continue;
      Object left = Object::array();
      for (const Object& tag : person["no"]) {
        if (!asked.contains(tag.get<std::string>())) left.push_back(tag);
      }
      person["no"] = left;
    }
  }
}

}  // namespace gp::test
