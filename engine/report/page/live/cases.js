// The setting and size that drawing, curves and values show. `attempt(which)` says whether the layout moves in it.
function liveCases(cases, attempt) {
  "use strict";
  var boxes = ["setting", "size"].map(function (kind) { return document.getElementById("motion-" + kind); });
  var words = document.getElementById("motion-case");
  function chosen() {
    var at = boxes.map(function (box) { return box ? Number(box.value) : -1; });
    return cases.find(function (one) { return one.setting === at[0] && one.size === at[1]; });
  }
  if (!words) return { show: function () {} };
  function show(which) {
    if (boxes[0]) boxes[0].value = which.setting;
    if (boxes[1]) boxes[1].value = which.size;
    words.textContent = "";
  }
  boxes.forEach(function (box) {
    if (!box) return;
    box.parentNode.hidden = false;
    box.addEventListener("change", function () { attempt(chosen()); });
  });
  return { show: show };
}
