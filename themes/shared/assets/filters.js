// Search, filters and order for the catalogue. What is chosen stands in the address, after the #, so
// that it can be shared; a live count tells how many patterns are left. A page that holds every
// pattern shows its cards; one that holds a part of them shows what is found of all, from the list
// that search.js reads. That list comes when the search field, or on such a part any field, is used.
(() => {
  "use strict";

  const { tr, trn } = document.words;

  const place = document.querySelector('[data-tool="catalogue-filters"]');
  const cards = [...document.querySelectorAll("li.card")];
  if (!place || !cards.length) return;
  // What there is to choose among all patterns, where this page holds a part of them.
  const whole = document.getElementById("choices");
  const choices = whole && JSON.parse(whole.textContent);

  const words = (text) => (text || "").split(/\s+/).filter(Boolean);
  const upper = (name) => {
    const text = tr(name.replace(/-/g, " "));
    return text.charAt(0).toUpperCase() + text.slice(1);
  };
  const WEIGHTS = [tr("lace"), tr("super fine"), tr("fine"), tr("light"), tr("medium"), tr("bulky"), tr("super bulky"),
    tr("jumbo")];
  const HOURS = [1, 2, 4, 8];
  const QUIET = 400; // ms without a letter until the address tells what was typed

  // ---- the patterns -------------------------------------------------------------------------------
  const ofCard = (card) => {
    const { dataset } = card;
    const link = card.querySelector("a[href]");
    return {
      ...dataset, card,
      slug: link ? decodeURIComponent(link.getAttribute("href").split("/").at(-2) || "") : "",
      weight: words(dataset.weight), colours: words(dataset.colours),
      minutes: Number(dataset.minutes) || 0, price: Number(dataset.price) || 0,
    };
  };
  let items = choices ? [] : cards.map(ofCard); // as the page has them: the newest first
  let list = null; // what search.js read
  let numbers = new Map(); // slug -> number in the list

  const equal = (name) => (item, value) => item[name] === value;
  const among = (name) => (item, value) => item[name].includes(value);
  const fields = [
    { name: "access", label: tr("Free or paid"), fits: equal("access") },
    { name: "kind", label: tr("What it is"), fits: equal("kind") },
    { name: "bed", label: tr("Bed"), fits: equal("bed") },
    { name: "needles", label: tr("Needles"), fits: equal("needles"), say: (value) => trn(Number(value), "{number} needle", "{number} needles") },
    { name: "weight", label: tr("Yarn class"), fits: among("weight"),
      say: (value) => (WEIGHTS[value] ? `${value}, ${WEIGHTS[value]}` : value) },
    { name: "colours", label: tr("Colour"), fits: among("colours") },
    { name: "size", label: tr("Size"), fits: equal("size") },
    { name: "time", label: tr("Time to make"), say: (value) => tr("up to {hours} h", { hours: value }),
      fits: (item, value) => item.minutes <= value * 60 },
  ];
  const text = (name) => (one, two) => String(one[name] || "").localeCompare(String(two[name] || ""));
  const figure = (name) => (one, two) => one[name] - two[name];
  const orders = {
    "": [tr("newest first"), () => 0],
    changed: [tr("last changed first"), (one, two) => (choices ? figure : text)("updated")(two, one)],
    title: [tr("by title"), text("title")],
    time: [tr("quickest first"), figure("minutes")],
    price: [tr("by price, free first"), figure("price")],
  };

  // ---- the fields ---------------------------------------------------------------------------------
  const HOURS_TOLD = HOURS.map(String);
  // Values that some pattern has; a field whose every choice fits all patterns tells nothing apart.
  const valuesOf = (field) => {
    if (choices) {
      const [quickest, slowest] = choices.minutes;
      const there = field.name === "time" ? HOURS_TOLD.filter((hours) => quickest <= hours * 60) : choices[field.name];
      const apart = field.name === "time" ? there.some((hours) => slowest > hours * 60) : there.length > 1;
      return apart ? there : [];
    }
    const all = field.name === "time" ? HOURS_TOLD : [...new Set(items.flatMap((item) => item[field.name] || []))];
    const there = all.filter((value) => items.some((item) => field.fits(item, value)));
    return there.some((value) => !items.every((item) => field.fits(item, value))) ? there : [];
  };
  const byNumber = (one, two) => one.localeCompare(two, undefined, { numeric: true });

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
    const values = [...valuesOf(field)].sort(byNumber);
    if (!values.length) return false;
    const say = field.say || upper;
    field.select = add(field.name, field.label, [["", tr("any")], ...values.map((value) => [value, say(value)])]);
    return true;
  });
  const order = add("sort", tr("Order"), Object.entries(orders).map(([value, [said]]) => [value, said]));

  const search = document.createElement("form");
  search.className = "tool-search";
  search.setAttribute("role", "search");
  const field = document.createElement("input");
  Object.assign(field, { type: "search", name: "q", autocomplete: "off", spellcheck: false, maxLength: 100, enterKeyHint: "search" });
  const named = document.createElement("label");
  named.append(tr("Search patterns"), " ", field);
  search.append(named);

  const count = document.createElement("p");
  count.setAttribute("role", "status");
  count.setAttribute("aria-live", "polite");
  const reset = document.createElement("button");
  reset.type = "button";
  reset.textContent = tr("Show all patterns");
  const line = document.createElement("div");
  line.className = "tool-line";
  line.append(count, reset);

  const chosen = () => [["q", field.value.trim()], ...shown.map(({ name, select }) => [name, select.value]), ["sort", order.value]]
    .filter(([, value]) => value);

  // ---- what is shown ------------------------------------------------------------------------------
  const SPAN = 2 ** 20; // more than any list has patterns
  const ranks = new Map(); // order -> the rank of each pattern in it
  const ranksOf = (name) => {
    if (!ranks.has(name)) {
      const [, by] = orders[name] || orders[""];
      const sorted = items.map((_, at) => at).sort((one, two) => by(items[one], items[two]) || one - two);
      const rank = new Float64Array(items.length);
      sorted.forEach((at, nth) => { rank[at] = nth; });
      ranks.set(name, rank);
    }
    return ranks.get(name);
  };

  // The patterns that fit, by number, in order: as chosen, else the best match first.
  const fitting = (found) => {
    const asked = shown.filter(({ select }) => select.value);
    const scoreOf = (at) => found.scores[choices ? at : numbers.get(items[at].slug)] || 0;
    const rank = found && !order.value ? null : ranksOf(order.value);
    const keys = new Float64Array(items.length);
    let number = 0;
    for (let at = 0; at < items.length; at += 1) {
      const score = found ? scoreOf(at) : 1;
      if (!score || !asked.every(({ select, fits }) => fits(items[at], select.value))) continue;
      keys[number] = (rank ? rank[at] : Math.round(1e6 - score * 1000)) * SPAN + at;
      number += 1;
    }
    const places = new Uint32Array(number);
    keys.subarray(0, number).sort().forEach((key, nth) => { places[nth] = key % SPAN; });
    return places;
  };

  const showCards = (fit, byMatch) => {
    const fits = new Set(fit);
    items.forEach(({ card }, at) => { card.hidden = !fits.has(at); });
    const all = [...items.keys()];
    const rank = byMatch ? null : ranksOf(order.value);
    const sorted = rank ? all.sort((one, two) => rank[one] - rank[two]) : [...new Set([...fit, ...all])];
    const wanted = sorted.map((at) => items[at].card);
    const parent = items[0].card.parentElement;
    if (wanted.some((card, at) => card !== parent.children[at])) parent.append(...wanted);
  };

  const rows = choices && document.foundPatterns(cards[0].parentElement, place.dataset.index);

  const told = (number, found) => {
    const all = choices ? choices.total : items.length;
    if (found && found.close && number) {
      return trn(all, "Nothing begins exactly like that. {fitting} of {number} pattern comes close.",
        "Nothing begins exactly like that. {fitting} of {number} patterns come close.", { fitting: number });
    }
    if (found && !found.scores.some(Boolean)) {
      return tr("Nothing found for “{words}”. Try fewer words, or only their beginnings.", { words: field.value.trim() });
    }
    return number === all ? trn(all, "All {number} pattern.", "All {number} patterns.") :
      number ? trn(all, "{fitting} of {number} pattern.", "{fitting} of {number} patterns.", { fitting: number }) :
        trn(all, "None of the {number} pattern fits all of these.", "None of the {number} patterns fits all of these.");
  };

  const show = () => {
    const wanted = chosen();
    const text = field.value.trim();
    reset.hidden = !wanted.length;
    order.options[0].text = text ? tr("best match") : tr("newest first");
    if (choices && !wanted.length) {
      rows.away();
      count.textContent = told(choices.total, null);
      return;
    }
    if (!list && (text || choices)) {
      count.textContent = tr("Searching…");
      fetchList();
      return;
    }
    const found = text ? list.find(text) : null;
    const fit = fitting(found);
    if (choices) rows.show(items, fit);
    else showCards(fit, found && !order.value);
    count.textContent = told(fit.length, found);
  };

  // ---- the list of all ----------------------------------------------------------------------------
  let fetched = ""; // the address that the list is asked for by
  const fetchList = () => {
    const { index } = place.dataset;
    if (!index || fetched === index) return;
    fetched = index;
    document.search(index).then((read) => {
      if (fetched !== index) return; // a newer one was asked for meanwhile
      list = read;
      numbers = new Map(read.patterns.map(({ slug }, at) => [slug, at]));
      if (choices) items = read.patterns;
      ranks.clear();
      if (chosen().length) show();
    }, () => {
      fetched = "";
      count.textContent = tr("The list to search in did not come. Try again in a moment.");
    });
  };

  // ---- the address ----------------------------------------------------------------------------------
  const write = () => {
    clearTimeout(write.later);
    const state = String(new URLSearchParams(chosen()));
    const now = state ? `#${state}` : location.pathname + location.search;
    if (state !== location.hash.slice(1)) history.replaceState(null, "", now);
  };

  const read = () => {
    const state = new URLSearchParams(location.hash.slice(1));
    field.value = place.dataset.index ? state.get("q") || "" : "";
    for (const select of [...shown.map((one) => one.select), order]) {
      const value = state.get(select.name) || "";
      select.value = [...select.options].some((option) => option.value === value) ? value : "";
    }
    show();
  };

  const changed = () => {
    show();
    write();
  };

  form.addEventListener("change", changed);
  form.addEventListener("submit", (event) => event.preventDefault());
  search.addEventListener("submit", (event) => {
    event.preventDefault();
    write();
    if (window.matchMedia("(pointer: coarse)").matches) field.blur(); // the keys on the screen go, the finds stay
  });
  field.addEventListener("focus", fetchList);
  field.addEventListener("input", () => {
    show();
    clearTimeout(write.later);
    write.later = setTimeout(write, QUIET); // browsers refuse an address that changes at every letter
  });
  field.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !field.value) return;
    event.preventDefault();
    field.value = "";
    changed();
  });
  document.addEventListener("click", () => write.later && write(), true); // so that "back" leads to what was found
  reset.addEventListener("click", () => {
    form.reset();
    search.reset();
    changed();
    (place.dataset.index ? field : form.querySelector("select")).focus();
  });
  window.addEventListener("hashchange", read);
  document.addEventListener("stripewright:changed", () => { // the preview, after a save
    const { index } = place.dataset;
    if (list && fetched !== index) list = null;
    if (!choices) {
      const now = [...document.querySelectorAll("li.card")].map(ofCard);
      const before = new Map(items.map((item, at) => [item.card, at]));
      items = now.sort((one, two) => (before.get(one.card) ?? -1) - (before.get(two.card) ?? -1));
    }
    ranks.clear();
    show();
  });

  // Folded away on a phone, where the patterns come first; open where there is room, or in use.
  const fold = document.createElement("details");
  const head = document.createElement("summary");
  head.textContent = tr("Filter and sort");
  fold.append(head, form);
  if (place.dataset.index) place.append(search);
  place.append(fold, line);
  read();
  fold.open = chosen().some(([name]) => name !== "q") || window.matchMedia("(min-width: 60rem)").matches;
})();
