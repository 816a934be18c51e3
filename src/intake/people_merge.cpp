#include "intake/people_merge.h"

#include "intake/like_names.h"
#include "intake/people_index.h"
#include "intake/phone.h"
#include "intake/values.h"
#include "model/limits.h"
#include "model/texts.h"
#include "time/clock.h"

#include <algorithm>
#include <set>

namespace gp {
namespace {

std::string written(const Tags& tags) {
  return listed_words(tags);
}

Tags united(Tags first, const Tags& second) {
  for (const std::string& tag : second) {
    if (std::find(first.begin(), first.end(), tag) == first.end()) first.push_back(tag);
  }
  return first;
}

class PeopleMerger {
 public:
  PeopleMerger(const Production& production, const MergeWishes& wishes)
      : wishes_(wishes), like_names_(production, index_) {
    out_.production = production;
    for (const PersonId id : production.people.ids()) index_.add(id, production.people[id]);
    for (const Day& day : production.days) last_day_ = std::max(last_day_, day.date);
  }

  PeopleMerge merge(const std::vector<IncomingPerson>& people) {
    for (const IncomingPerson& incoming : people) take(incoming);
    for (const Ward& ward : guardians_) set_guardian(ward);
    for (const Ward& one : likers_) set_likes(one);
    for (const auto& [number, decision] : wishes_.decided) {
      if (!paired_.contains(number)) out_.unknown_decisions.push_back(number);
    }
    out_.changed.assign(changed_.begin(), changed_.end());
    return std::move(out_);
  }

 private:
  /// Somebody whose list names a guardian, or likes; looked for once all are there.
  struct Ward {
    PersonId person;
    const IncomingPerson* incoming = nullptr;
    bool replace = false;
  };

  void take(const IncomingPerson& given) {
    ++number_;
    IncomingPerson incoming = given;
    if (!incoming.answer_said) incoming.person.answer = wishes_.answer;
    if (incoming.person.born && last_day_.ok() && *incoming.person.born > last_day_) {
      leave(incoming, "born", format(*incoming.person.born), "after the last shooting day");
      incoming.person.born.reset();
    }
    const auto found = index_.find(incoming.person);
    if (!found) return add(incoming, given);
    PossiblePair pair = pair_of(incoming, *found);
    // of the same id and name nothing new: the list is one that was taken over before
    const bool sure = pair.names_agree || found->id;
    if (pair.fields.empty() && sure) {
      ++out_.there_already;
      return;
    }
    paired_.insert(number_);
    const auto decided = wishes_.decided.find(number_);
    if (decided != wishes_.decided.end()) {
      pair.done = decided->second;
    } else if (wishes_.same == IfThere::fill || wishes_.same == IfThere::replace) {
      pair.done = sure ? wishes_.same : IfThere::hold;
    } else {
      pair.done = wishes_.same;
    }
    act(incoming, given, pair);
    out_.pairs.push_back(std::move(pair));
  }

  void act(const IncomingPerson& incoming, const IncomingPerson& given, const PossiblePair& pair) {
    switch (pair.done) {
      case IfThere::add:
        return add(incoming, given);
      case IfThere::fill:
      case IfThere::replace:
        bring_in(incoming, pair);
        if (!given.guardian.empty()) {
          guardians_.push_back({pair.there, &given, pair.done == IfThere::replace});
        }
        if (std::any_of(pair.fields.begin(), pair.fields.end(), [](const FieldPair& field) {
              return field.field == "likes";
            })) {
          likers_.push_back({pair.there, &given, pair.done == IfThere::replace});
        }
        return;
      case IfThere::hold:
      case IfThere::skip:
        break;
    }
    const std::string why =
        std::string(pair.done == IfThere::hold ? "waits for a decision" : "skipped") +
        ": perhaps " + out_.production.people[pair.there].id;
    leave(incoming, "name", incoming.person.shown(), why);
    for (const FieldPair& field : pair.fields) {
      if (field.field != "name" && !field.comes.empty()) {
        leave(incoming, field.field, field.comes, why);
      }
    }
  }

  void add(const IncomingPerson& incoming, const IncomingPerson& given) {
    if (out_.production.people.size() >= limits::kEntries) {
      ++out_.no_room;
      return;
    }
    Person person = incoming.person;
    if (person.id.empty() || index_.has_id(person.id)) {
      const std::string wanted = person.id;
      person.id = free_id(person.shown());
      if (!wanted.empty()) {
        leave(incoming, "id", wanted, "somebody else has it; the new one is " + person.id);
      }
    }
    const PersonId id = out_.production.people.add(person);
    index_.add(id, person);
    out_.added.push_back(id);
    if (!given.guardian.empty()) guardians_.push_back({id, &given, false});
    if (!given.likes.empty()) likers_.push_back({id, &given, false});
  }

  std::string free_id(const std::string& name) {
    std::string wanted = id_of_name(name);
    if (wanted.empty()) wanted = "person";
    if (!index_.has_id(wanted)) return wanted;
    // numbers go on where they stopped: a thousand of one name cost no square
    int& number = numbers_[wanted];
    if (number == 0) number = 1;
    std::string id;
    do {
      id = wanted + "-" + std::to_string(++number);
    } while (index_.has_id(id));
    return id;
  }

  PossiblePair pair_of(const IncomingPerson& incoming, const PeopleIndex::Found& found) const {
    const Person& there = out_.production.people[found.person];
    const Person& comes = incoming.person;
    PossiblePair pair;
    pair.number = number_;
    pair.file = incoming.file;
    pair.line = incoming.line;
    pair.comes = comes.shown();
    pair.there = found.person;
    pair.others = found.others;
    if (found.id) pair.same.emplace_back("id");
    if (found.name) pair.same.emplace_back("name");
    if (found.phone) pair.same.emplace_back("phone");
    if (found.mail) pair.same.emplace_back("mail");
    pair.names_agree = index_.same_name(there.shown(), comes.shown());
    const auto differ = [&](const char* field, const std::string& old, const std::string& fresh) {
      if (!fresh.empty() && fresh != old) pair.fields.push_back({field, old, fresh});
    };
    if (!pair.names_agree) differ("name", there.name, comes.name);
    if (!same_phone(phone_form(there.phone), phone_form(comes.phone))) {
      differ("phone", there.phone, comes.phone);
    }
    if (mail_key(there.email) != mail_key(comes.email)) differ("email", there.email, comes.email);
    differ("language", there.language, comes.language);
    if (comes.free && comes.free != there.free) {
      differ("free",
             there.free ? written_free_times(*there.free) : std::string(),
             written_free_times(*comes.free));
    }
    if (united(there.can, comes.can) != there.can) {
      differ("can", written(there.can), written(comes.can));
    }
    if (united(there.no, comes.no) != there.no) differ("no", written(there.no), written(comes.no));
    if (const auto read = like_names_.read(out_.production, incoming.likes, found.person);
        !read.bad.empty() || united(there.likes, read.likes) != there.likes) {
      differ("likes", written(there.likes), incoming.likes);
    }
    if (incoming.weight_said && comes.weight != there.weight) {
      differ("weight",
             written_number(static_cast<double>(there.weight) / 1000),
             written_number(static_cast<double>(comes.weight) / 1000));
    }
    differ("born",
           there.born ? format(*there.born) : std::string(),
           comes.born ? format(*comes.born) : std::string());
    if (!incoming.guardian.empty()) {
      const std::string old =
          there.guardian.valid() ? out_.production.people[there.guardian].id : std::string();
      const PersonId meant = index_.named(incoming.guardian);
      if (!meant.valid() || meant != there.guardian) differ("guardian", old, incoming.guardian);
    }
    for (const auto& [name, size] : comes.sizes) {
      const auto old = there.sizes.find(name);
      if (old != there.sizes.end() && old->second == size) continue;
      pair.fields.push_back({"size " + name,
                             old == there.sizes.end() ? "" : written_number(old->second),
                             written_number(size)});
    }
    differ("food", there.food, comes.food);
    differ("skin", there.skin, comes.skin);
    if (incoming.answer_said) differ("answer", name_of(there.answer), name_of(comes.answer));
    if (comes.turnout && comes.turnout != there.turnout) {
      differ("turnout",
             there.turnout ? written_number(*there.turnout) : std::string(),
             written_number(*comes.turnout));
    }
    return pair;
  }

  /// Fills or replaces, field by field as the pair shows them; what is not taken is told.
  void bring_in(const IncomingPerson& incoming, const PossiblePair& pair) {
    Person& there = out_.production.people[pair.there];
    const Person& comes = incoming.person;
    const bool replace = pair.done == IfThere::replace;
    bool any = false;
    for (const FieldPair& field : pair.fields) {
      const bool joins = field.field == "can" || field.field == "no" || field.field == "likes";
      if (!replace && !field.there.empty() && !joins) {
        leave(incoming, field.field, field.comes, there.id + " has \"" + field.there + "\"");
        continue;
      }
      if (field.field == "guardian" || field.field == "likes") continue;  // once all are there
      any = true;
      if (field.field == "name") there.name = comes.name;
      if (field.field == "phone") there.phone = comes.phone;
      if (field.field == "email") there.email = comes.email;
      if (field.field == "language") there.language = comes.language;
      if (field.field == "free") there.free = comes.free;
      if (field.field == "can") there.can = replace ? comes.can : united(there.can, comes.can);
      if (field.field == "no") there.no = united(there.no, comes.no);
      if (field.field == "weight") there.weight = comes.weight;
      if (field.field == "born") there.born = comes.born;
      if (field.field.starts_with("size ")) {
        const std::string name = field.field.substr(5);
        there.sizes[name] = comes.sizes.at(name);
      }
      if (field.field == "food") there.food = comes.food;
      if (field.field == "skin") there.skin = comes.skin;
      if (field.field == "answer") there.answer = comes.answer;
      if (field.field == "turnout") there.turnout = comes.turnout;
    }
    if (any) {
      note_changed(pair.there);
      index_.add(pair.there, there);
    }
  }

  void set_guardian(const Ward& ward) {
    const PersonId id = ward.person;
    const IncomingPerson& incoming = *ward.incoming;
    Person& person = out_.production.people[id];
    const PersonId guardian = index_.named(incoming.guardian);
    if (guardian == person.guardian && guardian.valid()) return;
    if (!guardian.valid()) {
      return leave(
          incoming, "guardian", incoming.guardian, "nobody, or not one alone, is called so");
    }
    for (PersonId up = guardian; up.valid(); up = out_.production.people[up].guardian) {
      if (up == id) {
        return leave(incoming, "guardian", incoming.guardian, "they would be their own guardian");
      }
    }
    if (person.guardian.valid() && !ward.replace) return;  // told with the other fields kept
    person.guardian = guardian;
    note_changed(id);
  }

  void set_likes(const Ward& one) {
    const IncomingPerson& incoming = *one.incoming;
    Person& person = out_.production.people[one.person];
    LikeNames::Read read = like_names_.read(out_.production, incoming.likes, one.person);
    for (const auto& [text, why] : read.bad) leave(incoming, "likes", text, why);
    if (read.likes.empty()) return;  // words that name nothing replace nothing
    Tags now = one.replace ? read.likes : united(person.likes, read.likes);
    while (now.size() > limits::kEntries) {
      leave(incoming, "likes", now.back(), "more than a person can like");
      now.pop_back();
    }
    if (now == person.likes) return;
    person.likes = std::move(now);
    note_changed(one.person);
  }

  void note_changed(PersonId id) {
    // those who have just come in are new, not changed
    if (!std::binary_search(out_.added.begin(), out_.added.end(), id)) changed_.insert(id);
  }

  void leave(const IncomingPerson& incoming,
             const std::string& field,
             const std::string& text,
             const std::string& why) {
    out_.left_out.push_back(
        {incoming.file, incoming.line, incoming.person.shown(), field, text, why});
  }

  const MergeWishes& wishes_;
  PeopleMerge out_;
  PeopleIndex index_;
  LikeNames like_names_;
  Date last_day_{};
  std::size_t number_ = 0;
  std::set<std::size_t> paired_;
  std::set<PersonId> changed_;
  std::map<std::string, int> numbers_;
  std::vector<Ward> guardians_, likers_;
};

}  // namespace

PeopleMerge merge_people(const Production& production,
                         const std::vector<IncomingPerson>& people,
                         const MergeWishes& wishes) {
  return PeopleMerger(production, wishes).merge(people);
}

}  // namespace gp
