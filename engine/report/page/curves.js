// Curves in a page's figures, over those that the report drew. `columns` says which of the report's table of curves each
// of the page's is; `draw(curves, travel, look)` takes the page's curves, or null for one that is missing.
function curveFigures(made, columns) {
  "use strict";
  return Array.prototype.map.call(document.querySelectorAll("figure[data-columns]"), function (figure) {
    function list(name) { return figure.dataset[name].split(" "); }
    var x = list("travel").map(Number), area = list("area").map(Number), y = list("values").map(Number);
    var own = list("columns").map(function (column) { return columns.indexOf(Number(column)); });
    var pens = list("pens"), dashes = figure.dataset.dashes.split(";"), svg = figure.querySelector("svg");
    var clip = svg.querySelector("clipPath"), layer = made("g", { class: "tried" }, svg);
    if (clip) layer.setAttribute("clip-path", "url(#" + clip.id + ")");
    return { figure: figure, layer: layer, draw: function (curves, travel, look) {
      own.forEach(function (curve, k) {
        var points = [], values = curve >= 0 ? curves[curve] : null;
        (values || []).forEach(function (value, i) {
          if (value === null) return;
          points.push((area[0] + (travel[i] - x[0]) / (x[1] - x[0]) * (area[2] - area[0])).toFixed(2) + "," +
            (area[1] + (y[1] - value) / (y[1] - y[0]) * (area[3] - area[1])).toFixed(2));
        });
        made("polyline", Object.assign({ points: points.join(" "), fill: "none", stroke: pens[k],
          "stroke-dasharray": dashes[k] || "none" }, look), layer);
      });
    } };
  });
}
