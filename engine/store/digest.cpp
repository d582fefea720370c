#include "store/digest.hpp"

#include <openssl/evp.h>

#include <algorithm>
#include <array>
#include <bit>

namespace trammel::store {

struct Digest::Context {
  Context() : state(EVP_MD_CTX_new()) {
    if (!state || EVP_DigestInit_ex(state, EVP_sha256(), nullptr) != 1) {
      EVP_MD_CTX_free(state);
      throw StoreError("the installed cryptography library offers no SHA-256");
    }
  }
  ~Context() { EVP_MD_CTX_free(state); }
  Context(const Context&) = delete;
  Context& operator=(const Context&) = delete;

  EVP_MD_CTX* state;
};

Digest::Digest() : context_(std::make_unique<Context>()) {}
Digest::~Digest() = default;

void Digest::add_bytes(std::string_view bytes) {
  if (EVP_DigestUpdate(context_->state, bytes.data(), bytes.size()) != 1) throw StoreError("SHA-256 failed");
}

void Digest::add(std::uint64_t number) {
  std::array<char, 8> bytes{};
  for (char& byte : bytes) {
    byte = static_cast<char>(number & 0xff);
    number >>= 8;
  }
  add_bytes({bytes.data(), bytes.size()});
}

void Digest::add(const std::string& text) {
  add(std::uint64_t{text.size()});
  add_bytes(text);
}

void Digest::add(const StudyHead& head) {
  add(head.brief_hash);
  add(head.seed);
  add(head.engine_version);
}

void Digest::add(const UnitRow& unit) {
  const auto whole = [this](std::int64_t number) { add(static_cast<std::uint64_t>(number)); };
  const auto real = [this](double number) { add(std::bit_cast<std::uint64_t>(number)); };
  const auto list = [&](const std::vector<double>& numbers) {
    add(std::uint64_t{numbers.size()});
    for (const double number : numbers) real(number);
  };

  std::vector<LayoutRow> layouts = unit.layouts;
  std::sort(layouts.begin(), layouts.end(), [](const auto& a, const auto& b) { return a.place < b.place; });
  std::vector<FailureRow> failures = unit.failures;
  std::sort(failures.begin(), failures.end(), [](const auto& a, const auto& b) { return a.cause < b.cause; });

  for (const std::int64_t number : {unit.unit, unit.screened, unit.refined, unit.evaluations}) whole(number);
  add(std::uint64_t{layouts.size()});
  for (const LayoutRow& layout : layouts) {
    for (const std::int64_t number : {layout.place, layout.choice, layout.musts, layout.musts_met}) whole(number);
    real(layout.score);
    real(layout.margin);
    real(layout.must_margin);
    real(layout.wish_margin);
    real(layout.room);
    list(layout.design);
    list(layout.achieved);
  }
  add(std::uint64_t{failures.size()});
  for (const FailureRow& failure : failures) {
    add(failure.cause);
    whole(failure.count);
  }
}

std::string Digest::hex() {
  std::array<unsigned char, 32> hash{};
  if (EVP_DigestFinal_ex(context_->state, hash.data(), nullptr) != 1) throw StoreError("SHA-256 failed");
  std::string text;
  for (const unsigned char byte : hash) {
    text += "0123456789abcdef"[byte >> 4];
    text += "0123456789abcdef"[byte & 15];
  }
  return text;
}

std::string digest_of(const UnitRow& unit) {
  Digest digest;
  digest.add(unit);
  return digest.hex();
}

std::string sha256(std::string_view bytes) {
  Digest digest;
  digest.add_bytes(bytes);
  return digest.hex();
}

}  // namespace trammel::store
