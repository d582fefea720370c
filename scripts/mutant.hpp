// What scripts/mutate compiles sources with: changes of a line beside what they take the place of. The variable
// TRAMMEL_MUTANT says which one holds; 0, or none: all is as written.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <type_traits>
#include <utility>

namespace trammel_mutant {

static int chosen() {
  const char* const text = std::getenv("TRAMMEL_MUTANT");
  return text == nullptr ? 0 : std::atoi(text);
}
// Every object has its own: those of several instruction sets are linked side by side (objectives/wide).
static bool is(int id) {
  static const int one = chosen();
  return one == id;
}

/// `a op Name<id>{} op b` is `a op b`, or `a other b`: operators of one kind take their operands from left to right.
#define TRAMMEL_MUTANT_OPERATOR(Name, op, other)                       \
  template <int id>                                                    \
  struct Name {};                                                      \
  template <int id, class A>                                           \
  struct Name##Left {                                                  \
    A&& a;                                                             \
  };                                                                   \
  template <class A, int id>                                           \
  Name##Left<id, A> operator op(A&& a, Name<id>) {                     \
    return {std::forward<A>(a)};                                       \
  }                                                                    \
  template <int id, class A, class B>                                  \
  auto operator op(Name##Left<id, A> left, B&& b) {                    \
    using Result = std::decay_t<decltype(std::forward<A>(left.a) op b)>; \
    if (is(id)) return Result(std::forward<A>(left.a) other b);        \
    return Result(std::forward<A>(left.a) op std::forward<B>(b));      \
  }
TRAMMEL_MUTANT_OPERATOR(Plus, +, -)
TRAMMEL_MUTANT_OPERATOR(Minus, -, +)
TRAMMEL_MUTANT_OPERATOR(Times, *, /)
TRAMMEL_MUTANT_OPERATOR(Over, /, *)
TRAMMEL_MUTANT_OPERATOR(Less, <, <=)
TRAMMEL_MUTANT_OPERATOR(LessEqual, <=, <)
TRAMMEL_MUTANT_OPERATOR(Greater, >, >=)
TRAMMEL_MUTANT_OPERATOR(GreaterEqual, >=, >)
TRAMMEL_MUTANT_OPERATOR(Equal, ==, !=)
TRAMMEL_MUTANT_OPERATOR(Unequal, !=, ==)

/// `a op Name<id>{} op b`: these take theirs from right to left.
#define TRAMMEL_MUTANT_ASSIGNMENT(Name, op, other)        \
  template <int id>                                       \
  struct Name {};                                         \
  template <int id, class B>                              \
  struct Name##Right {                                    \
    B&& b;                                                \
  };                                                      \
  template <int id, class B>                              \
  Name##Right<id, B> operator op(Name<id>, B&& b) {       \
    return {std::forward<B>(b)};                          \
  }                                                       \
  template <class A, int id, class B>                     \
  A& operator op(A& a, Name##Right<id, B> right) {        \
    if (is(id))                                           \
      a other std::forward<B>(right.b);                   \
    else                                                  \
      a op std::forward<B>(right.b);                      \
    return a;                                             \
  }
TRAMMEL_MUTANT_ASSIGNMENT(Add, +=, -=)
TRAMMEL_MUTANT_ASSIGNMENT(Take, -=, +=)

template <int id, class T>
T other(T a, T b) {
  return is(id) ? b : a;
}
template <int id, class A, class B>
auto minimum(const A& a, const B& b) {
  using std::max, std::min;
  using Result = std::decay_t<decltype(min(a, b))>;
  return is(id) ? Result(max(a, b)) : Result(min(a, b));
}
template <int id, class A, class B>
auto maximum(const A& a, const B& b) {
  using std::max, std::min;
  using Result = std::decay_t<decltype(max(a, b))>;
  return is(id) ? Result(min(a, b)) : Result(max(a, b));
}

}  // namespace trammel_mutant
