// Moves pivots and chooses the setting and size: what the section's other scripts do, put together.
(function () {
  "use strict";
  var motion = window.trammelMotion, parts = liveParts, by = parts.by;
  if (!motion || !window.WebAssembly || !window.DecompressionStream) return;
  var data = JSON.parse(by("data").textContent), said = by("said"), kernel = null;
  var what = { stations: data.stations, curves: motion.data.columns.length, joints: motion.data.parts.joints,
    gears: motion.data.gears.map(function (gear) { return gear.name; }) };

  function copy(points) {
    return points.map(function (p) { return { name: p.name, x: p.x, y: p.y, frozen: p.frozen === true }; });
  }
  var original = copy(data.points), points = copy(original), past = [], future = [];
  var which = data.cases[0], now = null, reported = null;  // as computed: where the points stand, and as reported
  function compute(to, at) { return kernel.compute(to, at || which, what); }
  function isMoved() {
    return points.some(function (p, i) { return p.x !== original[i].x || p.y !== original[i].y; });
  }
  // How far apart the shock's eyes are, where its length does not allow it; else 0.
  function eyesApart() {
    if (!data.eyes) return 0;
    var a = points[data.eyes.between[0]], b = points[data.eyes.between[1]], apart = Math.hypot(a.x - b.x, a.y - b.y);
    return Math.abs(apart - data.eyes.length) > data.eyes.slack ? apart : 0;
  }

  var drawCurves = liveCurves(motion), fillTargets = liveTargets(motion, data);
  attempt.note = function (from) {
    past.push(from);
    future = [];
    refresh();
  };
  var refreshPoints = livePoints(motion, attempt, function () { return points; });
  var cases = liveCases(data.cases, function (other) { attempt(points, false, other); });

  function refresh() {
    refreshPoints(original, now.points);
    cases.show(which);
    by("undo").disabled = past.length === 0;
    by("redo").disabled = future.length === 0;
    by("back").disabled = !isMoved();
  }
  function show() {
    var moved = isMoved(), apart = eyesApart();
    said.textContent = fillTargets(now, moved, which);
    if (apart) said.textContent += " The shock's eyes are " + apart.toFixed(2) + " mm apart, and it is " + data.eyes.length +
      " mm long: bring them together again before you save.";
    said.className = apart ? "unmet" : "";
    by("save").disabled = apart > 0;
    if (by("go-on")) by("go-on").disabled = apart > 0;
    motion.take({ parts: now.parts, stations: now.stations, travel: now.travel, shock: now.shock, gears: now.gears,
      instant_centres: now.instant_centres, before: moved ? { parts: reported.parts, stations: reported.stations } : null,
      curves: motion.data.curves.map(function (curve, k) {
        return Object.assign({}, curve, { values: now.curves[k], before: reported.curves[k] });
      }) });
    drawCurves(moved ? now : null, which === data.cases[0] ? null : reported);
  }

  // Takes other points, and another setting and size, if they move; else says why not, and the last that did stay.
  function attempt(to, note, other) {
    var at = other || which;
    try {
      var out = compute(to, at), as = other ? compute(original, other) : reported;
    } catch (failure) {
      said.textContent = "Not there: the layout " + failure.message + (other ? " in " + other.name : "") +
        ". The last place that works stays.";
      said.className = "unmet";
      if (now) refresh();
      return false;
    }
    if (note) { past.push(points); future = []; }
    points = to;
    which = at;
    now = out;
    reported = as;
    show();
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
  by("back").addEventListener("click", function () {
    attempt(original.map(function (p, i) { return Object.assign({}, p, { frozen: points[i].frozen }); }), true);
  });

  // The layout file with the points as they stand: the lines under "points:" are in the layout's order.
  function placed(text) {
    var lines = text.split("\n"), line = lines.indexOf("  points:");
    points.forEach(function (p) {
      line += 1;
      lines[line] = lines[line].replace(/\[[^\[\]]*\]$/, "[" + p.x + ", " + p.y + "]");
    });
    return lines.join("\n");
  }
  by("save").addEventListener("click", function () {
    parts.save("layout-moved.yaml", "# pivots moved in the layout's page\n" + placed(document.getElementById("layout-yaml").textContent));
  });

  // The brief that goes on, with the points and the ranges around them as they stand. Only a comment in its head says how
  // far they move.
  function goingOn(within) {
    var ranges = kernel.ranges(points, within), lines = placed(data.go_on).split("\n"), from = lines.indexOf("vary:");
    if (!ranges) return "";
    var to = from + 1;
    while (lines[to].indexOf("  ") === 0) ++to;
    lines.splice.apply(lines, [from, to - from].concat(ranges.replace(/\n$/, "").split("\n")));
    return lines.join("\n").replace(/may move by up to \S+ mm/, "may move by up to " + within + " mm");
  }
  if (by("go-on")) by("go-on").addEventListener("click", function () {
    var within = Number(by("within").value), brief = within >= 0.1 && within <= 200 ? goingOn(within) : "";
    if (brief) {
      parts.save("go-on.yaml", brief);
      return;
    }
    said.textContent = within >= 0.1 && within <= 200 ? "Every point that may move is frozen: nothing is left to search."
      : "Points may move by 0.1 to 200 mm.";
    said.className = "unmet";
  });

  // It fills four hundred kilobytes: unpacked and compiled when the page stands.
  var packed = new Blob([parts.bytes(data.module)]).stream().pipeThrough(new DecompressionStream("gzip"));
  new Response(packed).arrayBuffer().then(WebAssembly.compile).then(function (made) {
    kernel = liveKernel(made, parts.bytes(data.record), data.parts);
    if (!attempt(points, false, which)) return;
    by("save").disabled = false;
    document.getElementById("live").hidden = false;
    window.trammelLive = { compute: compute, points: function () { return copy(points); } };
  });
})();
