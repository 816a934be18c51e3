#include "explain/conflict/words.h"

namespace gp {
namespace conflict {
namespace {

std::string what_of(const Production& film, const Conflict& conflict) {
  const std::string& scene = film.scenes[conflict.scene].shown();
  if (conflict.role.valid()) return "all " + film.roles[conflict.role].shown() + " of " + scene;
  if (!conflict.job.empty()) return "all " + conflict.job + " of " + scene;
  return scene;
}

}  // namespace

std::string conflict_text(const Production& film, const Conflict& conflict) {
  const std::string what = what_of(film, conflict);
  const bool heads = conflict.role.valid() || !conflict.job.empty();
  const std::string done = heads ? "had" : "filmed";
  std::string text;
  switch (conflict.obstacle) {
    case Obstacle::scene:
    case Obstacle::heads:
      text = what + " cannot be " + done + ", not even on a day of its own.";
      if (conflict.facts.empty()) {
        return text +
               " No single thing written stands out: it was not found possible even with "
               "all times, people and lengths loosened.";
      }
      break;
    case Obstacle::together:
      text = what + " could be " + done + " on a day of its own, but ";
      text += conflict.proven ? "not together with the other scenes."
                              : "no way was found together with the other scenes (not proven).";
      if (conflict.facts.empty()) {
        return text + " More time for the search may find one.";
      }
      break;
    case Obstacle::not_known:
      return "Whether " + what + " can be " + done +
             " on a day of its own was not proven either way: there is too much to try.";
  }
  const bool all_needed = [&] {
    for (const ConflictFact& fact : conflict.facts) {
      if (!fact.needed) return false;
    }
    return true;
  }();
  if (conflict.smallest) {
    text += " No fewer facts than these stand in the way:";
  } else if (all_needed) {
    text += " These stand in the way; none of them can be left out, but fewer others might do:";
  } else {
    text += " These stand in the way; perhaps not all of them (not proven):";
  }
  return text;
}

}  // namespace conflict

std::string name_of(Obstacle obstacle) {
  switch (obstacle) {
    case Obstacle::scene:
      return "alone";
    case Obstacle::heads:
      return "heads";
    case Obstacle::together:
      return "together";
    case Obstacle::not_known:
      break;
  }
  return "not known";
}

std::string write_conflicts(const Production& production, const Conflicts& conflicts) {
  JsonWriter writer;
  writer.begin_object();
  add_conflicts(writer, production, conflicts);
  writer.key("stopped").boolean(conflicts.stopped);
  writer.end_object();
  return writer.finish();
}

void add_conflicts(JsonWriter& writer, const Production& production, const Conflicts& conflicts) {
  writer.key("cannot").begin_list();
  for (const Conflict& conflict : conflicts.all) {
    writer.begin_object();
    writer.key("scene").text(production.scenes[conflict.scene].id);
    if (conflict.role.valid()) writer.key("role").text(production.roles[conflict.role].id);
    if (!conflict.job.empty()) writer.key("job").text(conflict.job);
    writer.key("obstacle").text(name_of(conflict.obstacle));
    writer.key("proven").boolean(conflict.proven);
    writer.key("smallest").boolean(conflict.smallest);
    writer.key("text").text(conflict.text);
    writer.key("facts").begin_list();
    for (const ConflictFact& fact : conflict.facts) {
      writer.begin_object();
      writer.key("path").text(fact.path);
      writer.key("fact").text(fact.words);
      writer.key("needed").boolean(fact.needed);
      writer.key("enough").boolean(fact.enough);
      writer.key("change").text(fact.change);
      if (fact.by > 0) writer.key("by").number(std::int64_t{fact.by});
      writer.key("least").boolean(fact.least);
      writer.end_object();
    }
    writer.end_list();
    if (!conflict.together.empty()) writer.key("together").texts(conflict.together);
    writer.end_object();
  }
  writer.end_list();
}

std::string conflicts_as_text(const Conflicts& conflicts) {
  constexpr std::size_t kMostLines = 12;
  std::string out;
  for (const Conflict& conflict : conflicts.all) {
    if (!out.empty()) out += "\n";
    out += conflict.text + "\n";
    bool enough = false;
    for (std::size_t i = 0; i < conflict.facts.size() && i < kMostLines; ++i) {
      const ConflictFact& fact = conflict.facts[i];
      out += "  - " + fact.words + " (" + fact.path + ")\n";
    }
    if (conflict.facts.size() > kMostLines) {
      out += "  - and " + std::to_string(conflict.facts.size() - kMostLines) +
             " more, in the JSON of --json\n";
    }
    std::size_t told = 0;
    for (const ConflictFact& fact : conflict.facts) {
      if (!fact.enough || ++told > kMostLines) continue;
      if (!enough) out += "It would be possible, all else as it is,\n";
      enough = true;
      out += "  - " + fact.change + "\n";
    }
    if (!enough && !conflict.facts.empty()) {
      out += "Changing any one of these alone was not found to be enough.\n";
    }
    if (!conflict.together.empty()) {
      out += "It would be possible with all of this together:\n";
      for (const std::string& change : conflict.together) out += "  - " + change + "\n";
    }
  }
  if (conflicts.stopped) out += "Stopped before the end: there may be more to say.\n";
  return out;
}

}  // namespace gp
