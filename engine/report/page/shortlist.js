(function () {
  "use strict";
  var table = document.querySelector("table.shortlist");
  if (!table || !table.tBodies.length) return;
  var body = table.tBodies[0], rows = Array.from(body.rows), heads = Array.from(table.tHead.rows[0].cells);
  var summaries = Array.from(document.querySelectorAll("ol.accounts > li"));
  var hold = document.createElement("div"), told = document.createElement("p");
  hold.className = "controls";
  told.className = "count";
  told.setAttribute("role", "status");

  // What a cell counts by: the first number of a cell of numbers, null without one; the words of another.
  function key(row, column) {
    var cell = row.cells[column], words = cell.textContent.trim();
    if (column > 0 && !cell.classList.contains("n")) return words;
    var number = words.match(/-?\d+(\.\d+)?(e-?\d+)?/);
    return number ? Number(number[0]) : null;
  }
  // Cells without a number come last, whichever way.
  function compare(a, b, up) {
    if (a === null || b === null) return (a === null) - (b === null);
    var by = typeof a === "number" ? a - b : a.localeCompare(b, "en", { numeric: true });
    return up ? by : -by;
  }
  heads.forEach(function (head, column) {
    if (!rows.length || rows[0].cells[column].classList.contains("thumbnail")) return;
    var button = document.createElement("button");
    button.type = "button";
    button.className = "sort";
    button.title = "Sort by this column";
    while (head.firstChild) button.append(head.firstChild);
    head.append(button);
    head.setAttribute("aria-sort", column === 0 ? "ascending" : "none");
    button.addEventListener("click", function () {
      var up = head.getAttribute("aria-sort") !== "ascending";
      heads.forEach(function (other) { if (other.hasAttribute("aria-sort")) other.setAttribute("aria-sort", "none"); });
      head.setAttribute("aria-sort", up ? "ascending" : "descending");
      rows.sort(function (a, b) { return compare(key(a, column), key(b, column), up) || key(a, 0) - key(b, 0); });
      rows.forEach(function (row) { body.append(row); });
    });
  });

  var filters = [];
  function filter(words, keeps) {
    if (rows.every(keeps) || !rows.some(keeps)) return;  // nothing to choose
    var label = document.createElement("label"), box = document.createElement("input");
    box.type = "checkbox";
    box.addEventListener("change", apply);
    label.append(box, " " + words);
    hold.append(label);
    filters.push(function (row) { return !box.checked || keeps(row); });
  }
  function column(name) { return heads.findIndex(function (head) { return head.textContent.trim() === name; }); }
  var met = column("Requirements met"), remarks = column("Remarks"), linkage = column("Linkage");
  filter("only those that meet every requirement", function (row) { return row.cells[met].textContent.indexOf("✗") < 0; });
  filter("only those that meet every target", function (row) { return !row.querySelector("td.missed"); });
  filter("only those without remarks", function (row) { return key(row, remarks) === 0; });
  if (linkage >= 0) {
    var names = Array.from(new Set(rows.map(function (row) { return row.cells[linkage].textContent; })));
    if (names.length > 1) {
      var label = document.createElement("label"), select = document.createElement("select");
      select.add(new Option("every linkage", ""));
      names.forEach(function (name) { select.add(new Option(name, name)); });
      select.addEventListener("change", apply);
      label.append("of ", select);
      hold.append(label);
      filters.push(function (row) { return !select.value || row.cells[linkage].textContent === select.value; });
    }
  }
  function apply() {
    var left = 0;
    rows.forEach(function (row) {
      row.hidden = !filters.every(function (keeps) { return keeps(row); });
      if (!row.hidden) ++left;
      var summary = summaries[key(row, 0) - 1];
      if (summary) summary.hidden = row.hidden;
    });
    told.textContent = left === rows.length ? "" : left + " of " + rows.length + " shown.";
  }
  if (filters.length) {
    table.parentNode.before(hold, told);
    apply();
  }
})();
