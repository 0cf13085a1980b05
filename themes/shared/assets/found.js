// What is found of all patterns, where the page holds a part of them: rows in place of its cards, a
// few at first. document.foundPatterns(list of cards, address of the index) gives
// show(all patterns, places of those that fit) and away(), which brings the page's own part back.
(() => {
  "use strict";

  const { tr } = document.words;

  const AT_FIRST = 6;
  const MORE = 36;
  const KEPT = 400; // rows that stay made, for the next letter

  const upper = (name) => {
    const text = tr(name);
    return text.charAt(0).toUpperCase() + text.slice(1);
  };

  const element = (name, className, ...inside) => {
    const made = document.createElement(name);
    if (className) made.className = className;
    made.append(...inside);
    return made;
  };

  // Its yarns side by side: one element, for rows are made anew at every letter.
  const ribbon = (colours) => {
    const made = element("span", "ribbon");
    made.setAttribute("aria-hidden", "true");
    const share = 100 / colours.length;
    const bands = colours.map((colour, at) => `${colour} ${at * share}% ${(at + 1) * share}%`);
    made.style.background = `linear-gradient(to right, ${bands.join(", ")})`;
    return made;
  };

  document.foundPatterns = (cards, index) => {
    const folder = index.slice(0, index.lastIndexOf("/") + 1); // of all patterns
    const own = document.querySelectorAll(".part-note, .parts");
    const list = element("ul", "found");
    list.setAttribute("role", "list");
    const more = element("button", "", tr("Show more patterns"));
    more.type = "button";
    const box = element("div", "found-box", list, more);
    box.hidden = true;
    cards.before(box);

    const made = new Map();
    const row = (one) => {
      let item = made.get(one);
      if (item) return item;
      const link = element("a", "", one.title);
      link.href = `${folder}${encodeURIComponent(one.slug)}/index.html`;
      const access = element("span", `access ${one.access}`, one.cost || tr("Free"));
      const facts = [one.kind, one.level].filter(Boolean).map(upper).join(" · ");
      item = element("li", "found-row", ribbon(one.shades),
        element("p", "found-title", link), element("p", "found-facts", access, ` ${facts}`),
        element("p", "found-summary", one.summary));
      if (made.size >= KEPT) made.clear();
      made.set(one, item);
      return item;
    };

    let shown = []; // rows
    let [all, fit, put] = [[], [], 0]; // all patterns, the places of those that fit, how many are shown
    const next = (number) => {
      const rows = [...fit.subarray(put, put + number)].map((at) => row(all[at]));
      put += rows.length;
      more.hidden = put >= fit.length;
      return rows;
    };
    more.addEventListener("click", () => {
      const rows = next(MORE);
      list.append(...rows);
      rows[0].querySelector("a").focus(); // where reading goes on
    });

    const turn = (found) => {
      box.hidden = !found;
      for (const part of own) part.hidden = found;
      cards.inert = found;
      cards.classList.toggle("away", found); // laid out still, so that they are back at once
    };
    return {
      show: (patterns, places) => {
        [all, fit, put] = [patterns, places, 0];
        const rows = next(AT_FIRST);
        if (rows.length !== list.children.length || rows.some((one, at) => one !== shown[at])) list.replaceChildren(...rows);
        shown = rows;
        if (box.hidden) turn(true);
      },
      away: () => {
        if (!box.hidden) turn(false);
      },
    };
  };
})();
