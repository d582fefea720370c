// The kernel, compiled to WebAssembly: places of points in, a row of numbers back. Nothing of a linkage is computed here.
// `record` is a layout as the report wrote it, `names` the parts of a drawing by their numbers.
function liveKernel(module, record, names) {
  "use strict";
  var kernel = null;

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
    var at = 0, next = this.next = function () { return numbers[at++]; };
    var some = this.some = function (n) { at += n; return Array.from(numbers.subarray(at - n, at)); };
    this.into = function (list, n) { for (; n > 0; --n) list.push(numbers[at++]); };
    this.words = function () { return new TextDecoder().decode(Uint8Array.from(some(next()))); };
    this.more = function () { return at < numbers.length; };
  }
  function shown(x) { return Number.isFinite(x) ? x : null; }
  function scene(answer, joints) {
    var out = { parts: { strokes: [], discs: [], joints: joints }, at: [] }, n, i, part, closed, points;
    for (n = answer.next(), i = 0; i < n; ++i) {
      part = names[answer.next()];
      closed = answer.next() === 1;
      out.parts.strokes.push({ part: part, closed: closed, width: answer.next(), points: points = answer.next() });
      answer.into(out.at, 2 * points);
    }
    for (n = answer.next(), i = 0; i < n; ++i) {
      part = names[answer.next()];
      out.parts.discs.push({ part: part, radius: answer.next(), width: answer.next() });
      answer.into(out.at, 2);
    }
    n = answer.next();  // a chain has no joints
    if (n === 0) out.parts.joints = [];
    answer.into(out.at, 2 * n);
    return out;
  }
  function gathered(scenes) {
    return { parts: scenes[0].parts, stations: scenes.map(function (one) { return one.at; }) };
  }
  function verdict(answer) {
    var v = answer.some(4);
    return { achieved: v[0], travel: v[1], margin: v[2], met: v[3] === 1 };
  }
  function target(answer) {
    return { all: verdict(answer), here: answer.next() === 1 ? verdict(answer) : null };
  }
  function rule(answer) {
    var v = answer.some(5);
    return { achieved: v[0], demanded: v[1], travel: v[2], margin: v[3], met: v[4] === 1,
      name: answer.words(), unit: answer.words(), where: answer.words(), in: answer.words() };
  }
  function list(answer, read) {
    var out = [];
    for (var n = answer.next(); n > 0; --n) out.push(read(answer));
    return out;
  }

  // All that follows from the points, in a setting and size; throws with the reason where they do not move.
  // `what`: how many stations and curves there are, the joints of its drawing, names of the gears.
  function compute(points, which, what) {
    if (!kernel) start();
    try {
      points.forEach(function (p, i) { kernel.trammel_place(i, p.x, p.y); });
      var count = kernel.trammel_compute(which.setting, which.size, what.stations, 1);
      var answer = new Answer(new Float64Array(kernel.memory.buffer, kernel.trammel_answer(), count));
    } catch (failure) {
      kernel = null;
      throw failure;
    }
    var out = { curves: [], points: [], travel: [], shock: [], instant_centres: [] };
    for (var c = 0; c < what.curves; ++c) out.curves.push(answer.some(what.stations).map(shown));
    for (var p = 0; p < points.length; ++p) out.points.push(answer.some(2));
    var bikes = [], chains = what.gears.map(function () { return []; });
    for (var s = 0; s < what.stations; ++s) {
      out.travel.push(answer.next());
      out.shock.push(answer.next());
      var centre = answer.some(2);
      out.instant_centres.push(Number.isFinite(centre[0]) ? centre : null);
      bikes.push(scene(answer, what.joints));
      chains.forEach(function (chain) { chain.push(scene(answer, what.joints)); });
    }
    var bike = gathered(bikes);
    out.parts = bike.parts;
    out.stations = bike.stations;
    out.gears = chains.map(function (chain, g) { return Object.assign({ name: what.gears[g] }, gathered(chain)); });
    if (answer.more()) {
      out.targets = list(answer, target);
      out.rules = list(answer, rule);
    }
    return out;
  }

  // The ranges of a brief that goes on from the points, as text; a frozen one has none. Empty when nothing may move.
  function ranges(points, within) {
    points.forEach(function (p, i) {
      kernel.trammel_place(i, p.x, p.y);
      kernel.trammel_keep(i, p.frozen ? 1 : 0);
    });
    var count = kernel.trammel_ranges(within);
    return new Answer(new Float64Array(kernel.memory.buffer, kernel.trammel_answer(), count)).words();
  }
  return { compute: compute, ranges: ranges };
}
