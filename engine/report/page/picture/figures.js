// What follows from the state: scale, residuals, millimetres; and what is still missing, in words.
const figures = (function () {
  const given = function (v) { return v !== null && Number.isFinite(v); };

  // All of it; what cannot be known yet is null.
  function of(s) {
    const p = state.point, placed = state.placed;
    const rear = p(2), front = p(3), bracket = p(1);
    const left = placed(rear) && placed(front) && front.x < rear.x;
    const known = s.lengths.map(function (row) {
      const from = p(row.from), to = p(row.to);
      const pixels = placed(from) && placed(to) && from !== to ? law.distance(from, to) : null;
      const counts = pixels !== null && pixels >= 1 && given(row.mm) && row.mm > 0;
      return { id: row.id, pixels: pixels, length: row.mm, counts: counts };
    });
    const scale = law.scale(known.filter(function (k) { return k.counts; }));
    known.forEach(function (k) {
      // By how much the length comes out longer at the scale of all than it is.
      k.residual = k.counts && scale > 0 ? k.pixels * scale - k.length : null;
      k.share = k.residual === null ? null : k.length / k.pixels / scale - 1;
      k.agrees = k.share === null || Math.abs(k.share) <= data.law.agreement;
      k.explained = k.residual === null || Math.abs(k.residual) / scale <= law.spread(s.numbers.reading || 0);
    });
    const ends = s.level.map(p);
    const axes = placed(ends[0]) && placed(ends[1]) ? law.axes(ends[0], ends[1], left) : null;
    const mm = {};
    if (scale > 0 && axes && placed(bracket))
      s.points.forEach(function (one) {
        if (placed(one)) mm[one.id] = law.place(one, bracket, axes, scale);
      });
    const reading = given(s.numbers.reading) && scale > 0 ? s.numbers.reading * scale : null;
    const eyes = s.eyes.map(p);
    const shock = eyes[0] !== eyes[1] && placed(eyes[0]) && placed(eyes[1]) && scale > 0 ? law.distance(eyes[0], eyes[1]) * scale : null;
    return { left: left, known: known, scale: scale, axes: axes, mm: mm, reading: reading, shock: shock,
      slack: reading === null ? null : law.spread(reading) + data.law.slack };
  }

  function unique(values) {
    return values.filter(function (v, i) { return values.indexOf(v) === i; });
  }

  // "rear axle", or the name that the user gave.
  function called(one) {
    return one.role !== "axle" ? one.name : one.name === "axle" ? "rear axle" : "rear axle (" + one.name + ")";
  }

  function points(s, f, say) {
    const used = new Set(s.level.concat(s.lengths.filter(function (l) { return given(l.mm); }).flatMap(function (l) { return [l.from, l.to]; })));
    const empty = s.points.filter(function (one) { return !state.placed(one) && (one.role !== "mark" || used.has(one.id)); });
    if (empty.length) say("Not placed yet: " + empty.map(called).join(", ") + ".");
    const named = s.points.filter(state.inLinkage).concat(s.members);
    unique(named.map(function (one) { return one.name; })).forEach(function (name) {
      if (!new RegExp(data.names.pattern).test(name)) say("“" + name + "” is no name: " + data.names.rule + ".");
    });
    [s.points, s.members].forEach(function (all) {
      const names = all.map(function (one) { return one.name; });
      unique(names.filter(function (name, i) { return names.indexOf(name) !== i; })).forEach(function (name) {
        say("The name “" + name + "” is there twice.");
      });
    });
    const range = data.law.pixels;
    s.points.forEach(function (one) {
      if (state.placed(one) && (Math.abs(one.x) > range || Math.abs(one.y) > range))
        say(called(one) + " lies more than " + range + " px from the picture's corner.");
      const mm = f.mm[one.id];
      if (mm && state.inLinkage(one) && (Math.abs(mm.x) > data.law.reach || Math.abs(mm.y) > data.law.reach))
        say(called(one) + " comes out more than " + data.law.reach + " mm from the bottom bracket.");
    });
  }

  function scale(s, f, say) {
    if (!f.known.some(function (k) { return k.counts; })) say("No known length between two placed points: at least one is needed for the scale, two long ones are better.");
    f.known.forEach(function (k, i) {
      const row = s.lengths[i], name = state.point(row.from).name + " – " + state.point(row.to).name;
      if (row.from === row.to) say("A known length runs from " + state.point(row.from).name + " to itself.");
      else if (given(row.mm) && (row.mm < 1 || row.mm > 3000)) say("The length " + name + " must be from 1 to 3000 mm.");
      else if (k.pixels !== null && k.pixels < 1 && given(row.mm)) say("The ends of the length " + name + " must be at least 1 px apart.");
      if (!k.agrees) say("The length " + name + " is " + (100 * k.share).toFixed(1) + " % off the scale of all lengths together; they must agree within " +
        100 * data.law.agreement + " %. Look for a slip, or for a picture that is not taken square from the side.");
    });
    const ends = s.level.map(state.point);
    if (s.level[0] === s.level[1] || (state.placed(ends[0]) && state.placed(ends[1]) && f.axes === null))
      say("The two ends of the level line must be different points, at least 1 px apart.");
  }

  function linkage(s, f, say) {
    if (s.members.length < 2) say("The linkage needs at least two members: the frame and one that moves.");
    const carried = function (id) { return s.members.filter(function (m) { return m.points.indexOf(id) >= 0; }); };
    const loose = s.points.filter(function (one) { return state.inLinkage(one) && !carried(one.id).length; });
    if (loose.length) say("No member carries " + loose.map(called).join(", ") + ".");
    s.members.forEach(function (m) { if (!m.points.length) say("The member " + m.name + " carries no point."); });
    const carrier = s.members.find(function (m) { return m.id === s.axleMember; });
    if (!carrier) say("Say which member carries the rear axle.");
    else if (carrier.id === 4) say("The frame is held still; the rear axle is carried by another member.");
    else if (carrier.points.indexOf(2) < 0) say("The member " + carrier.name + " carries the axle, but does not list its point.");
    if (s.eyes[0] === null || s.eyes[1] === null || s.eyes[0] === s.eyes[1]) say("Say between which two points the shock is.");
    else s.members.forEach(function (m) {
      if (m.points.indexOf(s.eyes[0]) >= 0 && m.points.indexOf(s.eyes[1]) >= 0) say("The member " + m.name + " carries both eyes, so the shock cannot move.");
    });
    const length = s.numbers.shock_length;
    if (given(length) && f.shock !== null && f.slack !== null && Math.abs(f.shock - length) > f.slack)
      say("In the picture the shock's eyes are " + f.shock.toFixed(1) + " mm apart, and its length is " + length +
        " mm; within the error of reading they must agree, to " + f.slack.toFixed(1) + " mm.");
  }

  function numbers(s, say) {
    Object.keys(data.numbers).forEach(function (key) {
      const rule = data.numbers[key], v = s.numbers[key];
      if (!given(v)) {
        if (rule.required) say("Enter the " + rule.name + ".");
      } else if (v < rule.least || (rule.open && v === rule.least) || v > rule.most || (rule.whole && v !== Math.round(v))) {
        say("The " + rule.name + " must be " + (rule.whole ? "a whole number " : "") + (rule.open ? "above " : "from ") + rule.least + " to " + rule.most + (rule.unit ? " " + rule.unit : "") + ".");
      }
    });
    if (given(s.numbers.shock_length) && given(s.numbers.shock_stroke) && s.numbers.shock_stroke >= s.numbers.shock_length)
      say("The shock's stroke must be below its length.");
    if (Array.from(s.text.title).length > data.longest_text) say("The name of the bike may have " + data.longest_text + " characters.");
    const cogs = cogsOf(s.text.cogs), chain = given(s.numbers.chainring);
    if (cogs === null) say("The cogs must be different whole numbers of teeth from 6 to 120, with commas between.");
    else if (chain !== cogs.length > 0) say("For curves of the chain enter both the chainring and the cogs; leave out both for none.");
    if (s.idler.point !== null && chain && !given(s.numbers.idler_teeth)) say("Enter the teeth of the idler.");
  }

  // Teeth of "18, 50"; empty for nothing, null for what is no such list.
  function cogsOf(words) {
    if (!words.trim()) return [];
    const cogs = words.split(/[\s,;]+/).filter(Boolean).map(Number);
    const sound = cogs.every(function (n) { return Number.isInteger(n) && n >= 6 && n <= 120; });
    return sound && unique(cogs).length === cogs.length ? cogs : null;
  }

  // What does not stop the reader, and yet is worth a look.
  function hints(s, f) {
    const out = [];
    const count = function (id) { return s.members.filter(function (m) { return m.points.indexOf(id) >= 0; }).length; };
    const joints = s.points.filter(state.inLinkage).reduce(function (n, one) { return n + Math.max(0, count(one.id) - 1); }, 0);
    const freedom = 3 * (s.members.length - 1) - 2 * joints - s.sliders.length;  // Grübler's count, a sliding point takes one
    if (s.members.length > 1 && freedom !== 1)
      out.push("By counting members and joints the linkage has " + freedom + " degrees of freedom; one is needed. Two members that list the same point turn on each other there.");
    const a = s.numbers.rear_radius, b = s.numbers.front_radius;
    if (given(a) && given(b) && a !== b && s.level.indexOf(2) >= 0 && s.level.indexOf(3) >= 0)
      out.push("The wheels differ, so a line through both axles is not level: place two points on the ground for it.");
    f.known.forEach(function (k, i) {
      if (k.agrees && !k.explained) out.push("The length " + state.point(s.lengths[i].from).name + " – " + state.point(s.lengths[i].to).name +
        " is off by more than the reading error explains: enter a larger one, or look at its ends.");
    });
    const front = f.mm[3], rear = f.mm[2];
    if (front && rear && (rear.x > 0 || front.x < 0)) out.push("The bottom bracket does not lie between the axles.");
    return out;
  }

  function missing(s, f) {
    const out = [], say = function (words) { out.push(words); };
    points(s, f, say);
    scale(s, f, say);
    linkage(s, f, say);
    numbers(s, say);
    return out;
  }

  return { of: of, missing: missing, hints: hints, given: given, cogsOf: cogsOf, called: called };
})();
