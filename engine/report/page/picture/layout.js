// The layout file, as `trammel curves` reads it. What is missing stands there as null.
const layout = (function () {
  const number = function (v) { return figures.given(v) ? String(v) : "null"; };
  const pixel = function (p) { return state.placed(p) ? "[" + p.x + ", " + p.y + "]" : "null"; };
  const plain = new RegExp(data.names.pattern);
  // A name as it is, and anything else in quotes: every JSON string is a YAML one.
  const word = function (text) {
    return plain.test(text) ? text : JSON.stringify(text.toWellFormed ? text.toWellFormed() : text);
  };
  const comment = function (text) { return text.replace(/[^\p{L}\p{N}\p{P}\p{S}\p{M} ]/gu, "?"); };

  function bike(s, f) {
    const n = s.numbers, front = f.mm[3];
    const axle = front ? "[" + (+front.x.toFixed(2)) + ", " + (+front.y.toFixed(2)) + "]" : "null";
    const out = ["bike:"];
    if (s.text.kind) out.push("  kind: " + s.text.kind);
    out.push("  wheels: { rear: { radius: " + number(n.rear_radius) + " }, front: { radius: " + number(n.front_radius) + " } }",
      "  front: { axle: " + axle + ", head_angle: " + number(n.head_angle) + ", travel: " + number(n.fork_travel) + " }   # mm; the axle off the picture, too",
      "  cg: { x: " + number(n.cg_x) + ", height: " + number(n.cg_height) + " }");
    const cogs = figures.cogsOf(s.text.cogs) || [];
    if (figures.given(n.chainring) && cogs.length) {
      out.push("drivetrain:", "  chainring: " + n.chainring, "  gears: [" + cogs.join(", ") + "]");
      if (s.idler.point !== null && figures.given(n.idler_teeth))
        out.push("  idler: { teeth: " + n.idler_teeth + ", point: " + word(state.point(s.idler.point).name) + ", run: " + s.idler.run + " }");
    }
    return out;
  }

  function picture(s, f) {
    const at = function (id) { return pixel(state.point(id)); };
    const out = ["linkage:", "  picture:                      # pixels, x to the right, y down", "    faces: " + (f.left ? "left" : "right"), "    points:"];
    s.points.filter(state.inLinkage).forEach(function (p) { out.push("      " + word(p.name) + ": " + pixel(p)); });
    out.push("    bottom_bracket: " + at(1), "    level: [" + s.level.map(at).join(", ") + "]", "    lengths:");
    f.known.forEach(function (k, i) {
      const row = s.lengths[i];
      if (figures.given(row.mm)) out.push("      - { from: " + at(row.from) + ", to: " + at(row.to) + ", length: " + row.mm + " }   # " +
        comment(state.point(row.from).name + " to " + state.point(row.to).name));
    });
    out.push("    reading: " + number(s.numbers.reading));
    return out;
  }

  function members(s) {
    const pointName = function (id) { return id === null ? "null" : word(state.point(id).name); };
    const memberName = function (id) {
      const found = s.members.find(function (m) { return m.id === id; });
      return found ? word(found.name) : "null";
    };
    const out = ["  members:"];
    s.members.forEach(function (m) { out.push("    " + word(m.name) + ": [" + m.points.map(pointName).join(", ") + "]"); });
    if (s.sliders.length) out.push("  sliders:");
    s.sliders.forEach(function (one) {
      out.push("    - { point: " + pointName(one.point) + ", member: " + memberName(one.member) + ", along: [" + one.along.map(pointName).join(", ") + "] }");
    });
    out.push("  axle: { point: " + pointName(2) + ", member: " + memberName(s.axleMember) + " }");
    if (s.brakeMember !== null) out.push("  brake: { member: " + memberName(s.brakeMember) + " }");
    out.push("shock: { between: [" + s.eyes.map(pointName).join(", ") + "], length: " + number(s.numbers.shock_length) + ", stroke: " + number(s.numbers.shock_stroke) + " }");
    return out;
  }

  function text(s, f, photo) {
    const from = photo.width ? comment(photo.name) + ", " + photo.width + " x " + photo.height + " px" : "no picture";
    const head = ["# Read off a picture: " + from + (f.scale > 0 ? "; " + f.scale.toPrecision(6) + " mm a pixel" : ""), "trammel: 1"];
    if (s.text.title.trim()) head.push("title: " + JSON.stringify(s.text.title.trim()));
    return head.concat(bike(s, f), picture(s, f), members(s)).join("\n") + "\n";
  }

  // A file's name made of the bike's.
  function fileName(s) {
    const stem = s.text.title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 60);
    return (stem || "layout") + ".yaml";
  }

  return { text: text, fileName: fileName };
})();
