// Shapes of a scene, for the scripts of a page that come after it: `made` adds an SVG element, `scene` all of a scene.
function sceneTools() {
  "use strict";
  var svgNames = document.querySelector("svg").namespaceURI;  // of the drawings on the page

  function made(name, attributes, parent) {
    var node = document.createElementNS(svgNames, name);
    Object.keys(attributes).forEach(function (key) { node.setAttribute(key, attributes[key]); });
    if (parent) parent.append(node);
    return node;
  }

  var looks = {
    frame: { stroke: "#9aa5b1", width: 1, fill: "#e8ebee", opacity: 0.7 },
    tube: { stroke: "#8a96a3", width: 1, band: "#e3e7eb" },
    seat: { stroke: "#9aa5b1", width: 1.6 },
    link: { stroke: "#1d2733", width: 2, fill: "#cfd8e0", opacity: 0.45, band: "#b9c6d2" },
    shock: { stroke: "#0b5a8a", width: 4 },
    wheel: { stroke: "#1d2733", width: 1.4, band: "#d9dde1" },
    fork: { stroke: "#7b8794", width: 1.6 },
    ground: { stroke: "#1d2733", width: 1.4 },
    chain: { stroke: "#7b8794", width: 1.2 },
    body: { stroke: "#7a3e9d", width: 1 },
    transfer: { stroke: "#1d2733", width: 1.4, dash: "10 4", force: "100 %: load transfer" },
    driving: { stroke: "#00694c", width: 2, force: "driving" },
    braking: { stroke: "#a8320a", width: 2, dash: "3 3", force: "braking" },
    cg: { stroke: "#1d2733", width: 1.6, force: "CG" }
  };

  // The shapes of a set of parts; what it returns puts them in place at a station. Parts with a width are bands with a rim:
  // tyres behind, then the frame's tubes, of which all rims lie below all bands, so that they run into one another.
  // `faint`: broken lines alone, grey or in that colour.
  function scene(parts, stations, parent, faint) {
    var shapes = [], tyres = made("g", {}, parent), rims = made("g", {}, parent), tubes = made("g", {}, parent);
    function pen(part) {
      var look = looks[part];
      var attributes = { stroke: faint ? (faint === true ? "#b7c0c9" : faint) : look.stroke, "stroke-width": faint ? 1 : look.width, fill: "none",
        "vector-effect": "non-scaling-stroke", "stroke-linejoin": "round" };
      if (!faint && look.fill) { attributes.fill = look.fill; attributes["fill-opacity"] = look.opacity; }
      if (look.dash) attributes["stroke-dasharray"] = look.dash;
      if (faint) attributes["stroke-dasharray"] = "4 3";
      if (look.force) attributes.class = "force";  // shown where they are asked for
      return attributes;
    }
    // A line or outline in a colour, so many mm wide, and as much wider as the rim is.
    function band(kind, attributes, colour, width, rim, fill, layer) {
      return made(kind, Object.assign({ stroke: colour, "stroke-width": width + 2 * rim, fill: fill ? colour : "none",
        "stroke-linejoin": "round", "stroke-linecap": "round" }, attributes), layer);
    }
    // What a line of a force is called, beside its last point.
    function force(look, anchor) {
      var words = made("text", { class: "force", "font-size": 40, fill: look.stroke, "text-anchor": anchor, stroke: "#fff",
        "stroke-width": 8, "paint-order": "stroke" }, parent);
      words.textContent = look.force;
      return words;
    }
    parts.strokes.forEach(function (stroke) {
      var look = looks[stroke.part], kind = stroke.closed ? "polygon" : "polyline", attributes = pen(stroke.part), nodes = [];
      if (!faint && (stroke.width || stroke.part === "tube")) {
        var own = stroke.part === "tube" ? [rims, tubes] : [parent, parent];
        nodes = [band(kind, {}, look.stroke, stroke.width, 2.5, stroke.closed, own[0]),
          band(kind, {}, look.band, stroke.width, 0, stroke.closed, own[1])];
      } else if (stroke.part !== "tube") {
        if (!stroke.closed) attributes.fill = "none";
        if (!look.force || !faint) nodes = [made(kind, attributes, parent)];
      }
      shapes.push({ nodes: nodes, count: stroke.points, words: look.force && !faint ? force(look, "end") : null });
    });
    parts.discs.forEach(function (disc) {
      var look = looks[disc.part], attributes = pen(disc.part), nodes = [];
      if (!faint && disc.part === "tube") {
        nodes = [band("circle", { r: disc.radius }, look.stroke, 0, 2.5, true, rims),
          band("circle", { r: disc.radius }, look.band, 0, 0, true, tubes)];
      } else if (disc.part !== "tube") {
        attributes.r = disc.radius;
        attributes.fill = "none";
        if (!faint && disc.width) {
          nodes = [band("circle", { r: disc.radius - disc.width / 2 }, look.band, disc.width, 0, false, tyres),
            made("circle", Object.assign({}, attributes, { r: disc.radius - disc.width }), tyres)];
        }
        if (!look.force || !faint) nodes.push(made("circle", attributes, nodes.length ? tyres : parent));
      }
      shapes.push({ nodes: nodes, count: 1, disc: true, words: look.force && !faint ? force(look, "middle") : null });
    });
    if (!faint) parts.joints.forEach(function (joint) {
      var filled = joint.frame || !joint.pivot;
      shapes.push({ count: 1, disc: true, nodes: [made("circle", { r: joint.pivot ? 7 : 4, stroke: "#1d2733",
        "stroke-width": 1.4, "vector-effect": "non-scaling-stroke", fill: filled ? "#1d2733" : "#fff" }, parent)] });
    });
    return function (station) {
      var at = stations[station], k = 0;
      shapes.forEach(function (shape) {
        var points = [], x = at[k], y = -at[k + 1];
        for (var i = 0; i < shape.count; ++i, k += 2) points.push(at[k] + "," + -at[k + 1]);
        if (shape.words) {
          shape.words.setAttribute("x", shape.disc ? x : at[k - 2] - 12);
          shape.words.setAttribute("y", (shape.disc ? y - 34 : -at[k - 1] - 12));
        }
        shape.nodes.forEach(function (node) {
          if (shape.disc) {
            node.setAttribute("cx", x);
            node.setAttribute("cy", y);
          } else {
            node.setAttribute("points", points.join(" "));
          }
        });
      });
    };
  }

  // The bottom bracket is where the axes begin.
  function bottomBracket(parent) {
    var look = { stroke: "#1d2733", "stroke-width": 1.2, "vector-effect": "non-scaling-stroke" };
    made("circle", Object.assign({ r: 16, fill: "#fff" }, look), parent);
    made("path", Object.assign({ d: "M-24 0H24M0 -24V24" }, look), parent);
  }

  return { made: made, scene: scene, bottomBracket: bottomBracket };
}
