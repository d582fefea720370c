(function () {
  "use strict";
  var area = document.getElementById("charts");
  if (typeof echarts === "undefined") {
    var missing = document.createElement("p");
    missing.textContent = "The charts need assets/echarts.min.js beside this page.";
    area.before(missing);
    return;
  }
  var data = JSON.parse(document.getElementById("data").textContent);
  var axes = data.axes, rows = data.rows;
  area.hidden = false;

  // Told apart by shape and by line, not by colour alone.
  var looks = [
    { name: "does not meet every requirement", has: function (r) { return !r.rank && !r.feasible; },
      colour: "#b0578d", symbol: "triangle", size: 8, hollow: true, line: { type: [5, 5], width: 1, opacity: 0.45 } },
    { name: "meets every requirement", has: function (r) { return !r.rank && r.feasible; },
      colour: "#0072b2", symbol: "circle", size: 6, line: { type: "solid", width: 1, opacity: 0.45 } },
    { name: "shortlist, meets every requirement", has: function (r) { return r.rank && r.feasible; },
      colour: "#1d2733", symbol: "circle", size: 19, numbered: true, line: { type: "solid", width: 2.6, opacity: 0.9 } },
    { name: "shortlist, does not", has: function (r) { return r.rank && !r.feasible; },
      colour: "#a8320a", symbol: "triangle", size: 24, numbered: true, hollow: true, line: { type: [9, 6], width: 2.6, opacity: 0.9 } }
  ];
  var dashIcon = "path://M0,4h8v4h-8z M12,4h8v4h-8z M24,4h8v4h-8z", lineIcon = "path://M0,4h32v4h-32z";
  looks = looks.filter(function (look) { return rows.some(look.has); });

  function folder(rank) { return "layouts/" + (rank < 10 ? "0" + rank : rank) + "/index.html"; }
  function text(x) { return x === null ? "–" : String(Number(x.toPrecision(5))); }
  function escaped(s) {
    return s.replace(/[&<>"']/g, function (c) { return "&#" + c.charCodeAt(0) + ";"; });
  }
  var ink = { color: "#1d2733", fontFamily: "system-ui, sans-serif" };

  // Any against any.
  var across = document.getElementById("across"), up = document.getElementById("up");
  [across, up].forEach(function (select) {
    axes.forEach(function (axis, i) { select.add(new Option(axis.label, i)); });
  });
  var first = axes.findIndex(function (axis) { return axis.kind === "target"; });
  across.value = first < 0 ? 0 : first;
  up.value = first >= 0 && axes[first + 1] && axes[first + 1].kind === "target" ? first + 1 : 1;

  var scatter = echarts.init(document.getElementById("scatter"));
  function limits(axis, direction) {
    return ["lo", "hi"].filter(function (end) { return end in axis && axis[end] !== null; }).map(function (end) {
      var line = { name: end };
      line[direction] = axis[end];
      return line;
    });
  }
  function drawScatter() {
    var x = Number(across.value), y = Number(up.value);
    var series = looks.map(function (look) {
      return {
        type: "scatter", name: look.name, symbol: look.symbol, symbolSize: look.size, z: look.numbered ? 4 : 2,
        data: rows.filter(look.has).filter(function (r) { return r.values[x] !== null && r.values[y] !== null; })
          .map(function (r) { return { value: [r.values[x], r.values[y]], row: r }; }),
        itemStyle: look.hollow ? { color: "#fff", borderColor: look.colour, borderWidth: 1.5 }
          : { color: look.colour, borderColor: "#fff", borderWidth: 1 },
        label: { show: !!look.numbered, color: look.hollow ? look.colour : "#fff", fontSize: 11, fontWeight: 600,
          offset: look.hollow ? [0, 3] : [0, 0],
          formatter: function (p) { return String(p.data.row.rank); } },
        cursor: look.numbered ? "pointer" : "default"
      };
    });
    series.push({ type: "scatter", name: "limits", data: [], silent: true,
      markLine: { silent: true, symbol: "none", label: { show: false }, animation: false,
        lineStyle: { color: "#007a5a", type: "dashed", width: 1.2 },
        data: limits(axes[x], "xAxis").concat(limits(axes[y], "yAxis")) } });
    function axisOf(axis, vertical) {
      return { type: "value", scale: true, name: axis.label, nameLocation: "middle", nameGap: vertical ? 46 : 30,
        nameTextStyle: ink, axisLabel: ink, axisLine: { show: true, onZero: false, lineStyle: { color: "#1d2733" } },
        splitLine: { lineStyle: { color: "#e3e7ea" } } };
    }
    scatter.setOption({
      animation: false, textStyle: ink,
      legend: { data: looks.map(function (l) { return l.name; }), top: 0, type: "scroll", textStyle: ink },
      grid: { left: 72, right: 20, top: 40, bottom: 52 },
      tooltip: { confine: true, formatter: function (p) {
        return escaped(p.data.row.id) + (p.data.row.rank ? ", rank " + p.data.row.rank : "") +
          (p.data.row.linkage ? ", " + escaped(p.data.row.linkage) : "") + "<br>" +
          escaped(axes[x].label) + ": " + text(p.value[0]) + "<br>" + escaped(axes[y].label) + ": " + text(p.value[1]);
      } },
      xAxis: axisOf(axes[x], false), yAxis: axisOf(axes[y], true), series: series
    }, true);
  }
  scatter.on("click", function (p) {
    if (p.data && p.data.row && p.data.row.rank) window.location.href = folder(p.data.row.rank);
  });
  across.addEventListener("change", drawScatter);
  up.addEventListener("change", drawScatter);
  drawScatter();

  // All at once.
  var holder = document.getElementById("parallel"), boxes = document.getElementById("axes");
  var picked = document.getElementById("picked"), parallel = null;
  axes.forEach(function (axis, i) {
    var label = document.createElement("label"), box = document.createElement("input");
    box.type = "checkbox";
    box.value = i;
    box.checked = i < 8;
    box.addEventListener("change", drawParallel);
    label.append(box, " " + axis.label);
    boxes.append(label);
  });
  function chosen() {
    return Array.prototype.filter.call(boxes.querySelectorAll("input"), function (b) { return b.checked; })
      .map(function (b) { return Number(b.value); });
  }
  function drawParallel() {
    var shown = chosen();
    if (parallel) parallel.dispose();
    parallel = null;
    picked.textContent = "";
    holder.style.minWidth = shown.length * 84 + 60 + "px";
    if (shown.length < 2) {
      picked.textContent = "Choose at least two axes.";
      return;
    }
    parallel = echarts.init(holder);
    parallel.setOption({
      animation: false, textStyle: ink,
      legend: { bottom: 0, left: 0, itemWidth: 34, itemHeight: 6, textStyle: ink, data: looks.map(function (l) {
        return { name: l.name, icon: l.line.type === "solid" ? lineIcon : dashIcon };
      }) },
      parallel: { left: 50, right: 60, top: 60, bottom: 56, axisExpandable: false,
        parallelAxisDefault: { nameLocation: "end", nameGap: 14, areaSelectStyle: { width: 18, color: "#0072b2", opacity: 0.2 } } },
      parallelAxis: shown.map(function (a, dim) {
        return { dim: dim, name: axes[a].label, scale: true, nameTextStyle: { color: "#1d2733", width: 80, overflow: "break", fontSize: 11.5, lineHeight: 13 },
          axisLabel: { color: "#1d2733", fontSize: 11, showMinLabel: true, showMaxLabel: true }, axisLine: { lineStyle: { color: "#1d2733" } } };
      }),
      series: looks.map(function (look) {
        return { type: "parallel", name: look.name, inactiveOpacity: 0.03, activeOpacity: 0.9, z: look.numbered ? 4 : 2,
          lineStyle: { color: look.colour, width: look.line.width, type: look.line.type, opacity: look.line.opacity },
          itemStyle: { color: look.colour },
          data: rows.filter(look.has).map(function (r) {
            return { name: r.id, value: shown.map(function (a) { return r.values[a] === null ? "-" : r.values[a]; }) };
          }) };
      })
    });
    parallel.on("axisareaselected", tellPicked);
  }
  function tellPicked() {
    var names = [];
    parallel.getModel().getSeries().forEach(function (series, i) {
      var own = rows.filter(looks[i].has);
      series.getRawIndicesByActiveState("active").forEach(function (k) { names.push(own[k]); });
    });
    picked.textContent = "";
    if (!names.length) return;
    names.sort(function (a, b) { return a.values[0] - b.values[0]; });
    picked.append(names.length + " of " + rows.length + " within the stretches: ");
    names.slice(0, 12).forEach(function (r, i) {
      if (i) picked.append(", ");
      if (r.rank) {
        var a = document.createElement("a");
        a.href = folder(r.rank);
        a.textContent = r.id;
        picked.append(a);
      } else {
        picked.append(r.id);
      }
    });
    if (names.length > 12) picked.append(", …");
  }
  drawParallel();
  window.addEventListener("resize", function () {
    scatter.resize();
    if (parallel) parallel.resize();
  });
})();
