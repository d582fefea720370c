// Draws the picture with what is placed on it, at any size: for the stage and for the lens.
const draw = (function () {
  const ink = "#1d2733", paper = "#ffffff", accent = "#0b5a8a", level = "#7a3e9d", members = "#a8320a";

  // A line that is seen on light and dark alike: white under its own colour.
  function line(pen, points, colour, width, dash) {
    [[paper, width + 2.5, []], [colour, width, dash || []]].forEach(function (coat) {
      pen.setLineDash(coat[2]);
      pen.strokeStyle = coat[0];
      pen.lineWidth = coat[1];
      pen.beginPath();
      points.forEach(function (p, i) { pen[i ? "lineTo" : "moveTo"](p.x, p.y); });
      pen.stroke();
    });
    pen.setLineDash([]);
  }

  function label(pen, at, words, colour, others) {
    pen.font = "600 12px system-ui, 'Liberation Sans', sans-serif";
    const width = pen.measureText(words).width + 8, height = 18;
    // To the right below, or where no other name stands yet.
    const spots = [[9, 7], [9, -25], [-width - 9, 7], [-width - 9, -25], [9, 27]];
    const free = spots.find(function (spot) {
      return !others.some(function (o) {
        return at.x + spot[0] < o.x + o.width && o.x < at.x + spot[0] + width && at.y + spot[1] < o.y + height && o.y < at.y + spot[1] + height;
      });
    }) || spots[0];
    const x = at.x + free[0], y = at.y + free[1];
    others.push({ x: x, y: y, width: width });
    pen.fillStyle = colour;
    pen.fillRect(x, y, width, height);
    pen.fillStyle = paper;
    pen.fillText(words, x + 4, y + 13);
  }

  // A ring with a gap in its cross, so that the very place stays in sight.
  function mark(pen, at, chosen) {
    const colour = chosen ? accent : ink, arm = chosen ? 14 : 9;
    [[paper, 4], [colour, 1.6]].forEach(function (coat) {
      pen.strokeStyle = coat[0];
      pen.lineWidth = coat[1];
      pen.beginPath();
      pen.arc(at.x, at.y, 5.5, 0, 2 * Math.PI);
      [[1, 0], [-1, 0], [0, 1], [0, -1]].forEach(function (d) {
        pen.moveTo(at.x + 2 * d[0], at.y + 2 * d[1]);
        pen.lineTo(at.x + arm * d[0], at.y + arm * d[1]);
      });
      pen.stroke();
    });
  }

  // `view`: x and y of the upper left corner in pixels of the picture, zoom in screen pixels a pixel.
  function scene(pen, width, height, view, image, s, named) {
    pen.fillStyle = "#e8ebee";
    pen.fillRect(0, 0, width, height);
    if (image) {
      pen.imageSmoothingEnabled = view.zoom < 3;
      pen.imageSmoothingQuality = "high";
      pen.drawImage(image, -view.x * view.zoom, -view.y * view.zoom, image.naturalWidth * view.zoom, image.naturalHeight * view.zoom);
    }
    const at = function (id) {
      const p = state.point(id);
      return { x: (p.x - view.x) * view.zoom, y: (p.y - view.y) * view.zoom };
    };
    const there = function (id) { return id !== null && state.placed(state.point(id)); };
    if (named) {
      s.members.forEach(function (m) {
        const ends = m.points.filter(there).map(at);
        if (m.id !== 4 && ends.length > 1) line(pen, ends.length > 2 ? ends.concat([ends[0]]) : ends, members, 1.2);
      });
      if (s.eyes.every(there) && s.eyes[0] !== s.eyes[1]) line(pen, s.eyes.map(at), accent, 3);
      s.lengths.forEach(function (row) {
        if (figures.given(row.mm) && there(row.from) && there(row.to)) line(pen, [at(row.from), at(row.to)], ink, 1, [7, 4]);
      });
      if (s.level.every(there)) line(pen, s.level.map(at), level, 1.4, [12, 4, 2, 4]);
    }
    const taken = [];
    s.points.forEach(function (p) {
      if (!there(p.id)) return;
      mark(pen, at(p.id), p.id === s.chosen);
      if (named) label(pen, at(p.id), p.name, p.id === s.chosen ? accent : ink, taken);
    });
  }

  return { scene: scene };
})();
