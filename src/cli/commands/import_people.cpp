#include "base/errors.h"
#include "base/json.h"
#include "cli/commands/commands.h"
#include "cli/commands/import.h"
#include "intake/people_merge.h"
#include "model/limits.h"
#include "text/width.h"

#include <algorithm>
#include <charconv>
#include <map>

namespace gp {
namespace {

IfThere what_of(const std::string& text) {
  if (text == "hold") return IfThere::hold;
  if (text == "skip") return IfThere::skip;
  if (text == "fill") return IfThere::fill;
  if (text == "replace") return IfThere::replace;
  if (text == "add") return IfThere::add;
  throw UsageError("--decide takes hold, skip, fill, replace or add, not \"" + text + "\"");
}

const char* done_text(IfThere what) {
  switch (what) {
    case IfThere::hold:
      return "waits for a decision";
    case IfThere::skip:
      return "is skipped";
    case IfThere::fill:
      return "fills in what is missing";
    case IfThere::replace:
      return "replaces what is there";
    case IfThere::add:
      return "is added as somebody else";
  }
  throw InternalError("a decision of no kind");
}

MergeWishes wishes_of(const Arguments& arguments) {
  MergeWishes wishes;
  wishes.same = what_of(arguments.text("same"));
  const std::string answer = arguments.text("answer");
  if (answer == "yes") wishes.answer = Answer::yes;
  if (answer == "maybe") wishes.answer = Answer::maybe;
  if (answer == "no") wishes.answer = Answer::no;
  for (const auto& [number, what] : decisions_of(arguments)) {
    std::size_t value = 0;
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
    if (error != std::errc() || end != number.data() + number.size() || value == 0) {
      throw UsageError("--decide takes the numbers that stand in brackets, such as 4=fill, not \"" +
                       number + "\"");
    }
    wishes.decided[value] = what_of(what);
  }
  return wishes;
}

void tell_columns(const PeopleColumns& columns, std::ostream& out) {
  std::size_t widest = 0;
  for (const PeopleColumn& column : columns.columns) {
    widest = std::max(widest, cells(cut_to(harmless(column.header), 30)));
  }
  std::size_t number = 0;
  for (const PeopleColumn& column : columns.columns) {
    const std::string header = cut_to(harmless(column.header), 30);
    out << "  column " << ++number << "  " << header
        << std::string(widest - std::min(widest, cells(header)), ' ') << (widest > 0 ? "  " : "");
    if (column.field == PersonField::none) {
      out << "left out (" << counted(column.texts, "text", "texts") << ")";
    } else {
      out << name_of(column.field);
      if (!column.size.empty()) out << ' ' << column.size;
      if (column.again) out << ", once more: where the first one says nothing";
    }
    out << '\n';
  }
}

void tell_pair(const PossiblePair& pair, const Production& production, std::ostream& out) {
  const Person& there = production.people[pair.there];
  std::string same;
  for (const std::string& one : pair.same) same += (same.empty() ? "" : ", ") + one;
  out << "  [" << pair.number << "] " << harmless(input_name(pair.file)) << ":" << pair.line << " "
      << harmless(pair.comes) << " and " << harmless(there.id) << " have the same " << same;
  if (pair.others > 0) out << " (and so do " << pair.others << " more)";
  out << "; " << done_text(pair.done) << '\n';
  for (const FieldPair& field : pair.fields) {
    out << "        " << harmless(field.field) << ": ";
    if (field.there.empty()) {
      out << "nothing is there";
    } else {
      out << "there " << harmless(field.there);
    }
    out << ", comes " << harmless(field.comes) << '\n';
  }
}

/// How many texts of each field are left out, and why; the texts of columns were told above.
void tell_left_out(const std::vector<LeftOut>& left_out, std::ostream& out) {
  std::map<std::pair<std::string, std::string>, std::pair<std::size_t, const LeftOut*>> kinds;
  for (const LeftOut& one : left_out) {
    const bool waits = one.why.find(": perhaps ") != std::string::npos;
    // bad lines have no field; they were told where they stand
    if (waits || one.field.empty() || one.why == "the column is not taken over") continue;
    auto& [number, first] = kinds[{one.field, one.why}];
    if (number++ == 0) first = &one;
  }
  if (kinds.empty()) return;
  out << "left out:\n";
  std::size_t shown = 0;
  for (const auto& [kind, entry] : kinds) {
    if (shown++ == kMostShownLines) {
      out << "  … and " << kinds.size() - kMostShownLines
          << " more kinds; --left-out FILE lists every text\n";
      return;
    }
    const LeftOut& one = *entry.second;
    out << "  " << harmless(input_name(one.file)) << ":" << one.line << ": " << harmless(kind.first)
        << " of " << harmless(one.who) << ": " << harmless(gp::quoted(one.text)) << ": "
        << harmless(kind.second);
    if (entry.first > 1) out << " (and " << entry.first - 1 << " more such)";
    out << '\n';
  }
}

struct Lists {
  std::vector<IncomingPerson> people;
  std::vector<LeftOut> left_out;
  std::size_t bad = 0;
  bool faults = false;
};

Lists read_lists(const Arguments& arguments, std::ostream& out, Shell& shell) {
  Lists all;
  const ListWishes wishes = list_wishes(arguments);
  for (std::size_t i = 1; i < arguments.positional.size(); ++i) {
    const std::string& name = arguments.positional[i];
    PeopleList list = read_people_list(shell.files.read(name, kMostListBytes), name, wishes);
    tell_form(name, list.form, out);
    if (list.form.table) tell_columns(list.columns, out);
    tell_list_faults(name, list.faults, shell);
    all.faults = all.faults || !list.faults.empty();
    out << "  " << counted(list.entries, "entry", "entries") << " read, "
        << list.people.people.size() << " of them people";
    if (list.pictures > 0) {
      out << "; "
          << counted(
                 list.pictures, "picture, logo, sound or key", "pictures, logos, sounds and keys")
          << " ignored";
    }
    if (!list.people.bad.empty()) {
      out << "; " << counted(list.people.bad.size(), "place", "places") << " could not be used:";
    }
    out << '\n';
    tell_bad(name, list.people.bad, out);
    all.bad += list.people.bad.size();
    add_bad(name, list.people.bad, all.left_out);
    all.left_out.insert(
        all.left_out.end(), list.people.left_out.begin(), list.people.left_out.end());
    all.people.insert(all.people.end(), list.people.people.begin(), list.people.people.end());
  }
  return all;
}

/// \return how many wait for a decision
std::size_t tell_merge(const PeopleMerge& merge, std::ostream& out) {
  std::size_t waiting = 0;
  for (const PossiblePair& pair : merge.pairs) waiting += pair.done == IfThere::hold ? 1U : 0U;
  out << counted(merge.added.size(), "person comes", "people come") << " in";
  if (!merge.changed.empty()) {
    out << ", " << counted(merge.changed.size(), "person there gets", "people there get")
        << " something new";
  }
  if (merge.there_already > 0) {
    out << ", " << counted(merge.there_already, "is", "are") << " there already with all of it";
  }
  if (!merge.pairs.empty()) {
    out << ", " << merge.pairs.size() << " perhaps the same as somebody there";
  }
  out << '\n';
  std::size_t shown = 0;
  for (const PossiblePair& pair : merge.pairs) {
    if (shown++ == kMostShownLines) {
      out << "  … and " << merge.pairs.size() - kMostShownLines
          << " more; --left-out FILE lists them all\n";
      break;
    }
    tell_pair(pair, merge.production, out);
  }
  if (waiting > 0) {
    out << "those who wait are not taken over: decide with --decide \"NUMBER=fill\" (or replace, "
           "add, skip), or for all with --same\n";
  }
  return waiting;
}

}  // namespace

ExitCode import_people(const Arguments& arguments, Shell& shell) {
  const MergeWishes wishes = wishes_of(arguments);
  auto target = ImportTarget::open(arguments, shell);
  if (!target) return ExitCode::faults;
  std::ostream& out = target->told(shell);
  Lists lists = read_lists(arguments, out, shell);
  if (lists.faults) {
    shell.err << "nothing was changed\n";
    return ExitCode::faults;
  }
  PeopleMerge merge = merge_people(target->production(), lists.people, wishes);
  const std::size_t waiting = tell_merge(merge, out);
  lists.left_out.insert(lists.left_out.end(), merge.left_out.begin(), merge.left_out.end());
  tell_left_out(lists.left_out, out);
  write_left_out(arguments, lists.left_out, shell);
  for (const std::size_t number : merge.unknown_decisions) {
    shell.err << "--decide: [" << number << "] is nobody who is perhaps there already\n";
  }
  if (merge.no_room > 0) {
    shell.err << "a production holds at most " << limits::kEntries << " people: " << merge.no_room
              << " would have no place; import fewer\n";
  }
  if (merge.no_room > 0 || !merge.unknown_decisions.empty()) {
    shell.err << "nothing was changed\n";
    return ExitCode::faults;
  }
  const ExitCode end = lists.bad > 0 || waiting > 0 ? ExitCode::not_all : ExitCode::right;
  if (merge.added.empty() && merge.changed.empty()) {
    out << "there is nothing to take over\n";
    if (!target->wants_copy() || !arguments.has("yes")) return end;
  }
  if (!confirmed(arguments, *target, shell)) return end;
  const ExitCode kept =
      target->keep(merge.production,
                   merge.changed,
                   "people imported: " + std::to_string(merge.added.size()) + " added, " +
                       std::to_string(merge.changed.size()) + " changed",
                   shell);
  return kept == ExitCode::right ? end : kept;
}

}  // namespace gp
