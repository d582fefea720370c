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
    seat: { stroke: "#9aa5b1", width: 1.6 },
    link: { stroke: "#1d2733", width: 2, fill: "#cfd8e0", opacity: 0.45 },
    shock: { stroke: "#0b5a8a", width: 4 },
    wheel: { stroke: "#1d2733", width: 1.4 },
    fork: { stroke: "#7b8794", width: 1.6 },
    ground: { stroke: "#1d2733", width: 1.4 },
    chain: { stroke: "#7b8794", width: 1.2 },
    body: { stroke: "#7a3e9d", width: 1 }
  };

  // The shapes of a set of parts; `set(station)` puts them in place.
  function scene(parts, stations, parent, faint) {
    var shapes = [], joints = [];
    function pen(part) {
      var look = looks[part];
      var attributes = { stroke: faint ? "#b7c0c9" : look.stroke, "stroke-width": faint ? 1 : look.width, fill: "none",
        "vector-effect": "non-scaling-stroke", "stroke-linejoin": "round" };
      if (!faint && look.fill) { attributes.fill = look.fill; attributes["fill-opacity"] = look.opacity; }
      if (faint) attributes["stroke-dasharray"] = "4 3";
      return attributes;
    }
    parts.strokes.forEach(function (stroke) {
      var attributes = pen(stroke.part);
      if (!stroke.closed) attributes.fill = "none";
      shapes.push({ node: made(stroke.closed ? "polygon" : "polyline", attributes, parent), count: stroke.points });
    });
    parts.discs.forEach(function (disc) {
      var attributes = pen(disc.part);
      attributes.r = disc.radius;
      if (disc.part !== "frame") attributes.fill = "none";
      shapes.push({ node: made("circle", attributes, parent), count: 1, disc: true });
    });
    if (!faint) parts.joints.forEach(function (joint) {
      var filled = joint.frame || !joint.pivot;
      shapes.push({ count: 1, disc: true, node: made("circle", { r: joint.pivot ? 7 : 4, stroke: "#1d2733",
        "stroke-width": 1.4, "vector-effect": "non-scaling-stroke", fill: filled ? "#1d2733" : "#fff" }, parent) });
      joints.push(joint.name);
    });
    return function (station) {
      var at = stations[station], k = 0;
      shapes.forEach(function (shape) {
        if (shape.disc) {
          shape.node.setAttribute("cx", at[k]);
          shape.node.setAttribute("cy", -at[k + 1]);
          k += 2;
          return;
        }
        var points = [];
        for (var i = 0; i < shape.count; ++i, k += 2) points.push(at[k] + "," + -at[k + 1]);
        shape.node.setAttribute("points", points.join(" "));
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
