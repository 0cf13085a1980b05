// The piece, upright, at the proportions of its gauge: rows and stitches as they will be. Bands move
// at once under the hand; readings and lengths are Python's, and follow.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const { S, $, gestures, act, rowsWord, kindOf, wayOf, run } = Easel;
  const LEAST = 6; // pixels of a row that a hand still hits a stripe by
  const LABEL = 15; // pixels between two readings that can both be read

  const piece = $("piece");
  const scroll = $("scroll");
  const bands = [];
  let zoom = 0; // steps of a third; 0 is as it fits
  let whole = false;
  let settled = ""; // the piece that was scrolled to its first row

  // ---- measures -----------------------------------------------------------------------------------
  const rowsIn = (parts) => parts.reduce((sum, part) => sum + part.rows, 0);

  const measure = () => {
    const told = Easel.told();
    const parts = Easel.shown();
    const plan = told?.plan || [];
    const [before, after] = [plan[0]?.before || 0, plan.at(-1)?.after || 0];
    const rows = rowsIn(parts) + before + after;
    const shape = told ? told.width_cm / told.row_cm : 60;
    const room = { width: Math.max(80, scroll.clientWidth - 128), height: Math.max(160, scroll.clientHeight - 40) };
    const fit = Math.min(room.height / rows, room.width / shape);
    const high = whole ? fit : Math.max(fit, LEAST);
    const px = Math.min(60, high * 1.34 ** zoom);
    return { told, parts, plan, before, after, rows, px, width: Math.min(room.width, shape * px), full: shape * px,
      stitch: told ? (told.stitch_cm / told.row_cm) * px : px };
  };
  let now = { parts: [], plan: [], px: 8, before: 0, after: 0, rows: 1 };

  const ink = (hex) => {
    const [r, g, b] = [1, 3, 5].map((n) => (parseInt(hex.slice(n, n + 2), 16) / 255) ** 2.2);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b > 0.18 ? "#16181b" : "#ffffff";
  };

  // ---- drawing ------------------------------------------------------------------------------------
  const element = (name, className, text = "") => Object.assign(document.createElement(name), { className, textContent: text });

  const option = (n) => {
    if (!bands[n]) {
      bands[n] = element("div", "band");
      bands[n].id = `stripe-${n + 1}`;
      bands[n].setAttribute("role", "option");
    }
    return bands[n];
  };

  // Where in the plan each stripe ends: several stripes of one yarn side by side are one to the plan.
  const planOf = (parts, plan) => {
    let [line, rows] = [0, 0];
    return parts.map((part) => {
      rows += part.rows;
      const here = plan[line];
      const ends = here && rows === here.rows && here.yarn === part.yarn;
      if (ends) [line, rows] = [line + 1, 0];
      return ends ? here : null;
    });
  };

  const GIVEN = { mirror: tr("in a mirror"), repeat: tr("repeated"), fibonacci: tr("in a series"), graded: tr("in a series"), faded: tr("in a fade"), drawn: tr("drawn by lot"), amount: tr("by its yarn") };
  const items = () => {
    const of = Easel.front().pieces?.[S.piece];
    return of && !S.size ? of[wayOf(of)] || [] : [];
  };

  const describe = (part, n, line, count) => {
    const letter = Easel.letters()[part.yarn];
    const given = part.at?.length && GIVEN[kindOf(items()[part.at[0]])];
    const reading = line && tr("counter {reading}", { reading: line.rc.replace("RC ", "") });
    return [tr("stripe {number} of {all}", { number: n + 1, all: count }), `${letter} ${Easel.yarnName(part.yarn)}`.trim(),
      rowsWord(part.rows), reading, given].filter(Boolean).join(", ");
  };

  const draw = () => {
    if (!S.front || document.body.dataset.state !== "open") return;
    now = measure();
    const { told, parts, px, before, after, rows, width } = now;
    const lines = S.trial ? parts.map(() => null) : planOf(parts, now.plan);
    const height = rows * px;
    Object.assign($("board").style, { height: `${height}px` });
    Object.assign(piece.style, { height: `${height}px`, width: `${width}px` });
    piece.style.setProperty("--stitch", `${now.stitch}px`);
    piece.style.setProperty("--row", `${px}px`);
    piece.classList.toggle("fine", px < 4);
    piece.setAttribute("aria-label", tr("Stripes of {piece}, the first at the bottom", { piece: now.told?.title || S.piece }));
    const letters = Easel.letters();
    let low = before;
    const nodes = parts.map((part, n) => {
      const node = option(n);
      const colour = Easel.colour(part.yarn);
      const chosen = n >= S.from && n <= S.to;
      const high = part.rows * px;
      Object.assign(node.style, { bottom: `${low * px}px`, height: `${high}px`, background: colour, color: ink(colour) });
      node.className = `band${chosen ? " chosen" : ""}`;
      node.setAttribute("aria-selected", chosen);
      node.setAttribute("aria-label", describe(part, n, lines[n], parts.length));
      node.textContent = high >= 15 ? `${letters[part.yarn]} ${part.rows}` : "";
      low += part.rows;
      return node;
    });
    const edges = [[0, before, parts[0]], [rows - after, after, parts.at(-1)]].filter(([, count, part]) => count && part);
    const hatched = edges.map(([bottom, count, part]) => {
      const node = element("div", "allowance");
      node.setAttribute("aria-hidden", "true");
      Object.assign(node.style, { bottom: `${bottom * px}px`, height: `${count * px}px`, backgroundColor: Easel.colour(part.yarn) });
      return node;
    });
    piece.replaceChildren(...nodes, ...hatched);
    piece.setAttribute("aria-activedescendant", parts.length ? `stripe-${S.to + 1}` : "");
    rulers(lines);
    marks();
    small();
    if (told && settled !== S.piece) {
      settled = S.piece;
      requestAnimationFrame(() => { scroll.scrollTop = scroll.scrollHeight; });
    }
    $("cropped").hidden = now.full <= width + 1;
  };

  const rulers = (lines) => {
    const { parts, before, px } = now;
    const [counters, lengths, given] = [[], [], []];
    let [row, last] = [before, -Infinity];
    let open = null;
    parts.forEach((part, n) => {
      const start = row;
      row += part.rows;
      const [line, y] = [lines[n], row * px];
      if (line && (y - last >= LABEL || n === S.to)) {
        for (const [list, text] of [[counters, line.rc.replace("RC ", "")], [lengths, line.at]]) {
          const label = element("span", n === S.to ? "reading now" : "reading", text);
          label.style.bottom = `${y}px`;
          list.push(label);
        }
        last = y;
      }
      const place = part.at?.[0];
      const item = place !== undefined && items()[place];
      if (item && !run(item)) {
        if (open?.place === place) open.to = row;
        else given.push((open = { place, from: start, to: row, item }));
      } else open = null;
    });
    $("counters").replaceChildren(...counters);
    $("lengths").replaceChildren(...lengths);
    $("given").replaceChildren(...given.map(({ from, to, item }) => {
      const bracket = element("span", "bracket");
      Object.assign(bracket.style, { bottom: `${from * px}px`, height: `${(to - from) * px}px` });
      const words = kindOf(item) === "repeat" ? tr("repeat × {times}", { times: item.repeat }) : gestures.WHAT[kindOf(item)];
      bracket.append(element("span", "turned", words));
      return bracket;
    }));
  };

  // ---- a small whole ------------------------------------------------------------------------------
  const small = () => {
    const box = $("whole");
    const long = scroll.scrollHeight > scroll.clientHeight + 8;
    box.hidden = !long;
    if (!long) return;
    const { parts, before, rows } = now;
    let low = before;
    box.replaceChildren(...parts.map((part) => {
      const node = element("span", "");
      Object.assign(node.style, { bottom: `${(low / rows) * 100}%`, height: `${(part.rows / rows) * 100}%`, background: Easel.colour(part.yarn) });
      low += part.rows;
      return node;
    }), element("i", ""));
    seen();
  };
  const seen = () => {
    const frame = $("whole").querySelector("i");
    if (!frame) return;
    const all = scroll.scrollHeight;
    Object.assign(frame.style, { top: `${(scroll.scrollTop / all) * 100}%`, height: `${(scroll.clientHeight / all) * 100}%` });
  };
  scroll.addEventListener("scroll", seen, { passive: true });
  const jump = (event) => {
    const box = $("whole").getBoundingClientRect();
    scroll.scrollTop = ((event.clientY - box.top) / box.height) * scroll.scrollHeight - scroll.clientHeight / 2;
  };
  $("whole").addEventListener("pointerdown", (event) => {
    $("whole").setPointerCapture(event.pointerId);
    jump(event);
  });
  $("whole").addEventListener("pointermove", (event) => event.buttons && jump(event));

  // ---- what happens along the piece, and the hold of the chosen stripe ----------------------------------
  const grip = (className, label, bottom, move) => {
    const node = element("button", `grip ${className}`, "");
    node.type = "button";
    node.setAttribute("aria-label", label);
    node.style.bottom = `${bottom}px`;
    node.append(element("span", "", className === "mark" ? label : ""));
    node.addEventListener("keydown", (event) => {
      const step = { ArrowUp: 1, ArrowDown: -1 }[event.key];
      if (!step) return;
      event.preventDefault();
      move(step, true);
    });
    node.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      node.setPointerCapture(event.pointerId);
      const start = event.clientY;
      const drag = (to) => move(Math.round((start - to.clientY) / now.px), false);
      node.addEventListener("pointermove", drag);
      const end = (done) => {
        node.removeEventListener("pointermove", drag);
        if (done.type === "pointerup") move(Math.round((start - done.clientY) / now.px), true);
        else drop();
      };
      node.addEventListener("pointerup", end, { once: true });
      node.addEventListener("pointercancel", end, { once: true });
    });
    return node;
  };

  const drop = () => {
    S.trial = null;
    draw();
  };

  // A gesture while a hand is still at it: shown, and only kept when the hand lets go.
  const attempt = (gesture, done, words) => {
    if (done) return act(gesture, words);
    try {
      S.trial = gesture(S.front);
    } catch {
      return; // told when the hand lets go
    }
    draw();
  };

  const edgeGesture = (n, rows) => (front) => {
    const made = Easel.made();
    const [down, up] = gestures.reach(front, S.piece, made, n);
    return gestures.edge(front, S.piece, made, n, Math.max(down, Math.min(up, rows)));
  };

  const marks = () => {
    const { parts, before, px, told } = now;
    const nodes = [];
    const written = S.front.pieces?.[S.piece] || {};
    if (parts.length && !S.size && wayOf(written) !== "like") {
      const edge = (n) => (before + rowsIn(parts.slice(0, n + 1))) * px;
      const hold = (n, where, label) => grip(where, label, edge(n), (rows, done) => rows && attempt(edgeGesture(n, rows), done, tr("The edge is moved.")));
      if (S.to + 1 < parts.length || !S.locked) nodes.push(hold(S.to, "above", tr("Edge above stripe {number}: drag it, or use the arrow keys", { number: S.to + 1 })));
      if (S.from > 0) nodes.push(hold(S.from - 1, "below", tr("Edge below stripe {number}: drag it, or use the arrow keys", { number: S.from + 1 })));
    }
    for (const mark of told?.marks || []) {
      const gap = mark.kind === "slit" || mark.kind === "gap";
      const own = mark.kind === "fold" ? typeof written.fold === "number" : gap && written.openings?.[mark.number - 1];
      const path = gap ? ["pieces", S.piece, "openings", mark.number - 1, "after"] : ["pieces", S.piece, "fold"];
      const line = element("div", "along", "");
      Object.assign(line.style, { bottom: `${(before + mark.from) * px}px`, height: `${Math.max(2, (mark.to - mark.from) * px)}px` });
      nodes.push(line);
      const move = (rows, done) => rows && attempt((front) => Easel.put(front, path, Math.max(0, Easel.at(front, path) + rows)), done, tr("{what} is moved.", mark));
      if (own && !S.size) nodes.push(grip("mark", mark.what, (before + mark.from) * px, move));
      else line.append(element("span", "", mark.what));
    }
    const focused = document.activeElement?.classList?.contains("grip") && document.activeElement.className;
    if (!$("marks").querySelector(":active")) {
      $("marks").replaceChildren(...nodes);
      if (focused) $("marks").querySelector(`[class="${focused}"]`)?.focus();
    }
  };

  for (const [id, change] of [["smaller", -1], ["larger", 1], ["fit", 0]]) {
    $(id).addEventListener("click", () => {
      zoom = change ? Math.max(-6, Math.min(9, zoom + change)) : 0;
      whole = !change;
      draw();
      bands[S.to]?.scrollIntoView({ block: "nearest" });
    });
  }
  new ResizeObserver(() => draw()).observe(scroll);

  Easel.stage = { piece, scroll, bands, now: () => now, rowsIn, planOf, describe, drop, attempt, edgeGesture };
  (Easel.parts ||= []).push(draw);
})();
