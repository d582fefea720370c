// The tables of a study file; docs/study-file.md explains them to readers.
#pragma once

namespace trammel::store {

/// In the file's header: marks it as a study ("trml"), and the version of the tables.
inline constexpr int application_id = 0x74726d6c;
inline constexpr int schema_version = 3;

/// Columns of real numbers have no declared type on purpose: in a column declared REAL, SQLite turns −0.0 into 0.0, and
/// results must read back bit for bit.
inline constexpr const char* schema_sql = R"sql(
CREATE TABLE head (
  engine_version TEXT NOT NULL,
  brief_file TEXT NOT NULL,
  brief_text TEXT NOT NULL,
  brief_hash TEXT NOT NULL,
  seed TEXT NOT NULL,
  planned_units INTEGER NOT NULL,
  slice INTEGER NOT NULL,
  slices INTEGER NOT NULL
);
CREATE TABLE unit (
  unit INTEGER PRIMARY KEY,
  screened INTEGER NOT NULL,
  refined INTEGER NOT NULL,
  evaluations INTEGER NOT NULL,
  linkage INTEGER NOT NULL
);
CREATE TABLE failure (
  unit INTEGER NOT NULL,
  cause TEXT NOT NULL,
  count INTEGER NOT NULL,
  PRIMARY KEY (unit, cause)
) WITHOUT ROWID;
CREATE TABLE layout (
  unit INTEGER NOT NULL,
  place INTEGER NOT NULL,
  choice INTEGER NOT NULL,
  musts INTEGER NOT NULL,
  musts_met INTEGER NOT NULL,
  score NOT NULL CHECK (typeof(score) = 'real'),
  margin NOT NULL CHECK (typeof(margin) = 'real'),
  must_margin NOT NULL CHECK (typeof(must_margin) = 'real'),
  wish_margin NOT NULL CHECK (typeof(wish_margin) = 'real'),
  room NOT NULL CHECK (typeof(room) = 'real'),
  PRIMARY KEY (unit, place)
) WITHOUT ROWID;
CREATE TABLE layout_design (
  unit INTEGER NOT NULL,
  place INTEGER NOT NULL,
  variable INTEGER NOT NULL,
  value NOT NULL CHECK (typeof(value) = 'real'),
  PRIMARY KEY (unit, place, variable)
) WITHOUT ROWID;
CREATE TABLE layout_achieved (
  unit INTEGER NOT NULL,
  place INTEGER NOT NULL,
  target INTEGER NOT NULL,
  value NOT NULL CHECK (typeof(value) = 'real'),
  PRIMARY KEY (unit, place, target)
) WITHOUT ROWID;
)sql";

}  // namespace trammel::store
