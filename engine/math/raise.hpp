// How the kernel gives up: by an exception, and where a build has none (the module in a layout page) by words handed to
// whoever runs it, who must drop the instance then: nothing in it is unwound.
#pragma once

#include <string>
#include <utility>

namespace trammel::math {

#ifdef __cpp_exceptions

/// Throws `failure`, whose text `words` is.
template <class Failure>
[[noreturn]] void raise(Failure failure, const std::string& /*words*/) {
  throw Failure(std::move(failure));
}

#else

/// The only function that the module asks of its page beside the C library's: throws there.
extern "C" __attribute__((noreturn, import_module("page"), import_name("fail"))) void trammel_fail(const char* words,
                                                                                                   int length);

template <class Failure>
[[noreturn]] void raise(const Failure& /*failure*/, const std::string& words) {
  trammel_fail(words.data(), static_cast<int>(words.size()));
}

#endif

}  // namespace trammel::math
