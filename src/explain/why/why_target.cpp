#include "explain/why/why_target.h"

#include "base/nearest.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace gp {
namespace {

struct Named {
  std::string kind;  ///< "person"
  std::string id;
  WhyTarget target;
};

/// Everything of the kinds asked for (empty: of all) that has exactly that id, else that name.
std::vector<Named> called(const Production& film, std::string_view kind, std::string_view word) {
  std::vector<Named> by_id, by_name;
  const auto look = [&](const char* a_kind, const auto& table) {
    if (!kind.empty() && kind != a_kind) return;
    for (const auto id : table.ids()) {
      const Named named{a_kind, table[id].id, id};
      if (table[id].id == word) {
        by_id.push_back(named);
      } else if (table[id].shown() == word) {
        by_name.push_back(named);
      }
    }
  };
  look("person", film.people);
  look("scene", film.scenes);
  look("station", film.stations);
  return by_id.empty() ? by_name : by_id;
}

std::vector<std::string> names(const Production& film, std::string_view kind) {
  std::vector<std::string> ids, shown;
  const auto add = [&](const char* a_kind, const auto& table) {
    if (!kind.empty() && kind != a_kind) return;
    for (const auto& row : table) {
      ids.push_back(row.id);
      if (row.shown() != row.id) shown.push_back(row.shown());
    }
  };
  add("person", film.people);
  add("scene", film.scenes);
  add("station", film.stations);
  ids.insert(ids.end(), shown.begin(), shown.end());
  return ids;
}

}  // namespace

std::variant<WhyTarget, std::string> find_why_target(const Production& film,
                                                     std::string_view word) {
  std::string_view kind, rest = word;
  for (const std::string_view a_kind : {"person", "scene", "station"}) {
    if (word.size() > a_kind.size() && word.substr(0, a_kind.size()) == a_kind &&
        word[a_kind.size()] == ':') {
      kind = a_kind;
      rest = word.substr(a_kind.size() + 1);
    }
  }
  const std::vector<Named> found = called(film, kind, rest);
  if (found.size() == 1) return found.front().target;
  const std::string asked = "\"" + std::string(word) + "\"";
  if (found.empty()) {
    std::string text =
        "no " + (kind.empty() ? std::string("person, scene or station") : std::string(kind)) +
        " is called " + asked;
    const std::string near = nearest(rest, names(film, kind));
    return near.empty() ? text + "; ask with an id or a name of the production"
                        : text + "; nearest: \"" + near + "\"";
  }
  std::string text = asked + " names several; ask for ";
  for (std::size_t i = 0; i < found.size(); ++i) {
    text += (i == 0                  ? ""
             : i + 1 == found.size() ? " or "
                                     : ", ") +
            found[i].kind + ":" + found[i].id;
  }
  return text;
}

}  // namespace gp
