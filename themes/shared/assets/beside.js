// The plan has the steps' boxes too, so that rows are ticked where they are read. On a desk's screen
// each piece's schematic stands beside its plan and follows: the stripe to knit next is marked.
(() => {
  "use strict";

  const { tr } = document.words;

  const article = document.querySelector("article.pattern");
  const sections = [...document.querySelectorAll("section.drawings")];
  if (!article || !sections.length) return;

  const SVG = "http://www.w3.org/2000/svg";
  const wide = window.matchMedia("screen and (min-width: 68.75rem)");
  const sizeOf = ({ dataset }) => dataset.size || "";
  const tables = () => [...document.querySelectorAll(".plan-piece table.plan[data-piece]")];
  const steps = () => [...document.querySelectorAll("input[data-step][data-piece]")];

  // ---- where the schematics stand: of every size those of its own section
  const homes = sections.map((section) => {
    const list = section.querySelector(".drawing-list");
    const within = section.closest(".size");
    return { section, list, size: within ? within.dataset.inSize : "", home: [...list.children],
      tool: section.querySelector('[data-tool="hatches"]'), lead: (within || document).querySelector(".plan-list"),
      figures: new Map([...section.querySelectorAll("figure[data-piece]")].map((one) => [one.dataset.piece, one])) };
  });
  const figureOf = (table) => {
    const home = homes.find(({ size }) => size === sizeOf(table));
    return home && home.figures.get(table.dataset.piece);
  };
  const place = (beside) => {
    for (const { size, lead, list, home, tool } of homes) {
      const mine = tables().filter((table) => sizeOf(table) === size);
      if (!lead || !mine.length) continue;
      if (beside) {
        for (const table of mine) {
          const figure = figureOf(table);
          if (figure) table.closest(".plan-piece").append(figure);
        }
        if (tool) lead.before(tool);
      } else {
        list.append(...home);
        if (tool) list.before(tool);
      }
    }
    settle();
  };
  const settle = () => { // an empty section is hidden, and one of a size that isn't chosen
    for (const { section, list } of homes) {
      const { inSize } = section.dataset;
      const elsewhere = Boolean(inSize) && (document.body.dataset.size || inSize) !== inSize;
      section.hidden = elsewhere || !list.children.length;
    }
    const chosen = document.body.dataset.size || "base";
    const shown = homes.find(({ size }) => (size || "base") === chosen);
    const link = document.querySelector('.contents a[href$="drawings"]');
    if (link && shown) link.closest("li").hidden = shown.section.hidden;
  };
  document.addEventListener("size", settle);

  // ---- a box at each row of the plan that is a step
  const rowsOf = (table) => {
    const piece = `${sizeOf(table)}/${table.dataset.piece}`;
    const mine = steps().filter((box) => `${sizeOf(box)}/${box.dataset.piece}` === piece);
    const repeats = mine.filter((box) => !box.dataset.to);
    const rows = [...table.tBodies[0].rows];
    const isBlock = (row) => row.nextElementSibling !== null && row.nextElementSibling.matches(".again");
    return rows.flatMap((row) => {
      const step = row.dataset.last ? mine.find((box) => box.dataset.to === row.dataset.last)
        : isBlock(row) && repeats.shift();
      const stripes = row.dataset.last ? [row] : isBlock(row) ? [...row.nextElementSibling.querySelectorAll("[data-last]")] : [];
      if (!step || !stripes.length) return [];
      return [{ row, step, first: Number(stripes[0].dataset.first), last: Number(stripes[stripes.length - 1].dataset.last) }];
    });
  };

  const boxIn = ({ row, step, last }) => {
    let cell = row.querySelector("td.tick");
    if (!cell) {
      cell = row.insertCell();
      cell.className = "tick";
    }
    let box = cell.querySelector("input");
    if (!box) {
      cell.removeAttribute("aria-hidden");
      box = document.createElement("input");
      box.type = "checkbox";
      box.setAttribute("aria-label", tr("Done to RC {reading}", { reading: String(last).padStart(3, "0") }));
      box.addEventListener("change", () => {
        step.checked = box.checked;
        step.dispatchEvent(new Event("change", { bubbles: true }));
      });
      cell.append(box);
    }
    box.checked = step.checked;
    row.classList.toggle("done", box.checked);
  };

  // ---- the stripe to knit next
  const stripesOf = (table) => [...table.querySelectorAll("[data-last]")]
    .map(({ dataset }) => [Number(dataset.first), Number(dataset.last)]).sort((a, b) => a[1] - b[1]);

  const bandsOf = (svg) => {
    const group = svg.querySelector("g.bands");
    const found = new Map();
    for (const one of group ? group.querySelectorAll(":scope > path, :scope > use") : []) {
      const path = one.localName === "use" ? document.querySelector(one.getAttribute("href")) : one;
      for (const [, x, y, w, h] of path.getAttribute("d").matchAll(/M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)h-/g)) {
        const [left, top, wide, high] = [x, y, w, h].map(Number);
        const one = found.get(top) || { top, high, left, right: left };
        found.set(top, { ...one, left: Math.min(one.left, left), right: Math.max(one.right, left + wide) });
      }
    }
    return [...found.values()].sort((a, b) => b.top - a.top); // knitted from the foot up
  };

  const mark = (figure, table, now) => {
    const svg = figure && figure.querySelector("svg");
    if (!svg) return;
    svg.querySelectorAll("rect.now").forEach((one) => one.remove());
    const stripes = stripesOf(table);
    const bands = bandsOf(svg);
    // A stripe that grafting makes is drawn, last of all, and is no row of the plan.
    if (!now || bands.length < stripes.length) return;
    const these = bands.slice(0, stripes.length).filter((_, at) => stripes[at][0] >= now.first && stripes[at][1] <= now.last);
    if (!these.length) return;
    const left = Math.min(...these.map((one) => one.left));
    const top = Math.min(...these.map((one) => one.top));
    const foot = Math.max(...these.map((one) => one.top + one.high));
    const rect = document.createElementNS(SVG, "rect");
    const set = { class: "now", x: left - 3, y: top - 1.5, rx: 2,
      width: Math.max(...these.map((one) => one.right)) - left + 6, height: foot - top + 3 };
    for (const [name, value] of Object.entries(set)) rect.setAttribute(name, value);
    svg.append(rect);
  };

  const show = () => {
    for (const table of tables()) {
      const rows = rowsOf(table);
      rows.forEach(boxIn);
      table.classList.toggle("ticked", rows.length > 0);
      const last = rows.findLastIndex(({ step }) => step.checked);
      const now = last < 0 ? null : rows.slice(last + 1).find(({ step }) => !step.checked) || null;
      for (const one of rows) one.row.classList.toggle("now", one === now);
      mark(figureOf(table), table, now);
    }
  };

  for (const table of tables()) new MutationObserver(show).observe(table.tBodies[0], { childList: true });
  document.addEventListener("stripewright:ticked", show);
  wide.addEventListener("change", () => place(wide.matches));
  window.addEventListener("beforeprint", () => place(false));
  window.addEventListener("afterprint", () => place(wide.matches));
  place(wide.matches);
  show();
})();
