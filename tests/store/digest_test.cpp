// One hash of all results: equal when the results are, different when any of them is.
#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>

#include "store/digest.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using store::StudyFile;
using store::UnitRow;
using test::Folder;
using test::sample_head;
using test::sample_unit;

namespace {

std::string digest_of(const store::StudyHead& head, const std::vector<std::vector<UnitRow>>& batches) {
  const Folder folder;
  StudyFile study = StudyFile::create(folder.study(), head);
  for (const std::vector<UnitRow>& batch : batches) study.commit(batch);
  return study.digest();
}

}  // namespace

TEST_CASE("the hash is SHA-256", "[store]") {
  // FIPS 180-4's example messages, as NIST's "Examples with intermediate values" prints them (from memory).
  CHECK(store::sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(store::sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(store::sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

TEST_CASE("numbers and texts are hashed in a fixed form", "[store]") {
  store::Digest digest;
  digest.add(std::uint64_t{0x0102030405060708});
  digest.add(std::string("abc"));
  CHECK(digest.hex() == store::sha256(std::string("\x08\x07\x06\x05\x04\x03\x02\x01", 8) +
                                      std::string("\x03\0\0\0\0\0\0\0", 8) + "abc"));
}

TEST_CASE("the digest does not depend on the order of commits, on batches or on slices", "[store]") {
  const std::string digest = digest_of(sample_head(), {{sample_unit(0), sample_unit(1), sample_unit(2)}});
  CHECK(digest.size() == 64);
  CHECK(digest == digest_of(sample_head(), {{sample_unit(2)}, {sample_unit(0), sample_unit(1)}}));
  CHECK(digest == digest_of(sample_head(), {{sample_unit(1), sample_unit(1)}, {sample_unit(2), sample_unit(0)}}));

  store::StudyHead whole = sample_head();
  whole.slice = whole.slices = 1;
  whole.brief_file = "elsewhere.yaml";
  CHECK(digest == digest_of(whole, {{sample_unit(0), sample_unit(1), sample_unit(2)}}));

  UnitRow shuffled = sample_unit(1);
  std::reverse(shuffled.layouts.begin(), shuffled.layouts.end());
  std::reverse(shuffled.failures.begin(), shuffled.failures.end());
  CHECK(digest == digest_of(sample_head(), {{sample_unit(0), shuffled, sample_unit(2)}}));
}

TEST_CASE("the digest is the same through every door", "[store]") {
  const Folder folder;
  std::string first;
  {
    StudyFile study = StudyFile::create(folder.study(), sample_head());
    study.commit({sample_unit(3)});
    first = study.digest();
  }
  CHECK(StudyFile::open(folder.study()).digest() == first);
  CHECK(StudyFile::read(folder.study()).digest() == first);
}

TEST_CASE("any change of a result or of what determines it changes the digest", "[store]") {
  std::vector<std::string> digests{digest_of(sample_head(), {{sample_unit(0)}})};
  const std::vector<std::function<void(UnitRow&)>> unit_changes{
      [](UnitRow& u) { u.screened += 1; },
      [](UnitRow& u) { u.refined += 1; },
      [](UnitRow& u) { u.evaluations += 1; },
      [](UnitRow& u) { u.layouts.pop_back(); },
      [](UnitRow& u) { u.layouts[3].choice += 1; },
      [](UnitRow& u) { u.layouts[3].musts += 1; },
      [](UnitRow& u) { u.layouts[3].musts_met += 1; },
      [](UnitRow& u) { u.layouts[3].score = std::nextafter(u.layouts[3].score, 1e9); },
      [](UnitRow& u) { u.layouts[3].margin = -u.layouts[3].margin; },
      [](UnitRow& u) { u.layouts[3].must_margin += 1.0; },
      [](UnitRow& u) { u.layouts[3].wish_margin += 1.0; },
      [](UnitRow& u) { u.layouts[3].room += 1.0; },
      [](UnitRow& u) { u.layouts[3].design[2] = std::nextafter(u.layouts[3].design[2], 1e9); },
      [](UnitRow& u) { std::swap(u.layouts[3].achieved[0], u.layouts[3].achieved[1]); },
      [](UnitRow& u) {  // the same numbers, told apart only by the lists' lengths
        u.layouts[3].achieved.insert(u.layouts[3].achieved.begin(), u.layouts[3].design.back());
        u.layouts[3].design.pop_back();
      },
      [](UnitRow& u) { u.failures.pop_back(); },
      [](UnitRow& u) { u.failures[0].count += 1; },
      [](UnitRow& u) { u.failures[0].cause += "."; },
  };
  for (const auto& change : unit_changes) {
    UnitRow unit = sample_unit(0);
    change(unit);
    digests.push_back(digest_of(sample_head(), {{unit}}));
  }
  const std::vector<std::function<void(store::StudyHead&)>> head_changes{
      [](store::StudyHead& h) { h.brief_hash += "0"; },
      [](store::StudyHead& h) { h.seed += 1; },
      [](store::StudyHead& h) { h.engine_version = "0.1.1"; },
  };
  for (const auto& change : head_changes) {
    store::StudyHead head = sample_head();
    change(head);
    digests.push_back(digest_of(head, {{sample_unit(0)}}));
  }
  digests.push_back(digest_of(sample_head(), {}));
  digests.push_back(digest_of(sample_head(), {{sample_unit(0), sample_unit(1)}}));
  std::sort(digests.begin(), digests.end());
  CHECK(std::adjacent_find(digests.begin(), digests.end()) == digests.end());
}
