// What holds of every linkage, whichever it is: random ones of many topologies, moved, turned, mirrored, scaled,
// written down in another order. Each is a frame and a swingarm, then up to four pairs of links that hang on what is
// there; any of their members may work the shock.
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <numeric>
#include <random>
#include <set>

#include "tests/support/motion.hpp"

using namespace trammel;
using linkage::Mechanism;
using linkage::Point;
using test::Motion;

namespace {

/// How far a joint is from a dead point at least, sin² of its transmission angle: nearer than that small errors are
/// large by nature, whoever computes them.
constexpr double least_margin = 0.05;
constexpr double stroke = 4.0;  // mm

class Invented {
 public:
  explicit Invented(unsigned seed) : random_(seed) {}

  Mechanism make() {
    const int pivot = point(0, 60);
    begin("frame", {pivot});
    begin("swingarm", {pivot, point(-430, 30)});
    for (int pairs = static_cast<int>(random_() % 5); pairs > 0; --pairs) add_pair();
    const int mount = point(180, 200);
    m_.members[0].points.push_back(mount);
    const std::size_t works = 1 + random_() % (m_.members.size() - 1);
    const int eye = carried(works);
    m_.drive = {linkage::DriveKind::shock, mount, eye, random_() % 2 == 0, -1, -1, stroke};
    return m_;
  }

 private:
  double spread(double most) { return std::uniform_real_distribution<double>(-most, most)(random_); }
  int point(double x, double y) {
    m_.points.push_back({x + spread(60), y + spread(60)});
    m_.point_names.push_back("p" + std::to_string(m_.points.size()));
    return static_cast<int>(m_.points.size()) - 1;
  }
  void begin(const std::string& name, std::vector<int> points) { m_.members.push_back({name, std::move(points)}); }
  /// A point of a member, one of its own or a new one.
  int carried(std::size_t member) {
    std::vector<int>& points = m_.members[member].points;
    if (member != 0 && random_() % 2 == 0) return points[random_() % points.size()];
    const Point near = m_.points[static_cast<std::size_t>(points[random_() % points.size()])];
    // One after the other: in a call each compiler has an order of its own, and so linkages of its own.
    const double up = spread(90), on = spread(90);
    const int added = point(near.x + on, near.y + up);
    points.push_back(added);
    return added;
  }
  /// Two links from two members, at least one of which moves, to a joint.
  void add_pair() {
    const std::size_t one = 1 + random_() % (m_.members.size() - 1);
    std::size_t other = random_() % m_.members.size();
    if (other == one) other = 0;
    const int a = carried(one), b = carried(other);
    if (a == b) return;
    const Point middle = (m_.points[static_cast<std::size_t>(a)] + m_.points[static_cast<std::size_t>(b)]) * 0.5 +
                         Point{spread(120), spread(120)};
    const int joint = point(middle.x, middle.y);
    const std::string number = std::to_string(m_.members.size());
    begin("link" + number, {a, joint});
    begin("rod" + number, {b, joint});
  }

  std::mt19937 random_;
  Mechanism m_;
};

/// How the members hang together, whatever their names, order and sizes: which pairs of members share how many points,
/// each told by how many points and neighbours it has, and what the shock works.
std::string topology(const Mechanism& m) {
  const auto shared = [&](const linkage::Member& a, const linkage::Member& b) {
    return std::count_if(a.points.begin(), a.points.end(),
                         [&](int p) { return std::find(b.points.begin(), b.points.end(), p) != b.points.end(); });
  };
  const auto carries = [&](const linkage::Member& k, int p) {
    return std::find(k.points.begin(), k.points.end(), p) != k.points.end();
  };
  std::vector<std::string> kinds;
  for (const linkage::Member& k : m.members) {
    std::vector<std::string> neighbours;
    for (const linkage::Member& other : m.members)
      if (&other != &k && shared(k, other) > 0) neighbours.push_back(std::to_string(shared(k, other)));
    std::sort(neighbours.begin(), neighbours.end());
    std::string kind = carries(k, m.drive.b) ? "*" : "";
    for (const std::string& n : neighbours) kind += n;
    kinds.push_back(kind);
  }
  std::sort(kinds.begin() + 1, kinds.end());
  return std::accumulate(kinds.begin(), kinds.end(), std::string(),
                         [](std::string a, const std::string& b) { return std::move(a) + "/" + b; });
}

/// Random linkages that move well through their stroke.
const std::vector<Mechanism>& invented() {
  static const std::vector<Mechanism> all = [] {
    std::vector<Mechanism> sound;
    for (unsigned seed = 1; sound.size() < 300 && seed < 4000; ++seed) {
      const Mechanism m = Invented(seed).make();
      try {
        Motion motion(m);
        bool moves = motion.least_margin() > least_margin;
        for (int i = 1; moves && i <= 4; ++i) moves = motion.to(stroke * i / 4, 10).least_margin() > least_margin;
        if (moves) sound.push_back(m);
      } catch (const linkage::CompileFailure&) {
        continue;  // the shock hangs on what does not move
      }
    }
    return sound;
  }();
  return all;
}

using Positions = std::vector<Point>;

Positions moved(const Mechanism& m, double s) {
  Motion motion(m);
  motion.to(s);
  return motion.state().position;
}

double farthest(const Positions& a, const Positions& b) {
  double most = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, norm(a[i] - b[i]));
  return most;
}

/// A mechanism all of whose points are mapped.
Mechanism mapped(Mechanism m, const std::function<Point(Point)>& map, double scale = 1.0) {
  for (Point& p : m.points) p = map(p);
  m.drive.range *= scale;
  return m;
}

Positions all_mapped(Positions points, const std::function<Point(Point)>& map) {
  for (Point& p : points) p = map(p);
  return points;
}

/// mm: what rounding leaves of some hundred millimetres through a chain of a dozen joints that are well off a dead
/// point.
constexpr double rounding = 1e-9;

}  // namespace

TEST_CASE("there are many topologies among the invented linkages", "[linkage][properties]") {
  std::set<std::string> kinds;
  for (const Mechanism& m : invented()) kinds.insert(topology(m));
  INFO(invented().size() << " linkages of " << kinds.size() << " topologies");
  CHECK(kinds.size() >= 30);
  CHECK(invented().size() >= 200);
}

TEST_CASE("lengths are kept, and the shock is as long as it is driven", "[linkage][properties]") {
  for (const Mechanism& m : invented()) {
    Motion motion(m);
    for (const double s : {0.0, 1.3, stroke}) {
      const Positions at = motion.to(s).state().position;
      for (const linkage::Member& member : m.members)
        for (const int a : member.points)
          for (const int b : member.points) {
            const auto i = static_cast<std::size_t>(a), j = static_cast<std::size_t>(b);
            REQUIRE(std::abs(norm(at[i] - at[j]) - norm(m.points[i] - m.points[j])) < rounding);
          }
      const auto a = static_cast<std::size_t>(m.drive.a), b = static_cast<std::size_t>(m.drive.b);
      const double drawn = norm(m.points[a] - m.points[b]);
      REQUIRE(std::abs(norm(at[a] - at[b]) - (m.drive.extends ? drawn + s : drawn - s)) < rounding);
    }
  }
}

TEST_CASE("a linkage that is turned, shifted, mirrored or scaled moves likewise", "[linkage][properties]") {
  const double c = std::cos(0.7), sn = std::sin(0.7), k = 1.75;
  struct Map {
    const char* name;
    std::function<Point(Point)> map;
    double scale;
  };
  const std::vector<Map> maps{{"turned",
                               [&](Point p) {
                                 return Point{c * p.x - sn * p.y, sn * p.x + c * p.y};
                               },
                               1.0},
                              {"shifted",
                               [](Point p) {
                                 return Point{p.x + 37.5, p.y - 12.25};
                               },
                               1.0},
                              {"mirrored",
                               [](Point p) {
                                 return Point{-p.x, p.y};
                               },
                               1.0},
                              {"scaled", [&](Point p) { return p * k; }, k}};
  for (const Mechanism& m : invented()) {
    const Positions own = moved(m, stroke);
    for (const Map& map : maps) {
      CAPTURE(map.name);
      const Positions other = moved(mapped(m, map.map, map.scale), stroke * map.scale);
      REQUIRE(farthest(other, all_mapped(own, map.map)) < rounding * map.scale);
    }
  }
}

// A group that no pair of links opens is torn at one of its joints, and at which depends on the order of the members.
// What is then put in place by crossing circles may come near a dead point on the way that is none of the linkage's:
// such a layout is said not to assemble there. It is seldom, and the margin tells.
TEST_CASE("order and names of members and points do not matter", "[linkage][properties]") {
  std::mt19937 random(7);
  std::size_t torn_badly = 0;
  for (const Mechanism& m : invented()) {
    Mechanism other = m;
    std::vector<int> to(m.points.size());  // where each point goes
    std::iota(to.begin(), to.end(), 0);
    std::shuffle(to.begin(), to.end(), random);
    for (std::size_t i = 0; i < to.size(); ++i) {
      other.points[static_cast<std::size_t>(to[i])] = m.points[i];
      other.point_names[static_cast<std::size_t>(to[i])] = "q" + std::to_string(random() % 1000000) + m.point_names[i];
    }
    for (linkage::Member& member : other.members) {
      member.name = "k" + std::to_string(random() % 1000000) + member.name;
      for (int& p : member.points) p = to[static_cast<std::size_t>(p)];
      std::shuffle(member.points.begin(), member.points.end(), random);
    }
    std::shuffle(other.members.begin() + 1, other.members.end(), random);
    other.drive.a = to[static_cast<std::size_t>(m.drive.b)];  // nor which eye is named first
    other.drive.b = to[static_cast<std::size_t>(m.drive.a)];
    Motion motion(other);
    if (!(motion.to(stroke).least_margin() > least_margin)) {
      ++torn_badly;
      continue;
    }
    const Positions own = moved(m, stroke), theirs = motion.state().position;
    for (std::size_t i = 0; i < own.size(); ++i)
      REQUIRE(norm(own[i] - theirs[static_cast<std::size_t>(to[i])]) < rounding);
  }
  CHECK(torn_badly <= invented().size() / 20);
}

TEST_CASE("the way back leads through the same positions", "[linkage][properties]") {
  for (const Mechanism& m : invented()) {
    Motion motion(m);
    const Positions up = motion.to(1.7).state().position;
    const Positions down = motion.to(stroke).to(1.7).state().position;
    REQUIRE(farthest(up, down) < rounding);
    REQUIRE(farthest(motion.to(0.0).state().position, m.points) < rounding);
  }
}

TEST_CASE("a point that nothing uses changes nothing", "[linkage][properties]") {
  std::mt19937 random(11);
  for (const Mechanism& m : invented()) {
    Mechanism more = m;
    linkage::Member& carrier = more.members[random() % more.members.size()];
    carrier.points.push_back(static_cast<int>(more.points.size()));
    more.points.push_back({123.0, 45.0});
    more.point_names.emplace_back("unused");
    Positions with = moved(more, stroke);
    with.pop_back();
    REQUIRE(farthest(with, moved(m, stroke)) < rounding);
  }
}

// Differences over h and h/2, extrapolated (Richardson): what is left is of the order of h⁴, and rounding over h.
TEST_CASE("velocities are the slopes of positions, accelerations those of velocities", "[linkage][properties]") {
  constexpr double h = 1e-2, s = 2.0, tolerance = 1e-6;
  for (const Mechanism& m : invented()) {
    Motion motion(m);
    const auto at = [&](double where) { return motion.to(where).state(); };
    const auto far_below = at(s - h), below = at(s - h / 2), here = at(s), above = at(s + h / 2), far_above = at(s + h);
    const auto slope = [&](auto part, std::size_t i) {
      const Point near = (part(above)[i] - part(below)[i]) * (1.0 / h);
      const Point far = (part(far_above)[i] - part(far_below)[i]) * (0.5 / h);
      return (near * 4.0 - far) * (1.0 / 3.0);
    };
    const auto position = [](const auto& state) { return state.position; };
    const auto velocity = [](const auto& state) { return state.velocity; };
    for (std::size_t i = 0; i < m.points.size(); ++i) {
      REQUIRE(norm(slope(position, i) - here.velocity[i]) < tolerance * (1.0 + norm(here.velocity[i])));
      REQUIRE(norm(slope(velocity, i) - here.acceleration[i]) < tolerance * (1.0 + norm(here.acceleration[i])));
    }
  }
}
