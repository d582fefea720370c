// Another layout beside this one: its linkage as a ghost at the same wheel travel, its curves in the figures, and a table of
// differences. What it is made of comes from a file of its own in the report, which calls `trammelBeside`.
(function () {
  "use strict";
  var motion = window.trammelMotion, choice = document.getElementById("motion-beside");
  if (!motion || !choice) return;
  var data = motion.data, told = document.getElementById("motion-against"), table = told.querySelector("table");
  var figures = curveFigures(motion.made, data.columns), other = null, loading = null;
  data.others.forEach(function (one, i) { choice.add(new Option(one.name, i)); });
  choice.parentNode.hidden = false;

  // A curve's value at a wheel travel, linear between stations; null where it has none.
  function at(values, travel, where) {
    var k = 1;
    while (k < travel.length - 1 && travel[k] < where) ++k;
    var a = values[k - 1], b = values[k], share = (where - travel[k - 1]) / (travel[k] - travel[k - 1]);
    return a === null || b === null ? null : a + (b - a) * share;
  }
  function named(name) {
    var found = other.curves.find(function (curve) { return curve.name === name; });
    return found ? found.values : null;
  }
  function fixed(value, decimals) {
    var words = value.toFixed(decimals);
    return Number(words) === 0 ? words.replace("-", "") : words;
  }

  function row(body, curve, values) {
    var line = body.insertRow(), head = document.createElement("th");
    head.scope = "row";
    head.textContent = curve.name + (curve.unit ? " [" + curve.unit + "]" : "");
    line.append(head);
    function cell(words) {
      var one = line.insertCell();
      one.className = "n";
      one.textContent = words;
    }
    function pair(here, there) {
      cell(here === null || there === null ? "–" : fixed(here, curve.decimals) + " / " + fixed(there, curve.decimals) +
        " (" + motion.signed(here - there, curve.decimals) + ")");
    }
    pair(curve.values[0], values[0]);
    pair(at(curve.values, data.travel, data.sag), at(values, other.travel, other.sag));
    pair(curve.values[curve.values.length - 1], values[values.length - 1]);
    var most = null, where = 0, end = other.travel[other.travel.length - 1];
    data.travel.forEach(function (travel, k) {
      var there = travel <= end ? at(values, other.travel, travel) : null;
      if (there === null || curve.values[k] === null) return;
      var by = curve.values[k] - there;
      if (most === null || Math.abs(by) > Math.abs(most)) { most = by; where = travel; }
    });
    cell(most === null ? "–" : motion.signed(most, curve.decimals) + " at " + where.toFixed(0) + " mm");
  }
  function fill() {
    var body = table.tBodies[0];
    body.replaceChildren();
    data.curves.forEach(function (curve) {
      var values = named(curve.name);
      if (values) row(body, curve, values);
    });
    figures.forEach(function (one) {
      one.layer.replaceChildren();
      one.draw(data.curves.map(function (curve) { return named(curve.name); }), other.travel,
        { "stroke-width": 1.1, "stroke-dasharray": "1 3", opacity: 1 });
    });
  }
  function show() {
    told.hidden = !other;
    motion.ghost(other);
    if (other) {
      document.getElementById("motion-against-name").textContent = "This layout / " + other.name +
        " (difference); dotted in the curves, broken in the drawing.";
      fill();
    } else {
      figures.forEach(function (one) { one.layer.replaceChildren(); });
    }
  }
  motion.changed.push(function () { if (other) fill(); });

  window.trammelBeside = function (found) {
    if (loading === null) return;
    other = Object.assign(found, { name: loading.name });
    show();
  };
  choice.addEventListener("change", function () {
    loading = choice.value === "" ? null : data.others[Number(choice.value)];
    other = null;
    show();
    if (!loading) return;
    var script = document.createElement("script");
    script.src = loading.file;
    script.addEventListener("error", function () {
      told.hidden = false;
      table.tBodies[0].replaceChildren();
      document.getElementById("motion-against-name").textContent = "The file " + loading.file + " of the report is not there.";
    });
    script.addEventListener("load", function () { script.remove(); });
    document.body.append(script);
  });
})();
