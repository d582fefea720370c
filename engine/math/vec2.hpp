// Plane vectors, which are also complex numbers: a rotation is a product with a unit vector.
#pragma once

#include "math/number_types.hpp"

namespace trammel::math {

template <class T>
struct Vec2 {
  T x{};
  T y{};

  friend Vec2 operator+(const Vec2& a, const Vec2& b) { return {a.x + b.x, a.y + b.y}; }
  friend Vec2 operator-(const Vec2& a, const Vec2& b) { return {a.x - b.x, a.y - b.y}; }
  friend Vec2 operator*(const Vec2& a, const T& k) { return {a.x * k, a.y * k}; }
  friend Vec2 operator*(const T& k, const Vec2& a) { return {a.x * k, a.y * k}; }
  Vec2 operator-() const { return {-x, -y}; }
  Vec2& operator+=(const Vec2& o) { return *this = *this + o; }
};

template <class T>
T dot(const Vec2<T>& a, const Vec2<T>& b) {
  return a.x * b.x + a.y * b.y;
}
/// z component of a × b; positive when b lies counter-clockwise of a.
template <class T>
T cross(const Vec2<T>& a, const Vec2<T>& b) {
  return a.x * b.y - a.y * b.x;
}
/// a turned a quarter counter-clockwise.
template <class T>
Vec2<T> perp(const Vec2<T>& a) {
  return {-a.y, a.x};
}
/// Complex product: a turned by the angle of b and stretched by its length.
template <class T>
Vec2<T> turn(const Vec2<T>& a, const Vec2<T>& b) {
  return {a.x * b.x - a.y * b.y, a.x * b.y + a.y * b.x};
}
/// Complex product with the conjugate of b: a turned back by the angle of b, times its length.
template <class T>
Vec2<T> turn_back(const Vec2<T>& a, const Vec2<T>& b) {
  return {a.x * b.x + a.y * b.y, a.y * b.x - a.x * b.y};
}
template <class T>
T squared_norm(const Vec2<T>& a) {
  return dot(a, a);
}
template <class T>
T norm(const Vec2<T>& a) {
  return sqrt(squared_norm(a));
}
/// Unit vector at an angle in radians.
template <class R>
Vec2<R> unit(const R& angle) {
  const auto [cosine, sine] = cos_sin(angle);
  return {cosine, sine};
}
/// The same vector in another number type, without derivatives.
template <class T>
Vec2<T> constant(const Vec2<double>& a) {
  return {T(a.x), T(a.y)};
}
template <class T>
auto value(const Vec2<T>& a) -> Vec2<Plain<T>> {
  return {value(a.x), value(a.y)};
}

}  // namespace trammel::math
