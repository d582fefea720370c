// Pieces of the section's page: its elements and tables.
var liveParts = {
  by: function (id) { return document.getElementById("live-" + id); },
  bytes: function (text) { return Uint8Array.from(atob(text), function (c) { return c.charCodeAt(0); }); },
  // A head of columns; returns the table's body.
  head: function (table, words) {
    var row = table.createTHead().insertRow();
    words.forEach(function (word) {
      var cell = document.createElement("th");
      cell.scope = "col";
      cell.textContent = word;
      row.append(cell);
    });
    return table.createTBody();
  },
  // A row that begins with a name, with so many cells after it.
  row: function (body, name, cells) {
    var row = body.insertRow(), first = document.createElement("th"), out = [];
    first.scope = "row";
    first.textContent = name;
    row.append(first);
    for (; cells > 0; --cells) out.push(row.insertCell());
    return out;
  },
  caption: function (table, words) { table.createCaption().textContent = words; },
  // A text handed over as a file.
  save: function (name, text) {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/yaml" }));
    link.download = name;
    link.click();
    URL.revokeObjectURL(link.href);
  }
};
