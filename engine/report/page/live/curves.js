// Curves in the page's figures: lines beside those that the report drew. `columns` says which of the report's table of
// curves each of the page's curves is.
function liveCurves(motion, columns) {
  "use strict";
  var figures = Array.prototype.map.call(document.querySelectorAll("figure[data-columns]"), function (figure) {
    function list(name) { return figure.dataset[name].split(" "); }
    var x = list("travel").map(Number), area = list("area").map(Number), y = list("values").map(Number);
    var own = list("columns").map(function (column) { return columns.indexOf(Number(column)); });
    var pens = list("pens"), dashes = figure.dataset.dashes.split(";"), svg = figure.querySelector("svg");
    var clip = svg.querySelector("clipPath"), layer = motion.made("g", { class: "tried" }, svg);
    if (clip) layer.setAttribute("clip-path", "url(#" + clip.id + ")");
    function draw(out, width, opacity) {
      own.forEach(function (curve, k) {
        var points = [];
        if (curve >= 0) out.curves[curve].forEach(function (value, i) {
          if (value === null) return;
          points.push((area[0] + (out.travel[i] - x[0]) / (x[1] - x[0]) * (area[2] - area[0])).toFixed(2) + "," +
            (area[1] + (y[1] - value) / (y[1] - y[0]) * (area[3] - area[1])).toFixed(2));
        });
        motion.made("polyline", { points: points.join(" "), fill: "none", stroke: pens[k],
          "stroke-dasharray": dashes[k] || "none", "stroke-width": width, opacity: opacity }, layer);
      });
    }
    return { figure: figure, layer: layer, draw: draw };
  });
  // `moved`: what the pivots give where they stand now, or null; `other`: the layout as reported in another setting or
  // size than the figures were drawn in, or null.
  return function (moved, other) {
    figures.forEach(function (one) {
      one.figure.classList.toggle("moved", moved !== null);
      one.figure.classList.toggle("other", other !== null);
      one.layer.replaceChildren();
      if (other) one.draw(other, 1.8, moved ? 0.35 : 1);
      if (moved) one.draw(moved, 2.6, 1);
    });
  };
}
