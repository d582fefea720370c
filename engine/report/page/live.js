// Moves pivots: the kernel, compiled to WebAssembly, computes; nothing of the linkage is computed here.
(function () {
  "use strict";
  var motion = window.trammelMotion, holder = document.getElementById("live");
  if (!motion || !window.WebAssembly || !window.DecompressionStream) return;
  var data = JSON.parse(document.getElementById("live-data").textContent);
  var said = document.getElementById("live-said");
  function bytes(text) { return Uint8Array.from(atob(text), function (c) { return c.charCodeAt(0); }); }
  function by(id) { return document.getElementById("live-" + id); }
  var module, record = bytes(data.record), kernel = null;

  // What ends in a failure is not unwound, so the next computation begins with a kernel of its own.
  function start() {
    var none = function () { return 8; };  // a file that is not there
    kernel = new WebAssembly.Instance(module, {
      page: { fail: function (at, length) {
        throw new Error(new TextDecoder().decode(new Uint8Array(kernel.memory.buffer, at, length)));
      } },
      wasi_snapshot_preview1: { fd_close: none, fd_seek: none, fd_write: none }
    }).exports;
    kernel._initialize();
    var at = kernel.trammel_space(record.length);
    new Uint8Array(kernel.memory.buffer, at, record.length).set(record);
    kernel.trammel_take();
  }

  // The answer, read from front to back: engine/report/live/module.cpp says in what order.
  function Answer(numbers) {
    var at = 0;
    this.next = function () { return numbers[at++]; };
    this.some = function (n) { at += n; return Array.from(numbers.subarray(at - n, at)); };
    this.into = function (list, n) { for (; n > 0; --n) list.push(numbers[at++]); };
  }
  function readScene(answer) {
    var out = { parts: { strokes: [], discs: [], joints: motion.data.parts.joints }, at: [] }, n, i, part, closed, points;
    for (n = answer.next(), i = 0; i < n; ++i) {
      part = data.parts[answer.next()];
      closed = answer.next() === 1;
      out.parts.strokes.push({ part: part, closed: closed, width: answer.next(), points: points = answer.next() });
      answer.into(out.at, 2 * points);
    }
    for (n = answer.next(), i = 0; i < n; ++i) {
      part = data.parts[answer.next()];
      out.parts.discs.push({ part: part, radius: answer.next(), width: answer.next() });
      answer.into(out.at, 2);
    }
    n = answer.next();  // a chain has no joints
    if (n === 0) out.parts.joints = [];
    answer.into(out.at, 2 * n);
    return out;
  }
  function gathered(scenes) {
    return { parts: scenes[0].parts, stations: scenes.map(function (scene) { return scene.at; }) };
  }
  function shown(x) { return Number.isFinite(x) ? x : null; }
  function verdicts(answer) {
    var out = [];
    for (var n = answer.next(); n > 0; --n) {
      var v = answer.some(4);
      out.push({ achieved: v[0], travel: v[1], margin: v[2], met: v[3] === 1 });
    }
    return out;
  }

  // All that follows from the points; throws with the reason where they do not move.
  function compute(points) {
    if (!kernel) start();
    try {
      points.forEach(function (p, i) { kernel.trammel_place(i, p.x, p.y); });
      var count = kernel.trammel_compute(data.setting, data.size, data.stations, 1);
      var answer = new Answer(new Float64Array(kernel.memory.buffer, kernel.trammel_answer(), count));
    } catch (failure) {
      kernel = null;
      throw failure;
    }
    var stations = answer.next(), columns = answer.next(), table = [];
    for (var c = 0; c < columns; ++c) table.push(answer.some(stations).map(shown));
    var out = { table: table, travel: [], shock: [], instant_centres: [], gears: [] };
    var bikes = [], chains = motion.data.gears.map(function () { return []; });
    for (var s = 0; s < stations; ++s) {
      out.travel.push(answer.next());
      out.shock.push(answer.next());
      var centre = answer.some(2);
      out.instant_centres.push(Number.isFinite(centre[0]) ? centre : null);
      bikes.push(readScene(answer));
      chains.forEach(function (chain) { chain.push(readScene(answer)); });
    }
    var bike = gathered(bikes);
    out.parts = bike.parts;
    out.stations = bike.stations;
    out.gears = chains.map(function (chain, g) {
      var scenes = gathered(chain);
      return { name: motion.data.gears[g].name, parts: scenes.parts, stations: scenes.stations };
    });
    out.targets = verdicts(answer);
    out.rules = verdicts(answer);
    return out;
  }

  // Curves in the figures: a line beside each that the report drew.
  var figures = Array.prototype.map.call(document.querySelectorAll("figure[data-columns]"), function (figure) {
    function list(name) { return figure.dataset[name].split(" "); }
    var x = list("travel").map(Number), area = list("area").map(Number), y = list("values").map(Number);
    var columns = list("columns").map(Number), pens = list("pens"), dashes = figure.dataset.dashes.split(";"), svg = figure.querySelector("svg");
    var clip = svg.querySelector("clipPath"), layer = motion.made("g", { class: "tried" }, svg);
    if (clip) layer.setAttribute("clip-path", "url(#" + clip.id + ")");
    return function (out) {
      figure.classList.toggle("moved", out !== null);
      layer.replaceChildren();
      if (out) columns.forEach(function (column, k) {
        var points = [];
        if (column >= 0) out.table[column].forEach(function (value, i) {
          if (value === null) return;
          points.push((area[0] + (out.travel[i] - x[0]) / (x[1] - x[0]) * (area[2] - area[0])).toFixed(2) + "," +
            (area[1] + (y[1] - value) / (y[1] - y[0]) * (area[3] - area[1])).toFixed(2));
        });
        motion.made("polyline", { points: points.join(" "), fill: "none", stroke: pens[k], "stroke-dasharray": dashes[k] || "none",
          "stroke-width": 2.6 }, layer);
      });
    };
  });

  // The tables: points to type in, targets with what became of them.
  function copy(points) { return points.map(function (p) { return { name: p.name, x: p.x, y: p.y }; }); }
  var original = copy(data.points), points = copy(original), past = [], future = [], fields = [], rings = [];
  function head(table, words) {
    var row = table.createTHead().insertRow();
    words.forEach(function (word) {
      var cell = document.createElement("th");
      cell.scope = "col";
      cell.textContent = word;
      row.append(cell);
    });
    return table.createTBody();
  }
  function named(row, name) {
    var cell = document.createElement("th");
    cell.scope = "row";
    cell.textContent = name;
    row.append(cell);
  }
  var body = head(by("points"), ["Point", "x", "y", "Moved"]);
  points.forEach(function (point, i) {
    var row = body.insertRow();
    named(row, point.name);
    fields.push(["x", "y"].map(function (axis) {
      var field = document.createElement("input");
      field.type = "number";
      field.step = "any";
      field.setAttribute("aria-label", point.name + " " + axis + ", mm");
      row.insertCell().append(field);
      field.addEventListener("change", function () {
        var to = copy(points), value = Number(field.value);
        if (field.value === "" || !Number.isFinite(value)) { refresh(); return; }
        to[i][axis] = value;
        attempt(to, true);
      });
      field.addEventListener("keydown", function (event) {
        var way = event.key === "ArrowUp" ? 1 : event.key === "ArrowDown" ? -1 : 0;
        if (!way) return;
        event.preventDefault();
        var to = copy(points);
        to[i][axis] = Math.round((points[i][axis] + way * Number(by("step").value)) * 1e6) / 1e6;
        attempt(to, true);
      });
      return field;
    }));
    fields[i].moved = row.insertCell();
    fields[i].moved.className = "n";
  });
  body = head(by("targets"), ["Target", "Asked for", "Reported", "Now", "Margin then", "Margin now", "Change"]);
  var lines = data.targets.map(function (target) {
    var row = body.insertRow(), cells = [];
    named(row, target.name + (target.must ? " (required)" : ""));
    for (var k = 0; k < 6; ++k) cells.push(row.insertCell());
    cells[0].textContent = target.wish;
    for (k = 1; k < 5; ++k) cells[k].className = "n";
    cells[1].textContent = motion.quantity(target.achieved, target.decimals, target.unit);
    cells[3].textContent = target.margin.toFixed(3);
    return cells;
  });

  function refresh() {
    points.forEach(function (p, i) {
      fields[i][0].value = p.x;
      fields[i][1].value = p.y;
      var far = Math.hypot(p.x - original[i].x, p.y - original[i].y);
      fields[i].moved.textContent = far > 0 ? far.toFixed(2) + " mm" : "";
      rings[i].setAttribute("cx", p.x);
      rings[i].setAttribute("cy", -p.y);
    });
    by("undo").disabled = past.length === 0;
    by("redo").disabled = future.length === 0;
    by("back").disabled = !isMoved();
  }
  // How far apart the shock's eyes are, where its length does not allow it; else 0.
  function eyesApart() {
    if (!data.eyes) return 0;
    var a = points[data.eyes.between[0]], b = points[data.eyes.between[1]], apart = Math.hypot(a.x - b.x, a.y - b.y);
    return Math.abs(apart - data.eyes.length) > data.eyes.slack ? apart : 0;
  }
  function isMoved() {
    return points.some(function (p, i) { return p.x !== original[i].x || p.y !== original[i].y; });
  }
  var before = { parts: motion.data.parts, stations: motion.data.stations }, reported = Object.assign({ before: null }, motion.data);
  function show(out) {
    var moved = isMoved(), better = 0, worse = 0;
    lines.forEach(function (cells, t) {
      var was = data.targets[t], now = out.targets[t], change = now.margin - was.margin;
      cells[2].textContent = motion.quantity(now.achieved, was.decimals, was.unit);
      cells[4].textContent = now.margin.toFixed(3);
      var word = !moved || Math.abs(change) < 5e-4 ? "" : change > 0 ? "better" : "worse";
      cells[5].textContent = (now.met ? "✓ " : "✗ not met ") + word;
      cells[5].className = now.met ? "met" : "unmet";
      if (word === "better") ++better;
      if (word === "worse") ++worse;
    });
    var missed = out.rules.filter(function (rule) { return !rule.met; }).length;
    said.textContent = !moved ? "As reported." : better + " of the targets better, " + worse + " worse; " +
      (missed ? missed + " of the packaging rules computed here not met." : "the packaging rules computed here are met.");
    var apart = eyesApart();
    if (apart) said.textContent += " The shock's eyes are " + apart.toFixed(2) + " mm apart, and it is " + data.eyes.length +
      " mm long: bring them together again before you save.";
    said.className = apart ? "unmet" : "";
    by("save").disabled = apart > 0;
    motion.take(!moved ? reported : { parts: out.parts, stations: out.stations, travel: out.travel, shock: out.shock, gears: out.gears,
      instant_centres: out.instant_centres, before: before,
      curves: reported.curves.map(function (curve, k) {
        return { name: curve.name, unit: curve.unit, decimals: curve.decimals,
          values: data.columns[k] < 0 ? curve.values : out.table[data.columns[k]] };
      }) });
    figures.forEach(function (draw) { draw(moved ? out : null); });
  }

  // Takes other points if they move; else says why not, and the last that did stay.
  function attempt(to, note) {
    var out;
    try {
      out = compute(to);
    } catch (failure) {
      said.textContent = "Not there: the layout " + failure.message + ". The last place that works stays.";
      said.className = "unmet";
      refresh();
      return false;
    }
    if (note) { past.push(points); future = []; }
    points = to;
    show(out);
    refresh();
    return true;
  }
  function swap(from, onto) {
    var to = from.pop();
    onto.push(points);
    attempt(to, false);
  }
  by("undo").addEventListener("click", function () { swap(past, future); });
  by("redo").addEventListener("click", function () { swap(future, past); });
  by("back").addEventListener("click", function () { attempt(copy(original), true); });

  // Rings in the drawing, where the points are topped out.
  var ringLayer = motion.made("g", { class: "rings" }, motion.svg);
  points.forEach(function (point, i) {
    var ring = motion.made("circle", { r: 11, fill: "#fff", "fill-opacity": 0.01, stroke: "#a8320a", "stroke-width": 1.2,
      "vector-effect": "non-scaling-stroke", cursor: "move" }, ringLayer);
    var title = motion.made("title", {}, ring), from = null, offset, waiting = null;
    title.textContent = point.name;
    rings.push(ring);
    function spot(event) {
      var p = new DOMPoint(event.clientX, event.clientY).matrixTransform(motion.svg.getScreenCTM().inverse());
      return { x: p.x, y: -p.y };
    }
    ring.addEventListener("pointerdown", function (event) {
      var at = spot(event);
      from = points;
      offset = { x: at.x - points[i].x, y: at.y - points[i].y };
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
      var to = copy(points);
      to[i].x = Math.round((waiting.x - offset.x) * 10) / 10;
      to[i].y = Math.round((waiting.y - offset.y) * 10) / 10;
      waiting = null;
      attempt(to, false);
    }
    function end() {
      follow();
      if (from && from !== points) { past.push(from); future = []; }
      from = null;
      refresh();
    }
    ring.addEventListener("pointerup", end);
    ring.addEventListener("pointercancel", end);
  });

  // The layout file with the points as they stand: the lines under "points:" are in the layout's order.
  function yaml() {
    var text = document.getElementById("layout-yaml").textContent.split("\n");
    var line = text.indexOf("  points:");
    points.forEach(function (p) {
      line += 1;
      text[line] = text[line].replace(/\[[^\[\]]*\]$/, "[" + p.x + ", " + p.y + "]");
    });
    return "# pivots moved in the layout's page\n" + text.join("\n");
  }
  by("save").addEventListener("click", function () {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([yaml()], { type: "application/yaml" }));
    link.download = "layout-moved.yaml";
    link.click();
    URL.revokeObjectURL(link.href);
  });

  // It fills four hundred kilobytes: unpacked and compiled when the page stands.
  var packed = new Blob([bytes(data.module)]).stream().pipeThrough(new DecompressionStream("gzip"));
  new Response(packed).arrayBuffer().then(WebAssembly.compile).then(function (made) {
    module = made;
    if (!attempt(copy(original), false)) return;
    by("save").disabled = false;
    holder.hidden = false;
    window.trammelLive = { compute: compute, points: function () { return copy(points); } };
  });
})();
