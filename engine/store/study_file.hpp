// The study file: an SQLite database that holds a study's brief and every committed work unit.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace trammel::store {

/// What a study is; fixed when the file is made.
struct StudyHead {
  std::string engine_version;
  std::string brief_file;  ///< name of the brief, for messages
  std::string brief_text;  ///< as read
  std::string brief_hash;  ///< of what it says, comments and layout of the text apart
  std::uint64_t seed = 0;
  std::int64_t planned_units = 0;
  std::int64_t slice = 1;  ///< this file holds slice `slice` of `slices` (1 of 1 = the whole plan)
  std::int64_t slices = 1;
};

/// A refined layout as a unit leaves it.
struct LayoutRow {
  std::int64_t unit = 0;
  std::int64_t place = 0;        ///< order within the unit; (unit, place) is the layout's id
  std::int64_t choice = 0;       ///< index of the discrete choice
  std::vector<double> design;    ///< design variables in [0, 1]
  std::vector<double> achieved;  ///< one a target
  std::int64_t musts = 0;
  std::int64_t musts_met = 0;
  double score = 0.0;
  double margin = 0.0;       ///< least over all targets
  std::int64_t linkage = 0;  ///< its unit's
  double must_margin = 0.0;  ///< least over musts and rules
  double wish_margin = 0.0;  ///< least over the targets that are no musts; 1 where there are none
  double room = 0.0;         ///< the must margin as it counts in the order of merit
};

/// How many layouts of a unit were lost to one cause.
struct FailureRow {
  std::int64_t unit = 0;
  std::string cause;
  std::int64_t count = 0;
};

/// One finished work unit. It exists only once committed, whole.
struct UnitRow {
  std::int64_t unit = 0;
  std::int64_t screened = 0;
  std::int64_t refined = 0;
  std::int64_t evaluations = 0;
  std::vector<LayoutRow> layouts;
  std::vector<FailureRow> failures;
  std::int64_t linkage = 0;  ///< index of the brief's linkage that it searched
};

/// Sums over all committed units.
struct Totals {
  std::int64_t units = 0;
  std::int64_t screened = 0;
  std::int64_t refined = 0;
  std::int64_t layouts = 0;                      ///< kept
  std::int64_t feasible = 0;                     ///< of the kept, those that meet every must
  std::map<std::string, std::int64_t> failures;  ///< of the screened, by cause
};

struct RowRules;  // row_rules.hpp

/// Any failure of the file: not a study, locked, disk full, other schema. The text says what and where.
struct StoreError : std::runtime_error {
  using std::runtime_error::runtime_error;
};
/// No room is left on the disk. What was committed before is safe; the units at hand are not in the file.
struct DiskFull : StoreError {
  using StoreError::StoreError;
};

/// A study file that this process holds for writing, or reads.
///
/// Write access takes a lock that dies with the process. Commits go through one thread, the caller's; readers with any
/// SQL tool may look on while it runs (WAL). See docs/study-file.md for the schema.
class StudyFile {
 public:
  /// Makes a new file; throws StoreError if one is there.
  static StudyFile create(const std::filesystem::path& path, const StudyHead& head);
  /// Opens for writing; throws StoreError if another process has it, or it is not a study.
  static StudyFile open(const std::filesystem::path& path);
  /// Opens for reading only.
  static StudyFile read(const std::filesystem::path& path);

  StudyFile(StudyFile&&) noexcept;
  StudyFile& operator=(StudyFile&&) noexcept;
  ~StudyFile();

  const StudyHead& head() const;
  const std::filesystem::path& path() const;
  /// Bytes that are free for this user where the file lies.
  std::uintmax_t free_space() const;
  /// Commits units in one transaction (BEGIN IMMEDIATE; WAL, synchronous FULL). A unit already there is left as it is,
  /// so that a repeat is harmless. Throws DiskFull.
  void commit(const std::vector<UnitRow>& units);

  // Reading. What follows holds one unit or layout at a time in memory, however many there are, and sees one state of
  // the file, whatever a writer commits meanwhile.

  /// Ids of the committed units, ascending.
  void each_committed(const std::function<void(std::int64_t)>& take) const;
  /// Committed units with their layouts and failures, ascending by id.
  void each_unit(const std::function<void(UnitRow&&)>& take) const;
  /// Layouts in order of merit (merit.hpp), until `take` returns false.
  void each_ranked(const std::function<bool(LayoutRow&&)>& take) const;
  Totals totals() const;
  /// SHA-256, in hexadecimal, of head (brief hash, seed, engine version) and all committed results in id order;
  /// independent of commit order, thread count, slicing and file layout. `between` is called after each unit; what it
  /// throws comes out.
  std::string digest(const std::function<void()>& between = {}) const;

  /// One committed unit.
  std::optional<UnitRow> unit(std::int64_t number) const;

  /// From now on every row that is read must be one that the brief allows; a row that is none throws StoreError, which
  /// names table and row.
  void hold_to(const RowRules& rules);
  /// Looks through the whole file: that SQLite finds its pages in order, that every row is sound, and that none belongs
  /// to nothing. Throws StoreError.
  void verify() const;

  // For studies that fit into memory.
  std::vector<std::int64_t> committed() const;
  std::vector<UnitRow> units() const;

 private:
  struct Impl;
  explicit StudyFile(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace trammel::store
