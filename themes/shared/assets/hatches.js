// A switch that shows each yarn's letter and hatch over the drawings; remembered on this device.
(() => {
  "use strict";

  const place = document.querySelector('[data-tool="hatches"]');
  if (!place || !document.querySelector(".hatch")) return;
  const kept = `${new URL("..", document.currentScript.src).pathname}#hatches`;

  const box = document.createElement("input");
  box.type = "checkbox";
  try {
    box.checked = localStorage.getItem(kept) === "on";
  } catch {
    // No storage: off at first, as on a first visit.
  }

  const show = () => document.documentElement.classList.toggle("show-hatches", box.checked);
  box.addEventListener("change", () => {
    show();
    try {
      localStorage.setItem(kept, box.checked ? "on" : "off");
    } catch {
      // Holds for this page only.
    }
  });

  const label = document.createElement("label");
  label.className = "tool-switch";
  label.append(box, " Letters and hatches");
  place.append(label);
  show();
})();
