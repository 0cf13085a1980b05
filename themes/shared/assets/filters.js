// Filters and order for the catalogue. What is chosen stands in the address, after the #, so that
// it can be shared; a live count tells how many patterns are left.
(() => {
  "use strict";

  const { tr, trn } = document.words;

  const place = document.querySelector('[data-tool="catalogue-filters"]');
  const cards = [...document.querySelectorAll("li.card")];
  if (!place || !cards.length) return;

  const words = (text) => (text || "").split(/\s+/).filter(Boolean);
  const upper = (name) => {
    const text = tr(name.replace(/-/g, " "));
    return text.charAt(0).toUpperCase() + text.slice(1);
  };
  const WEIGHTS = [tr("lace"), tr("super fine"), tr("fine"), tr("light"), tr("medium"), tr("bulky"), tr("super bulky"),
    tr("jumbo")];
  const HOURS = [1, 2, 4, 8];

  const equal = (name) => (card, value) => card.dataset[name] === value;
  const among = (name) => (card, value) => words(card.dataset[name]).includes(value);
  const fields = [
    { name: "access", label: tr("Free or paid"), fits: equal("access") },
    { name: "kind", label: tr("What it is"), fits: equal("kind") },
    { name: "bed", label: tr("Bed"), fits: equal("bed") },
    { name: "needles", label: tr("Needles"), fits: equal("needles"), say: (value) => trn(Number(value), "{number} needle", "{number} needles") },
    { name: "weight", label: tr("Yarn class"), fits: among("weight"),
      say: (value) => (WEIGHTS[value] ? `${value}, ${WEIGHTS[value]}` : value), many: true },
    { name: "colours", label: tr("Colour"), fits: among("colours"), many: true },
    { name: "size", label: tr("Size"), fits: equal("size") },
    { name: "time", label: tr("Time to make"), say: (value) => tr("up to {hours} h", { hours: value }),
      fits: (card, value) => Number(card.dataset.minutes) <= value * 60,
      values: HOURS.map(String) },
  ];
  const text = (name) => (one, two) => (one.dataset[name] || "").localeCompare(two.dataset[name] || "");
  const figure = (name) => (one, two) => (Number(one.dataset[name]) || 0) - (Number(two.dataset[name]) || 0);
  let published = [...cards]; // as the page has them: the newest first
  const orders = {
    "": [tr("newest first"), (one, two) => published.indexOf(one) - published.indexOf(two)],
    changed: [tr("last changed first"), (one, two) => text("updated")(two, one)],
    title: [tr("by title"), text("title")],
    time: [tr("quickest first"), figure("minutes")],
    price: [tr("by price, free first"), figure("price")],
  };

  const valuesOf = ({ name, many, values }) => {
    const there = cards.flatMap(({ dataset }) => (many ? words(dataset[name]) : dataset[name] || []));
    return values || [...new Set(there)].sort((one, two) =>
      one.localeCompare(two, undefined, { numeric: true }));
  };

  const form = document.createElement("form");
  form.className = "tool-fields";
  const add = (name, label, options) => {
    const wrap = document.createElement("label");
    const select = document.createElement("select");
    select.name = name;
    for (const [value, said] of options) select.add(new Option(said, value));
    wrap.append(label, " ", select);
    form.append(wrap);
    return select;
  };

  const shown = fields.filter((field) => {
    const values = valuesOf(field).filter((value) => cards.some((card) => field.fits(card, value)));
    // A choice that every card fits tells nothing apart.
    const apart = values.filter((value) => !cards.every((card) => field.fits(card, value)));
    if (!apart.length) return false;
    const say = field.say || upper;
    field.select = add(field.name, field.label, [["", tr("any")], ...values.map((value) => [value, say(value)])]);
    return true;
  });
  const order = add("sort", tr("Order"), Object.entries(orders).map(([value, [said]]) => [value, said]));

  const count = document.createElement("p");
  count.setAttribute("role", "status");
  const reset = document.createElement("button");
  reset.type = "button";
  reset.textContent = tr("Show all patterns");
  const line = document.createElement("div");
  line.className = "tool-line";
  line.append(count, reset);

  const chosen = () => [...shown.map(({ name, select }) => [name, select.value]), ["sort", order.value]]
    .filter(([, value]) => value);

  const show = () => {
    let fitting = 0;
    for (const card of cards) {
      const fits = shown.every(({ select, fits: test }) => !select.value || test(card, select.value));
      card.hidden = !fits;
      fitting += fits;
    }
    const [, by] = orders[order.value] || orders[""];
    const sorted = [...cards].sort(by);
    if (sorted.some((card, at) => card !== cards[at])) {
      const list = cards[0].parentElement;
      list.append(...sorted);
      cards.splice(0, cards.length, ...sorted);
    }
    const all = cards.length;
    count.textContent = fitting === all ? trn(all, "All {number} pattern.", "All {number} patterns.") :
      fitting ? trn(all, "{fitting} of {number} pattern.", "{fitting} of {number} patterns.", { fitting }) :
        trn(all, "None of the {number} pattern fits all of these.", "None of the {number} patterns fits all of these.");
    reset.hidden = !chosen().length;
  };

  const read = () => {
    const state = new URLSearchParams(location.hash.slice(1));
    for (const select of [...shown.map((field) => field.select), order]) {
      const value = state.get(select.name) || "";
      select.value = [...select.options].some((option) => option.value === value) ? value : "";
    }
    show();
  };

  const write = () => {
    show();
    const state = String(new URLSearchParams(chosen()));
    history.replaceState(null, "", state ? `#${state}` : location.pathname + location.search);
  };

  form.addEventListener("change", write);
  form.addEventListener("submit", (event) => event.preventDefault());
  reset.addEventListener("click", () => {
    form.reset();
    write();
    form.querySelector("select").focus();
  });
  window.addEventListener("hashchange", read);
  document.addEventListener("stripewright:changed", () => { // the preview, after a save
    const now = [...document.querySelectorAll("li.card")];
    published = [...now.filter((card) => !cards.includes(card)), ...published.filter((card) => card.isConnected)];
    cards.splice(0, cards.length, ...now);
    show();
  });

  // Folded away on a phone, where the patterns come first; open where there is room, or in use.
  const fold = document.createElement("details");
  const head = document.createElement("summary");
  head.textContent = tr("Filter and sort");
  fold.append(head, form);
  place.append(fold, line);
  read();
  fold.open = chosen().length > 0 || window.matchMedia("(min-width: 60rem)").matches;
})();
