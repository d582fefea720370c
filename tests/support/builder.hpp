// Writes a mechanism in a test as one would in a layout file.
#pragma once

#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "linkage/mechanism.hpp"

namespace trammel::test {

class MechanismBuilder {
 public:
  MechanismBuilder& point(const std::string& name, double x, double y) {
    m_.point_names.push_back(name);
    m_.points.push_back({x, y});
    return *this;
  }
  /// The first member is the frame.
  MechanismBuilder& member(const std::string& name, const std::vector<std::string>& points) {
    linkage::Member member{name, {}};
    for (const std::string& p : points) member.points.push_back(point_index(p));
    m_.members.push_back(member);
    return *this;
  }
  MechanismBuilder& slider(const std::string& point, const std::string& member, const std::string& a,
                           const std::string& b) {
    m_.sliders.push_back({point_index(point), member_index(member), point_index(a), point_index(b)});
    return *this;
  }
  MechanismBuilder& shock(const std::string& a, const std::string& b, double stroke, bool extends = false) {
    m_.drive = {linkage::DriveKind::shock, point_index(a), point_index(b), extends, -1, -1, stroke};
    return *this;
  }
  MechanismBuilder& travel(const std::string& p, double range) {
    m_.drive = {linkage::DriveKind::travel, -1, -1, false, point_index(p), -1, range};
    return *this;
  }
  MechanismBuilder& turn(const std::string& member, double range) {
    m_.drive = {linkage::DriveKind::turn, -1, -1, false, -1, member_index(member), range};
    return *this;
  }
  MechanismBuilder& through_line(const std::string& p) {
    m_.through_line.push_back(point_index(p));
    return *this;
  }
  linkage::Mechanism build() const { return m_; }

  int point_index(const std::string& name) const {
    for (std::size_t i = 0; i < m_.point_names.size(); ++i)
      if (m_.point_names[i] == name) return static_cast<int>(i);
    throw std::invalid_argument("no point " + name);
  }
  int member_index(const std::string& name) const {
    for (std::size_t i = 0; i < m_.members.size(); ++i)
      if (m_.members[i].name == name) return static_cast<int>(i);
    throw std::invalid_argument("no member " + name);
  }

 private:
  linkage::Mechanism m_;
};

/// One mechanism of every kind of rear suspension and drive, with plausible dimensions in mm.
inline std::vector<std::pair<std::string, linkage::Mechanism>> every_topology() {
  std::vector<std::pair<std::string, linkage::Mechanism>> all;
  const auto add = [&](const std::string& name, const MechanismBuilder& b) { all.emplace_back(name, b.build()); };
  add("single pivot", MechanismBuilder()
                          .point("main", 10, 80)
                          .point("axle", -435, 20)
                          .point("eye", -60, 190)
                          .point("mount", 140, 230)
                          .member("frame", {"main", "mount"})
                          .member("swingarm", {"main", "axle", "eye"})
                          .shock("mount", "eye", 55));
  add("linkage-driven single pivot", MechanismBuilder()
                                         .point("main", 5, 60)
                                         .point("axle", -435, 25)
                                         .point("low", -300, 120)
                                         .point("tail", -110, 340)
                                         .point("rocker", -60, 300)
                                         .point("eye", -35, 360)
                                         .point("mount", 150, 210)
                                         .member("frame", {"main", "rocker", "mount"})
                                         .member("swingarm", {"main", "axle", "low"})
                                         .member("link", {"low", "tail"})
                                         .member("rocker", {"rocker", "tail", "eye"})
                                         .shock("mount", "eye", 50));
  add("four-bar, axle on the coupler", MechanismBuilder()
                                           .point("main", -8, 55)
                                           .point("stay", -392, 20)
                                           .point("axle", -437, 30)
                                           .point("tail", -105, 345)
                                           .point("rocker", -45, 305)
                                           .point("eye", -20, 360)
                                           .point("mount", 165, 205)
                                           .member("frame", {"main", "rocker", "mount"})
                                           .member("chainstay", {"main", "stay"})
                                           .member("seatstay", {"stay", "axle", "tail"})
                                           .member("rocker", {"rocker", "tail", "eye"})
                                           .shock("mount", "eye", 55));
  add("axle-concentric pivot", MechanismBuilder()
                                   .point("main", 0, 60)
                                   .point("axle", -436, 28)
                                   .point("tail", -105, 345)
                                   .point("rocker", -45, 305)
                                   .point("eye", -20, 360)
                                   .point("mount", 165, 205)
                                   .member("frame", {"main", "rocker", "mount"})
                                   .member("chainstay", {"main", "axle"})
                                   .member("seatstay", {"axle", "tail"})
                                   .member("rocker", {"rocker", "tail", "eye"})
                                   .shock("mount", "eye", 55));
  add("two short links, same way", MechanismBuilder()
                                       .point("low", 0, 30)
                                       .point("lowend", -50, 20)
                                       .point("high", 30, 190)
                                       .point("highend", -30, 215)
                                       .point("axle", -438, 25)
                                       .point("eye", 45, 252)
                                       .point("mount", 220, 185)
                                       .member("frame", {"low", "high", "mount"})
                                       .member("lower", {"low", "lowend"})
                                       .member("upper", {"high", "highend", "eye"})
                                       .member("rear", {"lowend", "highend", "axle"})
                                       .shock("mount", "eye", 50));
  add("two short links, opposite ways", MechanismBuilder()
                                            .point("low", -30, 15)
                                            .point("lowend", 5, 40)
                                            .point("high", 30, 190)
                                            .point("highend", -30, 215)
                                            .point("axle", -437, 28)
                                            .point("eye", 45, 252)
                                            .point("mount", 220, 185)
                                            .member("frame", {"low", "high", "mount"})
                                            .member("lower", {"low", "lowend"})
                                            .member("upper", {"high", "highend", "eye"})
                                            .member("rear", {"lowend", "highend", "axle"})
                                            .shock("mount", "eye", 16));
  add("six-bar", MechanismBuilder()
                     .point("main", -8, 55)
                     .point("stay", -392, 20)
                     .point("axle", -437, 30)
                     .point("tail", -105, 345)
                     .point("rocker", -45, 305)
                     .point("knee", -10, 340)
                     .point("foot", 40, 260)
                     .point("pivot", 60, 190)
                     .point("eye", 80, 255)
                     .point("mount", 230, 170)
                     .member("frame", {"main", "rocker", "pivot", "mount"})
                     .member("chainstay", {"main", "stay"})
                     .member("seatstay", {"stay", "axle", "tail"})
                     .member("rocker", {"rocker", "tail", "knee"})
                     .member("rod", {"knee", "foot"})
                     .member("bell", {"pivot", "foot", "eye"})
                     .shock("mount", "eye", 40));
  add("rail slider", MechanismBuilder()
                         .point("railtop", -20, 160)
                         .point("raillow", 10, 60)
                         .point("shoe", -5, 110)
                         .point("high", -40, 260)
                         .point("highend", -100, 285)
                         .point("axle", -437, 28)
                         .point("eye", -55, 330)
                         .point("mount", 170, 260)
                         .member("frame", {"railtop", "raillow", "high", "mount"})
                         .member("upper", {"high", "highend", "eye"})
                         .member("rear", {"shoe", "highend", "axle"})
                         .slider("shoe", "frame", "railtop", "raillow")
                         .shock("mount", "eye", 45));
  add("shock floating between two moving members", MechanismBuilder()
                                                       .point("main", -8, 55)
                                                       .point("stay", -392, 20)
                                                       .point("axle", -437, 30)
                                                       .point("tail", -105, 345)
                                                       .point("rocker", -45, 305)
                                                       .point("eye", 5, 330)
                                                       .point("foot", 40, 75)
                                                       .member("frame", {"main", "rocker"})
                                                       .member("chainstay", {"main", "stay", "foot"})
                                                       .member("seatstay", {"stay", "axle", "tail"})
                                                       .member("rocker", {"rocker", "tail", "eye"})
                                                       .shock("foot", "eye", 36));
  add("shock that extends", MechanismBuilder()
                                .point("main", 10, 80)
                                .point("axle", -435, 20)
                                .point("eye", 60, 20)
                                .point("mount", 230, 200)
                                .member("frame", {"main", "mount"})
                                .member("swingarm", {"main", "axle", "eye"})
                                .shock("mount", "eye", 20, true));
  add("travel-driven four-bar", MechanismBuilder()
                                    .point("main", -8, 55)
                                    .point("stay", -392, 20)
                                    .point("axle", -437, 30)
                                    .point("tail", -105, 345)
                                    .point("rocker", -45, 305)
                                    .member("frame", {"main", "rocker"})
                                    .member("chainstay", {"main", "stay"})
                                    .member("seatstay", {"stay", "axle", "tail"})
                                    .member("rocker", {"rocker", "tail"})
                                    .travel("axle", 150));
  return all;
}

}  // namespace trammel::test
