// The points: a table to type in and to step, and rings in the drawing to drag, where they are topped out. A frozen one
// does not move; it has a square in the drawing. `attempt(points, note)` takes other places if it can.
function livePoints(motion, attempt, points) {
  "use strict";
  var parts = liveParts, fields = [], rings = [];
  function others() { return points().map(function (p) { return Object.assign({}, p); }); }

  function field(row, i, axis) {
    var box = document.createElement("input");
    box.type = "number";
    box.step = "any";
    box.setAttribute("aria-label", points()[i].name + " " + axis + ", mm");
    row.append(box);
    box.addEventListener("change", function () {
      var to = others(), value = Number(box.value);
      to[i][axis] = value;
      if (points()[i].frozen || box.value === "" || !Number.isFinite(value)) refresh();
      else attempt(to, true);
    });
    box.addEventListener("keydown", function (event) {
      var way = event.key === "ArrowUp" ? 1 : event.key === "ArrowDown" ? -1 : 0;
      if (!way) return;
      event.preventDefault();
      if (points()[i].frozen) return;
      var to = others();
      to[i][axis] = Math.round((to[i][axis] + way * Number(parts.by("step").value)) * 1e6) / 1e6;
      attempt(to, true);
    });
    return box;
  }
  function freezer(cell, i) {
    var box = document.createElement("input");
    box.type = "checkbox";
    box.id = "live-frozen-" + points()[i].name;
    box.setAttribute("aria-label", points()[i].name + " frozen");
    cell.className = "freezes";
    cell.append(box);
    box.addEventListener("change", function () {
      var to = others();
      to[i].frozen = box.checked;
      attempt(to, true);
    });
    return box;
  }
  var body = parts.head(parts.by("points"), ["Point", "x", "y", "Frozen", "Moved"]);
  points().forEach(function (point, i) {
    var cells = parts.row(body, point.name, 4);
    fields.push({ x: field(cells[0], i, "x"), y: field(cells[1], i, "y"), frozen: freezer(cells[2], i), moved: cells[3] });
    cells[3].className = "n";
  });

  var layer = motion.made("g", { class: "rings" }, motion.svg);
  function spot(event) {
    var p = new DOMPoint(event.clientX, event.clientY).matrixTransform(motion.svg.getScreenCTM().inverse());
    return { x: p.x, y: -p.y };
  }
  points().forEach(function (point, i) {
    var look = { fill: "#fff", "fill-opacity": 0.01, "vector-effect": "non-scaling-stroke" };
    var ring = motion.made("circle", Object.assign({ r: 11, stroke: "#a8320a", "stroke-width": 1.2, cursor: "move" }, look), layer);
    var square = motion.made("rect", Object.assign({ width: 24, height: 24, stroke: "#1d2733", "stroke-width": 2.2,
      cursor: "not-allowed" }, look), layer);
    var from = null, offset, waiting = null;
    motion.made("title", {}, ring).textContent = point.name;
    motion.made("title", {}, square).textContent = point.name + ", frozen";
    rings.push({ ring: ring, square: square });
    square.addEventListener("pointerdown", function (event) { event.stopPropagation(); });
    ring.addEventListener("pointerdown", function (event) {
      var at = spot(event);
      from = points();
      offset = { x: at.x - from[i].x, y: at.y - from[i].y };
      ring.setPointerCapture(event.pointerId);
      event.preventDefault();
      event.stopPropagation();
    });
    ring.addEventListener("pointermove", function (event) {
      if (!from) return;
      var first = waiting === null;
      waiting = spot(event);
      if (first) requestAnimationFrame(follow);
    });
    function follow() {
      if (!waiting) return;
      var to = others();
      to[i].x = Math.round((waiting.x - offset.x) * 10) / 10;
      to[i].y = Math.round((waiting.y - offset.y) * 10) / 10;
      waiting = null;
      attempt(to, false);
    }
    function end() {
      follow();
      if (from && from !== points()) attempt.note(from);
      from = null;
    }
    ring.addEventListener("pointerup", end);
    ring.addEventListener("pointercancel", end);
  });

  // Shows the points as they stand: in the table as drawn, in the drawing where a setting and size has them.
  function refresh(original, places) {
    points().forEach(function (p, i) {
      var own = fields[i], mark = rings[i];
      own.x.value = p.x;
      own.y.value = p.y;
      own.x.readOnly = own.y.readOnly = own.frozen.checked = p.frozen;
      if (!original) return;
      var far = Math.hypot(p.x - original[i].x, p.y - original[i].y);
      own.moved.textContent = far > 0 ? far.toFixed(2) + " mm" : "";
      mark.ring.setAttribute("cx", places[i][0]);
      mark.ring.setAttribute("cy", -places[i][1]);
      mark.square.setAttribute("x", places[i][0] - 12);
      mark.square.setAttribute("y", -places[i][1] - 12);
      mark.ring.setAttribute("display", p.frozen ? "none" : "inline");
      mark.square.setAttribute("display", p.frozen ? "inline" : "none");
    });
  }
  return refresh;
}
