#include "store/study_file.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <sqlite3.h>

#include <algorithm>
#include <cmath>

#include "io/files.hpp"
#include "store/digest.hpp"
#include "store/lock.hpp"
#include "store/row_rules.hpp"
#include "store/rows.hpp"
#include "store/schema.hpp"

namespace trammel::store {
namespace {

namespace fs = std::filesystem;

constexpr int patience_ms = 10000;  // with an SQL tool that holds the file for a moment

fs::path lock_of(const fs::path& path) {
  return path.string() + ".lock";
}

[[noreturn]] void fail(const fs::path& path, const std::string& what) {
  throw StoreError(path.string() + ": " + what);
}

bool no_room(const SQLite::Exception& error) {
  return error.getErrorCode() == SQLITE_FULL || error.getExtendedErrorCode() == SQLITE_IOERR_SHMSIZE;
}

std::string words_for(const SQLite::Exception& error) {
  switch (error.getErrorCode()) {
    case SQLITE_IOERR:
      return std::string("reading or writing failed: ") + error.what();
    case SQLITE_NOTADB:
      return "is not a study: it is no SQLite file";
    case SQLITE_CORRUPT:
      return std::string("is damaged: ") + error.what();
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return "another program keeps the file locked";
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return "may not be written";
    case SQLITE_CANTOPEN:
      return "cannot be opened";
    default:
      return error.what();
  }
}

// Runs a piece of work on the file and turns SQLite's errors into ours.
template <class Work>
auto guarded(const fs::path& path, Work work) {
  try {
    return work();
  } catch (const SQLite::Exception& error) {
    if (no_room(error)) throw DiskFull(path.string() + ": the disk is full; units committed before are safe");
    fail(path, words_for(error));
  } catch (const RowFault& fault) {
    fail(path, fault.what());
  }
}

int pragma(SQLite::Database& database, const std::string& name) {
  return database.execAndGet("PRAGMA " + name).getInt();
}

void set_pragma(SQLite::Database& database, const std::string& name, int value) {
  database.exec("PRAGMA " + name + " = " + std::to_string(value));
}

void make_durable(SQLite::Database& database) {
  database.exec("PRAGMA journal_mode = WAL");
  database.exec("PRAGMA synchronous = FULL");
}

/// Names and text of all that a database declares.
std::vector<std::string> declared(SQLite::Database& database) {
  std::vector<std::string> all;
  SQLite::Statement one(database, "SELECT type || ' ' || name || ': ' || coalesce(sql, '') FROM sqlite_schema");
  while (one.executeStep()) all.push_back(one.getColumn(0).getString());
  std::sort(all.begin(), all.end());
  return all;
}

/// A view, a trigger or another table in the place of a study's would answer what it likes, for as long as it likes.
void demand_tables(SQLite::Database& database, const fs::path& path) {
  SQLite::Database own(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  own.exec(schema_sql);
  if (declared(database) != declared(own)) fail(path, "is damaged: its tables are not those of a study");
}

/// What SQLite advises for files of unknown origin (its documentation, "Defense Against The Dark Arts").
void distrust(SQLite::Database& database) {
  constexpr int longest_row = 4 << 20;  // bytes; a brief has a sixteenth of it
  sqlite3* const handle = database.getHandle();
  sqlite3_db_config(handle, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  sqlite3_db_config(handle, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
  sqlite3_limit(handle, SQLITE_LIMIT_LENGTH, longest_row);
  database.exec("PRAGMA cell_size_check = ON");
}

void demand_study(SQLite::Database& database, const fs::path& path) {
  const int id = pragma(database, "application_id");
  const int version = pragma(database, "user_version");
  if (id == 0 && version == 0 && database.execAndGet("SELECT count(*) FROM sqlite_schema").getInt() == 0) {
    fail(path, "is empty: the run that made it was cut short at once; delete it and start again");
  }
  if (id != application_id) fail(path, "is not a study: it is another program's SQLite file");
  if (version != schema_version) {
    fail(path, "is a study of schema " + std::to_string(version) + "; this version reads schema " +
                   std::to_string(schema_version));
  }
  demand_tables(database, path);
}

/// SQLite itself would follow a link, and write behind it.
void demand_file(const fs::path& path) {
  std::error_code ignored;
  if (!fs::exists(fs::symlink_status(path, ignored))) fail(path, "there is no study");
  for (const char* suffix : {"", "-wal", "-shm", "-journal"}) {
    const fs::path part = path.string() + suffix;
    try {
      io::demand_own_file(part);
    } catch (const io::FileFailure& failure) {
      fail(part, std::string("is not a study: it is no file, it ") + failure.what());
    }
  }
}

// A number that is not finite would be a defect of the engine; better to stop than to keep it.
void demand_sound(const UnitRow& unit) {
  const std::string where = "unit " + std::to_string(unit.unit) + ": ";
  for (const LayoutRow& layout : unit.layouts) {
    if (layout.unit != unit.unit) throw StoreError(where + "holds a layout of unit " + std::to_string(layout.unit));
    const auto finite = [](double x) { return std::isfinite(x); };
    const bool sound = finite(layout.score) && finite(layout.margin) && finite(layout.must_margin) &&
                       finite(layout.wish_margin) && finite(layout.room) &&
                       std::all_of(layout.design.begin(), layout.design.end(), finite) &&
                       std::all_of(layout.achieved.begin(), layout.achieved.end(), finite);
    if (!sound) throw StoreError(where + "layout " + std::to_string(layout.place) + " has a number that is not finite");
  }
}

}  // namespace

struct StudyFile::Impl {
  fs::path path;
  std::optional<FileLock> lock;  // outlives the database
  SQLite::Database database;
  StudyHead head;
  std::optional<RowCheck> check = {};

  const RowCheck* rules() const { return check ? &*check : nullptr; }

  ~Impl() {
    // A writer that ends folds the write-ahead log into the file, so that a study at rest is one file, which can be
    // read on a medium that cannot be written. A reader still looking on keeps the log; the next writer folds it.
    if (lock) (void)database.tryExec("PRAGMA journal_mode = DELETE");
  }
};

StudyFile::StudyFile(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
StudyFile::StudyFile(StudyFile&&) noexcept = default;
StudyFile& StudyFile::operator=(StudyFile&&) noexcept = default;
StudyFile::~StudyFile() = default;

StudyFile StudyFile::create(const fs::path& path, const StudyHead& head) {
  FileLock lock(lock_of(path));
  if (fs::exists(path)) fail(path, "is there already; a new study never overwrites one");
  try {
    return guarded(path, [&] {
      SQLite::Database database(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, patience_ms);
      make_durable(database);
      SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
      database.exec(schema_sql);
      insert_head(database, head);
      set_pragma(database, "application_id", application_id);
      set_pragma(database, "user_version", schema_version);
      transaction.commit();
      return StudyFile(std::unique_ptr<Impl>(new Impl{path, std::move(lock), std::move(database), head}));
    });
  } catch (const StoreError&) {
    // Half-made: leave nothing behind that would stand in the way of the next attempt.
    std::error_code ignored;
    for (const char* suffix : {"", "-wal", "-shm", "-journal"}) fs::remove(path.string() + suffix, ignored);
    throw;
  }
}

StudyFile StudyFile::open(const fs::path& path) {
  demand_file(path);
  FileLock lock(lock_of(path));
  return guarded(path, [&] {
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE, patience_ms);
    distrust(database);
    demand_study(database, path);
    make_durable(database);
    StudyHead head = select_head(database);
    return StudyFile(std::unique_ptr<Impl>(new Impl{path, std::move(lock), std::move(database), std::move(head)}));
  });
}

StudyFile StudyFile::read(const fs::path& path) {
  demand_file(path);
  return guarded(path, [&] {
    SQLite::Database database(path.string(), SQLite::OPEN_READONLY, patience_ms);
    distrust(database);
    demand_study(database, path);
    StudyHead head = select_head(database);
    return StudyFile(std::unique_ptr<Impl>(new Impl{path, {}, std::move(database), std::move(head)}));
  });
}

const StudyHead& StudyFile::head() const {
  return impl_->head;
}
const fs::path& StudyFile::path() const {
  return impl_->path;
}

std::uintmax_t StudyFile::free_space() const {
  std::error_code error;
  const fs::space_info space = fs::space(fs::absolute(impl_->path).parent_path(), error);
  if (error) fail(impl_->path, "the free space cannot be told: " + error.message());
  return space.available;
}

void StudyFile::commit(const std::vector<UnitRow>& units) {
  if (!impl_->lock) fail(impl_->path, "is open for reading only");
  for (const UnitRow& unit : units) demand_sound(unit);
  guarded(impl_->path, [&] {
    SQLite::Transaction transaction(impl_->database, SQLite::TransactionBehavior::IMMEDIATE);
    {
      UnitWriter writer(impl_->database);
      for (const UnitRow& unit : units) writer.insert(unit);
    }
    transaction.commit();
  });
}

void StudyFile::each_committed(const std::function<void(std::int64_t)>& take) const {
  guarded(impl_->path, [&] {
    SQLite::Statement select(impl_->database, "SELECT unit FROM unit ORDER BY unit");
    while (select.executeStep()) take(select.getColumn(0).getInt64());
  });
}

void StudyFile::each_unit(const std::function<void(UnitRow&&)>& take) const {
  guarded(impl_->path, [&] {
    SQLite::Transaction snapshot(impl_->database);
    UnitReader reader(impl_->database, impl_->rules());
    for (UnitRow unit; reader.next(unit);) take(std::move(unit));
  });
}

void StudyFile::each_ranked(const std::function<bool(LayoutRow&&)>& take) const {
  guarded(impl_->path, [&] {
    SQLite::Transaction snapshot(impl_->database);
    RankedReader reader(impl_->database, impl_->rules());
    for (LayoutRow layout; reader.next(layout) && take(std::move(layout));) continue;
  });
}

std::optional<UnitRow> StudyFile::unit(std::int64_t number) const {
  return guarded(impl_->path, [&] {
    SQLite::Transaction snapshot(impl_->database);
    UnitReader reader(impl_->database, impl_->rules());
    UnitRow unit;
    return reader.find(number, unit) ? std::optional(std::move(unit)) : std::nullopt;
  });
}

void StudyFile::hold_to(const RowRules& rules) {
  impl_->check.emplace(rules, impl_->head);
}

void StudyFile::verify() const {
  guarded(impl_->path, [&] {
    SQLite::Transaction snapshot(impl_->database);
    const std::string pages = impl_->database.execAndGet("PRAGMA quick_check(1)").getString();
    if (pages != "ok") fail(impl_->path, "is damaged: " + pages);
    RowCounts seen;
    UnitReader reader(impl_->database, impl_->rules());
    for (UnitRow unit; reader.next(unit);) {
      ++seen.units;
      seen.failures += static_cast<std::int64_t>(unit.failures.size());
      seen.layouts += static_cast<std::int64_t>(unit.layouts.size());
      for (const LayoutRow& layout : unit.layouts) {
        seen.designs += static_cast<std::int64_t>(layout.design.size());
        seen.achieved += static_cast<std::int64_t>(layout.achieved.size());
      }
    }
    if (seen != count_rows(impl_->database))
      fail(impl_->path, stray_row(impl_->database) + ": belongs to nothing in the study");
  });
}

Totals StudyFile::totals() const {
  return guarded(impl_->path, [&] {
    SQLite::Transaction snapshot(impl_->database);
    return select_totals(impl_->database);
  });
}

std::string StudyFile::digest(const std::function<void()>& between) const {
  Digest digest;
  digest.add(impl_->head);
  each_unit([&](UnitRow&& unit) {
    digest.add(unit);
    if (between) between();
  });
  return digest.hex();
}

std::vector<std::int64_t> StudyFile::committed() const {
  std::vector<std::int64_t> ids;
  each_committed([&](std::int64_t id) { ids.push_back(id); });
  return ids;
}

std::vector<UnitRow> StudyFile::units() const {
  std::vector<UnitRow> units;
  each_unit([&](UnitRow&& unit) { units.push_back(std::move(unit)); });
  return units;
}

}  // namespace trammel::store
