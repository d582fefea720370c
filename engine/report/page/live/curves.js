// Curves of the layout as it stands in the page's figures.
function liveCurves(motion) {
  "use strict";
  var figures = curveFigures(motion.made, motion.data.columns);
  // `moved`: what the pivots give where they stand now, or null; `other`: the layout as reported in another setting or
  // size than the figures were drawn in, or null.
  return function (moved, other) {
    figures.forEach(function (one) {
      one.figure.classList.toggle("moved", moved !== null);
      one.figure.classList.toggle("other", other !== null);
      one.layer.replaceChildren();
      if (other) one.draw(other.curves, other.travel, { "stroke-width": 1.8, opacity: moved ? 0.35 : 1 });
      if (moved) one.draw(moved.curves, moved.travel, { "stroke-width": 2.6, opacity: 1 });
    });
  };
}
