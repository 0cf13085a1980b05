// The materials as plain text for a shopping list, in the units and colours that the page shows.
(() => {
  "use strict";

  const { tr } = document.words;

  // One for each size that the page tells.
  for (const place of document.querySelectorAll('[data-tool="copy-materials"]')) {
    const around = place.closest("section") || document;
    const lists = () => [...around.querySelectorAll("ul.materials, ul.supplies, p.cost")];
    if (!lists().length) continue;

    const flat = (node) => node.innerText.replace(/\s+/g, " ").trim();
    const plain = (item) => {
      const what = item.querySelector(".what");
      if (!what) return flat(item);
      const lines = [...item.querySelectorAll(".line, .own-colour")];
      const told = (lines.length ? lines : [...item.querySelectorAll(".amount")]).map(flat).filter(Boolean);
      return [flat(what), told.join("; ")].filter(Boolean).join(": ");
    };

    const text = () => {
      const title = document.querySelector("h1");
      const size = document.querySelector("[data-choose][aria-current]");
      const items = lists().flatMap((list) => list.matches("p") ? [list] : [...list.children]).map((item) => `- ${plain(item)}`);
      const named = (title ? title.textContent.trim() : document.title) + (size ? `, ${size.textContent}` : "");
      return [named, ...items, ""].join("\n");
    };

    const button = document.createElement("button");
    button.type = "button";
    button.textContent = tr("Copy as text");
    const said = document.createElement("span");
    said.setAttribute("role", "status");
    const area = document.createElement("textarea");
    area.readOnly = true;
    area.hidden = true;
    area.rows = 6;
    area.setAttribute("aria-label", tr("Materials as text"));

    button.addEventListener("click", async () => {
      area.value = text();
      try {
        await navigator.clipboard.writeText(area.value);
        area.hidden = true;
        said.textContent = tr("Copied.");
      } catch {
        // Not allowed, or no clipboard here: the reader copies it by hand.
        area.hidden = false;
        area.focus();
        area.select();
        said.textContent = tr("Here it is to copy by hand.");
      }
    });

    place.append(button, " ", said, area);
  }
})();
