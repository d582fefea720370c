// Pieces of forms that follow the state without being built anew, so that neither the focus nor a click is lost.
const parts = (function () {
  function made(name, attributes, children) {
    const node = document.createElement(name);
    Object.keys(attributes || {}).forEach(function (key) { node.setAttribute(key, attributes[key]); });
    (children || []).forEach(function (child) { node.append(child); });
    return node;
  }

  const kept = new WeakMap();
  // Keeps a child of `parent` for each item: `make(id)` gives { node, update(item) }.
  function list(parent, items, idOf, make) {
    const rows = kept.get(parent) || kept.set(parent, new Map()).get(parent);
    const wanted = new Set(items.map(idOf));
    rows.forEach(function (row, id) {
      if (wanted.has(id)) return;
      row.node.remove();
      rows.delete(id);
    });
    items.forEach(function (item, i) {
      const id = idOf(item);
      if (!rows.has(id)) rows.set(id, make(id));
      const row = rows.get(id);
      if (parent.children[i] !== row.node) parent.insertBefore(row.node, parent.children[i] || null);
      row.update(item);
    });
  }

  // What a number is written as, "" for none. Commas are taken for decimal points.
  function numberOf(text) {
    const words = text.trim().replace(",", ".");
    if (!words) return null;
    const value = Number(words);
    return Number.isFinite(value) ? value : undefined;
  }

  // A text field for a number; `set` is called with a number or null. What is no number is marked and not taken.
  function number(label, set, more) {
    const input = made("input", Object.assign({ type: "text", inputmode: "decimal", "aria-label": label, autocomplete: "off", class: "number" }, more));
    input.addEventListener("change", function () {
      const value = numberOf(input.value);
      input.setAttribute("aria-invalid", value === undefined);
      if (value !== undefined) set(value);
    });
    return input;
  }
  function setNumber(input, value) {
    if (document.activeElement === input && numberOf(input.value) === value) return;
    if (input.getAttribute("aria-invalid") === "true" && document.activeElement === input) return;
    input.value = value === null ? "" : String(value);
    input.setAttribute("aria-invalid", "false");
  }

  function text(label, set, more) {
    const input = made("input", Object.assign({ type: "text", "aria-label": label, autocomplete: "off", spellcheck: "false" }, more));
    input.addEventListener("change", function () { set(input.value); });
    return input;
  }
  function setText(input, value) {
    if (input.value !== value) input.value = value;
  }

  function select(label, set) {
    const node = made("select", { "aria-label": label });
    node.addEventListener("change", function () { set(node.value === "" ? null : Number(node.value)); });
    return node;
  }
  // `choices` are [value, words]; null is the empty one.
  function setSelect(node, choices, value) {
    const shown = JSON.stringify(choices);
    if (node.dataset.shown !== shown) {
      node.dataset.shown = shown;
      node.replaceChildren.apply(node, choices.map(function (choice) {
        const option = made("option", { value: choice[0] === null ? "" : choice[0] });
        option.textContent = choice[1];
        return option;
      }));
    }
    node.value = value === null ? "" : String(value);
  }

  function button(words, label, act, more) {
    const node = made("button", Object.assign({ type: "button" }, label ? { "aria-label": label } : {}, more));
    node.textContent = words;
    node.addEventListener("click", act);
    return node;
  }

  return { made: made, list: list, number: number, setNumber: setNumber, text: text, setText: setText, select: select,
    setSelect: setSelect, button: button };
})();
