#include "store/book.h"

#include "base/errors.h"
#include "store/book_inside.h"

#include <algorithm>
#include <utility>

namespace gp {

std::shared_ptr<const SignUp> BookState::sign_up(std::string_view id) const {
  const auto found = std::find_if(
      sign_ups.begin(), sign_ups.end(), [&](const auto& one) { return one->id == id; });
  return found == sign_ups.end() ? nullptr : *found;
}

std::shared_ptr<const SignUp> BookState::sign_up_of_person(std::string_view person) const {
  if (person.empty()) return nullptr;
  const auto found = std::find_if(
      sign_ups.begin(), sign_ups.end(), [&](const auto& one) { return one->person == person; });
  return found == sign_ups.end() ? nullptr : *found;
}

bool Book::looks_like_book(std::string_view first_bytes) {
  // sqlite.org/fileformat2.html, section 1.3
  return first_bytes.starts_with(std::string_view("SQLite format 3\0", 16));
}

Book::Book(const std::string& path, std::chrono::milliseconds patience)
    : inside_(std::make_unique<Inside>(path, patience)) {}

Book::~Book() = default;

std::shared_ptr<const BookState> Book::state() {
  return inside_->state();
}

std::variant<Kept, Refusal> Book::change(Change change) {
  return inside_->change(change);
}

std::variant<Book::Entered, Refusal> Book::enter(SignUp sign_up,
                                                 const std::string& form_key,
                                                 const std::string& link,
                                                 UnixTime at) {
  return inside_->enter(std::move(sign_up), form_key, link, at);
}

void Book::add_link(const std::string& sign_up, const std::string& link, UnixTime at) {
  const std::string hash = link_hash(link);
  inside_->write([&](BookDraft& draft) {
    Using row = draft.database.use(
        "INSERT OR REPLACE INTO links (hash, sign_up, at, revoked) VALUES (?1, ?2, ?3, NULL)");
    row->bind(1, hash).bind(2, sign_up).bind(3, at);
    row->run();
  });
}

void Book::revoke_links(const std::string& sign_up, UnixTime at) {
  inside_->write([&](BookDraft& draft) {
    Using row =
        draft.database.use("UPDATE links SET revoked = ?2 WHERE sign_up = ?1 AND revoked IS NULL");
    row->bind(1, sign_up).bind(2, at);
    row->run();
  });
}

std::optional<std::string> Book::opened_by(std::string_view link) {
  const std::string hash = link_hash(link);
  return inside_->read([&](Database& database) -> std::optional<std::string> {
    Using row = database.use("SELECT sign_up FROM links WHERE hash = ?1 AND revoked IS NULL");
    row->bind(1, hash);
    if (!row->step()) return std::nullopt;
    return row->text(0);
  });
}

std::int64_t Book::keep_plan(KeptPlan plan) {
  std::int64_t number = 0;
  inside_->write([&](BookDraft& draft) {
    const auto& newest = draft.state.head.plan;
    number = newest == nullptr ? 1 : newest->number + 1;
    KeptPlan kept = plan;
    kept.number = number;
    {
      Using row = draft.database.use(
          "INSERT INTO plans (number, made_from, production_sha, at, json) "
          "VALUES (?1, ?2, ?3, ?4, ?5)");
      row->bind(1, kept.number).bind(2, kept.made_from).bind(3, kept.production_sha);
      row->bind(4, kept.at).bind(5, kept.json);
      row->run();
    }
    draft.state.head.plan = std::make_shared<const KeptPlan>(std::move(kept));
    draft.changed = true;
  });
  return number;
}

std::optional<KeptPlan> Book::plan(std::int64_t number) {
  return inside_->read([&](Database& database) -> std::optional<KeptPlan> {
    Using row = database.use(
        "SELECT number, made_from, production_sha, at, json FROM plans WHERE number = ?1");
    row->bind(1, number);
    if (!row->step()) return std::nullopt;
    return KeptPlan{row->whole(0), row->whole(1), row->text(2), row->whole(3), row->text(4)};
  });
}

void Book::tell(const std::vector<Told>& told) {
  if (told.empty()) return;
  inside_->write([&](BookDraft& draft) {
    for (const Told& one : told) {
      Using row = draft.database.use(
          "INSERT OR IGNORE INTO told (person, day, call, plan, how, at) "
          "VALUES (?1, ?2, ?3, ?4, ?5, ?6)");
      row->bind(1, one.person).bind(2, one.day).bind(3, one.call);
      row->bind(4, one.plan).bind(5, one.how).bind(6, one.at);
      row->run();
    }
  });
}

std::vector<Told> Book::told() {
  return inside_->read([](Database& database) {
    std::vector<Told> all;
    Using row = database.use("SELECT person, day, call, plan, how, at FROM told ORDER BY number");
    while (row->step()) {
      all.push_back(
          {row->text(0), row->text(1), row->text(2), row->whole(3), row->text(4), row->whole(5)});
    }
    return all;
  });
}

void Book::set_secret(const std::string& name, const std::string& value) {
  inside_->write([&](BookDraft& draft) {
    Using row =
        value.empty()
            ? draft.database.use("DELETE FROM secrets WHERE name = ?1")
            : draft.database.use("INSERT OR REPLACE INTO secrets (name, value) VALUES (?1, ?2)");
    row->bind(1, name);
    if (!value.empty()) row->bind(2, value);
    row->run();
  });
}

std::string Book::secret(const std::string& name) {
  return inside_->read([&](Database& database) {
    Using row = database.use("SELECT value FROM secrets WHERE name = ?1");
    row->bind(1, name);
    return row->step() ? row->text(0) : std::string();
  });
}

void Book::on_change(std::function<void(Revision)> tell) {
  inside_->on_change(std::move(tell));
}

}  // namespace gp
