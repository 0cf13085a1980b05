// Own colours: the reader swaps a yarn's colour by picker or by name, and drawings, strip, plan and
// shopping list follow. The choice stands in the address after the #, to share, and on this device.
(() => {
  "use strict";

  const { tr, trn } = document.words;

  const place = document.querySelector('[data-tool="own-colours"]');
  const slug = document.body.dataset.slug;
  const materials = () => [...document.querySelectorAll(".materials li[data-letter]")];
  if (!place || !slug || !materials().length) return;

  const name = `colours/${slug}`;
  const root = document.documentElement;
  const gather = (items) => [...new Map(items.map((item) => [item.dataset.letter, {
    letter: item.dataset.letter,
    small: item.dataset.letter.toLowerCase(),
    name: item.dataset.name,
    original: item.dataset.colour.toLowerCase(),
    colour: item.dataset.colour.toLowerCase(),
    items: items.filter(({ dataset }) => dataset.letter === item.dataset.letter),
  }])).values()];
  let yarns = gather(materials());

  // ---- colours and their names: of the named colours of CSS Color 4; the browser takes the others too --
  const NAMES = ("aquamarine beige black blue brown cadetblue chocolate coral crimson darkblue " +
    "darkgoldenrod darkgreen darkkhaki darkmagenta darkolivegreen darkorange darkorchid " +
    "darkred darkseagreen darkslategray deeppink dimgray dodgerblue firebrick forestgreen " +
    "gold goldenrod gray green hotpink indianred indigo ivory khaki lavender lightblue " +
    "lightcoral lightgray lightgreen lightpink lime limegreen linen maroon mediumpurple " +
    "mediumseagreen mediumvioletred midnightblue navy olive olivedrab orange orangered " +
    "orchid palegreen palevioletred peachpuff peru pink plum purple rebeccapurple red " +
    "rosybrown royalblue saddlebrown salmon seagreen sienna silver skyblue slateblue " +
    "slategray steelblue tan teal thistle tomato turquoise violet wheat white yellow").split(" ");

  const ink = document.createElement("canvas").getContext("2d");
  const hexOf = (text) => {
    const asked = text.trim().toLowerCase();
    for (const colour of [asked, asked.replace(/\s+/g, ""), `#${asked}`]) {
      const [one, two] = ["#000", "#fff"].map((before) => {
        ink.fillStyle = before; // stays when the next line is no colour
        ink.fillStyle = colour;
        return ink.fillStyle;
      });
      if (one === two && /^#[0-9a-f]{6}$/.test(one)) return one;
    }
    return null;
  };
  const apart = (one, two) => {
    const detail = { colours: [one, two] };
    document.dispatchEvent(new CustomEvent("stripewright:difference", { detail }));
    return detail.seen;
  };
  const nameOf = (hex) => {
    const nearest = NAMES.map((name) => [apart(hex, hexOf(name)).normal, name]).sort(([a], [b]) => a - b)[0];
    return nearest[0] === 0 ? nearest[1] : tr("near {name}", { name: nearest[1] });
  };

  // ---- which stripes lie side by side -----------------------------------------------------------
  const neighbours = () => {
    const runs = [...document.querySelectorAll("table.plan")].map((table) =>
      [...table.querySelectorAll("[data-letter]")].map((row) => row.dataset.letter));
    if (!runs.length) { // a paid pattern's page has no plan: its strip shows the order of colours
      const strip = document.querySelector(".strip svg, svg.strip");
      const bands = strip ? [...strip.querySelectorAll('[class^="yarn-"]')] : [];
      runs.push(bands.map((band) => band.getAttribute("class").split(/[ -]/)[1].toUpperCase()));
    }
    const pairs = new Map();
    for (const run of runs) {
      run.forEach((letter, at) => {
        const two = [run[at - 1], letter].sort();
        if (at && two[0] !== two[1]) pairs.set(two.join(), two);
      });
    }
    return [...pairs.values()];
  };
  let pairs = neighbours();
  const ways = [];
  const wayNames = new Map([...document.querySelectorAll(".colourway [data-of]")].map(({ dataset }) => [dataset.of, dataset.name]));

  // CIEDE2000 below which stripes side by side merge at arm's length; common practice, no source.
  const LEAST = { normal: 10, protan: 10, deutan: 10, tritan: 10, grey: 6 };
  const EYES = { normal: tr("anyone"), protan: tr("readers without red cones"),
    deutan: tr("readers without green cones"), tritan: tr("readers without blue cones"),
    grey: tr("anyone with a black-and-white print") };

  const merging = () => pairs.flatMap((two) => {
    const [one, other] = two.map((letter) => yarns.find((yarn) => yarn.letter === letter));
    if (!one || !other) return [];
    const seen = apart(one.colour, other.colour);
    const near = Object.keys(EYES).filter((eyes) => seen[eyes] < LEAST[eyes]);
    if (!near.length) return [];
    const who = near.includes("normal") ? EYES.normal : near.map((eyes) => EYES[eyes]).join(tr(" and "));
    return [tr("{one} and {other} lie side by side and can hardly be told apart by {who}.",
      { one: one.letter, other: other.letter, who })];
  });

  // ---- showing ----------------------------------------------------------------------------------
  const sheet = new CSSStyleSheet();
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];

  const swapped = () => yarns.filter((yarn) => yarn.colour !== yarn.original);

  const show = () => {
    const own = swapped();
    for (const yarn of yarns) {
      const mine = own.includes(yarn);
      if (mine) root.style.setProperty(`--yarn-${yarn.small}`, yarn.colour);
      else root.style.removeProperty(`--yarn-${yarn.small}`);
      const name = mine ? nameOf(yarn.colour) : "";
      for (const item of yarn.items) {
        const said = item.querySelector(".own-colour");
        if (said) said.remove();
        if (!mine) continue;
        const span = document.createElement("span");
        span.className = "own-colour";
        const given = wayNames.get(`${yarn.small}.${yarn.colour.slice(1)}`);
        const told = given ? tr("in this colourway: {name}", { name: given }) : tr("in your colour: {name} ({hex})", { name, hex: yarn.colour });
        span.textContent = ` ${told}`;
        item.append(span);
      }
      yarn.picker.value = yarn.colour;
      if (document.activeElement !== yarn.named) yarn.named.value = mine ? NAMES.find((one) => name.endsWith(one)) || "" : "";
    }
    sheet.replaceSync(own.map(({ small }) => 
      `.yarn-${small}:not(.colourway *){fill:var(--yarn-${small})}.yarn-${small}-line:not(.colourway *){stroke:var(--yarn-${small})}`).join(""));
    for (const box of ways) box.checked = box.value === written();
    root.classList.toggle("own-colours", own.length > 0);
    reset.hidden = !own.length;
    share.hidden = !own.length;
    const notes = merging();
    warning.replaceChildren(...notes.map((note) => {
      const line = document.createElement("p");
      line.textContent = note;
      return line;
    }));
  };

  const written = () => swapped().map(({ small, colour }) => `${small}.${colour.slice(1)}`).join("_");

  const read = (text) => {
    const found = new Map((text || "").split("_").map((part) => part.split(".")));
    for (const yarn of yarns) {
      const hex = found.get(yarn.small) || "";
      yarn.colour = /^[0-9a-f]{6}$/i.test(hex) ? `#${hex.toLowerCase()}` : yarn.original;
    }
  };

  const keep = () => {
    const state = written();
    document.kept.set(name, state || undefined); // where it won't last, the address keeps them
    const said = new URLSearchParams(location.hash.slice(1)); // somebody's own machine, and in which size
    const others = ["own", "size"].filter((one) => said.get(one)).map((one) => `${one}=${said.get(one)}`);
    const parts = [...others, state ? `colours=${state}` : ""].filter(Boolean).join("&");
    history.replaceState(null, "", parts ? `#${parts}` : location.pathname + location.search);
    show();
  };

  const inAddress = () => new URLSearchParams(location.hash.slice(1)).get("colours");

  // ---- what the reader uses ---------------------------------------------------------------------
  const el = (tag, attributes, ...inside) => {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...inside);
    return made;
  };
  const press = (text, act) => {
    const made = el("button", { type: "button" }, text);
    made.addEventListener("click", act);
    return made;
  };

  const names = el("datalist", { id: "colour-names" }, ...NAMES.map((name) => el("option", { value: name })));
  const warning = el("div", { class: "tool-warning", role: "status" });
  const reset = press(tr("Original colours"), () => {
    for (const yarn of yarns) yarn.colour = yarn.original;
    keep();
    yarns[0].picker.focus();
  });
  const address = el("input", { readonly: "", "aria-label": tr("Address of your colours") });
  const said = el("span", { role: "status" });
  address.hidden = true;
  const share = el("span", { class: "tool-share" }, press(tr("Copy address"), async () => {
    address.value = `${location.href.split("#")[0]}#colours=${written()}`;
    try {
      await navigator.clipboard.writeText(address.value);
      said.textContent = tr("Address copied.");
    } catch {
      address.hidden = false; // not allowed, or no clipboard here: the reader copies it by hand
      address.select();
      said.textContent = tr("Here it is to copy by hand.");
    }
  }), press(tr("Print in these colours"), () => {
    root.classList.add("print-in-colour"); // hatches are for black-and-white prints
    window.addEventListener("afterprint", () => root.classList.remove("print-in-colour"), { once: true });
    window.print();
  }));

  const fields = el("div", { class: "own-fields" });
  const field = (yarn) => {
    yarn.picker = el("input", { type: "color", "aria-label": tr("{yarn}: pick a colour", { yarn: `${yarn.letter} ${yarn.name}` }) });
    yarn.named = el("input", { list: names.id, placeholder: tr("or its name"), autocomplete: "off",
      spellcheck: "false", "aria-label": tr("{yarn}: colour by name", { yarn: `${yarn.letter} ${yarn.name}` }) });
    yarn.picker.addEventListener("input", () => {
      yarn.colour = yarn.picker.value;
      keep();
    });
    yarn.named.addEventListener("change", () => {
      const hex = yarn.named.value.trim() ? hexOf(yarn.named.value) : yarn.original;
      yarn.named.setCustomValidity(hex ? "" : tr("Not a colour's name: try seagreen, or #2e8b57."));
      yarn.named.reportValidity();
      if (!hex) return;
      yarn.colour = hex;
      keep();
    });
    return el("div", { class: "own-field", role: "group", "aria-label": `${yarn.letter} ${yarn.name}` },
      el("span", {}, `${yarn.letter} ${yarn.name}`), yarn.picker, yarn.named);
  };
  place.append(fields, names, warning, el("p", { class: "tool-line" }, share, reset, said), address);

  // ---- colourways: the maker's own palettes, chosen at their pictures ------------------------------
  for (const [at, chooser] of document.querySelectorAll('[data-tool="colourways"]').entries()) { // one a size
    const choices = [[tr("As designed"), ""],
      ...[...chooser.parentElement.querySelectorAll(".colourway")].map(({ dataset }) => [dataset.title, dataset.colours])];
    chooser.append(el("fieldset", {}, el("legend", {}, tr("Show the page in")), ...choices.map(([title, value]) => {
      const box = el("input", { type: "radio", name: `colourway-${at}`, value });
      box.addEventListener("change", () => {
        read(value);
        keep();
      });
      ways.push(box);
      return el("label", {}, box, title);
    })));
  }

  const recall = () => {
    fields.replaceChildren(...yarns.map(field));
    read(inAddress() || document.kept.get(name));
    show();
  };
  recall();
  window.addEventListener("hashchange", () => {
    if (!inAddress()) return; // a jump to a step leaves the colours alone
    read(inAddress());
    show();
  });
  document.addEventListener("stripewright:changed", () => { // the preview, after a save
    for (const yarn of yarns) root.style.removeProperty(`--yarn-${yarn.small}`);
    yarns = gather(materials());
    pairs = neighbours();
    if (yarns.length) recall();
  });
})();
