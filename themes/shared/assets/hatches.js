// A switch that shows each yarn's letter and hatch over the drawings, at those of every size;
// remembered on this device.
(() => {
  "use strict";

  const { tr } = document.words;

  const places = [...document.querySelectorAll('[data-tool="hatches"]')];
  if (!places.length || !document.querySelector(".hatch")) return;

  const boxes = places.map(() => document.createElement("input"));

  const show = (shown) => {
    for (const box of boxes) box.checked = shown;
    document.documentElement.classList.toggle("show-hatches", shown);
  };

  boxes.forEach((box, at) => {
    box.type = "checkbox";
    box.addEventListener("change", () => {
      show(box.checked);
      document.kept.set("hatches", box.checked ? "on" : "off");
    });
    const label = document.createElement("label");
    label.className = "tool-switch";
    label.append(box, ` ${tr("Letters and hatches")}`);
    places[at].append(label);
  });
  show(document.kept.get("hatches") === "on");
})();
