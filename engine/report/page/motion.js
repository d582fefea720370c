(function () {
  "use strict";
  var holder = document.getElementById("motion");
  var data = JSON.parse(document.getElementById("motion-data").textContent);
  var drawn = sceneTools(), made = drawn.made, scene = drawn.scene;
  holder.hidden = false;

  // The picture is in millimetres, y down; lines keep their width whatever the size.
  var air = 40, width = data.extent[2] - data.extent[0] + 2 * air;
  function seen(box) { return [box[0] - air, -box[3] - air, box[2] - box[0] + 2 * air, box[3] - box[1] + 2 * air].join(" "); }
  var svg = made("svg", {
    viewBox: seen(data.extent), role: "img",
    "aria-label": "The bike at the chosen travel, side view, facing right"
  }, document.getElementById("motion-drawing"));

  // Where joint number j stands at a station: joints come last.
  var joints = data.parts.joints, last = data.stations.length - 1;
  function jointAt(station, j) {
    var at = data.stations[station], from = at.length - 2 * joints.length;
    return [at[from + 2 * j], -at[from + 2 * j + 1]];
  }

  var ghostLayer = made("g", {}, svg), pathLayer = made("g", {}, svg), centreLayer = made("g", {}, svg);
  var chainLayer = made("g", {}, svg), bikeLayer = made("g", {}, svg);
  var beforeLayer = made("g", {}, null);  // the layout as reported, where pivots have been moved
  var besideLayer = made("g", {}, null), placeBeside = function () {};  // another one
  svg.insertBefore(beforeLayer, bikeLayer);
  svg.append(besideLayer);
  var axle = joints.findIndex(function (joint) { return joint.name === data.axle; });
  // Only the part of the instant centre's path that is near the bike can be drawn to scale.
  var near = 3 * width;
  function isNear(p) { return p && Math.abs(p[0]) < near && Math.abs(p[1]) < near; }

  function drawPaths() {
    joints.forEach(function (joint, j) {
      var points = data.stations.map(function (at, station) { return jointAt(station, j).join(","); });
      made("polyline", { points: points.join(" "), fill: "none", stroke: "#4a5560", "stroke-width": 0.8,
        "vector-effect": "non-scaling-stroke" }, pathLayer);
    });
    var run = [];
    function endRun() {
      if (run.length > 1) made("polyline", { points: run.join(" "), fill: "none", stroke: "#0072b2",
        "stroke-width": 1, "stroke-dasharray": "6 3", "vector-effect": "non-scaling-stroke" }, centreLayer);
      run = [];
    }
    data.instant_centres.forEach(function (p) { if (isNear(p)) run.push(p[0] + "," + -p[1]); else endRun(); });
    endRun();
  }

  // All that the data say, drawn anew.
  var place, placeBefore, toCentre, centre, chains;
  function draw() {
    [ghostLayer, pathLayer, centreLayer, chainLayer, bikeLayer, beforeLayer].forEach(function (layer) {
      layer.replaceChildren();
    });
    scene(data.parts, data.stations, ghostLayer, true)(0);
    place = scene(data.parts, data.stations, bikeLayer, false);
    drawn.bottomBracket(bikeLayer);
    placeBefore = data.before ? scene(data.before.parts, data.before.stations, beforeLayer, true) : function () {};
    drawPaths();
    toCentre = made("line", { stroke: "#0072b2", "stroke-width": 1, "vector-effect": "non-scaling-stroke" }, centreLayer);
    centre = made("circle", { r: 6, fill: "#fff", stroke: "#0072b2", "stroke-width": 1.6,
      "vector-effect": "non-scaling-stroke" }, centreLayer);
    chains = data.gears.map(function (gear) {
      var layer = made("g", {}, chainLayer);
      return { layer: layer, place: scene(gear.parts, gear.stations, layer, false) };
    });
  }
  draw();

  /// A number with its unit; of a length its inches, where the brief asks for both.
  function quantity(value, decimals, unit) {
    var inches = unit === "mm" && data.mm_per_inch
      ? " (" + (value / data.mm_per_inch).toFixed(decimals + 2) + " in)" : "";
    return value.toFixed(decimals) + (unit === "°" ? "°" : unit ? " " + unit : "") + inches;
  }

  // A difference with its sign, ± where its digits are all zero.
  function signed(by, decimals) {
    var words = Math.abs(by).toFixed(decimals);
    return (Number(words) === 0 ? "±" : by > 0 ? "+" : "−") + words;
  }

  // The values beside it, a row a curve; of a layout with its pivots elsewhere how much more or less that is.
  var table = document.getElementById("motion-values"), cells = [];
  data.curves.forEach(function (curve, k) {
    var line = table.insertRow(), head = document.createElement("th");
    head.scope = "row";
    head.textContent = curve.name;
    line.append(head);
    var cell = line.insertCell(), change = line.insertCell();
    cell.className = change.className = "n";
    cells.push(function (station) {
      var here = data.curves[k], value = here.values[station], before = (here.before || here.values)[station];
      cell.textContent = value === null ? "–" : quantity(value, curve.decimals, curve.unit);
      var by = value === null || before === null ? 0 : value - before, words = by.toFixed(curve.decimals);
      change.textContent = Number(words) === 0 ? "" : signed(by, curve.decimals);
    });
  });

  // A line in every curve over wheel travel marks where the drawing stands.
  var cursors = Array.prototype.map.call(document.querySelectorAll("figure[data-travel]"), function (figure) {
    var x = figure.dataset.travel.split(" ").map(Number), area = figure.dataset.area.split(" ").map(Number);
    var line = made("line", { y1: area[1], y2: area[3], stroke: "#0072b2", "stroke-width": 1.4, class: "cursor" },
      figure.querySelector("svg"));
    return function (travel) {
      var at = area[0] + (travel - x[0]) / (x[1] - x[0]) * (area[2] - area[0]);
      line.setAttribute("x1", at);
      line.setAttribute("x2", at);
      line.setAttribute("visibility", at < area[0] - 0.5 || at > area[2] + 0.5 ? "hidden" : "visible");
    };
  });

  var slider = document.getElementById("motion-travel"), words = document.getElementById("motion-place");
  var gear = document.getElementById("motion-gear"), drawing = document.getElementById("motion-drawing"), now = 0;
  function show(station) {
    now = station;
    slider.value = station;
    place(station);
    placeBefore(station);
    placeBeside(data.travel[station]);
    chains.forEach(function (chain, i) {
      chain.layer.setAttribute("visibility", gear && Number(gear.value) === i ? "visible" : "hidden");
      chain.place(station);
    });
    var p = data.instant_centres[station], from = axle < 0 ? null : jointAt(station, axle);
    var seen = isNear(p) && from ? "visible" : "hidden";
    toCentre.setAttribute("visibility", seen);
    centre.setAttribute("visibility", seen);
    if (seen === "visible") {
      centre.setAttribute("cx", p[0]);
      centre.setAttribute("cy", -p[1]);
      toCentre.setAttribute("x1", from[0]);
      toCentre.setAttribute("y1", from[1]);
      toCentre.setAttribute("x2", p[0]);
      toCentre.setAttribute("y2", -p[1]);
    }
    var text = quantity(data.travel[station], 1, "mm") + ", shock " + quantity(data.shock[station], 1, "mm");
    words.textContent = text;
    slider.setAttribute("aria-valuetext", text);
    drawing.setAttribute("aria-valuenow", station);
    drawing.setAttribute("aria-valuetext", text);
    cells.forEach(function (write) { write(station); });
    cursors.forEach(function (move) { move(data.travel[station]); });
  }
  slider.addEventListener("input", function () { stop(); show(Number(slider.value)); });
  if (gear) {
    gear.value = data.gear;
    gear.addEventListener("change", function () { show(now); });
  }
  var layers = { centre: centreLayer, paths: pathLayer, ghost: ghostLayer };
  Array.prototype.forEach.call(holder.querySelectorAll("input[data-show]"), function (choice) {
    function apply() {
      var layer = layers[choice.dataset.show];
      if (layer) {
        layer.setAttribute("display", choice.checked ? "inline" : "none");
      } else {
        svg.classList.toggle("forces", choice.checked);
        svg.setAttribute("viewBox", seen(choice.checked ? data.extent_with_forces : data.extent));
      }
    }
    choice.addEventListener("change", apply);
    apply();
  });

  // Through the stroke and back, in four seconds.
  var button = document.getElementById("motion-play"), timer = 0, began = 0, phase = 0;
  function stop() {
    if (timer) cancelAnimationFrame(timer);
    timer = 0;
    button.textContent = "Play";
  }
  function step(time) {
    if (!began) began = time;
    var turn = ((time - began) / 4000 + phase) % 1;
    show(Math.round(last * (0.5 - 0.5 * Math.cos(2 * Math.PI * turn))));
    timer = requestAnimationFrame(step);
  }
  button.addEventListener("click", function () {
    if (timer) { stop(); return; }
    began = 0;
    phase = Math.acos(1 - 2 * now / last) / (2 * Math.PI);
    button.textContent = "Pause";
    timer = requestAnimationFrame(step);
  });

  // The rear wheel follows a pointer: to the station whose axle is nearest.
  function grab(event) {
    if (axle < 0) return;
    var corner = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [corner.x, corner.y];
  }
  var offset = null;
  svg.addEventListener("pointerdown", function (event) {
    var at = grab(event), from = jointAt(now, axle);
    if (!at || Math.hypot(at[0] - from[0], at[1] - from[1]) > 420) return;
    stop();
    offset = [at[0] - from[0], at[1] - from[1]];
    svg.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  svg.addEventListener("pointermove", function (event) {
    if (!offset) return;
    var at = grab(event), best = now, least = Infinity;
    for (var station = 0; station <= last; ++station) {
      var p = jointAt(station, axle), far = Math.hypot(at[0] - offset[0] - p[0], at[1] - offset[1] - p[1]);
      if (far < least) { least = far; best = station; }
    }
    show(best);
  });
  ["pointerup", "pointercancel"].forEach(function (name) {
    svg.addEventListener(name, function () { offset = null; });
  });

  // The drawing is a slider, too: by its keys, and by the mouse wheel while it has the focus; without, a page scrolls over it.
  Object.entries({ tabindex: 0, role: "slider", "aria-label": "Wheel travel, in the drawing", "aria-valuemin": 0, "aria-valuemax": last })
    .forEach(function (one) { drawing.setAttribute(one[0], one[1]); });
  function go(station) {
    stop();
    show(Math.min(Math.max(station, 0), last));
  }
  drawing.addEventListener("keydown", function (event) {
    var by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10, Home: -last, End: last }[event.key];
    if (event.key === "Escape") drawing.blur();
    if (by === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    go(now + by);
  });
  svg.addEventListener("pointerdown", function () { drawing.focus({ preventScroll: true }); });
  var turned = 0;  // px, of which forty make a step
  drawing.addEventListener("wheel", function (event) {
    if (document.activeElement !== drawing || event.ctrlKey) return;
    event.preventDefault();
    turned += event.deltaY * (event.deltaMode === 0 ? 1 : 40);
    var steps = Math.trunc(turned / 40);
    turned -= 40 * steps;
    if (steps) go(now - steps);
  }, { passive: false });

  // It opens at sag.
  var sag = 0;
  data.travel.forEach(function (travel, station) {
    if (Math.abs(travel - data.sag) < Math.abs(data.travel[sag] - data.sag)) sag = station;
  });
  show(sag);

  // For the scripts in live/, which move pivots: new data in, drawn where the slider stands. For beside.js: `ghost` draws
  // another layout's linkage at the station that is nearest in wheel travel, `changed` has what is done after new data.
  window.trammelMotion = {
    svg: svg, made: made, data: data, quantity: quantity, signed: signed, changed: [],
    take: function (next) {
      Object.keys(next).forEach(function (key) { data[key] = next[key]; });
      draw();
      show(now);
      this.changed.forEach(function (what) { what(); });
    },
    ghost: function (other) {
      besideLayer.replaceChildren();
      var to = other ? scene(other.parts, other.stations, besideLayer, "#8a5a00") : null;
      placeBeside = !other ? function () {} : function (where) {
        var best = 0;
        other.travel.forEach(function (travel, k) {
          if (Math.abs(travel - where) < Math.abs(other.travel[best] - where)) best = k;
        });
        to(best);
      };
      show(now);
    }
  };
})();
