// The hand on the piece: one finger or the mouse colours and moves edges, a tap takes a stripe up,
// two fingers scroll; and the keys that do the same.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const { S, gestures, act, say, rowsWord } = Easel;
  const { piece, scroll, bands, now, rowsIn, planOf, describe, drop, attempt, edgeGesture } = Easel.stage;
  const NEAR = 5; // pixels from an edge that still take hold of it

  let held = null; // what a pointer does now
  const pointers = new Map();

  const rowAt = (event) => {
    const box = piece.getBoundingClientRect();
    const row = Math.floor((box.bottom - event.clientY) / now().px) - now().before;
    return Math.max(0, Math.min(rowsIn(now().parts) - 1, row));
  };
  const stripeAt = (row) => {
    let low = 0;
    return now().parts.findIndex((part) => (low += part.rows) > row);
  };
  const edgeNear = (event) => {
    const box = piece.getBoundingClientRect();
    const y = box.bottom - event.clientY - now().before * now().px;
    let low = 0;
    return now().parts.findIndex((part, n) => {
      low += part.rows;
      return n + 1 < now().parts.length && Math.abs(low * now().px - y) <= NEAR && part.rows * now().px > 2 * NEAR;
    });
  };

  const choose = (n, extend = false) => {
    if (extend) [S.from, S.to] = [Math.min(S.from, n), Math.max(S.to, n)];
    else S.from = S.to = n;
    Easel.draw();
    const part = now().parts[n];
    if (part) say(describe(part, n, planOf(now().parts, now().plan)[n], now().parts.length));
  };

  const brush = (row) => (front) => {
    const [from, to] = [Math.min(held.row, row), Math.max(held.row, row) + 1];
    return gestures.paint(front, S.piece, Easel.made(), from, to, S.hand);
  };

  piece.addEventListener("pointerdown", (event) => {
    if (event.button || !now().parts.length) return;
    pointers.set(event.pointerId, event.clientY);
    if (pointers.size > 1) { // two fingers scroll
      if (held) drop();
      held = { scroll: true };
      return;
    }
    piece.setPointerCapture(event.pointerId);
    const near = event.pointerType === "mouse" ? edgeNear(event) : -1;
    held = { y: event.clientY, row: rowAt(event), extend: event.shiftKey, edge: near, moved: false };
    if (event.pointerType === "mouse") piece.focus({ preventScroll: true });
  });

  piece.addEventListener("pointermove", (event) => {
    if (!held) {
      piece.classList.toggle("edge", event.pointerType === "mouse" && edgeNear(event) >= 0);
      return;
    }
    if (held.scroll) {
      scroll.scrollTop -= (event.clientY - pointers.get(event.pointerId)) / pointers.size;
      pointers.set(event.pointerId, event.clientY);
      return;
    }
    held.moved ||= Math.abs(event.clientY - held.y) > 5 || rowAt(event) !== held.row;
    if (!held.moved) return;
    const rows = Math.round((held.y - event.clientY) / now().px);
    if (held.edge >= 0) rows ? attempt(edgeGesture(held.edge, rows), false) : drop();
    else attempt(brush(rowAt(event)), false);
  });

  const let_go = (event) => {
    pointers.delete(event.pointerId);
    const was = held;
    if (!was || pointers.size) return;
    const done = event.type === "pointerup";
    const row = done && !was.scroll ? rowAt(event) : 0;
    const rows = done && !was.scroll ? Math.round((was.y - event.clientY) / now().px) : 0;
    if (was.scroll) held = null;
    else if (!done) {
      held = null;
      drop();
    } else if (!was.moved) {
      held = null;
      choose(stripeAt(was.row), was.extend);
    } else if (was.edge >= 0) {
      held = null;
      if (rows) act(edgeGesture(was.edge, rows), tr("The edge is moved."));
      else drop();
    } else {
      const [from, to] = [Math.min(was.row, row), Math.max(was.row, row) + 1];
      held = null;
      act((front) => gestures.paint(front, S.piece, Easel.made(), from, to, S.hand), tr("{rows} in {yarn}.", { rows: rowsWord(to - from), yarn: Easel.yarnName(S.hand) }))
        .then(() => choose(Math.max(0, stripeAt(row))));
    }
  };
  piece.addEventListener("pointerup", let_go);
  piece.addEventListener("pointercancel", let_go);

  // ---- keys -----------------------------------------------------------------------------------
  let digits = "";
  let typed = 0;
  const number = (key) => {
    digits = performance.now() - typed > 1500 ? key : digits + key;
    typed = performance.now();
    const rows = Number(digits);
    if (rows) act((front) => gestures.size(front, S.piece, Easel.made(), S.to, rows, S.locked), tr("Stripe {number}: {rows}.", { number: S.to + 1, rows: rowsWord(rows) }));
  };
  const step = (rows) => {
    const part = now().parts[S.to];
    if (part) act((front) => gestures.size(front, S.piece, Easel.made(), S.to, part.count + rows || part.rows + rows, S.locked), tr("Stripe {number}: {rows}.", { number: S.to + 1, rows: rowsWord(part.rows + rows) }));
  };
  const give = (yarn) => act((front) => {
    let next = front;
    for (let n = S.from; n <= S.to; n += 1) next = gestures.recolour(next, S.piece, Easel.made(), n, yarn);
    return next;
  }, S.from === S.to ? tr("Stripe {number} in {yarn}.", { number: S.to + 1, yarn: Easel.yarnName(yarn) })
    : tr("Stripes {first} to {last} in {yarn}.", { first: S.from + 1, last: S.to + 1, yarn: Easel.yarnName(yarn) }));

  piece.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (!/^[0-9]$/.test(event.key)) digits = "";  // what follows is another stripe's, or another number
    const most = now().parts.length - 1;
    const walk = { ArrowUp: S.to + 1, ArrowDown: event.shiftKey ? S.from - 1 : S.to - 1, Home: 0, End: most }[event.key];
    if (walk !== undefined) {
      choose(Math.max(0, Math.min(most, walk)), event.shiftKey);
      bands[S.to]?.scrollIntoView({ block: "nearest" });
    } else if (/^[0-9]$/.test(event.key)) number(event.key);
    else if (event.key === "+" || event.key === "=") step(1);
    else if (event.key === "-") step(-1);
    else if (event.key === "Delete" || event.key === "Backspace") Easel.removeChosen();
    else if (/^[a-z]$/i.test(event.key)) {
      const key = Object.entries(Easel.letters()).find(([, letter]) => letter === event.key.toUpperCase())?.[0];
      if (!key) return;
      S.hand = key;
      give(key);
    } else return;
    event.preventDefault();
  });

  Object.assign(Easel, { choose, step, give });
})();
