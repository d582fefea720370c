#include "draft/usual.hpp"

#include <algorithm>
#include <cmath>

#include "brief/shock_sizes.hpp"
#include "objectives/guidance.hpp"

namespace trammel::draft {
namespace {

using bike::Kind;

constexpr std::string_view four_bar = "four_bar_axle_on_coupler", driven = "linkage_driven_single_pivot",
                           high = "high_pivot_idler";

// In the order of the struct's members.
constexpr std::array<UsualKind, 6> kinds{{
    {Kind::cross_country,
     "cross-country bike",
     110,
     "29",
     driven,
     10,
     67.0,
     765,
     432,
     -4,
     40,
     1115,
     70,
     11,
     3.2,
     2.6,
     34,
     {52, 24, 12},
     0.25,
     {85, 115},
     {0.06, 0.22},
     {35, 110},
     0,
     28},
    {Kind::trail, "trail bike", 140, "29", four_bar, 10,           65.2, 808,       437,          0,        25, 1110,
     78,          15,           4.0, 3.0,  32,       {51, 24, 12}, 0.30, {85, 112}, {0.13, 0.27}, {35, 90}, 0,  28},
    {Kind::enduro, "enduro bike", 165, "29", four_bar,     5,    63.9,      820,          440,      4, 18, 1115, 80,
     15.8,         4.2,           3.2, 32,   {51, 24, 12}, 0.30, {85, 115}, {0.15, 0.31}, {35, 95}, 0, 28},
    {Kind::downhill,
     "downhill bike",
     201,
     "29/27.5",
     high,
     0,
     63.0,
     832,
     443,
     10,
     5,
     1130,
     80,
     16.5,
     4.6,
     3.4,
     34,
     {25, 17, 11},
     0.33,
     {80, 130},
     {0.15, 0.33},
     {50, 150},
     5,
     30},
    {Kind::e_bike, "e-bike", 145, "29/27.5", four_bar,     5,    64.8,      812,          446,      4, 20, 1060, 82,
     23.5,         5.2,      3.4, 34,        {51, 28, 12}, 0.30, {75, 108}, {0.13, 0.29}, {35, 95}, 0, 30},
    {Kind::kids,
     "children's bike",
     130,
     "20",
     driven,
     0,
     66.5,
     760,
     462,
     0,
     14,
     1110,
     78,
     12,
     2.9,
     2.2,
     28,
     {46, 24, 11},
     0.25,
     {78, 118},
     {0.05, 0.22},
     {30, 115},
     0,
     25},
}};

constexpr std::array<UsualWheel, 5> wheels{{
    {"29", 622, 60, 339, 1.0, 1.0},
    {"27.5", 584, 62, 337, 0.985, 1.0},
    {"26", 559, 58, 333, 0.96, 1.0},
    {"24", 507, 54, 308, 0.86, 0.55},
    {"20", 406, 50, 275, 0.74, 0.41},
}};

/// In the middle of what bikes have; common practice, no source.
constexpr double mean_leverage = 2.7;
/// For frames of children's bikes, shorter than any of the sizes that `choose: shock: metric` knows.
constexpr brief::ShockSize shortest_shock{165, 38};

struct PointWords {
  std::string_view point, words;
};
constexpr std::array<PointWords, 18> point_table{{
    {"main", "main pivot"},
    {"stay", "pivot of chainstay and seatstay, ahead of the axle"},
    {"axle", "rear axle"},
    {"rocker", "rocker's pivot on the frame"},
    {"tail", "rocker's rear pivot"},
    {"eye", "shock eye that moves"},
    {"mount", "shock eye on the frame"},
    {"foot", "lower end of the link or rod"},
    {"idler", "idler's axis"},
    {"knee", "upper end of the rod, on the rocker"},
    {"pivot", "second lever's pivot on the frame"},
    {"low", "lower link's pivot on the frame"},
    {"lowend", "lower link's pivot on the rear triangle"},
    {"high", "upper link's pivot on the frame"},
    {"highend", "upper link's pivot on the rear triangle"},
    {"raillow", "lower end of the rail"},
    {"railtop", "upper end of the rail"},
    {"shoe", "shoe that slides on the rail"},
}};

double nearest_step(double value, double step) {
  return std::round(value / step) * step;
}

}  // namespace

std::span<const UsualKind> usual_kinds() {
  return kinds;
}

const UsualKind& usual(Kind kind) {
  return *std::find_if(kinds.begin(), kinds.end(), [&](const UsualKind& one) { return one.kind == kind; });
}

std::span<const UsualWheel> usual_wheels() {
  return wheels;
}

std::string Wheels::name() const {
  return std::string(front->name) + (front == rear ? "" : "/" + std::string(rear->name));
}

double usual_travel(const UsualKind& kind, const Wheels& on) {
  return nearest_step(kind.travel * on.rear->frame, 5.0);
}

brief::ShockSize usual_shock(double travel) {
  std::vector<brief::ShockSize> sizes = brief::shock_sizes("metric");
  sizes.insert(sizes.begin(), shortest_shock);
  const auto off = [&](const brief::ShockSize& size) { return std::abs(size.stroke - travel / mean_leverage); };
  return *std::min_element(sizes.begin(), sizes.end(),
                           [&](const brief::ShockSize& a, const brief::ShockSize& b) { return off(a) < off(b); });
}

std::optional<Limits> guided_travel(Kind kind) {
  for (const objectives::GuidanceRecord& record : objectives::guidance_table())
    if (record.topic == "travel" && record.least && record.greatest &&
        std::find(record.kinds.begin(), record.kinds.end(), kind) != record.kinds.end())
      return Limits{*record.least, *record.greatest};
  return std::nullopt;
}

std::string_view point_words(std::string_view point) {
  for (const PointWords& one : point_table)
    if (one.point == point) return one.words;
  return {};
}

}  // namespace trammel::draft
