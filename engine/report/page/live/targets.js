// Targets and packaging rules with what became of them. With settings or sizes a target has its value in the one that is
// shown, and the worst of all.
function liveTargets(motion, data) {
  "use strict";
  var parts = liveParts, several = data.cases.length > 1;
  var heads = ["Target", "Asked for", "Reported", "Now", "Margin then", "Margin now", "Change"];
  var body = parts.head(parts.by("targets"), several ? heads.concat("Worst of all") : heads);
  var lines = data.targets.map(function (target) {
    var cells = parts.row(body, target.name + (target.must ? " (required)" : ""), heads.length - 1 + (several ? 1 : 0));
    cells[0].textContent = target.wish;
    for (var k = 1; k < 5; ++k) cells[k].className = "n";
    return cells;
  });
  parts.caption(parts.by("rules"), "Packaging" + (several ? ", the worst of all settings and sizes" : ""));
  var ruled = parts.head(parts.by("rules"), ["Rule", "Demanded", "Now", "Where", "At travel", "Margin", "Verdict"]);

  // What a verdict says beside the one before.
  function change(was, now, moved) {
    var by = now.margin - was.margin;
    return !moved || Math.abs(by) < 5e-4 ? "" : by > 0 ? "better" : "worse";
  }
  function judged(cell, verdict, words) {
    cell.textContent = (verdict.met ? "✓ " : "✗ not met ") + words;
    cell.className = verdict.met ? "met" : "unmet";
  }
  function line(cells, target, was, now, moved, which) {
    cells[1].textContent = was ? motion.quantity(was.achieved, target.decimals, target.unit) : "–";
    cells[2].textContent = now ? motion.quantity(now.achieved, target.decimals, target.unit) : "–";
    cells[3].textContent = was && !target.compares ? was.margin.toFixed(3) : "–";
    cells[4].textContent = now && !target.compares ? now.margin.toFixed(3) : "–";
    cells[5].className = "";
    if (!now) cells[5].textContent = "does not hold in " + which.name;
    else if (target.compares) cells[5].textContent = "compares settings or sizes";
    else judged(cells[5], now, change(was, now, moved));
  }
  var ruleCells = [];
  function showRules(rules) {
    for (; ruleCells.length > rules.length; ruleCells.pop()) ruled.deleteRow(-1);
    while (ruleCells.length < rules.length) ruleCells.push(parts.row(ruled, "", 6));
    rules.forEach(function (rule, r) {
      var cells = ruleCells[r];
      cells[0].parentNode.cells[0].textContent = rule.name;
      [0, 1, 3, 4].forEach(function (k) { cells[k].className = "n"; });
      cells[0].textContent = motion.quantity(rule.demanded, 1, rule.unit);
      cells[1].textContent = motion.quantity(rule.achieved, 1, rule.unit);
      cells[2].textContent = rule.where + (rule.in ? ", in " + rule.in : "");
      cells[3].textContent = rule.travel.toFixed(1) + " mm";
      cells[4].textContent = rule.margin.toFixed(3);
      judged(cells[5], rule, "");
    });
    parts.by("rules").hidden = rules.length === 0;
  }
  // Fills the tables in; returns how many targets got better and worse, in a sentence.
  return function (out, moved, which) {
    var better = 0, worse = 0;
    lines.forEach(function (cells, t) {
      var target = data.targets[t], now = out.targets[t], word = change(target.all, now.all, moved);
      line(cells, target, which.targets[t], now.here, moved, which);
      if (several) judged(cells[6], now.all, now.all.margin.toFixed(3) + (word ? ", " + word : ""));
      if (word === "better") ++better;
      if (word === "worse") ++worse;
    });
    showRules(out.rules);
    var missed = out.rules.filter(function (rule) { return !rule.met; }).length;
    return !moved ? "As reported." : better + " of the targets better, " + worse + " worse" +
      (several ? ", each by the worst of all settings and sizes; " : "; ") +
      (missed ? missed + " of the packaging rules computed here not met." : "the packaging rules computed here are met.");
  };
}
