// The tables and forms beside the picture: everything that the mouse does there can be typed here.
const panel = (function () {
  const at = function (id) { return document.getElementById(id); };
  const made = parts.made;
  const shown = function (v, digits) { return v === null || v === undefined ? "–" : v.toFixed(digits); };
  const signed = function (v) {
    const words = v.toFixed(2);
    return Number(words) === 0 ? "0.00" : Number(words) > 0 ? "+" + words : words;
  };
  const pointNamed = function (id) { return figures.called(state.point(id)); };

  function pointRow(id) {
    const pick = made("input", { type: "radio", name: "chosen" });
    pick.addEventListener("change", function () {
      state.choose(id);
      stage.reveal(state.point(id));
    });
    const fixed = state.point(id).role === "bottom_bracket" || state.point(id).role === "front_axle";
    const name = fixed ? made("span") : parts.text("Name", function (value) {
      state.change(function () { state.point(id).name = value.trim(); });
    }, { maxlength: 60 });
    const axis = function (key, words) {
      return parts.number(words, function (value) {
        state.change(function () {
          const p = state.point(id), other = key === "x" ? "y" : "x";
          p[key] = value === null ? null : Math.round(value * 100) / 100;
          if (value === null) p[other] = null;
          else if (p[other] === null) p[other] = 0;
        });
      });
    };
    const x = axis("x", "x"), y = axis("y", "y"), mm = made("td", { class: "n" }), use = made("span", { class: "part" });
    const remove = parts.button("Delete", "", function () { state.removePoint(id); });
    const keep = fixed || state.point(id).role === "axle";
    const node = made("tr", {}, [made("td", {}, [pick]), made("th", { scope: "row" }, [name, use]), made("td", {}, [x]), made("td", {}, [y]), mm,
      made("td", {}, keep ? [] : [remove])]);
    return { node: node, update: function (p) {
      const called = figures.called(p), f = panel.figures;
      pick.checked = state.get().chosen === id;
      pick.setAttribute("aria-label", "Work on " + called);
      if (fixed) name.textContent = p.name;
      else parts.setText(name, p.name);
      name.setAttribute("aria-label", "Name of " + called);
      x.setAttribute("aria-label", called + ", x in pixels");
      y.setAttribute("aria-label", called + ", y in pixels");
      remove.setAttribute("aria-label", "Delete " + called);
      parts.setNumber(x, p.x);
      parts.setNumber(y, p.y);
      mm.textContent = f.mm[id] ? f.mm[id].x.toFixed(1) + ", " + f.mm[id].y.toFixed(1) : "–";
      use.textContent = p.role === "axle" ? "rear axle" : p.role === "mark" ? "mark, not of the linkage" : "";
      node.classList.toggle("chosen", state.get().chosen === id);
    } };
  }

  function lengthRow(id) {
    const row = function () { return state.get().lengths.find(function (l) { return l.id === id; }); };
    const end = function (key, words) {
      return parts.select(words, function (value) { state.change(function () { row()[key] = value; }); });
    };
    const from = end("from", "From"), to = end("to", "To");
    const mm = parts.number("Length in millimetres", function (value) { state.change(function () { row().mm = value; }); });
    const cells = [0, 1, 2].map(function () { return made("td", { class: "n" }); });
    const remove = parts.button("Delete", "Delete this length", function () {
      state.change(function (s) { s.lengths = s.lengths.filter(function (l) { return l.id !== id; }); });
    });
    const node = made("tr", {}, [made("td", {}, [from]), made("td", {}, [to]), made("td", {}, [mm])].concat(cells, [made("td", {}, [remove])]));
    return { node: node, update: function (l) {
      const choices = state.get().points.map(function (p) { return [p.id, figures.called(p)]; });
      const k = panel.figures.known.find(function (one) { return one.id === id; });
      parts.setSelect(from, choices, l.from);
      parts.setSelect(to, choices, l.to);
      parts.setNumber(mm, l.mm);
      const words = pointNamed(l.from) + " to " + pointNamed(l.to);
      mm.setAttribute("aria-label", "Length " + words + " in millimetres");
      remove.setAttribute("aria-label", "Delete the length " + words);
      cells[0].textContent = shown(k.pixels, 1);
      cells[1].textContent = k.residual === null ? "–" : signed(k.residual) + " mm, " + signed(k.residual / panel.figures.scale) + " px";
      cells[2].textContent = k.share === null ? "–" : !k.agrees ? "✗ too far off" : k.explained ? "✓ as read" : "beyond reading";
      cells[2].className = k.agrees ? "" : "flag";
    } };
  }

  function memberRow(id) {
    const member = function () { return state.get().members.find(function (m) { return m.id === id; }); };
    const name = id === 4 ? made("span") : parts.text("Name of the member", function (value) {
      state.change(function () { member().name = value.trim(); });
    }, { maxlength: 60 });
    const boxes = made("div", { class: "boxes" });
    const remove = parts.button("Delete", "", function () { state.removeMember(id); });
    const node = made("fieldset", {}, [made("legend", {}, [name])].concat(id === 4 ? [boxes] : [boxes, remove]));
    const box = function (point) {
      const tick = made("input", { type: "checkbox" }), words = made("span");
      tick.addEventListener("change", function () {
        state.change(function () {
          const m = member();
          m.points = m.points.filter(function (p) { return p !== point; });
          if (tick.checked) m.points.push(point);
        });
      });
      return { node: made("label", {}, [tick, words]), update: function (p) {
        tick.checked = member().points.indexOf(point) >= 0;
        words.textContent = " " + p.name;
      } };
    };
    return { node: node, update: function (m) {
      if (id === 4) name.textContent = "frame (front triangle)";
      else parts.setText(name, m.name);
      remove.setAttribute("aria-label", "Delete the member " + m.name);
      parts.list(boxes, state.get().points.filter(state.inLinkage), function (p) { return p.id; }, box);
    } };
  }

  // The fields for numbers of the rest of the bike, from the records of the brief's reader.
  function numberField(key) {
    const rule = data.numbers[key];
    const input = parts.number(rule.name + (rule.unit ? " in " + rule.unit : ""), function (value) {
      state.change(function (s) { s.numbers[key] = value; });
    }, { id: "number-" + key });
    const label = made("label", {}, [made("span")]);
    label.firstChild.textContent = rule.name[0].toUpperCase() + rule.name.slice(1) + (rule.unit ? " [" + rule.unit + "]" : "") + (rule.required ? "" : ", if wanted");
    label.append(input);
    at("numbers-" + rule.group).append(label);
    state.listen(function (s) { parts.setNumber(input, s.numbers[key]); });
  }
  function chooser(id, choices, get, set) {
    const node = at(id);
    node.addEventListener("change", function () {
      const value = node.value === "" ? null : Number(node.value);
      state.change(function (s) { set(s, value); });
    });
    return function (s) { parts.setSelect(node, choices(s), get(s)); };
  }

  const linkagePoints = function (none) {
    return function (s) {
      return [[null, none]].concat(s.points.filter(state.inLinkage).map(function (p) { return [p.id, p.name]; }));
    };
  };
  const allMembers = function (none) {
    return function (s) { return [[null, none]].concat(s.members.map(function (m) { return [m.id, m.name]; })); };
  };
  const allPoints = function (s) { return s.points.map(function (p) { return [p.id, figures.called(p)]; }); };
  const choosers = [
    chooser("level-a", allPoints, function (s) { return s.level[0]; }, function (s, v) { s.level[0] = v; }),
    chooser("level-b", allPoints, function (s) { return s.level[1]; }, function (s, v) { s.level[1] = v; }),
    chooser("axle-member", allMembers("choose"), function (s) { return s.axleMember; }, function (s, v) { s.axleMember = v; }),
    chooser("brake-member", allMembers("the axle's"), function (s) { return s.brakeMember; }, function (s, v) { s.brakeMember = v; }),
    chooser("eye-a", linkagePoints("choose"), function (s) { return s.eyes[0]; }, function (s, v) { s.eyes[0] = v; }),
    chooser("eye-b", linkagePoints("choose"), function (s) { return s.eyes[1]; }, function (s, v) { s.eyes[1] = v; }),
    chooser("idler-point", linkagePoints("none"), function (s) { return s.idler.point; }, function (s, v) { s.idler.point = v; })
  ];

  [{ key: "", name: "not said" }].concat(data.kinds).forEach(function (one) {
    const option = made("option", { value: one.key });
    option.textContent = one.name;
    at("kind").append(option);
  });
  ["title", "cogs", "kind"].forEach(function (key) {
    at(key).addEventListener("change", function () { state.change(function (s) { s.text[key] = at(key).value; }); });
    state.listen(function (s) { parts.setText(at(key), s.text[key]); });
  });
  at("idler-run").addEventListener("change", function () { state.change(function (s) { s.idler.run = at("idler-run").value; }); });
  Object.keys(data.numbers).forEach(numberField);
  at("add-point").addEventListener("click", function () { state.addPoint("linkage"); });
  at("add-mark").addEventListener("click", function () { state.addPoint("mark"); });
  at("add-level").addEventListener("click", state.addLevelMarks);
  at("add-length").addEventListener("click", function () {
    state.change(function (s) { s.lengths.push({ id: s.next++, from: 1, to: 2, mm: null }); });
  });
  at("add-member").addEventListener("click", function () {
    state.change(function (s) { s.members.push({ id: s.next++, name: "member" + s.members.length, points: [] }); });
  });
  data.templates.forEach(function (one, i) {
    const option = made("option", { value: i });
    option.textContent = one.title;
    at("template").append(option);
  });
  at("take").addEventListener("click", function () {
    if (at("template").value === "") return stage.speak("Choose a kind of linkage first.");
    state.take(data.templates[at("template").value]);
    stage.speak("Points and members of the linkage are listed. Next: " + figures.called(state.chosen()) + ".");
  });

  function words(parent, lines) {
    parent.replaceChildren.apply(parent, lines.map(function (line) {
      const item = made("li");
      item.textContent = line;
      return item;
    }));
  }

  function update(s) {
    const f = figures.of(s);
    panel.figures = f;
    parts.list(at("points"), s.points, function (p) { return p.id; }, pointRow);
    parts.list(at("lengths"), s.lengths, function (l) { return l.id; }, lengthRow);
    parts.list(at("members"), s.members, function (m) { return m.id; }, memberRow);
    choosers.forEach(function (set) { set(s); });
    at("idler-run").value = s.idler.run;
    at("sliders").textContent = s.sliders.map(function (one) {
      return state.point(one.point).name + " slides on the line through " + one.along.map(function (id) { return state.point(id).name; }).join(" and ") + ".";
    }).join(" ");
    at("turned").textContent = f.axes ? "The bike faces " + (f.left ? "left" : "right") + "; the level line runs " +
      Math.abs(Math.atan2(f.axes.forward.y, Math.abs(f.axes.forward.x)) * 180 / Math.PI).toFixed(2) + "° off the picture's rows." : "";
    at("scale").textContent = f.scale > 0 ? f.scale.toPrecision(6) + " mm a pixel" : "–";
    at("error").textContent = f.reading === null ? "–" : "± " + s.numbers.reading + " px = ± " + f.reading.toFixed(2) + " mm along either axis";
    at("shock").textContent = f.shock === null ? "–" : f.shock.toFixed(1) + " mm as read" + (f.slack === null ? "" : "; may be off by " + f.slack.toFixed(1) + " mm");
    const missing = figures.missing(s, f), hints = figures.hints(s, f);
    words(at("missing"), missing);
    words(at("hints"), hints);
    const verdict = missing.length === 0 ? "Nothing is missing: `trammel curves` reads this file." :
      missing.length === 1 ? "One thing is missing or wrong:" : missing.length + " things are missing or wrong:";
    if (at("verdict").textContent !== verdict) at("verdict").textContent = verdict;
    at("short").textContent = missing.length ? missing.length + " missing or wrong: see below" : "Nothing is missing: save the file";
    at("verdict").className = missing.length ? "unmet" : "met";
    return f;
  }

  return { update: update, figures: null };
})();
