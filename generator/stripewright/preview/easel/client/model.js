// The pattern as it is held in the page: its front matter as plain values, never changed in place,
// and its stripes laid out with the place of what each was written by.
(() => {
  "use strict";
  const Easel = (window.Easel = {});

  const SERIES = ["fibonacci", "graded", "faded", "drawn"];

  // ---- values ---------------------------------------------------------------------------------
  const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);

  // A copy with another value at a path; undefined takes the key out.
  const put = (root, path, value) => {
    if (!path.length) return value;
    const [step, ...rest] = path;
    const copy = Array.isArray(root) ? [...root] : { ...root };
    const inner = put(copy[step] ?? {}, rest, value);
    if (inner !== undefined) copy[step] = inner;
    else if (Array.isArray(copy)) copy.splice(step, 1);
    else delete copy[step];
    return copy;
  };

  const at = (root, path) => path.reduce((value, step) => value?.[step], root);

  // ---- stripes --------------------------------------------------------------------------------
  const RUN = /^\s*(\S+)\s+([0-9.]+)(?:\s+least\s+([0-9]+))?\s*$/;

  const run = (item) => {
    if (typeof item === "string") {
      const match = RUN.exec(item);
      return match && { yarn: match[1], count: Number(match[2]), least: match[3] && Number(match[3]) };
    }
    return item && "count" in item ? item : null;
  };

  // A stripe given by its yarn: `deep 23 g`, `deep rest`. Its rows are Python's to say.
  const AMOUNT = /^\s*(\S+)\s+(rest|all|[0-9.,½¼¾⅓⅔⅛⅜⅝⅞].*[a-z"″”']\.?)\s*$/i;
  const byYarn = (item) => {
    if (item && typeof item === "object") return "amount" in item ? item : null;
    const match = typeof item === "string" && !RUN.test(item) && AMOUNT.exec(item);
    return match ? { yarn: match[1], amount: match[2] } : null;
  };
  const amountText = ({ yarn, amount }, before) =>
    before && typeof before === "object" ? { ...before, yarn, amount } : `${yarn} ${amount}`;

  // A run as text, or as the keys that it was written with.
  const runText = ({ yarn, count, least }, before) => {
    if (before && typeof before === "object") return { ...before, yarn, count };
    return `${yarn} ${count}${least ? ` least ${least}` : ""}`;
  };

  const series = (item) => SERIES.find((name) => item && typeof item === "object" && name in item);

  const kindOf = (item) => {
    if (run(item)) return "run";
    if (byYarn(item)) return "amount";
    return item.repeat !== undefined ? "repeat" : item.mirror !== undefined ? "mirror" : series(item) || "run";
  };

  // Every stripe as it is knitted: yarn, count, where it is written, and whether it is reflected.
  // What a series comes to is Python's to say: `made` holds it, by what is written.
  const expand = (items, made = {}, path = [], flip = false) =>
    items.flatMap((item, number) => {
      const here = [...path, number];
      const one = run(item);
      if (one) return [{ ...one, at: here, slot: 0, flip }];
      const given = byYarn(item);
      if (given) return [{ yarn: given.yarn, count: made[here.join()]?.[0]?.[1] ?? 1, at: here, slot: 0, flip, series: true, amount: given.amount }];
      if (item.repeat !== undefined) {
        const inner = expand(item.stripes, made, [...here, "stripes"], flip);
        return Array.from({ length: item.repeat }, () => inner).flat();
      }
      if (item.mirror !== undefined) {
        const half = expand(item.mirror, made, [...here, "mirror"], flip);
        const back = expand(item.mirror, made, [...here, "mirror"], !flip).reverse();
        return [...half, ...(item.middle === "twice" ? back : back.slice(1))];
      }
      const known = made[JSON.stringify(item)] || made[here.join()] || [];
      return known.map(([yarn, count], slot) => ({ yarn, count, at: here, slot, flip, series: true }));
    });

  // How a piece's stripes are given: its own rows, shares of a length, one yarn, or another's.
  const wayOf = (piece) => {
    if (piece.stripes) return "stripes";
    if (piece.parts) return "parts";
    return piece.like ? "like" : "plain";
  };

  // A piece's stripes with their visible rows. `answer` is what Python last said of the piece.
  const stripesOf = (piece, answer, made) => {
    const way = wayOf(piece);
    const told = answer?.parts || [];
    if (way === "like" || way === "plain") {
      return told.map(([yarn, rows], slot) => ({ yarn: piece.yarn || yarn, rows, at: [], slot }));
    }
    const laid = expand(piece[way], made);
    const shared = told.length === laid.length;
    if (way === "stripes") {
      return laid.map((part, n) => ({ ...part, rows: part.amount && shared ? told[n][1] : Math.trunc(part.count) }));
    }
    return laid.map((part, n) => ({ ...part, rows: shared ? told[n][1] : Math.max(1, Math.round(part.count)) }));
  };

  // What series come to, from an answer.
  const learn = (made, piece, answer) => {
    const way = wayOf(piece);
    if (way !== "stripes" && way !== "parts") return;
    const found = {};
    for (const [yarn, rows, path, slot] of answer.parts) {
      const item = at(piece[way], path);
      if (byYarn(item)) made[path.join()] = [[yarn, rows]];
      if (!item || !series(item)) continue;
      const list = (found[JSON.stringify(item)] ||= []);
      list[slot] = [yarn, rows];
      made[path.join()] = list;
    }
    Object.assign(made, found);
  };

  // What was typed, as a number where it is one.
  const typed = (text) => (/^[0-9]+(\.[0-9]+)?$/.test(text) ? Number(text) : text);

  // ---- yarns ----------------------------------------------------------------------------------
  const names = (value, key) => {
    if (typeof value === "string") return value === key || value.startsWith(`${key} `);
    if (value && typeof value === "object") return Object.values(value).some((inner) => names(inner, key));
    return false;
  };

  const used = (front, key) => names(front.pieces || {}, key);

  // The front matter as it is sent: yarns that nothing is knitted in stay in the page.
  const written = (front) => {
    const kept = Object.entries(front.yarns || {}).filter(([key]) => used(front, key));
    return { ...front, yarns: Object.fromEntries(kept) };
  };

  // All mentions of some yarns under others' names.
  const renamed = (value, table) => {
    if (typeof value === "string") {
      const [first, ...rest] = value.split(/(?=\s)/);
      return Object.hasOwn(table, first) ? table[first] + rest.join("") : value;
    }
    if (Array.isArray(value)) return value.map((inner) => renamed(inner, table));
    if (!value || typeof value !== "object") return value;
    const keep = (key) => key === "seed" || key === "what" || key === "title" || key === "like";
    return Object.fromEntries(
      Object.entries(value).map(([key, inner]) => [key, keep(key) ? inner : renamed(inner, table)]));
  };

  Object.assign(Easel, { same, put, at, run, runText, byYarn, amountText, series, kindOf, expand, wayOf, stripesOf, learn, typed, used, written, renamed });
})();
