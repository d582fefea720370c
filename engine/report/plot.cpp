#include "report/plot.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "report/digits.hpp"

namespace trammel::report {

namespace {

constexpr double width = 460.0, height = 300.0;
constexpr double left = 58.0, right = 14.0, top = 20.0, bottom = 42.0;
constexpr double area_width = width - left - right, area_height = height - top - bottom;
const Pen grid{"#d9dee3", 0.8, ""};
const Pen ink{"#1d2733", 1.0, ""};
const Pen wish_pen{"#007a5a", 1.3, ""};
constexpr std::string_view wish_fill = "#009e73";

Span with_air(Span s) {
  const double middle = 0.5 * (s.lo + s.hi);
  // A constant curve still needs an area; and one that differs by rounding noise must look constant.
  const double least = std::max(1e-3, 1e-6 * std::abs(middle));
  if (s.size() < least) return {middle - least, middle + least};
  return {s.lo - 0.06 * s.size(), s.hi + 0.06 * s.size()};
}

}  // namespace

void Span::hold(double x) {
  lo = std::min(lo, x);
  hi = std::max(hi, x);
}

Span Span::empty() {
  return {std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
}

Ticks ticks(Span span, int wanted) {
  const double rough = span.size() / wanted;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  const double lead = rough / power;
  const double step = power * (lead < 1.5 ? 1.0 : lead < 3.5 ? 2.0 : lead < 7.5 ? 5.0 : 10.0);
  Ticks out;
  out.decimals = std::max(0, -static_cast<int>(std::floor(std::log10(step * 1.0001))));
  const auto first = static_cast<long long>(std::ceil(span.lo / step - 1e-9));
  const auto last = static_cast<long long>(std::floor(span.hi / step + 1e-9));
  for (long long i = first; i <= last; ++i) out.at.push_back(static_cast<double>(i) * step);
  return out;
}

Plot::Plot(PlotFrame frame) : frame_(std::move(frame)), canvas_(width, height) {
  x_ = frame_.x.size() > 0.0 && !frame_.equal_scale ? frame_.x : with_air(frame_.x);
  y_ = with_air(frame_.y);
  if (frame_.equal_scale) {
    const double mm_per_px = std::max(x_.size() / area_width, y_.size() / area_height);
    const auto widen = [&](Span s, double length) {
      const double middle = 0.5 * (s.lo + s.hi);
      return Span{middle - 0.5 * mm_per_px * length, middle + 0.5 * mm_per_px * length};
    };
    x_ = widen(x_, area_width);
    y_ = widen(y_, area_height);
  }
  axes();
}

Spot Plot::at(double x, double y) const {
  return {left + (x - x_.lo) / x_.size() * area_width, top + (y_.hi - y) / y_.size() * area_height};
}

void Plot::axes() {
  const Ticks across = ticks(x_, 7), up = ticks(y_, 6);
  for (const double x : across.at) {
    const Spot foot = at(x, y_.lo);
    canvas_.line({foot.x, top}, foot, grid);
    canvas_.write({foot.x, foot.y + 15.0}, shown(x, across.decimals), {11.5, Anchor::middle});
  }
  for (const double y : up.at) {
    const Spot foot = at(x_.lo, y);
    const bool zero = std::abs(y) < 1e-9 * y_.size();
    canvas_.line(foot, {left + area_width, foot.y}, zero ? Pen{"#7b8794", 1.0, ""} : grid);
    canvas_.write({left - 6.0, foot.y + 4.0}, shown(y, up.decimals), {11.5, Anchor::end});
  }
  canvas_.rect({left, top}, area_width, area_height, ink, "none");
  canvas_.write({left + 0.5 * area_width, height - 8.0}, frame_.x_label, {12.0, Anchor::middle});
  Lettering sideways{12.0, Anchor::middle};
  sideways.turn = -90.0;
  canvas_.write({14.0, top + 0.5 * area_height}, frame_.y_label, sideways);
}

void Plot::curve(const std::string& name, const std::vector<std::optional<double>>& x,
                 const std::vector<std::optional<double>>& y, const Pen& pen) {
  if (!name.empty()) legend_.emplace_back(name, pen);
  canvas_.begin_clip(frame_.name + "-" + std::to_string(curves_++), {left, top}, area_width, area_height);
  std::vector<Spot> run;
  const auto draw_run = [&] {
    canvas_.polyline(run, pen);
    for (std::size_t i = 1; i < run.size(); ++i) lines_.push_back({run[i - 1], run[i]});
    run.clear();
  };
  for (std::size_t i = 0; i < std::min(x.size(), y.size()); ++i) {
    if (x[i] && y[i] && std::isfinite(*x[i]) && std::isfinite(*y[i])) {
      run.push_back(at(*x[i], *y[i]));
    } else {
      draw_run();
    }
  }
  draw_run();
  canvas_.end_clip();
}

void Plot::upright(double x, const std::string& words) {
  const Spot foot = at(x, y_.lo);
  canvas_.begin_class("as-reported");
  canvas_.line({foot.x, top}, foot, {"#4a5560", 1.0, "8 3 2 3"});
  canvas_.write({foot.x, top - 5.0}, words, {11.0, Anchor::middle, "#4a5560"});
  canvas_.end_class();
}

void Plot::band(Span x, Span y) {
  wishes_ = true;
  const Spot corner = at(x.lo, std::min(y.hi, y_.hi)), far = at(x.hi, std::max(y.lo, y_.lo));
  canvas_.rect(corner, far.x - corner.x, far.y - corner.y, wish_pen, wish_fill, 0.14);
}

void Plot::spread(const std::vector<double>& x, const std::vector<double>& low, const std::vector<double>& high,
                  const Pen& pen) {
  spreads_ = true;
  std::vector<Spot> rim;
  for (std::size_t i = 0; i < x.size(); ++i) rim.push_back(at(x[i], high[i]));
  for (std::size_t i = x.size(); i-- > 0;) rim.push_back(at(x[i], low[i]));
  canvas_.begin_clip(frame_.name + "-" + std::to_string(curves_++), {left, top}, area_width, area_height);
  canvas_.polygon(rim, {pen.colour, 0.4, ""}, pen.colour, 0.2);
  canvas_.end_clip();
}

void Plot::others(const std::vector<double>& x, const std::vector<double>& low, const std::vector<double>& high,
                  const Pen& pen) {
  others_ = true;
  canvas_.begin_clip(frame_.name + "-" + std::to_string(curves_++), {left, top}, area_width, area_height);
  for (const std::vector<double>* rim : {&low, &high}) {
    std::vector<Spot> line;
    for (std::size_t i = 0; i < x.size(); ++i) line.push_back(at(x[i], (*rim)[i]));
    canvas_.polyline(line, {pen.colour, 0.8, "1.5 3"});
  }
  canvas_.end_clip();
}

void Plot::bar(double x, Span y) {
  wishes_ = true;
  const Spot high = at(x, y.hi), low = at(x, y.lo);
  canvas_.rect({high.x - 5.0, high.y}, 10.0, low.y - high.y, {wish_pen.colour, 0.6, ""}, wish_fill, 0.16);
  for (const Spot& end : {high, low})
    canvas_.line({end.x - 8.0, end.y}, {end.x + 8.0, end.y}, {wish_pen.colour, 1.8, ""});
}

void Plot::limit(Span x, double y, bool forbidden_above) {
  limits_ = true;
  Spot a = at(x.lo, y), b = at(x.hi, y);
  if (b.x - a.x < 24.0) {  // at one place: still a line to be seen, within the plot
    const double middle = std::clamp(0.5 * (a.x + b.x), left + 12.0, left + area_width - 12.0);
    a.x = middle - 12.0;
    b.x = middle + 12.0;
  }
  hatched(a, b, forbidden_above);
}

void Plot::limit(const std::vector<std::pair<double, double>>& points, bool forbidden_above) {
  limits_ = true;
  for (std::size_t i = 1; i < points.size(); ++i)
    hatched(at(points[i - 1].first, points[i - 1].second), at(points[i].first, points[i].second), forbidden_above);
}

void Plot::hatched(Spot a, Spot b, bool forbidden_above) {
  const double rise = forbidden_above ? -6.0 : 6.0;
  const double slope = b.x > a.x ? (b.y - a.y) / (b.x - a.x) : 0.0;
  canvas_.line(a, b, {wish_pen.colour, 1.8, ""});
  for (double hatch = a.x; hatch + 5.0 <= b.x; hatch += 6.0) {
    const double y = a.y + slope * (hatch - a.x);
    canvas_.line({hatch, y}, {hatch + 5.0, y + rise}, {wish_pen.colour, 0.9, ""});
  }
}

void Plot::path(const std::vector<std::pair<double, double>>& points, double tolerance) {
  wishes_ = true;
  std::vector<Spot> middle, rim;
  for (const auto& [x, y] : points) {
    middle.push_back(at(x, y));
    rim.push_back(at(x, y + tolerance));
  }
  for (auto p = points.rbegin(); p != points.rend(); ++p) rim.push_back(at(p->first, p->second - tolerance));
  canvas_.polygon(rim, {wish_pen.colour, 0.8, ""}, wish_fill, 0.14);
  canvas_.polyline(middle, {wish_pen.colour, 1.0, "3 3"});
}

void Plot::verdict(double x, double y, bool met) {
  const Spot s = at(x, y);
  canvas_.begin_class("as-reported");
  (met ? met_ : unmet_) = true;
  if (met) canvas_.circle(s, 3.6, {"#ffffff", 1.0, ""}, "#1d2733");
  for (const Pen& pen : {Pen{"#ffffff", 4.6, ""}, Pen{"#a8320a", 2.4, ""}}) {
    if (met) break;
    canvas_.line({s.x - 5.0, s.y - 5.0}, {s.x + 5.0, s.y + 5.0}, pen);
    canvas_.line({s.x - 5.0, s.y + 5.0}, {s.x + 5.0, s.y - 5.0}, pen);
  }
  canvas_.end_class();
}

void Plot::station(double x, double y, const std::string& words, const std::string& address) {
  const Spot s = at(x, y);
  if (!address.empty()) canvas_.begin_link(s, address, words);
  canvas_.circle(s, 3.6, {"#1d2733", 1.4, ""}, "#ffffff");
  if (!address.empty()) canvas_.end_link();
  if (!words.empty()) stations_.emplace_back(words, s);
}

Html Plot::figure(const std::string& note) const {
  const auto entry = [](const SvgCanvas& swatch, const std::string& words) {
    return element("span", {{"class", "key"}}, swatch.inside_page("") + text(words));
  };
  Html legend;
  for (const auto& [name, pen] : legend_) {
    SvgCanvas swatch(34.0, 12.0);
    swatch.line({1.0, 6.0}, {33.0, 6.0}, pen);
    legend += entry(swatch, name);
  }
  if (wishes_) {
    SvgCanvas swatch(34.0, 12.0);
    swatch.rect({1.0, 1.5}, 32.0, 9.0, wish_pen, wish_fill, 0.14);
    legend += entry(swatch, "asked for");
  }
  if (spreads_) {
    SvgCanvas swatch(34.0, 12.0);
    swatch.rect({1.0, 1.5}, 32.0, 9.0, {"#4a5560", 0.4, ""}, "#4a5560", 0.2);
    legend += entry(swatch, "5 to 95 % of built frames");
  }
  if (others_) {
    SvgCanvas swatch(34.0, 12.0);
    for (const double y : {2.0, 10.0}) swatch.line({1.0, y}, {33.0, y}, {"#4a5560", 0.8, "1.5 3"});
    legend += entry(swatch, "10 to 90 % of the references");
  }
  if (limits_) {
    SvgCanvas swatch(34.0, 12.0);
    swatch.line({1.0, 9.0}, {33.0, 9.0}, {wish_pen.colour, 1.8, ""});
    for (double x = 1.0; x < 30.0; x += 6.0) swatch.line({x, 9.0}, {x + 5.0, 3.0}, {wish_pen.colour, 0.9, ""});
    legend += entry(swatch, "limit, hatched side not wanted");
  }
  if (met_) {
    SvgCanvas swatch(12.0, 12.0);
    swatch.circle({6.0, 6.0}, 3.6, {"#ffffff", 1.0, ""}, "#1d2733");
    legend += entry(swatch, "met here");
  }
  if (unmet_) {
    SvgCanvas swatch(12.0, 12.0);
    swatch.line({1.5, 1.5}, {10.5, 10.5}, {"#a8320a", 2.4, ""});
    swatch.line({1.5, 10.5}, {10.5, 1.5}, {"#a8320a", 2.4, ""});
    legend += entry(swatch, "not met here");
  }
  SvgCanvas canvas = canvas_;
  for (const auto& label : place_labels(stations_, lines_, 11.0, left + area_width, top + area_height)) {
    canvas.write({label.corner.x + 0.5 * label.width, label.corner.y + 0.82 * label.height}, label.words,
                 {11.0, Anchor::middle, "#1d2733", false, true});
  }
  Html caption;
  if (!legend.empty()) caption += element("div", {{"class", "legend"}}, legend);
  if (!note.empty()) caption += element("p", note);
  Attributes attributes{{"class", "plot"}};
  if (frame_.over_travel) {
    // For the page's script, which marks a travel in it.
    const auto list = [](std::initializer_list<double> numbers) {
      std::string out;
      for (const double x : numbers) out += (out.empty() ? "" : " ") + shown(x, 3);
      return out;
    };
    attributes.emplace_back("data-travel", list({x_.lo, x_.hi}));
    attributes.emplace_back("data-area", list({left, top, left + area_width, top + area_height}));
    attributes.emplace_back("data-values", list({y_.lo, y_.hi}));
    std::string columns, pens, dashes;
    for (std::size_t k = 0; k < frame_.columns.size(); ++k) {
      const Pen pen = series_pen(static_cast<int>(k));
      columns += (k == 0 ? "" : " ") + std::to_string(frame_.columns[k]);
      pens += (k == 0 ? "" : " ") + pen.colour;
      dashes += (k == 0 ? "" : ";") + pen.dash;
    }
    attributes.emplace_back("data-columns", columns);
    attributes.emplace_back("data-pens", pens);
    attributes.emplace_back("data-dashes", dashes);
  }
  return element("figure", attributes,
                 element("h3", frame_.title) + canvas.inside_page(frame_.title) +
                     (caption.empty() ? caption : element("figcaption", caption)));
}

}  // namespace trammel::report
