#include "fixture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "report/pages.hpp"

namespace trammel::test {

namespace {

using bike::Curve;
using bike::Point;

enum Name { main_pivot, stay, axle, rocker, tail, eye, mount };

/// Where a circle of `ra` round `a` and one of `rb` round `b` cross, on the side of `a`–`b` that `left` tells.
Point crossing(Point a, double ra, Point b, double rb, bool left) {
  const Point d = b - a;
  const double distance = norm(d), along = (ra * ra - rb * rb + distance * distance) / (2.0 * distance);
  const double aside = std::sqrt(std::max(0.0, ra * ra - along * along));
  const Point u = d * (1.0 / distance);
  return a + u * along + math::perp(u) * (left ? aside : -aside);
}

std::vector<Point> turned(const std::vector<Point>& drawn, double angle) {
  std::vector<Point> p = drawn;
  const Point turn = math::unit(angle);
  for (const Name n : {tail, eye}) p[n] = drawn[rocker] + math::turn(drawn[n] - drawn[rocker], turn);
  const bool left = cross(drawn[tail] - drawn[main_pivot], drawn[stay] - drawn[main_pivot]) > 0.0;
  p[stay] =
      crossing(p[main_pivot], norm(drawn[stay] - drawn[main_pivot]), p[tail], norm(drawn[stay] - drawn[tail]), left);
  const Point before = drawn[tail] - drawn[stay], after = p[tail] - p[stay];
  const Point turn_of_seatstay = math::turn_back(after, before) * (1.0 / squared_norm(before));
  p[axle] = p[stay] + math::turn(drawn[axle] - drawn[stay], turn_of_seatstay);
  return p;
}

struct Place {
  double shock;
  std::vector<Point> points;
};

/// The place at a shock compression, by bisection over the rocker's angle.
Place place_at(const bike::Layout& layout, double compression) {
  const auto& drawn = layout.mechanism.points;
  if (compression == 0.0) return {0.0, drawn};
  const double length = norm(drawn[mount] - drawn[eye]);
  double lo = -1.6, hi = 0.2;  // clockwise compresses
  for (int i = 0; i < 80; ++i) {
    const double middle = 0.5 * (lo + hi);
    const auto p = turned(drawn, middle);
    (length - norm(p[mount] - p[eye]) > compression ? lo : hi) = middle;
  }
  return {compression, turned(drawn, 0.5 * (lo + hi))};
}

double whole_rise(const bike::Layout& layout) {
  return place_at(layout, layout.shock->stroke).points[axle].y - layout.mechanism.points[axle].y;
}

bike::Pose pose_of(const bike::Layout& layout, const Place& place, double whole) {
  bike::Pose pose;
  pose.shock = place.shock;
  pose.points = place.points;
  pose.travel = place.points[axle].y - layout.mechanism.points[axle].y;
  const double used = layout.front.travel * pose.travel / whole, angle = math::radians(layout.front.head_angle);
  pose.front_axle = layout.front.axle + Point{-std::cos(angle), std::sin(angle)} * used;
  const Point between = pose.front_axle - pose.points[axle];
  const double tilt =
      std::atan2(between.y, between.x) - std::asin((layout.front_radius - layout.rear_radius) / norm(between));
  pose.ground = math::unit(tilt);
  pose.rear_contact = pose.points[axle] - math::perp(pose.ground) * layout.rear_radius;
  pose.front_contact = pose.front_axle - math::perp(pose.ground) * layout.front_radius;
  const Point a = pose.points[main_pivot], u = pose.points[stay] - a, b = pose.points[rocker],
              v = pose.points[tail] - b;
  const double denominator = cross(u, v);
  const Point centre = a + u * (cross(b - a, v) / denominator);
  if (norm(centre) < 1e6) pose.instant_centre = centre;
  pose.ic_direction = (centre - pose.points[axle]) * (1.0 / norm(centre - pose.points[axle]));
  return pose;
}

double angle_of(const bike::Pose& pose) {
  const Point d = pose.points[tail] - pose.points[stay];
  return std::atan2(d.y, d.x);
}

/// All curves at one pose; the rates from poses a little before and after.
std::vector<std::pair<bike::CurveKey, double>> curves_at(const bike::Layout& layout, const bike::Pose& pose,
                                                         const bike::Pose& drawn, double whole) {
  const double step = 1e-3;
  const auto nearby = [&](double by) { return pose_of(layout, place_at(layout, pose.shock + by), whole); };
  const auto before = nearby(-step), after = nearby(step);
  const Point velocity = (after.points[axle] - before.points[axle]) * (0.5 / step);
  const double turning = (angle_of(after) - angle_of(before)) * (0.5 / step);
  const double leverage = velocity.y, t = std::atan2(pose.ground.y, pose.ground.x);
  const Point normal = math::perp(pose.ground);
  const double wheelbase = dot(pose.front_contact - pose.rear_contact, pose.ground);
  const double height = dot(Point{layout.cg.x, 745.0} - pose.rear_contact, normal);
  const double tilt = std::atan2(drawn.ground.y, drawn.ground.x);
  const auto anti = [&](double spin) {
    const Point v = velocity + pose.ground * (spin * layout.rear_radius);
    return -100.0 * dot(v, pose.ground) / dot(v, normal) * wheelbase / height;
  };
  const double chainstay = norm(pose.points[axle]), growth = chainstay - norm(drawn.points[axle]);
  std::vector<std::pair<bike::CurveKey, double>> out{{{Curve::shock}, pose.shock},
                                                     {{Curve::travel}, pose.travel},
                                                     {{Curve::axle_x}, pose.points[axle].x},
                                                     {{Curve::axle_y}, pose.points[axle].y},
                                                     {{Curve::rearward}, drawn.points[axle].x - pose.points[axle].x},
                                                     {{Curve::leverage}, leverage},
                                                     {{Curve::motion_ratio}, 1.0 / leverage},
                                                     {{Curve::chainstay}, chainstay},
                                                     {{Curve::chainstay_growth}, growth},
                                                     {{Curve::pitch}, math::degrees(tilt - t)},
                                                     {{Curve::wheelbase}, wheelbase},
                                                     {{Curve::bb_height}, dot(-pose.rear_contact, normal)},
                                                     {{Curve::head_angle}, layout.front.head_angle - math::degrees(t)},
                                                     {{Curve::cg_height}, height},
                                                     {{Curve::anti_rise}, anti(turning)}};
  for (std::size_t g = 0; g < layout.drivetrain.gears.size(); ++g) {
    const auto& gear = layout.drivetrain.gears[g];
    const double ring = 2.0213 * gear.chainring, cog = 2.0213 * gear.cog;  // roughly p·N / 2π
    const Point back = pose.points[axle] * (-1.0 / chainstay);
    const double lean = (cog - ring) / chainstay;
    const Point u = math::turn(back, {std::sqrt(1.0 - lean * lean), lean});
    const int index = static_cast<int>(g);
    const double chain = growth * (1.0 - 0.004 * (gear.cog - 20));
    out.push_back({{Curve::chain_growth, index}, chain});
    out.push_back({{Curve::kickback, index}, math::degrees(chain / ring)});
    out.push_back({{Curve::anti_squat, index}, anti(dot(u, velocity) / cog)});
  }
  const double force = layout.shock->spring->force(pose.shock);
  out.push_back({{Curve::shock_force}, force});
  out.push_back({{Curve::wheel_force}, force / leverage});
  const double slope = (after.points[axle].y - 2.0 * pose.points[axle].y + before.points[axle].y) / (step * step);
  out.push_back(
      {{Curve::wheel_rate},
       layout.shock->spring->stiffness(pose.shock) / (leverage * leverage) - force * slope / std::pow(leverage, 3)});
  return out;
}

objectives::Verdict judged(const objectives::Target& target, const search::Sheet& sheet) {
  using objectives::Wish;
  const auto& table = sheet.motion.table;
  const auto& travel = table.find({Curve::travel})->values;
  const double whole = *travel.back();
  objectives::Verdict worst;
  worst.margin = 2.0;
  const auto consider = [&](double value, double z) {
    const auto& w = target.wish;
    double lo = w.lo, hi = w.hi, wished = 0.0;
    if (w.kind == Wish::Kind::follow) {
      const auto& [x0, y0] = w.path.front();
      const auto& [x1, y1] = w.path.back();
      wished = y0 + (y1 - y0) * (z / whole - x0) / (x1 - x0);
      lo = wished - target.tolerance;
      hi = wished + target.tolerance;
    }
    double inside = std::min(value - lo, hi - value), scale = 0.5 * (hi - lo);
    if (w.kind == Wish::Kind::ceiling) inside = hi - value;
    if (w.kind == Wish::Kind::floor) inside = value - lo;
    if (w.kind == Wish::Kind::ceiling || w.kind == Wish::Kind::floor) scale = target.tolerance;
    const double margin = std::min(1.0, inside / scale);
    if (margin < worst.margin) worst = {value, z, wished, std::max(0.0, -inside), margin, inside >= 0.0};
  };
  if (target.measure) {
    const auto& leverage = table.find({Curve::leverage})->values;
    consider(1.0 - *leverage.back() / *leverage.front(), 0.0);
    return worst;
  }
  const auto& values = table.find(target.curve)->values;
  const double at = target.at.kind == objectives::Station::Kind::bottomed ? whole : sheet.at_sag.travel;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double z = *travel[i];
    if (target.over && z / whole >= target.over->from - 1e-9 && z / whole <= target.over->to + 1e-9) {
      consider(*values[i], z);
    } else if (!target.over && i + 1 < values.size() && z <= at && at <= *travel[i + 1] + 1e-9) {
      const double part = (at - z) / (*travel[i + 1] - z);
      consider(*values[i] + part * (*values[i + 1] - *values[i]), at);
      break;
    }
  }
  return worst;
}

std::vector<objectives::Target> invented_targets() {
  using objectives::Station;
  using objectives::Wish;
  std::vector<objectives::Target> out(6);
  out[0] = {"climbing", {Curve::anti_squat, 1}, {}, {}, {}, {}, {Wish::Kind::band, 95.0, 115.0, {}}, 2.0, 1.0, true};
  out[1] = {"calm pedals",
            {Curve::kickback, 2},
            {},
            {Station::Kind::bottomed, 0.0},
            {},
            {},
            {Wish::Kind::ceiling, 0.0, 20.0, {}},
            1.0,
            2.0,
            false};
  out[2] = {"leverage over travel",
            {Curve::leverage},
            {},
            {},
            {},
            objectives::Stretch{0.0, 1.0},
            {Wish::Kind::follow, 0.0, 0.0, {{0.0, 3.5}, {1.0, 2.95}}},
            0.12,
            1.0,
            false};
  out[3] = {"progressivity",
            {Curve::leverage},
            objectives::Measure::progressivity,
            {Station::Kind::topped_out, 0.0},
            {Station::Kind::bottomed, 0.0},
            {},
            {Wish::Kind::band, 0.12, 0.24, {}},
            0.02,
            1.0,
            true};
  out[4] = {"braking",
            {Curve::anti_rise},
            {},
            {},
            {},
            objectives::Stretch{0.2, 0.9},
            {Wish::Kind::band, 20.0, 32.0, {}},
            3.0,
            1.0,
            false};
  out[5] = {"static height", {Curve::bb_height}, {}, {}, {}, {}, {Wish::Kind::floor, 286.0, 0.0, {}}, 2.0, 1.0, false};
  return out;
}

void assess(search::Sheet& sheet, const std::vector<objectives::Target>& targets) {
  auto& a = sheet.assessment;
  a.margin = 1.0;
  for (const auto& target : targets) {
    const auto verdict = judged(target, sheet);
    a.margin = std::min(a.margin, verdict.margin);
    a.score += target.weight * std::pow(verdict.violation / target.tolerance, 2);
    a.musts += target.must;
    a.musts_met += target.must && verdict.met;
    a.targets.push_back(verdict);
  }
  a.rules = {{"least transmission angle", "°", 24.3, 15.0, "tail", 148.1, true, "", 0.9},
             {"least pivot distance", "mm", 46.2, 40.0, "stay – axle", 0.0, true, "", 1.0}};
  a.musts += 2;
  a.musts_met += 2;
}

}  // namespace

bike::Layout invented_layout() {
  bike::Layout layout;
  layout.title = "Workshop trail bike";
  layout.kind = bike::Kind::trail;
  layout.rear_radius = 371.0;
  layout.front_radius = 371.0;
  layout.front = {{806.0, 30.0}, 64.8, 160.0, bike::ForkFollows::matched, 0.0, bike::HeadTube{{470.0, 630.0}, 115.0}};
  layout.cg = {20.0, 1120.0, bike::CgFollows::frame};
  layout.mass = bike::Masses{78.0, 15.0, 4.0, 3.0};
  layout.drivetrain.gears = {{32, 18}, {32, 28}, {32, 50}};
  auto& m = layout.mechanism;
  m.point_names = {"main", "stay", "axle", "rocker", "tail", "eye", "mount"};
  m.points = {{-8.0, 55.0}, {-392.0, 22.0}, {-437.0, 30.0}, {-20.0, 265.0}, {-170.0, 258.0}, {15.0, 315.0}, {0.0, 0.0}};
  m.points[mount] = m.points[eye] + math::unit(math::radians(-78.0)) * 230.0;
  m.members = {{"frame", {main_pivot, rocker, mount}},
               {"chainstay", {main_pivot, stay}},
               {"seatstay", {stay, axle, tail}},
               {"rocker", {rocker, tail, eye}}};
  m.drive = {linkage::DriveKind::shock, eye, mount, false, -1, -1, 57.5};
  layout.axle = {axle, 2};
  layout.brake_member = 2;
  layout.shock = bike::Shock{230.0, 57.5, spring::Coil{80.0, 1.0}};
  layout.sag = {0.3, bike::SagOf::wheel};
  layout.seat_angle = 76.5;
  layout.set_up.riders = {60.0, 78.0, 100.0};
  layout.set_up.coil_rates = {60.0, 70.0, 80.0};
  layout.loads.landing = 3000.0;
  layout.loads.cases = {
      {"landing", 3000.0, 0.0, 0.0, -1}, {"stop", 500.0, 350.0, 0.0, -1}, {"climb", 700.0, 0.0, 250.0, 2}};
  return layout;
}

search::Sheet invented_sheet(const bike::Layout& layout, int stations) {
  search::Sheet sheet;
  sheet.layout = layout;
  const double whole = whole_rise(layout), stroke = layout.shock->stroke;
  const auto drawn = pose_of(layout, place_at(layout, 0.0), whole);
  for (int i = 0; i < stations; ++i) {
    const double compression = stroke * i / (stations - 1);
    sheet.motion.poses.push_back(pose_of(layout, place_at(layout, compression), whole));
  }
  auto& columns = sheet.motion.table.columns;
  for (const auto& pose : sheet.motion.poses) {
    const auto values = curves_at(layout, pose, drawn, whole);
    if (columns.empty()) {
      for (const auto& [key, _] : values) {
        std::string name(bike::record(key.curve).column);
        if (key.gear >= 0) name += "[" + layout.drivetrain.gears[static_cast<std::size_t>(key.gear)].name() + "]";
        columns.push_back({key, name, {}});
      }
      columns.push_back({{Curve::ic_x}, "ic_x_mm", {}});
      columns.push_back({{Curve::ic_y}, "ic_y_mm", {}});
    }
    for (std::size_t c = 0; c < values.size(); ++c) columns[c].values.emplace_back(values[c].second);
    const auto& ic = pose.instant_centre;
    columns[values.size()].values.push_back(ic ? std::optional(ic->x) : std::nullopt);
    columns[values.size() + 1].values.push_back(ic ? std::optional(ic->y) : std::nullopt);
  }
  sheet.topped_out = drawn;
  sheet.bottomed = sheet.motion.poses.back();
  double lo = 0.0, hi = stroke;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (lo + hi);
    (pose_of(layout, place_at(layout, middle), whole).travel < layout.sag.fraction * whole ? lo : hi) = middle;
  }
  sheet.at_sag = pose_of(layout, place_at(layout, lo), whole);
  sheet.geometry = bike::geometry_chart(layout);
  sheet.set_up = bike::set_up(layout);
  sheet.loads = bike::pivot_loads(layout, 11);
  sheet.guidance = objectives::remarks(layout);
  sheet.motion.least_transmission = 24.3;
  sheet.motion.least_transmission_joint = "tail";
  sheet.motion.least_transmission_travel = 148.1;
  return sheet;
}

search::StudyReport invented_study() {
  search::StudyReport study;
  study.brief.layout = invented_layout();
  study.brief.targets = invented_targets();
  study.brief.file = "trail-bike.yaml";
  study.brief.text =
      "trammel: 1\ntitle: Workshop trail bike\n# an invented brief, shortened\nvary:\n  main: { x: [-30, 20], y: [30, "
      "90] }\n";
  study.summary = {"trail-bike-1", "0.1.0", 7, 64, 131072, 384, 48312, 1203, "9f2c41d07be3a85516c0f2a94d7781e3", {}};
  study.summary.failures = {{"does not assemble at tail", 81234},
                            {"leverage turns back before the stroke ends", 9120},
                            {"transmission angle under 15° at stay", 2210}};
  const std::array<Point, 4> shifts{{{0.0, 0.0}, {-4.0, 2.0}, {6.0, -9.0}, {-22.0, 15.0}}};
  for (std::size_t i = 0; i < shifts.size(); ++i) {
    bike::Layout layout = invented_layout();
    auto& points = layout.mechanism.points;
    points[main_pivot] += shifts[i];
    points[stay] += Point{0.0, -0.4 * shifts[i].y};
    search::Sheet sheet = invented_sheet(layout, 101);
    sheet.rank = static_cast<int>(i) + 1;
    sheet.id = std::to_string(3 + 11 * i) + "-" + std::to_string(i % 3);
    assess(sheet, study.brief.targets);
    sheet.varied = {{"main.x", "mm", -30.0, 20.0, points[main_pivot].x},
                    {"main.y", "mm", 30.0, 90.0, points[main_pivot].y},
                    {"stay.y", "mm", 0.0, 32.0, points[stay].y},
                    {"mount.angle", "°", -95.0, -60.0, -78.0}};
    study.shortlist.push_back(std::move(sheet));
  }
  std::vector<const objectives::Assessment*> all;
  for (const auto& sheet : study.shortlist) all.push_back(&sheet.assessment);
  for (std::size_t i = 0; i < all.size(); ++i)
    study.shortlist[i].account = search::account_of(study.brief.targets, all, i);
  std::mt19937 random(5);  // NOLINT(cert-msc51-cpp,bugprone-random-generator-seed): the same study every time
  const auto spread = [&](double middle, double half) {
    return middle + half * (2.0 * static_cast<double>(random()) / 4294967295.0 - 1.0);
  };
  for (int i = 0; i < 200; ++i) {
    const bool listed = i < 4;
    const auto& like = study.shortlist[static_cast<std::size_t>(listed ? i : i % 4)];
    search::Mark mark;
    mark.id = listed ? like.id : std::to_string(100 + i) + "-" + std::to_string(i % 6);
    mark.rank_in_shortlist = listed ? like.rank : 0;
    mark.score = like.assessment.score + (listed ? 0.0 : std::abs(spread(0.0, 3.0)));
    mark.margin = like.assessment.margin - (listed ? 0.0 : std::abs(spread(0.0, 0.6)));
    for (std::size_t t = 0; t < study.brief.targets.size(); ++t) {
      const double tolerance = listed ? 0.0 : 3.0 * study.brief.targets[t].tolerance;
      mark.achieved.push_back(spread(like.assessment.targets[t].achieved, tolerance));
    }
    for (const auto& varied : like.varied) {
      mark.varied.push_back(
          std::clamp(spread(varied.value, listed ? 0.0 : 0.2 * (varied.hi - varied.lo)), varied.lo, varied.hi));
    }
    mark.points = like.layout.mechanism.points;
    for (bike::Point& p : mark.points)
      p = p + bike::Point{spread(0.0, listed ? 0.0 : 20.0), spread(0.0, listed ? 0.0 : 20.0)};
    mark.feasible = listed ? like.assessment.feasible() : mark.achieved[0] >= 95.0 && mark.achieved[0] <= 115.0;
    study.marks.push_back(std::move(mark));
  }
  return study;
}

search::StudyReport study_with_front() {
  search::StudyReport study = invented_study();
  search::TradeOffSheet sheet;
  sheet.between = {{0}, {1}};
  sheet.resolution = 0.25;
  sheet.varied = study.shortlist.front().varied;
  for (std::size_t i = 0; i < 3; ++i) {
    search::TradeOffPoint point;
    point.figures = {static_cast<double>(i) - 1.5, 0.5 - static_cast<double>(i)};
    point.sheet = study.shortlist.front();
    point.sheet.rank = static_cast<int>(i) + 1;
    point.sheet.id = "point-" + std::to_string(i + 1);
    sheet.points.push_back(point);
  }
  sheet.hypervolume = 0.321;
  sheet.spread = {0.1, 0.2, 0.3, 0.05};
  sheet.evaluations = 1234;
  study.trade_offs = {sheet};
  return study;
}

std::string page_of(const search::StudyReport& study, std::size_t at) {
  return report::layout_page(study, study.shortlist[at], report::shortlisted(study, at), "");
}

search::StudyReport linkages_study() {
  search::StudyReport study = invented_study();
  const std::string can = "Four-bar", cannot = "Single <pivot>";
  for (auto& sheet : study.shortlist) sheet.linkage = can;
  study.shortlist[1].varied[0].name = "low.x";
  for (auto& mark : study.marks) mark.linkage = can;
  study.linkages = {
      {.name = "four_bar", .title = can, .units = 2, .screened = 4096, .refined = 12, .kept = 10, .feasible = 3},
      {.name = "single_pivot", .title = cannot, .units = 2, .screened = 4096, .refined = 12, .kept = 9},
      {.name = "rail", .title = "Rail", .units = 2, .screened = 4096, .refined = 0}};
  study.linkages[0].best = study.shortlist[0];
  const auto misses = [](const search::Sheet& s) { return !s.assessment.feasible(); };
  study.linkages[1].best = *std::find_if(study.shortlist.begin(), study.shortlist.end(), misses);
  study.linkages[1].best->id = "999-0";  // not on the shortlist
  study.linkages[1].best->linkage = cannot;
  study.linkages[1].proven = {"'climbing' & nothing else fits."};
  study.linkages[2].failures = {{"does not assemble at shoe", 4096}};
  return study;
}

search::StudyReport hostile_study() {
  search::StudyReport study = invented_study();
  const std::string nasty = "</script><script>alert('x')</script> \"quoted\", & <b>bold</b>";
  study.brief.layout.title = nasty;
  study.brief.text = "title: " + nasty + "\n";
  study.brief.file = nasty;
  study.summary.study = nasty + "\nsecond line";
  study.summary.failures.front().cause = nasty;
  study.brief.targets[0].name = nasty;
  for (auto& sheet : study.shortlist) {
    sheet.layout.title = nasty + "\n# \t\\";
    sheet.varied[0].name = nasty;
    sheet.assessment.rules[0].where = nasty;
  }
  study.shortlist[0].layout.mechanism.point_names[stay] = nasty;
  study.shortlist[0].layout.mechanism.members[1].name = nasty;
  for (auto& mark : study.marks) mark.id += nasty;
  study.marks[7].achieved[0] = std::nan("");
  study.marks[8].margin = INFINITY;
  study.shortlist[1].assessment.targets[0].achieved = std::nan("");
  study.shortlist[1].motion.table.columns[5].values[3] = std::nullopt;
  study.shortlist[1].motion.table.columns[5].values[4] = -INFINITY;
  return study;
}

}  // namespace trammel::test
