// One choice of size for the whole page: facts, plan, steps, drawings, counter. Remembered, and in
// the address. Without this script the sizes follow one another.
(() => {
  "use strict";

  const links = [...document.querySelectorAll("[data-choose]")];
  const slug = document.body.dataset.slug;
  if (!links.length || !slug) return;

  const keys = links.map(({ dataset }) => dataset.choose);
  const contents = [...document.querySelectorAll(".contents a")];
  const written = contents.map((link) => link.getAttribute("href"));

  // A chosen size stands where the one written out does, with the reader's own colours and machine in it.
  const rail = document.querySelector(".pattern > .rail");
  const own = [...document.querySelectorAll(".pattern > .own")];
  const before = own.length && own[0].previousElementSibling;
  const place = (key) => {
    const part = document.querySelector(`.pattern > .size[data-in-size="${CSS.escape(key)}"]`);
    if (part && rail) rail.after(part);
    const shopping = part && (part.querySelector(".colourways") || part.querySelector(".shopping"));
    if (own.length) (shopping || before).after(...own);
  };

  const show = (key) => {
    place(key);
    for (const part of document.querySelectorAll("[data-in-size]")) part.hidden = part.dataset.inSize !== key;
    for (const link of links) {
      if (link.dataset.choose === key) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
    contents.forEach((link, at) => {
      const own = `${key}-${written[at].slice(1)}`;
      link.setAttribute("href", document.getElementById(own) ? `#${own}` : written[at]);
    });
    document.body.dataset.size = key;
    document.dispatchEvent(new CustomEvent("size", { detail: key }));
  };

  const hash = () => location.hash.slice(1);
  const said = (name) => new URLSearchParams(hash()).get(name);

  const named = () => {
    const id = decodeURIComponent(hash());
    const chosen = said("size") || (id.startsWith("size-") && id.slice(5)); // `size=` beside a reader's own machine
    if (keys.includes(chosen)) return chosen;
    const inside = id && document.getElementById(id)?.closest("[data-in-size]");
    return inside ? inside.dataset.inSize : "";
  };

  const kept = document.kept.get(`size/${slug}`);
  show(named() || (keys.includes(kept) ? kept : keys[0]));

  for (const link of links) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      const key = link.dataset.choose;
      document.kept.set(`size/${slug}`, key);
      const others = ["own", "colours"].filter(said).map((one) => `${one}=${said(one)}`);
      history.replaceState(null, "", others.length ? `#${[`size=${key}`, ...others].join("&")}` : `#size-${key}`);
      show(key);
    });
  }
  addEventListener("hashchange", () => named() && show(named()));
})();
