#include "base/json.h"
#include "cli/commands/commands.h"
#include "cli/commands/import.h"
#include "model/limits.h"
#include "text/width.h"

namespace gp {
namespace {

void refuse_people_options(const Arguments& arguments) {
  for (const char* const name : {"answer", "decide", "header"}) {
    if (arguments.has(name)) {
      throw UsageError(std::string("--") + name + " is for people, not for --scenes");
    }
  }
  const std::string same = arguments.text("same");
  if (same == "fill" || same == "replace") {
    throw UsageError("scenes are never merged: --same takes hold, skip or add with --scenes");
  }
}

void tell_merge(const ShotsMerge& merge, std::ostream& out) {
  const Production& production = merge.production;
  out << counted(merge.added.size(), "scene comes", "scenes come") << " in";
  if (merge.without_minutes > 0) {
    out << ", " << merge.without_minutes << " of them without minutes (0 until you say)";
  }
  out << '\n';
  const auto tell_new = [&](std::size_t number, const char* one, const char* many) {
    if (number > 0) out << "new " << (number == 1 ? one : many) << ":";
    return number > 0;
  };
  if (tell_new(merge.new_places.size(), "place", "places")) {
    const char* sign = " ";
    for (const PlaceId id : merge.new_places) {
      out << sign << harmless(production.places[id].id);
      sign = ", ";
    }
    out << '\n';
  }
  if (tell_new(merge.new_roles.size(), "part", "parts")) {
    const char* sign = " ";
    for (const RoleId id : merge.new_roles) {
      const Role& role = production.roles[id];
      out << sign << harmless(role.id);
      sign = ", ";
      if (role.crowd) out << " (crowd)";
      if (role.person.valid()) out << " (" << harmless(production.people[role.person].id) << ")";
    }
    out << '\n';
  }
  std::size_t shown = 0;
  for (const ShotsMerge::Held& one : merge.held) {
    if (shown++ == kMostShownLines) {
      out << "  … and " << merge.held.size() - kMostShownLines << " more\n";
      break;
    }
    out << "  line " << one.line << ": " << harmless(gp::quoted(one.name))
        << ": a scene of that number or name is there ("
        << harmless(production.scenes[one.there].id) << "); not added, unless with --same add\n";
  }
  shown = 0;
  for (const std::string& remark : merge.remarks) {
    if (shown++ == kMostShownLines) {
      out << "  … and " << merge.remarks.size() - kMostShownLines << " more\n";
      break;
    }
    out << "  " << harmless(remark) << '\n';
  }
}

}  // namespace

ExitCode import_scenes(const Arguments& arguments, Shell& shell) {
  refuse_people_options(arguments);
  auto target = ImportTarget::open(arguments, shell);
  if (!target) return ExitCode::faults;
  std::ostream& out = target->told(shell);
  std::vector<Shot> shots;
  std::vector<LeftOut> left_out;
  bool faults = false;
  std::size_t bad = 0;
  for (std::size_t i = 1; i < arguments.positional.size(); ++i) {
    const std::string& name = arguments.positional[i];
    const ShotsList list =
        read_shots_list(shell.files.read(name, kMostListBytes), name, list_wishes(arguments));
    tell_form(name, list.form, out);
    std::size_t number = 0;
    for (const ShotColumn& column : list.read.columns) {
      if (!list.form.table) break;
      out << "  column " << ++number << "  " << cut_to(harmless(column.header), 30) << ": "
          << (column.field == "none" ? "notes" : column.field) << '\n';
    }
    tell_list_faults(name, list.faults, shell);
    faults = faults || !list.faults.empty();
    if (!list.read.bad.empty()) {
      out << "  " << counted(list.read.bad.size(), "line", "lines") << " could not be used:\n";
    }
    tell_bad(name, list.read.bad, out);
    bad += list.read.bad.size();
    add_bad(name, list.read.bad, left_out);
    shots.insert(shots.end(), list.read.shots.begin(), list.read.shots.end());
  }
  if (faults) {
    shell.err << "nothing was changed\n";
    return ExitCode::faults;
  }
  const bool again = arguments.text("same") == "add";
  const ShotsMerge merge = merge_shots(target->production(), shots, again);
  tell_merge(merge, out);
  for (const ShotsMerge::Held& one : merge.held) {
    left_out.push_back({"", one.line, one.name, "", one.name, "a scene of that name is there"});
  }
  write_left_out(arguments, left_out, shell);
  if (merge.no_room > 0) {
    shell.err << "a production holds at most " << limits::kEntries << " scenes and "
              << limits::kCalls << " calls: " << merge.no_room
              << " would have no place; import fewer\nnothing was changed\n";
    return ExitCode::faults;
  }
  const bool waits = !merge.held.empty() && arguments.text("same") == "hold";
  const ExitCode end = bad > 0 || waits ? ExitCode::not_all : ExitCode::right;
  if (merge.added.empty()) {
    out << "there is nothing to take over\n";
    if (!target->wants_copy() || !arguments.has("yes")) return end;
  }
  if (!confirmed(arguments, *target, shell)) return end;
  const ExitCode kept = target->keep(
      merge.production, {}, "scenes imported: " + std::to_string(merge.added.size()), shell);
  return kept == ExitCode::right ? end : kept;
}

}  // namespace gp
