// Any members over any points, with any drive: it is refused, or compiled, moved and drawn in curves without a crash or
// a number that is none; a linkage that moves keeps its members' lengths.
#include <algorithm>
#include <cmath>

#include "bike/table.hpp"
#include "linkage/program.hpp"
#include "tests/fuzz/bytes.hpp"
#include "tests/support/bikes.hpp"

namespace {

using namespace trammel;
using test::Bytes;

constexpr std::size_t most_points = 14, most_members = 9;

/// As the reader has it: a line through two points of one member, which does not carry the point that slides.
void add_slider(linkage::Mechanism& m, int point, Bytes& bytes) {
  const std::size_t k = bytes.below(m.members.size());
  const auto& on = m.members[k].points;
  if (on.size() < 2 || std::find(on.begin(), on.end(), point) != on.end()) return;
  const std::size_t a = bytes.below(on.size()), b = (a + 1 + bytes.below(on.size() - 1)) % on.size();
  m.sliders.push_back({point, static_cast<int>(k), on[a], on[b]});
}

/// Point 0 is the axle; the last member made carries it.
linkage::Mechanism mechanism(Bytes& bytes) {
  linkage::Mechanism m;
  const std::size_t points = 3 + bytes.below(most_points - 2), members = 2 + bytes.below(most_members - 1);
  for (std::size_t p = 0; p < points; ++p) {
    m.point_names.push_back(p == 0 ? "axle" : "p" + std::to_string(p));
    m.points.push_back({bytes.number(-500, 300), bytes.number(-100, 500)});
  }
  for (std::size_t k = 0; k < members; ++k) {
    linkage::Member member{"m" + std::to_string(k), {}};
    for (std::size_t n = 1 + bytes.below(4); n > 0; --n) {
      const auto p = static_cast<int>(bytes.below(points));
      if (std::find(member.points.begin(), member.points.end(), p) == member.points.end()) member.points.push_back(p);
    }
    m.members.push_back(member);
  }
  auto& last = m.members.back().points;
  if (std::find(last.begin(), last.end(), 0) == last.end()) last.push_back(0);
  if (last.size() < 2) last.push_back(1);  // the reader sees to it that the axle's member has a line
  const auto any = [&] { return static_cast<int>(bytes.below(points)); };
  if (bytes.below(4) == 0) add_slider(m, any(), bytes);
  switch (bytes.below(4)) {
    case 0:
      m.drive = {linkage::DriveKind::travel, -1, -1, false, 0, -1, bytes.number(1, 200)};
      break;
    case 1:
      m.drive = {linkage::DriveKind::turn, -1, -1, false, -1, static_cast<int>(bytes.below(members)),
                 bytes.number(-1, 1)};
      break;
    default: {
      // As the reader has it: two eyes that are apart by more than the stroke.
      const int a = any(), b = static_cast<int>((static_cast<std::size_t>(a) + 1 + bytes.below(points - 1)) % points);
      const double apart = norm(m.points[static_cast<std::size_t>(a)] - m.points[static_cast<std::size_t>(b)]);
      m.drive = {linkage::DriveKind::shock, a, b, bytes.flip(), -1, -1, bytes.number(0.01, 0.9) * std::max(apart, 1.0)};
    }
  }
  return m;
}

void keeps_lengths(const linkage::Mechanism& m, const bike::Pose& pose) {
  for (const linkage::Member& member : m.members)
    for (const int a : member.points)
      for (const int b : member.points) {
        const auto i = static_cast<std::size_t>(a), j = static_cast<std::size_t>(b);
        const double drawn = norm(m.points[i] - m.points[j]), now = norm(pose.points[i] - pose.points[j]);
        test::demand(std::abs(now - drawn) <= 1e-6 * std::max(1.0, drawn));
      }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Bytes bytes(data, size);
  const linkage::Mechanism m = mechanism(bytes);
  try {
    const bike::Layout layout = test::bike_around(m);
    const bike::Motion motion = bike::trace(layout, 8, true);
    for (const bike::Pose& pose : motion.poses) {
      for (const bike::Point& p : pose.points) test::demand(std::isfinite(p.x) && std::isfinite(p.y));
      keeps_lengths(m, pose);
    }
    for (const bike::Column& column : motion.table.columns)
      for (const auto& value : column.values) test::demand(!value || std::isfinite(*value));
  } catch (const linkage::CompileFailure& failure) {
    test::demand(!failure.problems.empty());
  } catch (const bike::MotionFailure& failure) {
    test::demand(!failure.text.empty());
  }
  return 0;
}
