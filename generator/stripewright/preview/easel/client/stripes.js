// What can be done with the chosen stripe, and with a run of chosen ones; and the piece's switch.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const { S, $, gestures, act, put, run, kindOf, wayOf, series } = Easel;

  const key = () => S.piece;
  const made = () => Easel.made();

  // ---- small makers of controls -----------------------------------------------------------------
  const button = (text, does, extra = {}) => {
    const node = Object.assign(document.createElement("button"), { type: "button", textContent: text, ...extra });
    node.addEventListener("click", does);
    return node;
  };
  const field = (text, control, about = "") => {
    const label = document.createElement("label");
    control.id ||= `field-${about}-${text}`.replace(/[^\p{L}\p{N}_]+/gu, "-").toLowerCase();
    label.htmlFor = control.id;
    label.textContent = text;
    const box = document.createElement("p");
    box.className = "field";
    box.append(label, control);
    return box;
  };
  const numberBox = (value, least, does, most = 20000) => {
    const node = Object.assign(document.createElement("input"), { type: "number", value, min: least, max: most, inputMode: "numeric" });
    node.addEventListener("change", () => node.value !== "" && does(Number(node.value)));
    return node;
  };
  const choice = (options, value, does) => {
    const node = document.createElement("select");
    for (const [of, words] of options) node.append(new Option(words, of, false, of === value));
    node.value = value;
    node.addEventListener("change", () => does(node.value));
    return node;
  };
  const yarnOptions = () => Object.keys(Easel.front().yarns || {}).map((of) => [of, `${Easel.letters()[of]} ${Easel.yarnName(of)}`.trim()]);
  const group = (...nodes) => {
    const box = document.createElement("div");
    box.className = "tools";
    box.append(...nodes.filter(Boolean));
    return box;
  };
  const words = (text, className = "hint") => Object.assign(document.createElement("p"), { className, textContent: text });

  // ---- the chosen stripe --------------------------------------------------------------------------
  const others = (yarn) => Object.keys(S.front.yarns).find((of) => of !== yarn);

  const removeChosen = () => act((front) => gestures.remove(front, key(), made(), S.from, S.to, S.locked), tr("Deleted."));

  const stripePanel = (part, count) => {
    const n = S.to;
    const shares = wayOf(S.front.pieces[key()]) === "parts";
    const rows = numberBox(part.count ?? part.rows, 1, (value) => act((front) => gestures.size(front, key(), made(), n, value, S.locked)));
    rows.id = "rows";
    return [
      group(button(tr("Go to stripe below"), () => Easel.choose(Math.max(0, n - 1)), { disabled: n === 0 }),
        button(tr("Go to stripe above"), () => Easel.choose(Math.min(count - 1, n + 1)), { disabled: n === count - 1 })),
      field(tr("Yarn"), choice(yarnOptions(), part.yarn, (yarn) => Easel.give(yarn))),
      group(field(shares ? tr("Share") : tr("Rows"), rows), button(tr("One less"), () => Easel.step(-1)), button(tr("One more"), () => Easel.step(1))),
      shares && words(tr("Its rows are shared out of the piece’s length by these shares.")),
      group(button(tr("Split"), () => act((front) => gestures.split(front, key(), made(), n, part.yarn === S.hand ? others(part.yarn) || part.yarn : S.hand), tr("Split: the upper half has another yarn."))),
        button(tr("Duplicate"), () => act((front) => gestures.duplicate(front, key(), made(), n, n, S.locked), tr("Duplicated."))),
        button(tr("Delete"), removeChosen),
        button(tr("Move down"), () => moved(-1)), button(tr("Move up"), () => moved(1))),
    ];
  };

  const moved = async (way) => {
    const span = S.to - S.from;
    const before = S.front;
    await act((front) => gestures.move(front, key(), made(), S.from, S.to, way), way > 0 ? tr("Moved up.") : tr("Moved down."));
    if (S.front === before) return;
    const most = Easel.shown().length - 1;
    S.from = Math.max(0, Math.min(most - span, S.from + way));
    S.to = S.from + span;
    Easel.draw();
  };

  // ---- several chosen -----------------------------------------------------------------------------
  const onChosen = (gesture, said, ...more) => () => act((front) => gestures[gesture](front, key(), made(), S.from, S.to, ...more.map((one) => one())), said);
  const value = (id) => $(id).value;

  const severalPanel = (count) => {
    const parts = Easel.shown();
    const here = [...new Set(parts.slice(S.from, S.to + 1).map(({ yarn }) => yarn))];
    const kept = { times: $("times")?.value || 2, seed: $("seed")?.value || "harbour" };
    const times = Object.assign(numberBox(kept.times, 2, () => {}, 1000), { id: "times" });
    const seed = Object.assign(document.createElement("input"), { id: "seed", value: kept.seed, maxLength: 40 });
    const one = Object.assign(choice(yarnOptions(), here[0], () => {}), { id: "swap-one" });
    const other = Object.assign(choice(yarnOptions(), here[1] || others(here[0]), () => {}), { id: "swap-other" });
    const locked = () => S.locked;
    return [
      group(button(tr("All stripes"), () => { [S.from, S.to] = [0, count - 1]; Easel.draw(); }),
        button(tr("One more below"), () => Easel.choose(Math.max(0, S.from - 1), true), { disabled: S.from === 0 }),
        button(tr("One more above"), () => Easel.choose(Math.min(count - 1, S.to + 1), true), { disabled: S.to === count - 1 })),
      S.from < S.to && group(button(tr("Delete these"), removeChosen), button(tr("Duplicate these"), onChosen("duplicate", tr("Duplicated."), locked)),
        button(tr("Move down"), () => moved(-1)), button(tr("Move up"), () => moved(1))),
      group(field(tr("Times"), times), button(tr("Repeat"), onChosen("repeat", tr("Repeated."), locked, () => Number(value("times"))))),
      group(button(tr("Mirror"), onChosen("mirror", tr("Mirrored: the last chosen stripe is the middle."), locked)),
        button(tr("Reverse"), onChosen("reverse", tr("Reversed."))), button(tr("Share evenly"), onChosen("evenly", tr("Shared evenly.")))),
      group(field(tr("Swap"), one), field(tr("with"), other), button(tr("Swap yarns"), onChosen("swap", tr("Swapped."), () => value("swap-one"), () => value("swap-other")))),
      group(field(tr("Seed"), seed), button(tr("Shuffle"), onChosen("shuffle", tr("Shuffled."), () => value("seed")))),
    ];
  };

  // ---- what was generated -------------------------------------------------------------------------
  const NUMBERS = { repeat: [["repeat", tr("Times")]], graded: [["first", tr("Rows of the first")], ["by", tr("Each by")], ["stripes", tr("Stripes")]],
    fibonacci: [["stripes", tr("Stripes")], ["times", tr("Each times")]], faded: [["band", tr("Rows of a band")], ["bands", tr("Bands")]],
    drawn: [["stripes", tr("Stripes")], ["least", tr("Thinnest")], ["most", tr("Widest")]], mirror: [], amount: [] };

  const amountPanel = (place, item) => {
    const given = Easel.byYarn(item);
    const path = ["pieces", key(), "stripes", place];
    const box = Object.assign(document.createElement("input"), { value: given.amount, id: "amount" });
    box.addEventListener("change", () => act((front) => put(front, path, Easel.amountText({ ...given, amount: box.value.trim() }, item)), tr("Changed.")));
    return [words(tr("This stripe has as many whole rows as its yarn knits: write 23 g, 12 m, or rest.")), group(field(tr("Yarn for it"), box)),
      group(button(tr("Write out"), () => act((front) => gestures.writeOut(front, key(), Easel.shown(), place), tr("Written out as rows."))))];
  };

  const givenPanel = (place) => {
    const way = wayOf(S.front.pieces[key()]);
    const item = S.front.pieces[key()][way][place];
    const kind = kindOf(item);
    const set = (name, to) => act((front) => put(front, ["pieces", key(), way, place, name], to), tr("Changed."));
    if (kind === "amount") return amountPanel(place, item);
    const nodes = NUMBERS[kind].map(([name, text]) => field(text, numberBox(item[name] ?? 1, name === "by" ? -1000 : 1, (to) => set(name, to))));
    if (kind === "mirror") nodes.push(field(tr("Middle stripe"), choice([["once", tr("knitted once")], ["twice", tr("knitted twice")]], item.middle || "once", (to) => set("middle", to))));
    if (kind === "fibonacci") nodes.push(field(tr("Which way"), choice([["growing", tr("growing")], ["shrinking", tr("shrinking")]], item.order || "growing", (to) => set("order", to))));
    if (kind === "drawn") {
      const seed = Object.assign(document.createElement("input"), { value: item.seed });
      seed.addEventListener("change", () => set("seed", seed.value));
      nodes.push(field(tr("Seed"), seed));
    }
    if (series(item)) item[kind].forEach((yarn, n) => nodes.push(field(tr("Yarn {number}", { number: n + 1 }), choice(yarnOptions(), yarn, (to) => set(kind, item[kind].map((of, m) => (m === n ? to : of)))))));
    const all = Easel.shown().filter((part) => part.at[0] === place).length;
    return [words(tr("These {number} stripes are one {what}: what you change in it changes all that comes of it.", { number: all, what: gestures.WHAT[kind] })), group(...nodes),
      group(button(tr("Write out"), () => act((front) => gestures.writeOut(front, key(), Easel.shown(), place), tr("Written out into {number} stripes.", { number: all }))))];
  };

  // ---- all of it --------------------------------------------------------------------------------
  // A panel is made anew when what it shows differs: a moment later, so that the focus has settled,
  // and never under a finger that is down. What is being typed in it stays.
  let down = false;
  const late = new Map();
  const flush = () => {
    if (down) return;
    for (const [box, [sign, make]] of late) renew(box, sign, make);
    late.clear();
  };
  addEventListener("pointerdown", () => { down = true; }, true);
  for (const end of ["pointerup", "pointercancel"]) {
    addEventListener(end, () => {
      down = false;
      setTimeout(flush);
    }, true);
  }
  const fill = (box, sign, make) => {
    if (box.dataset.sign === sign) return late.delete(box);
    late.set(box, [sign, make]);
    if (box.dataset.sign === undefined) flush();
    else setTimeout(flush);
  };
  const renew = (box, sign, make) => {
    const node = box.contains(document.activeElement) && document.activeElement;
    const was = node && { id: node.id, text: node.textContent, name: node.tagName, value: node.value, typed: node.dataset.was !== undefined && node.value !== node.dataset.was };
    box.dataset.sign = sign;
    box.replaceChildren(...make().filter(Boolean));
    for (const one of box.querySelectorAll("input, textarea")) one.dataset.was = one.value;
    if (!was) return;
    const again = (was.id && $(was.id)) || [...box.querySelectorAll(was.name)].find((one) => one.textContent === was.text);
    again?.focus({ preventScroll: true });
    if (again && was.typed) Object.assign(again, { value: was.value }).dataset.late = "yes";
    else again?.select?.(); // the next key replaces the number, as it would have without this
  };
  document.addEventListener("focusout", ({ target }) => { // the browser tells no change of what was put back
    if (!target.dataset?.late || target.value === target.dataset.was) return;
    delete target.dataset.late;
    target.dispatchEvent(new Event("change", { bubbles: true }));
  });

  const pieceNote = () => {
    const piece = S.front.pieces[key()];
    if (S.size) return tr("A size follows the pattern’s own stripes.");
    if (wayOf(piece) === "like") return tr("This piece follows {piece}: colour that one.", { piece: Easel.S.answer?.pieces?.[piece.like]?.title || piece.like });
    return "";
  };

  const draw = () => {
    if (document.body.dataset.state !== "open") return;
    const piece = S.front.pieces?.[key()];
    const parts = Easel.shown();
    const part = parts[S.to];
    const note = piece ? pieceNote() : "";
    const single = S.from === S.to ? tr("Stripe {number} of {all}", { number: S.to + 1, all: parts.length })
      : tr("Stripes {first} to {last} of {all}", { first: S.from + 1, last: S.to + 1, all: parts.length });
    $("stripe-title").textContent = part ? single : tr("No stripe");
    const given = part?.at?.length && !note && !run(piece[wayOf(piece)][part.at[0]]);
    const yarns = Object.keys(S.front.yarns || {}).map((of) => [of, Easel.letters()[of], Easel.yarnName(of)]);
    const sign = JSON.stringify([S.piece, S.from, S.to, part, parts.length, note, yarns, S.size]);
    const none = () => [words(note)];
    fill($("stripe"), sign, () => (note || !part ? none() : stripePanel(part, parts.length)));
    const item = given && piece[wayOf(piece)][part.at[0]];
    fill($("given-panel"), JSON.stringify([sign, item]), () => (given ? givenPanel(part.at[0]) : []));
    $("given-box").hidden = !given;
    fill($("several"), JSON.stringify([sign, parts.map(({ yarn }) => yarn)]), () => (note || !part ? none() : severalPanel(parts.length)));
    switches();
  };

  const switches = () => {
    const pieces = Object.keys(S.front.pieces || {});
    const names = pieces.map((of) => [of, S.answer?.pieces?.[of]?.title || of]);
    const filled = (id, options, current, does) => {
      const node = $(id);
      const text = JSON.stringify(options);
      if (node.dataset.of !== text) node.replaceChildren(...options.map(([of, said]) => new Option(said, of)));
      node.dataset.of = text;
      node.value = current;
      node.onchange = () => does(node.value);
      node.closest("p").hidden = options.length < 2;
    };
    const show = (change) => {
      Object.assign(S, change, { from: 0, to: 0 });
      Easel.draw();
    };
    filled("which", names, S.piece, (of) => show({ piece: of }));
    filled("size", [["", tr("The pattern’s own")], ...(S.answer?.sizes || []).map(({ key: of, title }) => [of, title])], S.size, (of) => show({ size: of }));
    $("undo").disabled = !S.undo.length;
    $("redo").disabled = !S.redo.length;
    $("save").disabled = S.saving || S.lookOnly || !(Easel.dirty() || !S.file);
    $("saved").textContent = S.lookOnly ? tr("Only looking") : S.saving ? tr("Saving") : !S.file ? tr("Not saved yet") : Easel.dirty() ? tr("Not saved") : tr("Saved");
    $("page-link").hidden = !S.file;
    $("page-link").href = `/patterns/${encodeURIComponent(S.slug || "")}/`;
    $("name").textContent = String(S.front.title ?? "");
    document.title = `${S.front.title ?? tr("Easel")} · ${tr("Easel")}`;
    $("locked").checked = S.locked;
  };
  $("locked").addEventListener("change", (event) => {
    S.locked = event.target.checked;
    Easel.draw();
  });

  Object.assign(Easel, { removeChosen, make: { button, field, numberBox, choice, group, words, fill, yarnOptions } });
  Easel.parts.push(draw);
})();
