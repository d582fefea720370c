// What has been placed and entered, and the way back. Everything refers to points and members by number, so that a name is
// changed in one place.
const state = (function () {
  const fixed = { bottom_bracket: "bottom bracket", front_axle: "front axle" };
  const listeners = [];
  let now = blank(), past = [], future = [], lastMerge = "";

  function blank() {
    const bracket = { id: 1, role: "bottom_bracket", name: fixed.bottom_bracket, x: null, y: null };
    const rear = { id: 2, role: "axle", name: "axle", x: null, y: null };
    const front = { id: 3, role: "front_axle", name: fixed.front_axle, x: null, y: null };
    return {
      next: 5, chosen: 1, points: [bracket, rear, front], level: [2, 3],
      lengths: [{ id: 1, from: 2, to: 3, mm: null }, { id: 2, from: 1, to: 2, mm: null }],
      members: [{ id: 4, name: "frame", points: [] }], sliders: [],
      axleMember: null, brakeMember: null, eyes: [null, null], idler: { point: null, run: "over" },
      text: { title: "", kind: "", cogs: "" },
      numbers: { reading: data.law.reading, rear_radius: null, front_radius: null, head_angle: null, fork_travel: null, cg_x: null,
        cg_height: null, shock_length: null, shock_stroke: null, chainring: null, idler_teeth: null }
    };
  }

  function tell() {
    listeners.forEach(function (listener) { listener(now); });
  }

  // Edits a copy. Edits in a row with the same `merge` are one step back.
  function change(edit, merge) {
    const before = JSON.stringify(now);
    edit(now);
    if (JSON.stringify(now) === before) return;
    if (!merge || merge !== lastMerge) past.push(before);
    if (past.length > 500) past.shift();
    future = [];
    lastMerge = merge || "";
    tell();
  }

  function step(from, to) {
    if (!from.length) return false;
    to.push(JSON.stringify(now));
    now = JSON.parse(from.pop());
    lastMerge = "";
    tell();
    return true;
  }

  // Which point is worked on; no step of its own.
  function choose(id) {
    now.chosen = id;
    lastMerge = "";
    tell();
  }

  function point(id) {
    return now.points.find(function (p) { return p.id === id; }) || null;
  }
  function placed(p) {
    return p !== null && p.x !== null && p.y !== null;
  }
  function chosen() {
    return point(now.chosen);
  }
  // Those that stand under linkage: picture: points.
  function inLinkage(p) {
    return p.role === "axle" || p.role === "linkage";
  }

  // Hundredths of a pixel are all that is kept, so that the file says what the page shows.
  function rounded(v) {
    return Math.round(v * 100) / 100;
  }
  function put(id, x, y, merge) {
    change(function (s) {
      const p = s.points.find(function (q) { return q.id === id; });
      p.x = rounded(x);
      p.y = rounded(y);
    }, merge);
  }

  // The next point that has no place yet, after the chosen one, around the end.
  function nextEmpty() {
    const at = now.points.findIndex(function (p) { return p.id === now.chosen; });
    for (let i = 1; i <= now.points.length; ++i) {
      const p = now.points[(at + i) % now.points.length];
      if (!placed(p)) return p.id;
    }
    return now.chosen;
  }

  function freeName(s, stem) {
    for (let n = 1; ; ++n) {
      const name = stem + n;
      if (!s.points.concat(s.members).some(function (one) { return one.name === name; })) return name;
    }
  }
  function addPoint(role) {
    change(function (s) {
      const id = s.next++;
      s.points.push({ id: id, role: role, name: freeName(s, role === "mark" ? "mark" : "pivot"), x: null, y: null });
      s.chosen = id;
    });
  }
  function addLevelMarks() {
    change(function (s) {
      s.level = ["a", "b"].map(function (end) {
        const old = s.points.find(function (p) { return p.role === "mark" && p.name === "level-" + end; });
        if (old) return old.id;
        const id = s.next++;
        s.points.push({ id: id, role: "mark", name: "level-" + end, x: null, y: null });
        return id;
      });
      s.chosen = s.level[0];
    });
  }
  function removePoint(id) {
    change(function (s) {
      s.points = s.points.filter(function (p) { return p.id !== id; });
      s.members.forEach(function (m) { m.points = m.points.filter(function (p) { return p !== id; }); });
      s.lengths = s.lengths.filter(function (l) { return l.from !== id && l.to !== id; });
      s.sliders = s.sliders.filter(function (one) { return one.point !== id && one.along.indexOf(id) < 0; });
      s.level = s.level.map(function (p, i) { return p === id ? [2, 3][i] : p; });
      s.eyes = s.eyes.map(function (p) { return p === id ? null : p; });
      if (s.idler.point === id) s.idler.point = null;
      if (s.chosen === id) s.chosen = s.points[0].id;
    });
  }
  function removeMember(id) {
    change(function (s) {
      s.members = s.members.filter(function (m) { return m.id !== id; });
      s.sliders = s.sliders.filter(function (one) { return one.member !== id; });
      if (s.axleMember === id) s.axleMember = null;
      if (s.brakeMember === id) s.brakeMember = null;
    });
  }

  // Points and members of a linkage template; points of the same name keep their places, other linkage points go.
  function take(template) {
    change(function (s) {
      const kept = s.points.filter(function (p) { return p.role !== "linkage" || template.points.indexOf(p.name) >= 0; });
      const gone = s.points.filter(function (p) { return kept.indexOf(p) < 0; }).map(function (p) { return p.id; });
      s.points = kept;
      s.points[s.points.findIndex(function (p) { return p.role === "axle"; })].name = template.axle;
      template.points.forEach(function (name) {
        const there = s.points.find(function (p) { return p.name === name; });
        if (there) there.role = "linkage";  // a mark, perhaps
        else s.points.push({ id: s.next++, role: "linkage", name: name, x: null, y: null });
      });
      const pointOf = function (name) { return s.points.find(function (p) { return p.name === name; }).id; };
      s.members = Object.keys(template.members).map(function (name) {
        return { id: name === "frame" ? 4 : s.next++, name: name, points: template.members[name].map(pointOf) };
      });
      const memberOf = function (name) { return s.members.find(function (m) { return m.name === name; }).id; };
      s.sliders = template.sliders.map(function (one) {
        return { point: pointOf(one.point), member: memberOf(one.member), along: one.along.map(pointOf) };
      });
      s.axleMember = memberOf(template.carrier);
      s.brakeMember = template.brake ? memberOf(template.brake) : null;
      s.eyes = template.eyes.map(pointOf);
      s.idler = { point: template.idler ? pointOf(template.idler.point) : null, run: template.idler ? template.idler.run : "over" };
      s.lengths = s.lengths.filter(function (l) { return gone.indexOf(l.from) < 0 && gone.indexOf(l.to) < 0; });
      s.level = s.level.map(function (p, i) { return gone.indexOf(p) >= 0 ? [2, 3][i] : p; });
      const eyeToEye = s.lengths.some(function (l) { return s.eyes.indexOf(l.from) >= 0 && s.eyes.indexOf(l.to) >= 0; });
      if (!eyeToEye) s.lengths.push({ id: s.next++, from: s.eyes[0], to: s.eyes[1], mm: null });
      if (!s.points.some(function (p) { return p.id === s.chosen; })) s.chosen = s.points[0].id;
    });
  }

  return {
    get: function () { return now; },
    listen: function (listener) { listeners.push(listener); }, tell: tell,
    undo: function () { return step(past, future); },
    redo: function () { return step(future, past); },
    canUndo: function () { return past.length > 0; },
    canRedo: function () { return future.length > 0; },
    change: change, choose: choose, chosen: chosen, point: point, placed: placed, inLinkage: inLinkage, put: put,
    nextEmpty: nextEmpty, addPoint: addPoint, addLevelMarks: addLevelMarks, removePoint: removePoint,
    removeMember: removeMember, take: take
  };
})();
