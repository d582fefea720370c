// One hash of a study's results, made of their meaning and not of the file's bytes.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "store/study_file.hpp"

namespace trammel::store {

/// SHA-256 (FIPS 180-4) over numbers and texts in one fixed form: whole numbers and the bits of doubles as 8 bytes,
/// least significant first; a text or a list led by its length.
class Digest {
 public:
  Digest();
  ~Digest();

  /// Bytes as they are.
  void add_bytes(std::string_view bytes);
  void add(std::uint64_t number);
  void add(const std::string& text);
  /// The part of the head that determines results: brief hash, seed, engine version.
  void add(const StudyHead& head);
  /// A unit with its layouts by place and its failures by cause, whatever order they stand in.
  void add(const UnitRow& unit);
  /// 64 hexadecimal digits; once only.
  std::string hex();

 private:
  struct Context;
  std::unique_ptr<Context> context_;
};

/// The digest of one unit's results by itself.
std::string digest_of(const UnitRow& unit);

/// SHA-256 of bytes as they are, 64 hexadecimal digits; for StudyHead::brief_hash.
std::string sha256(std::string_view bytes);

}  // namespace trammel::store
