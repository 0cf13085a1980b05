// Your own machine: the way in. What works a pattern anew comes when it is first opened, or at once
// where the address or this device already says on what it is knitted.
(() => {
  "use strict";

  const { tr } = document.words;
  const place = document.querySelector('[data-tool="own-machine"]');
  const slug = document.body.dataset.slug;
  if (!place || !slug) return;

  const details = document.createElement("details");
  const summary = document.createElement("summary");
  summary.textContent = tr("Work it for my needles and my gauge");
  details.append(summary, document.createElement("div"));
  place.append(details);

  let begun = false;
  const begin = () => {
    if (begun) return;
    begun = true;
    const { script, steps, numbers } = place.dataset; // none in a pack's page, which has both in it
    const add = (src, next) => {
      const made = document.createElement("script");
      made.src = src;
      made.addEventListener("load", next);
      made.addEventListener("error", () => {
        begun = false;
        details.lastElementChild.textContent = tr("This needs a connection the first time. Close it and open it again.");
      });
      document.head.append(made);
    };
    const rest = () => add(numbers, () => {});
    if (script) add(script, () => (steps ? add(steps, rest) : rest()));
  };
  details.addEventListener("toggle", () => details.open && begin());
  const asked = new URLSearchParams(location.hash.slice(1)).has("own");
  if (asked || document.kept.get(`own/${slug}`)) details.open = true;
})();
