// Tables and charts that are wider than their box scroll in it: by keys, too, and with a name for who hears the page.
(function () {
  "use strict";
  function nameOf(box) {
    var caption = box.querySelector("caption");
    if (caption) return caption.textContent;
    var section = box.closest("section, figure"), heading = section && section.querySelector("h2, h3");
    return heading ? heading.textContent : document.title;
  }
  function fit(box) {
    if (box.scrollWidth > box.clientWidth + 1 || box.scrollHeight > box.clientHeight + 1) {
      box.tabIndex = 0;
      box.setAttribute("role", "group");  // no landmark: there are many
      box.setAttribute("aria-label", nameOf(box));
    } else {
      ["tabindex", "role", "aria-label"].forEach(function (name) { box.removeAttribute(name); });
    }
  }
  // The shortlist says so itself, for those without scripts.
  var boxes = document.querySelectorAll(".scroll:not([role]), pre");
  if (typeof ResizeObserver === "undefined") {
    boxes.forEach(fit);
    return;
  }
  var watch = new ResizeObserver(function (seen) {
    seen.forEach(function (one) { fit(one.target.closest(".scroll, pre")); });
  });
  boxes.forEach(function (box) {
    watch.observe(box);
    Array.prototype.forEach.call(box.children, function (child) { watch.observe(child); });
  });
})();
