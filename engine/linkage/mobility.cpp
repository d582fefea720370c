// Counts degrees of freedom by the rank of the constraints' Jacobian, at points moved a little off the drawn ones so
// that a special drawn position (a dead point, parallel links) does not change the count.
#include <Eigen/Dense>
#include <cstdint>

#include "linkage/program.hpp"

namespace trammel::linkage {
namespace {

using math::cross;
using math::perp;
using math::turn_back;

/// A fixed small displacement of point i, in units of the mechanism's size: reproducible, and in general position.
Point nudge(int i) {
  const auto fraction = [](std::uint64_t key) {
    key = (key + 0x9E3779B97F4A7C15ull) * 0xBF58476D1CE4E5B9ull;
    key ^= key >> 31;
    return static_cast<double>(key >> 11) * 0x1.0p-53 - 0.5;
  };
  const auto key = static_cast<std::uint64_t>(i) * 2;
  return {fraction(key), fraction(key + 1)};
}

class Jacobian {
 public:
  explicit Jacobian(const Mechanism& m) : m_(m), free_(m.points.size(), -1) {
    double size = 1.0;
    for (const Point& p : m.points) size = std::max({size, std::abs(p.x), std::abs(p.y)});
    std::vector<bool> still(m.points.size(), false);
    for (int p : m.members[static_cast<std::size_t>(m.frame)].points) still[index(p)] = true;
    for (std::size_t i = 0; i < m.points.size(); ++i) {
      at_.push_back(m.points[i] + nudge(static_cast<int>(i)) * (0.02 * size));
      if (!still[i]) free_[i] = unknowns_++;
    }
    for (std::size_t k = 0; k < m.members.size(); ++k)
      if (static_cast<int>(k) != m.frame) add_member(m.members[k]);
    for (const Slider& s : m.sliders) add_line(s.point, s.along_a, s.along_b);
  }

  void add_drive() {
    const Drive& d = m_.drive;
    if (d.kind == DriveKind::shock) add_distance(d.a, d.b);
    if (d.kind == DriveKind::travel) add_row({{d.point, {0.0, 1.0}}});
    if (d.kind == DriveKind::turn) {
      const auto& points = m_.members[index(d.member)].points;
      const Point u = at_[index(points[1])] - at_[index(points[0])];
      add_row({{points[1], perp(u)}, {points[0], -perp(u)}});
    }
  }

  /// Dimension of the motions, and for each member whether any motion moves it.
  std::pair<int, std::vector<bool>> motions() const {
    const auto columns = static_cast<Eigen::Index>(unknowns_) * 2;
    std::vector<bool> moves(m_.members.size(), false);
    if (columns == 0) return {0, moves};
    Eigen::MatrixXd matrix =
        Eigen::MatrixXd::Zero(std::max<Eigen::Index>(1, static_cast<Eigen::Index>(rows_.size())), columns);
    for (std::size_t r = 0; r < rows_.size(); ++r)
      for (const auto& [point, n] : rows_[r]) {
        const auto c = static_cast<Eigen::Index>(free_[index(point)]) * 2;
        if (c < 0) continue;
        matrix(static_cast<Eigen::Index>(r), c) += n.x;
        matrix(static_cast<Eigen::Index>(r), c + 1) += n.y;
      }
    Eigen::FullPivLU<Eigen::MatrixXd> lu(matrix);
    lu.setThreshold(1e-9);
    const Eigen::MatrixXd kernel = lu.kernel();
    if (lu.dimensionOfKernel() == 0) return {0, moves};
    for (std::size_t k = 0; k < m_.members.size(); ++k)
      for (int p : m_.members[k].points) {
        const auto c = static_cast<Eigen::Index>(free_[index(p)]) * 2;
        if (c >= 0 && kernel.middleRows(c, 2).cwiseAbs().maxCoeff() > 1e-9) moves[k] = true;
      }
    return {static_cast<int>(lu.dimensionOfKernel()), moves};
  }

 private:
  using Row = std::vector<std::pair<int, Point>>;
  static std::size_t index(int i) { return static_cast<std::size_t>(i); }

  // Rows are scaled to unit length so that one rank threshold serves all.
  void add_row(Row row) {
    double norm = 0.0;
    for (const auto& entry : row) norm += squared_norm(entry.second);
    for (auto& entry : row) entry.second = entry.second * (1.0 / std::sqrt(norm));
    rows_.push_back(std::move(row));
  }
  void add_distance(int a, int b) {
    const Point u = at_[index(b)] - at_[index(a)];
    add_row({{b, u}, {a, -u}});
  }
  void add_member(const Member& member) {
    const auto& p = member.points;
    if (p.size() < 2) return;
    add_distance(p[0], p[1]);
    const Point base = at_[index(p[1])] - at_[index(p[0])];
    for (std::size_t i = 2; i < p.size(); ++i) {
      // P = A + ratio·(B − A): linear, so the Jacobian is the ratio itself.
      const Point ratio = turn_back(at_[index(p[i])] - at_[index(p[0])], base) * (1.0 / squared_norm(base));
      add_row({{p[i], {1, 0}}, {p[0], {ratio.x - 1, -ratio.y}}, {p[1], {-ratio.x, ratio.y}}});
      add_row({{p[i], {0, 1}}, {p[0], {ratio.y, ratio.x - 1}}, {p[1], {-ratio.y, -ratio.x}}});
    }
  }
  void add_line(int point, int a, int b) {
    const Point u = at_[index(b)] - at_[index(a)];
    const Point w = at_[index(point)] - at_[index(a)];
    // cross(B − A, P − A) = constant, differentiated in P, B and A.
    add_row({{point, perp(u)}, {b, -perp(w)}, {a, perp(w) - perp(u)}});
  }

  const Mechanism& m_;
  std::vector<int> free_;
  std::vector<Point> at_;
  std::vector<Row> rows_;
  int unknowns_ = 0;
};

}  // namespace

Mobility mobility(const Mechanism& mechanism) {
  Jacobian jacobian(mechanism);
  Mobility result;
  std::tie(result.freedoms, result.moves) = jacobian.motions();
  jacobian.add_drive();
  result.loose = jacobian.motions().second;
  return result;
}

}  // namespace trammel::linkage
