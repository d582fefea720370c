(function () {
  "use strict";
  var data = JSON.parse(document.getElementById("previews").textContent), tools = sceneTools();
  var still = matchMedia("(prefers-reduced-motion: reduce)");
  var card = document.createElement("div"), words = document.createElement("p"), drawings = {};
  var shown = null, timer = 0, began = 0;
  card.className = "preview";
  card.hidden = true;
  card.setAttribute("aria-hidden", "true");  // what it shows is behind the link
  card.append(words);
  document.body.append(card);

  function drawing(folder) {
    if (drawings[folder]) return drawings[folder];
    var layout = data[folder], box = layout.extent;
    var svg = tools.made("svg", { viewBox: [box[0], -box[3], box[2] - box[0], box[3] - box[1]].join(" ") });
    drawings[folder] = { svg: svg, place: tools.scene(layout.parts, layout.stations, svg, false) };
    tools.bottomBracket(svg);
    return drawings[folder];
  }
  function step(time) {
    var layout = data[shown], last = layout.stations.length - 1;
    if (!began) began = time;
    var station = still.matches ? layout.sag
      : Math.round(last * (0.5 - 0.5 * Math.cos(2 * Math.PI * (time - began) / 4000)));
    drawings[shown].place(station);
    words.textContent = "Layout " + layout.id + ", wheel travel " + layout.travel[station].toFixed(0) + " mm";
    timer = still.matches ? 0 : requestAnimationFrame(step);
  }
  function hide() {
    cancelAnimationFrame(timer);
    timer = 0;
    shown = null;
    card.hidden = true;
  }
  function show(folder, link) {
    hide();
    shown = folder;
    began = 0;
    card.querySelectorAll("svg").forEach(function (old) { old.remove(); });
    card.prepend(drawing(folder).svg);
    card.hidden = false;
    step(performance.now());
    // Beside the link where there is room, else below or above it; never over it.
    var at = link.getBoundingClientRect(), own = card.getBoundingClientRect(), air = 10;
    var wide = document.documentElement.clientWidth, high = document.documentElement.clientHeight;
    var beside = at.right + air + own.width <= wide;
    var left = beside ? at.right + air : Math.max(air, wide - own.width - air);
    var top = beside ? Math.min(Math.max(air, at.top), high - own.height - air)
      : at.bottom + air + own.height <= high ? at.bottom + air : at.top - own.height - air;
    card.style.left = left + "px";
    card.style.top = Math.max(air, top) + "px";
  }
  document.querySelectorAll("main a[href]").forEach(function (link) {
    var folder = (/^layouts\/(\d+)\//.exec(link.getAttribute("href")) || [])[1];
    if (!data[folder]) return;
    function open() { show(folder, link); }
    link.addEventListener("mouseenter", open);
    link.addEventListener("focus", open);
    link.addEventListener("mouseleave", hide);
    link.addEventListener("blur", hide);
  });
  addEventListener("keydown", function (event) { if (event.key === "Escape") hide(); });
  addEventListener("scroll", hide, true);
})();
