// The picture on the screen: zoom, pan, the lens, placing and moving points by mouse, finger and keys.
const stage = (function () {
  const canvas = document.getElementById("view"), lens = document.getElementById("lens");
  const holder = document.getElementById("stage"), place = document.getElementById("place");
  const view = { x: 0, y: 0, zoom: 1 };
  const most = 64, near = 12;
  let image = null, width = 0, height = 0, pointer = null, press = null, waiting = false, fitted = true;

  function toPicture(x, y) {
    return { x: view.x + x / view.zoom, y: view.y + y / view.zoom };
  }
  function least() {
    return image ? Math.min(1, 0.5 * width / image.naturalWidth, 0.5 * height / image.naturalHeight) : 0.05;
  }

  function zoomAt(x, y, factor) {
    const before = toPicture(x, y);
    view.zoom = Math.min(most, Math.max(least(), view.zoom * factor));
    view.x = before.x - x / view.zoom;
    view.y = before.y - y / view.zoom;
    fitted = false;
    show();
  }
  function fit() {
    if (!image || !width) return;
    view.zoom = Math.min(width / image.naturalWidth, height / image.naturalHeight);
    view.x = (image.naturalWidth - width / view.zoom) / 2;
    view.y = (image.naturalHeight - height / view.zoom) / 2;
    fitted = true;
    show();
  }
  // About the chosen point where it is in sight, or else the middle.
  function zoom(factor) {
    const p = state.chosen();
    let at = { x: width / 2, y: height / 2 };
    if (state.placed(p)) {
      const on = { x: (p.x - view.x) * view.zoom, y: (p.y - view.y) * view.zoom };
      if (on.x >= 0 && on.x <= width && on.y >= 0 && on.y <= height) at = on;
    }
    zoomAt(at.x, at.y, factor);
  }
  // Brings a point into sight.
  function reveal(p) {
    if (!state.placed(p) || !width) return;
    const x = (p.x - view.x) * view.zoom, y = (p.y - view.y) * view.zoom;
    if (x > 10 && x < width - 10 && y > 10 && y < height - 10) return;
    view.x = p.x - width / view.zoom / 2;
    view.y = p.y - height / view.zoom / 2;
    fitted = false;
    show();
  }

  function sharp(node, w, h) {
    const density = window.devicePixelRatio || 1;
    if (node.width !== Math.round(w * density) || node.height !== Math.round(h * density)) {
      node.width = Math.round(w * density);
      node.height = Math.round(h * density);
    }
    const pen = node.getContext("2d");
    pen.setTransform(density, 0, 0, density, 0, 0);
    return pen;
  }
  function paint() {
    waiting = false;
    const s = state.get();
    if (!width) return;
    draw.scene(sharp(canvas, width, height), width, height, view, image, s, document.getElementById("names").checked);
    drawLens(s);
    tellPlace();
  }
  function show() {
    if (!waiting) requestAnimationFrame(paint);
    waiting = true;
  }

  // What lies under the pointer, or at the chosen point while keys move it.
  function lensAt() {
    if (pointer) return press && press.dragged && press.hit ? state.chosen() : toPicture(pointer.x, pointer.y);
    return document.activeElement === canvas && state.placed(state.chosen()) ? state.chosen() : null;
  }
  function drawLens(s) {
    const at = lensAt();
    lens.hidden = !at || !image;
    if (lens.hidden) return;
    const size = lens.clientWidth, zoomed = Math.min(24, Math.max(3, 4 * view.zoom));
    const x = (at.x - view.x) * view.zoom, y = (at.y - view.y) * view.zoom;
    holder.classList.toggle("lens-right", x < size + 40 && y < size + 40);
    const pen = sharp(lens, size, size);
    draw.scene(pen, size, size, { x: at.x - size / 2 / zoomed, y: at.y - size / 2 / zoomed, zoom: zoomed }, image, s, false);
    const middle = size / 2;
    [["#ffffff", 3], ["#0b5a8a", 1]].forEach(function (coat) {
      pen.strokeStyle = coat[0];
      pen.lineWidth = coat[1];
      pen.beginPath();
      [[-1, 0], [1, 0], [0, -1], [0, 1]].forEach(function (d) {
        pen.moveTo(middle + 4 * d[0], middle + 4 * d[1]);
        pen.lineTo(middle + middle * d[0], middle + middle * d[1]);
      });
      pen.stroke();
    });
  }

  function nearest(x, y) {
    let found = null, best = near;
    state.get().points.forEach(function (p) {
      if (!state.placed(p)) return;
      const d = Math.hypot((p.x - view.x) * view.zoom - x, (p.y - view.y) * view.zoom - y);
      if (d <= best) { best = d; found = p.id; }
    });
    return found;
  }
  function here(event) {
    const box = canvas.getBoundingClientRect();
    return { x: event.clientX - box.left - canvas.clientLeft, y: event.clientY - box.top - canvas.clientTop };
  }
  function put(at, merge) {
    const p = state.chosen(), fresh = !state.placed(p);
    state.put(p.id, at.x, at.y, merge);
    speak(figures.called(p) + " placed at " + p.x.toFixed(1) + ", " + p.y.toFixed(1) + " px.");
    if (fresh) {
      state.choose(state.nextEmpty());
      const next = state.chosen();
      if (!state.placed(next)) speak(figures.called(p) + " placed. Next: " + figures.called(next) + ".");
    }
  }
  function speak(words) {
    document.getElementById("said").textContent = words;
  }
  function tellPlace() {
    const at = pointer && toPicture(pointer.x, pointer.y);
    const words = image ? (at ? "pointer at " + at.x.toFixed(1) + ", " + at.y.toFixed(1) + " px · " : "") + Math.round(100 * view.zoom) + " %" : "";
    if (place.textContent !== words) place.textContent = words;
  }

  canvas.addEventListener("pointerdown", function (event) {
    if (event.button !== 0 || !image) return;
    canvas.setPointerCapture(event.pointerId);
    pointer = here(event);
    const hit = nearest(pointer.x, pointer.y);
    press = { start: pointer, hit: hit, from: hit === null ? null : Object.assign({}, state.point(hit)), corner: Object.assign({}, view), dragged: false };
  });
  canvas.addEventListener("pointermove", function (event) {
    pointer = here(event);
    if (press) {
      const dx = pointer.x - press.start.x, dy = pointer.y - press.start.y;
      if (!press.dragged && Math.hypot(dx, dy) > 3) {
        press.dragged = true;
        if (press.hit !== null) state.choose(press.hit);
      }
      if (press.dragged && press.hit !== null) {
        state.put(press.hit, press.from.x + dx / view.zoom, press.from.y + dy / view.zoom, "drag");
      } else if (press.dragged) {
        view.x = press.corner.x - dx / view.zoom;
        view.y = press.corner.y - dy / view.zoom;
        fitted = false;
      }
    }
    show();
  });
  canvas.addEventListener("pointerup", function (event) {
    if (!press) return;
    const done = press;
    press = null;
    // A finger leaves nothing behind that hovers.
    if (event.pointerType === "touch") pointer = null;
    const at = toPicture(done.start.x, done.start.y);
    if (done.dragged) {
      if (done.hit !== null) state.choose(done.hit);  // the next drag is another step
    } else if (!state.placed(state.chosen()) || event.shiftKey) {
      put(at);
    } else if (done.hit !== null) {
      state.choose(done.hit);
      speak(figures.called(state.chosen()) + " chosen.");
    } else {
      speak(figures.called(state.chosen()) + " has its place. Drag it, use the arrow keys, or hold Shift and click to put it here.");
    }
    show();
  });
  canvas.addEventListener("pointercancel", function () { press = null; pointer = null; show(); });
  canvas.addEventListener("pointerleave", function () {
    if (!press) pointer = null;
    show();
  });
  canvas.addEventListener("wheel", function (event) {
    if (!image) return;
    event.preventDefault();
    const at = pointer = here(event);
    zoomAt(at.x, at.y, Math.pow(1.0025, -event.deltaY * (event.deltaMode === 1 ? 16 : 1)));
  }, { passive: false });

  const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  function arrow(event) {
    const way = steps[event.key], p = state.chosen();
    const by = event.shiftKey ? 10 : event.altKey || event.ctrlKey || event.metaKey ? 0.1 : 1;
    if (state.placed(p)) {
      state.put(p.id, p.x + by * way[0], p.y + by * way[1], event.repeat ? "held" : "");
      reveal(p);
      speak(figures.called(p) + " at " + p.x.toFixed(1) + ", " + p.y.toFixed(1) + " px.");
    } else {
      view.x += 40 * by * way[0] / view.zoom;
      view.y += 40 * by * way[1] / view.zoom;
      fitted = false;
      show();
    }
  }
  function turn(by) {
    const all = state.get().points, at = all.indexOf(state.chosen());
    const next = all[(at + by + all.length) % all.length];
    state.choose(next.id);
    reveal(next);
    speak(figures.called(next) + (state.placed(next) ? " at " + next.x.toFixed(1) + ", " + next.y.toFixed(1) + " px." : ", not placed; Enter places it in the middle of the view."));
  }
  canvas.addEventListener("keydown", function (event) {
    const p = state.chosen();
    pointer = null;
    if (steps[event.key]) arrow(event);
    else if (event.ctrlKey || event.metaKey || event.altKey) return;
    else if (event.key === "Enter" && image && !state.placed(p)) put(toPicture(width / 2, height / 2));
    else if (event.key === "Delete" || event.key === "Backspace") {
      state.change(function () { p.x = p.y = null; });
      speak(figures.called(p) + " taken off the picture.");
    } else if (event.key === "PageDown") turn(1);
    else if (event.key === "PageUp") turn(-1);
    else if (event.key === "+" || event.key === "=") zoom(1.5);
    else if (event.key === "-") zoom(1 / 1.5);
    else if (event.key === "0") fit();
    else return;
    event.preventDefault();
  });
  ["focus", "blur"].forEach(function (kind) { canvas.addEventListener(kind, show); });

  new ResizeObserver(function () {
    width = canvas.clientWidth;
    height = canvas.clientHeight;
    if (fitted) fit();
    show();
  }).observe(canvas);
  document.getElementById("names").addEventListener("change", show);
  state.listen(show);

  return {
    show: function (picture) { image = picture; fit(); show(); },
    zoom: zoom, fit: fit, reveal: reveal, speak: speak,
    whole: function () { zoom(1 / view.zoom); }
  };
})();
