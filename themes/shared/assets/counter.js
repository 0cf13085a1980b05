// Keep count: a full-screen row counter for the phone at the machine. The count is rows done, as
// the machine's own counter reads; it is kept for each piece on this device, and after each tap.
(() => {
  "use strict";

  const { tr, trn } = document.words;

  const place = document.querySelector('[data-tool="keep-count"]');
  const slug = document.body.dataset.slug;
  const SOON = 2; // rows before a change, or another event, at which the screen begins to warn

  // Of the size that the page shows; without a choice, of all.
  const read = () => [...document.querySelectorAll("table.plan[data-piece]")].flatMap((table) => {
    if (table.closest("[data-in-size][hidden]")) return [];
    const lines = [...table.querySelectorAll("[data-letter]")].map((row) => ({
      letter: row.dataset.letter,
      yarn: row.dataset.yarn,
      first: Number(row.dataset.first),
      last: Number(row.dataset.last),
    }));
    // What happens along the piece besides its changes: a slit, a fold, a stretch that repeats.
    const events = [...table.querySelectorAll("tr[data-event]")].map(({ dataset, lastElementChild }) => ({
      kind: dataset.event,
      at: Number(dataset.at),
      until: Number(dataset.until),
      times: Number(dataset.times),
      title: dataset.title,
      text: lastElementChild.textContent.trim(),
    }));
    const { piece, title, size } = table.dataset;
    const make = Number(table.dataset.make) || 1;
    return !lines.length ? [] : Array.from({ length: make }, (_, at) => ({
      key: [size, piece, make > 1 ? at + 1 : ""].filter(Boolean).join("/"),
      title: title + (make > 1 ? tr(", {number} of {all}", { number: at + 1, all: make }) : "") + (size ? ` (${size.replace(/-/g, " ")})` : ""),
      lines,
      stops: events.filter(({ kind }) => !kind.startsWith("repeat")),
      repeats: events.filter(({ kind }) => kind === "repeat"),
      rows: lines[lines.length - 1].last,
      // A corrected pattern may have other rows than those counted: told, when it is so.
      print: [...lines.map((line) => line.letter + line.last), ...events.map(({ kind, at }) => kind + at)].join(" "),
    }));
  });
  let pieces = read();
  if (!place || !slug || !pieces.length || !window.HTMLDialogElement) return;

  // ---- what is kept -------------------------------------------------------------------------
  const home = `count/${slug}`;
  const keptAs = (piece) => `${home}/piece/${piece.key}`;
  let lasting = true;
  const keep = (name, value) => {
    lasting = document.kept.set(name, value);
  };

  const placeOf = (piece) => {
    const found = document.kept.get(keptAs(piece)) || {};
    const whole = (value) => Number.isInteger(value) && value >= 0 && value <= piece.rows;
    return {
      count: whole(found.count) ? found.count : 0,
      back: Array.isArray(found.back) ? found.back.filter(whole) : [],
      at: Number(found.at) || 0,
      changed: Boolean(found.print) && found.print !== piece.print,
    };
  };

  let piece = pieces.find(({ key }) => key === document.kept.get(`${home}/piece`)) || pieces[0];
  let now = placeOf(piece);

  // ---- small makers -------------------------------------------------------------------------
  const el = (tag, attributes, ...inside) => {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...inside);
    return made;
  };
  const svg = (tag, attributes, ...inside) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...inside);
    return made;
  };
  const press = (text, attributes, act) => {
    const made = el("button", { type: "button", ...attributes }, text);
    made.addEventListener("click", act);
    return made;
  };
  const rowsOf = (count) => trn(count, "{number} row", "{number} rows");

  const material = (letter) =>
    (document.querySelector(`.materials li[data-letter="${letter}"]`) || { dataset: {} }).dataset;
  const nameOf = (line) => material(line.letter).name || line.yarn;
  const colourOf = (letter) => material(letter).colour || "none";
  // A yarn's cloth: its colour, and over it the hatch that the drawings give its letter.
  const fabric = (letter, attributes, hatched = {}) => {
    const small = letter.toLowerCase();
    const hatch = document.querySelector(`pattern[id$="-h-${small}"]`);
    const shapes = [svg("rect", { ...attributes, class: `yarn-${small}`, fill: colourOf(letter) })];
    if (hatch) shapes.push(svg("rect", { ...attributes, fill: `url(#${hatch.id})`, ...hatched }));
    return shapes;
  };
  const whole = { width: "100%", height: "100%" };
  const swatch = (letter) => svg("svg", { class: "count-swatch", "aria-hidden": "true" },
    ...fabric(letter, whole, { x: "50%", width: "50%" }));

  // ---- the screen ---------------------------------------------------------------------------
  const opener = press(tr("Keep count"), { class: "tool-main" }, () => open());
  const stands = el("span", {});
  const keeps = el("p", { class: "tool-note" }, tr("Your place is kept on this device.")); // offline.js adds to it
  const title = el("select", { "aria-label": tr("Piece") });
  const only = el("span", {}); // instead of a choice of one

  const cloth = svg("svg", { class: "count-cloth", "aria-hidden": "true" });
  const ribbon = svg("svg", { class: "count-ribbon", "aria-hidden": "true", preserveAspectRatio: "none" });
  const part = (name) => el("span", { class: `count-${name}` });
  const [next, reading, round, digits, left, letter, yarn] =
    ["next", "reading", "round", "digits", "left", "letter", "yarn"].map(part);
  reading.textContent = "RC";
  const plate = el("span", { class: "count-plate", id: "count-plate" },
    reading, round, digits, left, letter, yarn);
  const tap = press("", { class: "count-tap", "aria-label": tr("Count a row"), "aria-describedby": "count-plate" },
    () => step(1));
  tap.append(cloth, ribbon, next, plate);

  const said = el("p", { class: "count-said", role: "status" });
  const note = el("p", { class: "count-note" });
  const todo = el("p", { class: "count-todo" }); // what to do at an event, before knitting on
  const undo = press(tr("Undo"), {}, () => undoLast());
  const back = press(tr("Back a row"), {}, () => step(-1));
  const hand = el("input", { type: "number", min: 0, max: piece.rows, inputmode: "numeric", "aria-label": tr("Rows done") });
  const setting = el("form", { class: "count-set" }, hand, el("button", {}, tr("Set")));
  const sets = press(tr("Set row"), { "aria-expanded": "false" }, () => showSetting(setting.hidden));
  setting.hidden = true;

  const close = press(tr("Close"), {}, () => dialog.close());
  const dialog = el("dialog", { class: "count", "aria-label": tr("Keep count") },
    el("div", { class: "count-bar" }, close, title, only),
    tap, todo, note, said, setting,
    el("div", { class: "count-bar" }, back, undo, sets));

  // ---- where the count stands ---------------------------------------------------------------
  const standing = () => {
    const stops = piece.stops.filter(({ at }) => at === now.count);
    const at = piece.lines.findIndex((line) => line.last > now.count);
    if (at < 0) return { state: "done", line: piece.lines[piece.lines.length - 1], left: 0, stops };
    const line = piece.lines[at];
    const ahead = piece.stops.find((stop) => stop.at > now.count && stop.at < line.last);
    const remain = line.last - now.count;
    const fresh = at > 0 && now.count === line.first - 1;
    const soon = (ahead ? ahead.at - now.count : remain) <= SOON;
    const state = fresh || stops.length ? "change" : soon ? "soon" : "knit";
    return { state, fresh, stops, ahead, line, left: remain, then: piece.lines[at + 1] };
  };

  // "Repeat 3 of 9", while a stretch that repeats is knitted.
  const repeating = () => {
    const block = piece.repeats.find(({ at, until }) => at <= now.count && now.count < until);
    if (!block) return "";
    const each = (block.until - block.at) / block.times;
    return tr("Repeat {number} of {times}",
      { number: Math.floor((now.count - block.at) / each) + 1, times: block.times });
  };

  const told = ({ state, fresh, stops, ahead, line, left: remain, then }) => {
    const events = stops.map(({ title, text }) => `${title}. ${text} `).join("");
    if (state === "done") return events + trn(piece.rows, "All {number} row done.", "All {number} rows done.");
    const after = then ? tr("then {yarn}", { yarn: `${then.letter} ${nameOf(then)}` }) : tr("then this piece is done");
    const head = fresh ? `${tr("Change to {yarn}.", { yarn: `${line.letter} ${nameOf(line)}` })} ` : "";
    const before = ahead ? tr("{number} to: {title}; ", { number: ahead.at - now.count, title: ahead.title }) : "";
    return `${events}${head}` + tr("{rows} done, {before}{left} left in {letter}, {after}.",
      { rows: rowsOf(now.count), before, left: remain, letter: line.letter, after });
  };

  const show = (aloud = true) => {
    const at = standing();
    dialog.dataset.state = at.state;
    cloth.replaceChildren(...fabric(at.line.letter, whole, { class: "hatch", visibility: "hidden" }));
    digits.textContent = String(now.count).padStart(3, "0");
    digits.dataset.size = digits.textContent.length;
    letter.replaceChildren(swatch(at.line.letter), at.line.letter);
    yarn.textContent = nameOf(at.line);
    left.textContent = at.state === "done" ? tr("Piece done") : at.fresh ? tr("Change now: {rows}", { rows: rowsOf(at.left) }) :
      at.stops.length ? at.stops.map((stop) => stop.title).join("; ") :
        at.ahead ? tr("{rows} to: {title}", { rows: rowsOf(at.ahead.at - now.count), title: at.ahead.title }) :
          tr("{rows} left", { rows: rowsOf(at.left) });
    round.textContent = repeating();
    todo.textContent = at.stops.map((stop) => (at.fresh ? `${stop.title}. ${stop.text}` : stop.text)).join(" ");
    next.replaceChildren(...(at.then ? [swatch(at.then.letter),
      tr("then {yarn}, {rows}", { yarn: `${at.then.letter} ${nameOf(at.then)}`,
        rows: rowsOf(at.then.last - at.then.first + 1) })] :
      [at.state !== "done" ? tr("then this piece is done") :
        pieces.length > 1 ? tr("Take the piece off, or choose the next") : tr("Take the piece off")]));
    ribbon.lastChild.setAttribute("y", piece.rows - now.count - ribbon.lastChild.getAttribute("height") / 2);
    undo.disabled = !now.back.length;
    back.disabled = now.count === 0;
    hand.max = piece.rows;
    stands.textContent = now.count ? tr("{piece}: {count} of {rows} done.", { piece: piece.title, count: now.count, rows: rowsOf(piece.rows) }) : "";
    note.textContent = [
      now.changed && tr("The pattern's rows have changed since you counted: check your place."),
      !lasting && tr("This browser keeps nothing: the count is lost when the page closes."),
    ].filter(Boolean).join(" ");
    if (aloud) said.textContent = told(at);
  };

  // The whole piece at the edge of the screen, cast-on edge at the bottom, with a mark at the count.
  const drawRibbon = () => {
    ribbon.setAttribute("viewBox", `0 0 1 ${piece.rows}`);
    const mark = Math.max(0.5, piece.rows / 90);
    ribbon.replaceChildren(...piece.lines.flatMap((line) => fabric(line.letter, {
      width: 1, y: piece.rows - line.last, height: line.last - line.first + 1,
    }).slice(0, 1)), svg("rect", { class: "count-mark", width: 1, height: mark }));
  };

  // Sound, vibration and the light of the screen are signals.js; shape is the style sheet's.
  const signal = (state) =>
    dialog.dispatchEvent(new CustomEvent("stripewright:count", { detail: { state } }));

  // ---- counting -----------------------------------------------------------------------------
  const save = () => {
    now.at = Date.now();
    keep(keptAs(piece), { count: now.count, back: now.back, at: now.at, print: piece.print });
  };

  const moveTo = (count) => {
    const to = Math.min(piece.rows, Math.max(0, count));
    if (to === now.count) return;
    now.back = [...now.back, now.count].slice(-100);
    now.count = to;
    save();
    show();
  };

  const step = (by) => {
    const before = now.count;
    moveTo(now.count + by);
    if (by > 0 && now.count !== before) signal(standing().state);
  };

  const undoLast = () => {
    if (!now.back.length) return;
    now.count = now.back.pop();
    save();
    show();
  };

  const take = (each) => {
    piece = each;
    now = placeOf(piece);
    drawRibbon();
    show();
  };

  const list = () => {
    title.replaceChildren(...pieces.map((each, at) => new Option(each.title, at)));
    title.value = pieces.indexOf(piece);
    title.hidden = pieces.length < 2;
    only.textContent = title.hidden ? piece.title : "";
  };

  // In the preview a save changes the page as it stands: the new plan is counted by.
  const renew = () => {
    const fresh = read();
    if (!fresh.length) return;
    pieces = fresh;
    take(pieces.find(({ key }) => key === piece.key) || pieces[0]);
    list();
  };

  document.addEventListener("size", renew);

  const showSetting = (on) => {
    setting.hidden = !on;
    sets.setAttribute("aria-expanded", String(on));
    if (!on) return;
    hand.value = now.count;
    hand.focus();
    hand.select();
  };

  const open = () => {
    if (dialog.open) return;
    now = placeOf(piece);
    drawRibbon();
    dialog.showModal();
    tap.focus();
    show();
    if (now.count && now.at) {
      const day = new Date(now.at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
      note.textContent = [note.textContent, tr("Kept since {day}.", { day })].join(" ").trim();
    }
    document.kept.visit.set(home, "open"); // a reload in the middle of a piece comes back here
    signal("open");
  };

  // ---- what the reader does -------------------------------------------------------------------
  dialog.addEventListener("close", () => {
    document.kept.visit.set(home, "closed");
    signal("closed");
    opener.focus();
  });
  title.addEventListener("change", () => {
    take(pieces[title.value]);
    keep(`${home}/piece`, piece.key);
  });
  setting.addEventListener("submit", (event) => {
    event.preventDefault();
    if (hand.value !== "") moveTo(Math.round(Number(hand.value)));
    showSetting(false);
    tap.focus();
  });
  dialog.addEventListener("keydown", (event) => {
    const { key, target } = event;
    if (target === hand || target === title) return;
    const button = target.closest("button");
    if (key === " " || key === "Enter") {
      if (event.repeat) event.preventDefault(); // a key held down is one row
      if (button) return; // the button's own click
      event.preventDefault();
      if (!event.repeat) step(1);
      return;
    }
    const act = { ArrowUp: () => step(1), ArrowRight: () => step(1), ArrowDown: () => step(-1),
      ArrowLeft: () => step(-1), u: undoLast, z: undoLast, Backspace: undoLast }[key];
    if (!act || event.altKey || event.metaKey) return;
    event.preventDefault();
    if (!event.repeat) act();
  });
  document.kept.watch(() => keptAs(piece), () => {
    now = placeOf(piece); // counted in another window
    show();
  });

  document.addEventListener("stripewright:changed", renew);

  place.append(opener, " ", stands, keeps, dialog);
  list();
  drawRibbon();
  show(false);
  if (document.kept.visit.get(home) === "open") open();
})();
