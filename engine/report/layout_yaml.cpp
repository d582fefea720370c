// A layout as YAML. The field names are those that the brief's reader knows.
#include <algorithm>
#include <array>
#include <cmath>

#include "report/digits.hpp"
#include "report/write.hpp"

namespace trammel::report {

namespace {

/// A scalar that every YAML reader takes for this very text: bare when it is a plain word, else in double quotes.
std::string scalar(std::string_view text) {
  // YAML 1.1 readers take these words for truth values or nothing.
  static constexpr std::array<std::string_view, 9> taken{"y", "n", "yes", "no", "on", "off", "true", "false", "null"};
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; };
  const bool word = !text.empty() && letter(text.front()) && std::all_of(text.begin(), text.end(), [&](char c) {
    return letter(c) || (c >= '0' && c <= '9') || c == '-';
  });
  std::string lower(text);
  for (char& c : lower) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + ('a' - 'A')) : c;
  if (word && std::find(taken.begin(), taken.end(), lower) == taken.end()) return std::string(text);
  std::string out = "\"";
  for (const char c : text) {
    static constexpr std::string_view hex = "0123456789abcdef";
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += std::string("\\") + c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (code < 0x20 || code == 0x7f) {
      out += std::string("\\x") + hex[code >> 4] + hex[code & 15];
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string pair_of(const bike::Point& p) {
  return "[" + exact(p.x) + ", " + exact(p.y) + "]";
}

/// The angle in degrees that reads back to the same radians, if rounding leaves one.
std::string in_degrees(double radians) {
  const double near = math::degrees(radians);
  double below = near, above = near;
  for (int step = 0; step < 4; ++step) {
    if (math::radians(below) == radians) return exact(below);
    if (math::radians(above) == radians) return exact(above);
    below = std::nextafter(below, -1e9);
    above = std::nextafter(above, 1e9);
  }
  return exact(near);
}

class Writer {
 public:
  Writer(const bike::Layout& layout, const std::string& notes) : layout_(layout), notes_(notes) {}

  std::string whole() {
    out_ = "trammel: 1\n";
    if (!layout_.title.empty()) out_ += "title: " + scalar(layout_.title) + "\n";
    if (!notes_.empty()) out_ += "notes: " + scalar(notes_) + "\n";
    bike();
    drivetrain();
    linkage();
    drive();
    set_up();
    loads();
    settings();
    sizes();
    out_ += "sag: { fraction: " + exact(layout_.sag.fraction) +
            ", of: " + (layout_.sag.of == bike::SagOf::wheel ? "wheel" : "shock") + " }\n";
    return out_;
  }

 private:
  std::string point_name(int point) const {
    return scalar(layout_.mechanism.point_names[static_cast<std::size_t>(point)]);
  }
  std::string member_name(int member) const {
    return scalar(layout_.mechanism.members[static_cast<std::size_t>(member)].name);
  }

  void bike() {
    static constexpr std::array follows{"matched", "extended", "at_sag"};
    const auto& front = layout_.front;
    out_ += "bike:\n";
    if (layout_.kind) out_ += "  kind: " + std::string(bike::record(*layout_.kind).key) + "\n";
    out_ += "  wheels:\n    rear: { radius: " + exact(layout_.rear_radius) +
            " }\n    front: { radius: " + exact(layout_.front_radius) + " }\n";
    out_ += "  front: { " + front_place(front) + ", travel: " + exact(front.travel) +
            ", follows: " + follows[static_cast<std::size_t>(front.follows)];
    if (front.follows == bike::ForkFollows::at_sag || front.sag > 0.0) out_ += ", sag: " + exact(front.sag);
    out_ += " }\n  cg: { x: " + exact(layout_.cg.x) + ", height: " + exact(layout_.cg.height) +
            ", follows: " + (layout_.cg.follows == bike::CgFollows::frame ? "frame" : "ground") + " }\n";
    if (layout_.seat_angle) out_ += "  seat_angle: " + exact(*layout_.seat_angle) + "\n";
    if (const auto& mass = layout_.mass) {
      out_ += "  mass: { rider: " + exact(mass->rider) + ", bike: " + exact(mass->bike) +
              ", rear_unsprung: " + exact(mass->rear_unsprung) + ", front_unsprung: " + exact(mass->front_unsprung) +
              " }\n";
    }
  }

  void drivetrain() {
    const auto& train = layout_.drivetrain;
    if (train.gears.empty()) return;
    std::vector<double> rings, cogs;
    for (const auto& gear : train.gears) {
      if (rings.empty() || rings.back() != gear.chainring) rings.push_back(gear.chainring);
      if (gear.chainring == train.gears.front().chainring) cogs.push_back(gear.cog);
    }
    out_ += "drivetrain:\n  " +
            (rings.size() == 1 ? "chainring: " + exact(rings.front()) : "chainrings: " + list(rings)) +
            "\n  gears: " + list(cogs) + "\n";
    if (!train.cassette.empty()) out_ += "  cassette: " + list({train.cassette.begin(), train.cassette.end()}) + "\n";
    if (!train.clear_of.empty()) {
      std::string names;
      for (const int point : train.clear_of) names += (names.empty() ? "" : ", ") + point_name(point);
      out_ += "  clear_of: [" + names + "]\n";
    }
    lead("idler", train.idler);
    lead("roller", train.roller);
  }

  void lead(const char* key, const std::optional<bike::Idler>& idler) {
    if (!idler) return;
    out_ += std::string("  ") + key + ": { teeth: " + std::to_string(idler->teeth) +
            ", point: " + point_name(idler->point) + ", run: " + (idler->over ? "over" : "under") + " }\n";
  }

  void linkage() {
    const auto& mechanism = layout_.mechanism;
    out_ += "linkage:\n  points:\n";
    for (std::size_t i = 0; i < mechanism.points.size(); ++i) {
      out_ += "    " + point_name(static_cast<int>(i)) + ": " + pair_of(mechanism.points[i]) + "\n";
    }
    out_ += "  members:\n";
    for (const auto& member : mechanism.members) {
      std::string names;
      for (const int p : member.points) names += (names.empty() ? "" : ", ") + point_name(p);
      out_ += "    " + scalar(member.name) + ": [" + names + "]\n";
    }
    if (!mechanism.sliders.empty()) out_ += "  sliders:\n";
    for (const auto& slider : mechanism.sliders) {
      out_ += "    - { point: " + point_name(slider.point) + ", member: " + member_name(slider.member) + ", along: [" +
              point_name(slider.along_a) + ", " + point_name(slider.along_b) + "] }\n";
    }
    if (!mechanism.through_line.empty()) {
      std::string names;
      for (const int p : mechanism.through_line) names += (names.empty() ? "" : ", ") + point_name(p);
      out_ += "  through_line: [" + names + "]\n";
    }
    out_ += "  axle: { point: " + point_name(layout_.axle.point) + ", member: " + member_name(layout_.axle.member) +
            " }\n  brake: { member: " + member_name(layout_.brake_member) + " }\n";
  }

  void drive() {
    const auto& drive = layout_.mechanism.drive;
    if (layout_.shock) {
      const auto& shock = *layout_.shock;
      out_ += "shock:\n  between: [" + point_name(drive.a) + ", " + point_name(drive.b) +
              "]\n  length: " + exact(shock.length) + "\n  stroke: " + exact(shock.stroke) + "\n";
      if (drive.extends) out_ += "  extends: true\n";
      if (shock.spring) spring(*shock.spring);
    } else if (drive.kind == linkage::DriveKind::travel) {
      out_ += "drive: { travel: " + exact(drive.range) + " }\n";
    } else {
      out_ += "drive: { member: " + member_name(drive.member) + ", turn: " + in_degrees(drive.range) + " }\n";
    }
  }

  void spring(const spring::Spring& spring) {
    out_ += "  spring:\n";
    if (const auto* coil = std::get_if<spring::Coil>(&spring.kind)) {
      out_ += "    coil: { rate: " + exact(coil->rate) + ", preload: " + exact(coil->preload) + " }\n";
    } else if (const auto* air = std::get_if<spring::Air>(&spring.kind)) {
      out_ += "    air: { bore: " + exact(air->bore) + ", shaft: " + exact(air->shaft) +
              ", positive: " + exact(air->positive) + ", negative: " + exact(air->negative) +
              ", transfer: " + exact(air->transfer) + ", pressure: " + exact(air->pressure) +
              ", spacer: " + exact(air->spacer) + ", spacers: " + std::to_string(air->spacers) +
              ", exponent: " + exact(air->exponent) + " }\n";
    } else if (const auto* table = std::get_if<spring::Table>(&spring.kind)) {
      std::string points;
      for (const auto& [c, force] : table->points()) points += (points.empty() ? "" : ", ") + list({c, force});
      out_ += "    table: { points: [" + points + "] }\n";
    }
    if (const auto& stop = spring.bump_stop)
      out_ += "    bump_stop: { length: " + exact(stop->length) + ", force: " + exact(stop->force) + " }\n";
    if (spring.breakaway > 0.0) out_ += "    breakaway: " + exact(spring.breakaway) + "\n";
  }

  void set_up() {
    const bike::SetUpRange& range = layout_.set_up;
    const bike::SetUpRange plain;
    std::string inside;
    const auto add = [&](const std::string& entry) { inside += (inside.empty() ? "" : ", ") + entry; };
    if (!range.riders.empty()) add("riders: " + list(range.riders));
    if (!range.coil_rates.empty()) add("coil_rates: " + list(range.coil_rates));
    if (range.pressures) add("pressures: " + list({range.pressures->first, range.pressures->second}));
    if (range.most_spacers > 0) add("most_spacers: " + std::to_string(range.most_spacers));
    if (range.sag_tolerance != plain.sag_tolerance) add("sag_tolerance: " + exact(range.sag_tolerance));
    if (!inside.empty()) out_ += "set_up: { " + inside + " }\n";
  }

  void loads() {
    const bike::Loads& loads = layout_.loads;
    if (!loads.landing && loads.cases.empty()) return;
    out_ += "loads:\n";
    if (loads.landing) out_ += "  landing: " + exact(*loads.landing) + "\n";
    if (!loads.cases.empty()) out_ += "  cases:\n";
    for (const bike::LoadCase& load : loads.cases) {
      out_ += "    " + scalar(load.name) + ": { vertical: " + exact(load.vertical);
      if (load.braking > 0.0) out_ += ", braking: " + exact(load.braking);
      if (load.driving > 0.0 && load.gear >= 0) {
        const bike::Gear& gear = layout_.drivetrain.gears[static_cast<std::size_t>(load.gear)];
        // In the file the chainring is no longer a choice.
        out_ += ", driving: " + exact(load.driving) + ", gear: " + bike::Gear{gear.chainring, gear.cog}.name();
      }
      out_ += " }\n";
    }
  }

  void settings() {
    if (!layout_.settings.empty()) out_ += "settings:\n";
    for (const bike::Setting& setting : layout_.settings) {
      out_ += "  - name: " + scalar(setting.name) + "\n";
      std::string moves;
      for (const auto& [point, by] : setting.moves)
        moves += (moves.empty() ? "" : ", ") + point_name(point) + ": " + pair_of(by);
      if (!moves.empty()) out_ += "    move: { " + moves + " }\n";
      if (setting.shock)
        out_ += "    shock: { length: " + exact(setting.shock->length) + ", stroke: " + exact(setting.shock->stroke) +
                " }\n";
      if (setting.rear_radius) out_ += "    wheels: { rear: { radius: " + exact(*setting.rear_radius) + " } }\n";
    }
  }

  void sizes() {
    if (!layout_.sizes.empty()) out_ += "sizes:\n";
    for (const bike::Size& size : layout_.sizes) {
      out_ += "  - name: " + scalar(size.name) + "\n";
      if (size.front) out_ += "    front: { " + front_place(*size.front) + " }\n";
      if (size.chainstay != 0.0) out_ += "    chainstay: " + exact(size.chainstay) + "\n";
      if (size.riders.size() == 1) out_ += "    rider: " + exact(size.riders.front()) + "\n";
      if (size.riders.size() > 1) {
        std::string list;
        for (const double rider : size.riders) list += (list.empty() ? "" : ", ") + exact(rider);
        out_ += "    riders: [" + list + "]\n";
      }
      if (size.cg) out_ += "    cg: { x: " + exact(size.cg->x) + ", height: " + exact(size.cg->height) + " }\n";
    }
  }

  static std::string front_place(const bike::Front& front) {
    std::string out = "axle: " + pair_of(front.axle);
    if (front.head_tube) {
      out += ", reach: " + exact(front.head_tube->top.x) + ", stack: " + exact(front.head_tube->top.y);
      if (front.head_tube->length) out += ", head_tube: " + exact(*front.head_tube->length);
    }
    return out + ", head_angle: " + exact(front.head_angle);
  }

  static std::string list(const std::vector<double>& numbers) {
    std::string out;
    for (const double number : numbers) out += (out.empty() ? "" : ", ") + exact(number);
    return "[" + out + "]";
  }

  const bike::Layout& layout_;
  const std::string& notes_;
  std::string out_;
};

}  // namespace

std::string layout_yaml(const bike::Layout& layout, const std::string& notes) {
  return Writer(layout, notes).whole();
}

}  // namespace trammel::report
