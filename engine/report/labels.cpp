#include "report/labels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace trammel::report {

namespace {

struct Box {
  double left, top, right, bottom;
};

Box box_of(const Label& label) {
  return {label.corner.x, label.corner.y, label.corner.x + label.width, label.corner.y + label.height};
}

double overlap(const Box& a, const Box& b) {
  const double across = std::min(a.right, b.right) - std::max(a.left, b.left);
  const double down = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
  return across > 0.0 && down > 0.0 ? across * down : 0.0;
}

/// Length of the line that lies within the box (Liang–Barsky clipping).
double length_inside(const Crossing& line, const Box& box) {
  const Spot d = line.b - line.a;
  double from = 0.0, to = 1.0;
  const std::array<std::pair<double, double>, 4> sides{{{-d.x, line.a.x - box.left},
                                                        {d.x, box.right - line.a.x},
                                                        {-d.y, line.a.y - box.top},
                                                        {d.y, box.bottom - line.a.y}}};
  for (const auto& [p, q] : sides) {
    if (p == 0.0) {
      if (q < 0.0) return 0.0;
    } else if (p < 0.0) {
      from = std::max(from, q / p);
    } else {
      to = std::min(to, q / p);
    }
  }
  return from < to ? (to - from) * norm(d) : 0.0;
}

/// Letters, not bytes: UTF-8 continuation bytes are not counted.
double letters(const std::string& words) {
  return static_cast<double>(
      std::count_if(words.begin(), words.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

}  // namespace

std::vector<Label> place_labels(const std::vector<std::pair<std::string, Spot>>& names,
                                const std::vector<Crossing>& lines, double letter_size, double canvas_width,
                                double canvas_height) {
  constexpr int directions = 16;
  constexpr std::array distances{9.0, 16.0, 26.0, 40.0, 58.0};
  std::vector<Label> placed;
  for (const auto& [words, anchor] : names) {
    Label best{words, anchor, {}, 0.6 * letter_size * letters(words), 1.15 * letter_size};
    double least = std::numeric_limits<double>::infinity();
    for (const double distance : distances) {
      for (int k = 0; k < directions; ++k) {
        const Spot away = math::unit(2.0 * math::pi * k / directions);
        Label label = best;
        // The box touches the ray's end with the side or corner that faces the anchor.
        const Spot centre = anchor + away * distance + Spot{0.5 * away.x * label.width, 0.5 * away.y * label.height};
        label.corner = centre - Spot{0.5 * label.width, 0.5 * label.height};
        const Box box = box_of(label);
        double cost = 0.6 * distance;
        if (box.left < 2.0 || box.top < 2.0 || box.right > canvas_width - 2.0 || box.bottom > canvas_height - 2.0) {
          cost += 1e6;
        }
        for (const auto& other : placed) cost += 40.0 * overlap(box, box_of(other));
        for (const auto& [_, spot] : names) {
          cost += 20.0 * overlap(box, {spot.x - 7.0, spot.y - 7.0, spot.x + 7.0, spot.y + 7.0});
        }
        for (const auto& line : lines) cost += length_inside(line, box);
        if (cost < least) {
          least = cost;
          best = label;
        }
      }
    }
    placed.push_back(best);
  }
  return placed;
}

}  // namespace trammel::report
