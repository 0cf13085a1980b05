// Own units and words: cm or in, g or oz, m or yd; tension or gauge, cast off or bind off,
// colour or color. As the page was written until the reader chooses; remembered on this device.
(() => {
  "use strict";

  const { tr } = document.words;

  const places = document.querySelectorAll('[data-tool="units"]');

  // Exact by definition (international yard and pound, 1959): 1 in, 1 yd, 1 oz.
  const CM_PER_IN = 2.54;
  const M_PER_YD = 0.9144;
  const G_PER_OZ = 28.349523125;

  const QUANTITIES = [
    { name: "cm", label: tr("Sizes"), units: ["cm", "in"], per: CM_PER_IN },
    { name: "g", label: tr("Weights"), units: ["g", "oz"], per: G_PER_OZ },
    { name: "m", label: tr("Yarn lengths"), units: ["m", "yd"], per: M_PER_YD },
  ];

  const WORDS = {
    tension: [["tension", "gauge"]],
    cast_off: [["casting off", "binding off"], ["casts off", "binds off"], ["cast off", "bind off"],
      ["cast-off", "bind-off"]],
    colour: [["colour", "color"]],
  };

  // Each text as it was written, and as it is shown now. A preview changes some after a save.
  const written = new Map();
  const collect = () => {
    for (const span of document.querySelectorAll(".measure, .term")) {
      const { now } = written.get(span) || {};
      if (now !== span.textContent) written.set(span, { text: span.textContent });
    }
  };
  collect();
  if (!written.size) return;

  let choice = document.kept.get("units") || {};

  // The page writes "38.2 cm (15 in)": one of the two is taken as it stands, so that it is rounded
  // as the drawings and the paper are; where it has only one, the other is worked out.
  const measured = (span, text, quantity, unit) => {
    const parts = text.replace(/\)$/, "").split(" (");
    const there = parts.find((part) => part.endsWith(` ${unit}`) || part.endsWith(`\u00a0${unit}`));
    if (there) return there;
    const value = Number(span.dataset[quantity.name]);
    const shown = unit === quantity.units[1] ? value / quantity.per : value;
    return `${Number(shown.toFixed(shown < 10 || unit === "cm" ? 1 : 0))} ${unit}`;
  };

  const worded = (text, pairs, to) => {
    for (const pair of pairs) {
      for (const word of pair) {
        const at = text.toLowerCase().indexOf(word);
        if (at < 0) continue;
        const other = pair[to];
        const upper = text[at] !== text[at].toLowerCase();
        return text.slice(0, at) + (upper ? other[0].toUpperCase() + other.slice(1) : other) +
          text.slice(at + word.length);
      }
    }
    return text;
  };

  const show = () => {
    for (const [span, said] of written) {
      const { text } = said;
      const quantity = QUANTITIES.find(({ name }) => span.dataset[name] !== undefined);
      let now = text;
      if (quantity && quantity.units.includes(choice[quantity.name])) {
        now = measured(span, text, quantity, choice[quantity.name]);
      } else if (WORDS[span.dataset.term] && (choice.words === "uk" || choice.words === "us")) {
        now = worded(text, WORDS[span.dataset.term], choice.words === "us" ? 1 : 0);
      }
      said.now = now;
      if (span.textContent !== now) span.firstChild.nodeValue = now; // the same node, which a preview knows
    }
  };

  const choose = (name, value) => {
    choice = { ...choice, [name]: value };
    document.kept.set("units", choice);
    show();
  };

  const field = (name, label, options) => {
    const wrap = document.createElement("label");
    const select = document.createElement("select");
    select.name = name;
    for (const [value, text] of options) select.add(new Option(text, value));
    select.value = options.some(([value]) => value === choice[name]) ? choice[name] : "";
    select.addEventListener("change", () => choose(name, select.value));
    wrap.append(label, " ", select);
    return wrap;
  };

  const fill = (place) => {
    const details = document.createElement("details");
    const summary = document.createElement("summary");
    summary.textContent = tr("Units and words");
    const fields = document.createElement("div");
    fields.className = "tool-fields";
    for (const { name, label, units } of QUANTITIES) {
      if (!document.querySelector(`.measure[data-${name}]`)) continue;
      fields.append(field(name, label, [["", tr("as written")], ...units.map((unit) => [unit, unit])]));
    }
    if (document.querySelector(".term[data-term]")) {
      fields.append(field("words", tr("Words"), [["", tr("as written")], ["uk", "tension, cast off, colour"],
        ["us", "gauge, bind off, color"]]));
    }
    details.append(summary, fields);
    place.append(details);
  };

  document.addEventListener("stripewright:changed", () => {
    collect();
    show();
  });

  show();
  for (const place of places) fill(place);
})();
