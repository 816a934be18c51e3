#include "base/errors.h"
#include "model/read_production.h"
#include "store/book.h"
#include "store/database.h"
#include "store/documents.h"
#include "store/schema.h"

#include <cerrno>
#include <system_error>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace gp {
namespace {

[[noreturn]] void fail(const std::string& path, int cause) {
  const std::string advice = cause == EEXIST ? "something stands there already: choose another name"
                                             : "choose another place or change its permissions";
  throw WorldError("cannot make the book " + path + "; " + advice + ": " +
                   std::generic_category().message(cause));
}

/// SQLite would play a log that an earlier book of that name left behind into the new file, and the
/// earlier one's changes would stand in it. Source: sqlite.org/howtocorrupt.html, section 1.4.
void check_no_log_left(const std::string& path) {
  for (const char* end : {"-wal", "-journal"}) {
    struct stat there {};
    if (::stat((path + end).c_str(), &there) != 0 || there.st_size == 0) continue;
    throw WorldError("cannot make the book " + path +
                     "; choose another name, or move the log away if its book is gone: " + path +
                     end + " belongs to an earlier book");
  }
}

/// A new empty file beside the book's place, readable for its owner alone; gone when it goes.
class PartFile {
 public:
  explicit PartFile(const std::string& path) : path_(path), name_(path + ".part-XXXXXX") {
    const int file = ::mkostemp(name_.data(), O_CLOEXEC);  // makes it with mode 0600
    if (file < 0) fail(path, errno);
    ::close(file);
  }
  PartFile(const PartFile&) = delete;
  PartFile& operator=(const PartFile&) = delete;
  ~PartFile() {
    for (const char* end : {"", "-wal", "-shm", "-journal"}) ::unlink((name_ + end).c_str());
  }
  [[nodiscard]] const std::string& name() const { return name_; }
  /// Gives it its name, unless something has that already.
  void put_in_place() {
    if (::link(name_.c_str(), path_.c_str()) != 0) fail(path_, errno);
    const auto slash = path_.rfind('/');
    const std::string folder = slash == std::string::npos ? "." : path_.substr(0, slash + 1);
    const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) return;
    ::fsync(file);  // the name too must outlive a power cut
    ::close(file);
  }

 private:
  std::string path_;
  std::string name_;
};

void write_first(Database& database, const std::string& text, UnixTime at) {
  const Document document = Document::parse(text);
  Transaction transaction(database, "BEGIN IMMEDIATE");
  const std::string value = document.dump();
  {
    Using row = database.use("INSERT INTO documents (name, value) VALUES (?1, ?2)");
    row->bind(1, kProductionDocument).bind(2, value);
    row->run();
  }
  const std::string edits = R"([{"document":"production","patch":[{"op":"add","path":"","value":)" +
                            value + R"(}],"inverse":[{"op":"replace","path":"","value":null}]}])";
  Using row = database.use(
      "INSERT INTO history (revision, at, who, why, undoes, documents, edits) "
      "VALUES (1, ?1, 'command', 'opened the book', NULL, ?2, ?3)");
  const std::string names = std::string(kProductionDocument) + "\n";
  row->bind(1, at).bind(2, names).bind(3, edits);
  row->run();
  transaction.commit();
}

}  // namespace

std::vector<Fault> Book::make(const std::string& path, std::string_view production, UnixTime at) {
  auto read = read_production(production, PeopleListed::still_coming);
  if (auto* faults = std::get_if<std::vector<Fault>>(&read)) return std::move(*faults);
  if (::access(path.c_str(), F_OK) == 0) fail(path, EEXIST);
  check_no_log_left(path);
  PartFile part(path);
  {
    Database database(part.name(), Database::Mode::read_write, std::chrono::seconds(1));
    database.run("PRAGMA secure_delete = ON");
    database.run(("PRAGMA application_id = " + std::to_string(kBookApplicationId)).c_str());
    bring_up_to_date(database, schema_steps());
    write_first(database, std::string(production), at);
    database.ask("PRAGMA journal_mode = WAL");
  }  // closed: everything lies in the one file
  part.put_in_place();
  return {};
}

}  // namespace gp
