#include "store/change_work.h"

#include "base/json.h"
#include "model/read_production.h"
#include "store/documents.h"
#include "store/json_diff.h"
#include "store/json_patch.h"
#include "store/merge.h"

#include <algorithm>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t kMostNotices = 200;  // of one person
constexpr std::size_t kMostSettingsBytes = std::size_t{256} * 1024;

Fault fault_of(const std::string& document, const std::string& found, const std::string& expected) {
  return {0, 0, document, found, expected, {}};
}

/// A patch that leaves the document absent or makes it whole.
Document whole_patch(const char* operation, const Document& value) {
  return Document::array({Document{{"op", operation}, {"path", ""}, {"value", value}}});
}

bool before_in_list(const SignUp& a, const SignUp& b) {
  return a.sent_at != b.sent_at ? a.sent_at < b.sent_at : a.id < b.id;
}

class Worker {
 public:
  Worker(const BookState& state, const InverseSource& inverses, const Change& change)
      : state_(state), inverses_(inverses), change_(change) {}

  std::variant<WorkedOut, Refusal> run() {
    work_.made_at = state_.revision;
    if (change_.seen && (*change_.seen < 1 || *change_.seen > state_.revision)) {
      refuse(fault_of({},
                      "a change made at revision " + std::to_string(*change_.seen),
                      "one that the book has: 1 to " + std::to_string(state_.revision)));
      return std::move(refusal_);
    }
    for (const Edit& edit : change_.edits) collect(edit);
    for (const auto& [name, patches] : patches_) one(name, patches);
    if (!refusal_.faults.empty() || !refusal_.collisions.empty()) return std::move(refusal_);
    return std::move(work_);
  }

 private:
  void refuse(Fault fault) { refusal_.faults.push_back(std::move(fault)); }

  void collect(const Edit& edit) {
    if (!is_document_name(edit.document)) {
      return refuse(fault_of(edit.document,
                             gp::quoted(edit.document),
                             "\"production\", \"settings\" or \"sign-up/ID\""));
    }
    const auto text = text_of_document(edit.patch);
    if (const auto* fault = std::get_if<Fault>(&text)) return refuse(*fault);
    const auto known = std::find_if(patches_.begin(), patches_.end(), [&](const auto& entry) {
      return entry.first == edit.document;
    });
    if (known == patches_.end()) {
      patches_.push_back({edit.document, {&edit.patch}});
    } else {
      known->second.push_back(&edit.patch);
    }
  }

  void one(const std::string& name, const std::vector<const Document*>& patches) {
    const Document now = document_of(state_, name);
    Document before = now;
    bool others = false;
    if (change_.seen && *change_.seen < state_.revision) {
      for (const Document& inverse : inverses_(name, *change_.seen, state_.revision)) {
        before = patched(std::move(before), inverse);
        others = true;
      }
    }
    Document mine = before;
    try {
      for (const Document* patch : patches) mine = patched(std::move(mine), *patch);
    } catch (const PatchError& error) {
      return refuse(
          fault_of(name + error.at(), error.what(), "a JSON Patch (RFC 6902) that applies"));
    }
    if (others) {
      Merged merged = merge(before, now, mine);
      for (MergeCollision& one : merged.collisions) {
        refusal_.collisions.push_back({name,
                                       std::move(one.path),
                                       std::move(one.before),
                                       std::move(one.theirs),
                                       std::move(one.mine)});
      }
      if (!merged.collisions.empty()) return;
      mine = std::move(merged.document);
      work_.merged = true;
    }
    if (same_json(now, mine)) return;
    check(name, now, std::move(mine));
  }

  void check(const std::string& name, const Document& now, Document after) {
    ChangedDocument changed;
    changed.name = name;
    changed.mark = mark_of(state_, name);
    if (!after.is_null() && !sign_up_id(name).empty()) {
      if (!sign_up(changed, after)) return;
      after = write_sign_up(*changed.sign_up);  // as it will be read back: see document_of()
      if (same_json(now, after)) return;
    }
    changed.patch = patch_between(now, after);
    changed.inverse = patch_between(after, now);
    if (after.is_null()) {
      if (name == kProductionDocument) {
        return refuse(fault_of(name, "a patch that takes the production away", "a production"));
      }
      changed.gone = true;
      work_.documents.push_back(std::move(changed));
      return;
    }
    auto text = text_of_document(after);
    if (const auto* fault = std::get_if<Fault>(&text)) return refuse(*fault);
    changed.text = std::get<std::string>(std::move(text));
    if (name == kProductionDocument && !production(changed)) return;
    if (name == kSettingsDocument && !settings(changed, after)) return;
    if (changed.sign_up == nullptr) {
      changed.document = std::make_shared<const Document>(std::move(after));
    }
    work_.documents.push_back(std::move(changed));
  }

  bool told(std::vector<Fault> faults) {
    for (Fault& fault : faults) refuse(std::move(fault));
    return false;
  }

  bool production(ChangedDocument& changed) {
    auto read = read_production(changed.text, PeopleListed::still_coming);
    if (auto* faults = std::get_if<std::vector<Fault>>(&read)) {
      return told(without_places(std::move(*faults)));
    }
    changed.production = std::make_shared<const Production>(std::get<Production>(std::move(read)));
    return true;
  }

  bool settings(const ChangedDocument& changed, const Document& after) {
    if (after.is_object() && changed.text.size() <= kMostSettingsBytes) return true;
    refuse(
        fault_of(changed.name,
                 after.is_object() ? std::to_string(changed.text.size()) + " bytes" : "no object",
                 "an object of at most " + std::to_string(kMostSettingsBytes) + " bytes"));
    return false;
  }

  bool sign_up(ChangedDocument& changed, const Document& after) {
    auto read = read_sign_up(after);
    if (auto* faults = std::get_if<std::vector<Fault>>(&read)) return told(std::move(*faults));
    auto& found = std::get<SignUp>(read);
    if (found.id != sign_up_id(changed.name)) {
      refuse(fault_of("id", gp::quoted(found.id), gp::quoted(sign_up_id(changed.name))));
      return false;
    }
    if (found.notices.size() > kMostNotices) {
      refuse(fault_of("notices",
                      std::to_string(found.notices.size()) + " notices",
                      "at most " + std::to_string(kMostNotices)));
      return false;
    }
    changed.sign_up = std::make_shared<const SignUp>(std::move(found));
    return true;
  }

  const BookState& state_;
  const InverseSource& inverses_;
  const Change& change_;
  std::vector<std::pair<std::string, std::vector<const Document*>>> patches_;
  WorkedOut work_;
  Refusal refusal_;
};

}  // namespace

Document document_of(const BookState& state, const std::string& name) {
  if (name == kProductionDocument) return *state.production_document;
  if (name == kSettingsDocument) return state.settings;
  const auto sign_up = state.sign_up(sign_up_id(name));
  return sign_up == nullptr ? Document() : write_sign_up(*sign_up);
}

Document patch_between(const Document& before, const Document& after) {
  if (before.is_null()) return whole_patch("add", after);
  if (after.is_null()) return whole_patch("replace", after);
  return difference(before, after);
}

DocumentMark mark_of(const BookState& state, const std::string& document) {
  if (document == kProductionDocument) return state.production_document;
  if (document == kSettingsDocument) return state.settings_mark;
  return state.sign_up(sign_up_id(document));
}

std::variant<WorkedOut, Refusal> work_out(const BookState& state,
                                          const InverseSource& inverses,
                                          const Change& change) {
  return Worker(state, inverses, change).run();
}

bool still_holds(const std::variant<WorkedOut, Refusal>& work,
                 const BookState& made_with,
                 const BookState& now) {
  if (made_with.revision == now.revision) return true;
  const auto* done = std::get_if<WorkedOut>(&work);
  return done != nullptr &&
         std::all_of(
             done->documents.begin(), done->documents.end(), [&](const ChangedDocument& changed) {
               return mark_of(now, changed.name) == changed.mark;
             });
}

void take_sign_up(BookState& state, std::string_view id) {
  std::erase_if(state.sign_ups, [&](const auto& sign_up) { return sign_up->id == id; });
}

void insert_sign_up(BookState& state, std::shared_ptr<const SignUp> sign_up) {
  const auto place = std::upper_bound(
      state.sign_ups.begin(), state.sign_ups.end(), sign_up, [](const auto& a, const auto& b) {
        return before_in_list(*a, *b);
      });
  state.sign_ups.insert(place, std::move(sign_up));
}

std::string edits_text(const std::vector<ChangedDocument>& documents) {
  std::string text = "[";
  for (const ChangedDocument& changed : documents) {
    if (text.size() > 1) text += ",\n";
    text += "{\"document\":" + Document(changed.name).dump() +
            ",\"patch\":" + changed.patch.dump() + ",\"inverse\":" + changed.inverse.dump() + "}";
  }
  return text + "]";
}

std::string document_names(const std::vector<ChangedDocument>& documents) {
  std::string names;
  for (const ChangedDocument& changed : documents) names += changed.name + "\n";
  return names;
}

}  // namespace gp
