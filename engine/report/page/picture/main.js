// Ties it together: the picture, undo and redo, the layout file.
(function () {
  const at = function (id) { return document.getElementById(id); };
  const picture = { name: data.photo ? data.photo.name : "", width: 0, height: 0 };
  let address = null, saved = "";

  function text() {
    return layout.text(state.get(), figures.of(state.get()), picture);
  }
  function update(s) {
    const f = panel.update(s), words = layout.text(s, f, picture);
    at("yaml").textContent = words;
    if (address) URL.revokeObjectURL(address);
    address = URL.createObjectURL(new Blob([words], { type: "text/yaml" }));
    at("save").href = address;
    at("save").download = layout.fileName(s);
    at("undo").disabled = !state.canUndo();
    at("redo").disabled = !state.canRedo();
  }
  state.listen(update);

  function showPicture(image, name) {
    picture.name = name;
    picture.width = image.naturalWidth;
    picture.height = image.naturalHeight;
    at("photo-name").textContent = name + ", " + picture.width + " × " + picture.height + " px";
    stage.show(image);
    stage.speak("Next: " + figures.called(state.chosen()) + ".");
    update(state.get());
  }
  async function load(image, name) {
    try {
      await image.decode();
    } catch (failure) {
      stage.speak(name + " cannot be read as a picture.");
      return false;
    }
    if (Math.max(image.naturalWidth, image.naturalHeight) > data.law.pixels) {
      stage.speak(name + " is more than " + data.law.pixels + " px wide or high.");
      return false;
    }
    showPicture(image, name);
    return true;
  }
  at("file").addEventListener("change", async function () {
    const file = at("file").files[0];
    if (!file) return;
    const image = new Image(), from = URL.createObjectURL(file);
    image.src = from;
    if (!await load(image, file.name)) URL.revokeObjectURL(from);
  });

  function undo() { stage.speak(state.undo() ? "Undone." : "Nothing to undo."); }
  function redo() { stage.speak(state.redo() ? "Done again." : "Nothing to do again."); }
  at("undo").addEventListener("click", undo);
  at("redo").addEventListener("click", redo);
  at("zoom-in").addEventListener("click", function () { stage.zoom(1.5); });
  at("zoom-out").addEventListener("click", function () { stage.zoom(1 / 1.5); });
  at("whole").addEventListener("click", stage.whole);
  at("fit").addEventListener("click", stage.fit);
  document.addEventListener("keydown", function (event) {
    // In a field the browser's own undo of typing holds.
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target.matches("input[type=text]")) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) undo();
    else if (key === "y" || key === "z") redo();
    else return;
    event.preventDefault();
  });

  at("save").addEventListener("click", function () {
    saved = text();
    stage.speak("Saved as " + at("save").download + ".");
  });
  at("copy").addEventListener("click", async function () {
    try {
      await navigator.clipboard.writeText(text());
      stage.speak("Copied.");
    } catch (refused) {
      getSelection().selectAllChildren(at("yaml"));
      stage.speak(document.execCommand("copy") ? "Copied." : "The text is selected; copy it with the keyboard.");
    }
  });
  addEventListener("beforeunload", function (event) {
    if (state.canUndo() && saved !== text()) event.preventDefault();
  });

  state.tell();
  if (data.photo) load(at("photo"), data.photo.name);
})();
