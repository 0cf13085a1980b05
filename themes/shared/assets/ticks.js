// The boxes of the steps stay ticked, on this device, until they are cleared.
(() => {
  "use strict";

  const { tr } = document.words;

  const STEP = "input[type=checkbox][data-step]";
  const boxes = () => [...document.querySelectorAll(STEP)];
  const slug = document.body.dataset.slug;
  if (!boxes().length || !slug) return;
  const name = `ticks/${slug}`;

  const line = document.createElement("p");
  line.className = "tool-line";
  const done = document.createElement("span");
  done.setAttribute("role", "status");
  const clear = document.createElement("button");
  clear.type = "button";
  clear.textContent = tr("Clear all ticks");
  line.append(done, " ", clear);

  const show = () => {
    const ticked = boxes().filter((box) => box.checked).length;
    line.hidden = ticked === 0;
    done.textContent = ticked ? tr("{done} of {all} steps done.", { done: ticked, all: boxes().length }) : "";
    document.dispatchEvent(new Event("stripewright:ticked"));
  };

  const keep = () => {
    show();
    document.kept.set(name, boxes().filter((box) => box.checked).map((box) => box.dataset.step));
  };

  const restore = () => {
    const list = document.kept.get(name);
    const ticked = new Set(Array.isArray(list) ? list : []);
    for (const box of boxes()) box.checked = ticked.has(box.dataset.step);
    show();
  };

  document.addEventListener("change", ({ target }) => target.matches(STEP) && keep());
  clear.addEventListener("click", () => {
    for (const box of boxes()) box.checked = false;
    boxes()[0].focus();
    keep();
  });
  document.kept.watch(name, restore);
  document.addEventListener("stripewright:changed", restore); // the preview, after a save

  const lists = document.querySelectorAll("ol.steps:not(.run ol)");
  const last = lists[lists.length - 1];
  if (last.closest("[data-in-size]")) document.querySelector(".pattern-foot").before(line);
  else last.after(line);
  restore();
})();
