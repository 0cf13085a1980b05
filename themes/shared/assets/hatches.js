// A switch that shows each yarn's letter and hatch over the drawings; remembered on this device.
(() => {
  "use strict";

  const { tr } = document.words;

  const place = document.querySelector('[data-tool="hatches"]');
  if (!place || !document.querySelector(".hatch")) return;

  const box = document.createElement("input");
  box.type = "checkbox";
  box.checked = document.kept.get("hatches") === "on";

  const show = () => document.documentElement.classList.toggle("show-hatches", box.checked);
  box.addEventListener("change", () => {
    show();
    document.kept.set("hatches", box.checked ? "on" : "off");
  });

  const label = document.createElement("label");
  label.className = "tool-switch";
  label.append(box, ` ${tr("Letters and hatches")}`);
  place.append(label);
  show();
})();
