// What a hand can do to the stripes of a piece: each gesture takes front matter and gives another,
// or says what has to be written out first, or why it can't be.
(() => {
  "use strict";
  const { at, put, run, runText, byYarn, amountText, expand, wayOf, renamed } = window.Easel;
  const { tr } = document.words;

  // Thrown by a gesture that generated stripes stand in the way of.
  class WriteOut extends Error {
    constructor(item, what) {
      super(what);
      this.item = item; // its place in the list, or null for the whole piece
    }
  }
  class Cannot extends Error {}

  const WHAT = { mirror: tr("mirror"), repeat: tr("repeat"), fibonacci: tr("growing series"), graded: tr("graded series"),
    faded: tr("fade"), drawn: tr("row drawn by lot"), amount: tr("yarn stripe") };
  const ONE = { mirror: tr("a mirror"), repeat: tr("a repeat"), fibonacci: tr("a growing series"), graded: tr("a graded series"),
    faded: tr("a fade"), drawn: tr("a row drawn by lot"), amount: tr("a yarn stripe") };

  const own = (front, key) => {
    const piece = front.pieces[key];
    const way = wayOf(piece);
    if (way === "like") throw new Cannot(tr("This piece follows another: colour that one."));
    return { piece, way, path: ["pieces", key, way], items: piece[way] || [] };
  };

  // Only a piece that states its rows has rows to move; of others, the rows are worked out.
  const stated = (front, key) => {
    const found = own(front, key);
    if (found.way === "parts") throw new WriteOut(null, tr("Its rows are shared out of a length."));
    if (found.way === "plain") throw new WriteOut(null, tr("It is one yarn over a whole length."));
    return found;
  };

  const top = (items, place) => ONE[window.Easel.kindOf(items[place])];

  const refuseSeries = (items, part) => {
    if (part.amount) throw new WriteOut(part.at[0], tr("The rows of this stripe follow from the yarn that is given for it."));
    if (part.series) throw new WriteOut(part.at[0], tr("This stripe is one of {what}.", { what: top(items, part.at[0]) }));
  };

  const isMiddle = (items, path) => {
    for (let end = path.length - 1; end > 1; end -= 1) {
      const around = path[end - 1] === "mirror" && at(items, path.slice(0, end - 1));
      if (around && around.middle !== "twice" && path[end] === around.mirror.length - 1) return true;
    }
    return false;
  };

  const listOf = (path) => path.slice(0, -1);
  const splice = (items, path, count, ...more) => {
    const list = [...at(items, listOf(path))];
    list.splice(path[path.length - 1], count, ...more);
    return listOf(path).length ? put(items, listOf(path), list) : list;
  };

  const setRun = (items, path, change) => {
    const before = at(items, path);
    return put(items, path, runText({ ...run(before), ...change }, before));
  };

  // Neighbours of one yarn become one, in the lists that were touched; the middle of a mirror stays
  // by itself.
  const joined = (list, touched, once = false) => {
    const made = [];
    const may = touched.has(list);
    list.forEach((item, number) => {
      const [one, last] = [run(item), made.length ? run(made[made.length - 1]) : null];
      const alone = once && number === list.length - 1;
      if (may && one && last && !alone && one.yarn === last.yarn && !one.least && !last.least) {
        made[made.length - 1] = runText({ ...last, count: last.count + one.count }, made[made.length - 1]);
      } else if (one || typeof item === "string" || byYarn(item)) made.push(item);
      else if (item.mirror) made.push({ ...item, mirror: joined(item.mirror, touched, item.middle !== "twice") });
      else if (item.repeat !== undefined) made.push({ ...item, stripes: joined(item.stripes, touched) });
      else made.push(item);
    });
    return made;
  };

  // The lists that lead to a stripe, the outermost first.
  const along = (items, path) => path.flatMap((step, n) => (typeof step === "number" ? [at(items, path.slice(0, n))] : []));

  // ---- colouring ------------------------------------------------------------------------------
  // Rows `from` to `to` (counted from the first visible row) in a yarn.
  const paint = (front, key, made, from, to, yarn) => {
    const { piece, way, path, items: given } = own(front, key);
    if (way === "plain") {
      if (from > 0 || to < Infinity) throw new WriteOut(null, tr("It is one yarn over a whole length."));
      return put(front, ["pieces", key, "yarn"], yarn);
    }
    let items = given;
    const touched = new Set();
    for (let turn = 0; turn < 4000; turn += 1) {
      const shown = window.Easel.stripesOf({ ...piece, [way]: items }, made.answer, made);
      let low = 0;
      let found = null;
      for (const part of shown) {
        const high = low + part.rows;
        if (high > from && low < to && part.yarn !== yarn) {
          found = { part, low, high };
          break;
        }
        low = high;
      }
      if (!found) break;
      const { part, high } = found;
      refuseSeries(items, part);
      const start = Math.max(from, found.low) - found.low;
      const end = Math.min(to, high) - found.low;
      const before = along(items, part.at);
      const seen = () => along(items, part.at).forEach((list, n) => {
        if (touched.has(before[n]) || n === before.length - 1) touched.add(list);
      });
      if (start === 0 && end === part.rows) {
        items = setRun(items, part.at, { yarn });
        seen();
        continue;
      }
      if (way === "parts") throw new WriteOut(null, tr("Its rows are shared out of a length."));
      if (isMiddle(items, part.at)) throw new WriteOut(part.at[0], tr("This stripe is the middle of a mirror."));
      const cuts = [[part.yarn, start], [yarn, end - start], [part.yarn, part.rows - end]].filter(([, rows]) => rows);
      if (part.flip) cuts.reverse();
      items = splice(items, part.at, 1, ...cuts.map(([name, count]) => runText({ yarn: name, count })));
      seen();
    }
    return put(front, path, way === "stripes" ? joined(items, touched) : items);
  };

  // ---- rows -----------------------------------------------------------------------------------
  const times = (shown, path) => shown.filter((part) => part.at.join() === path.join()).length;

  // The edge above stripe `number` goes up by `rows`: they pass from one stripe to the other.
  const edge = (front, key, made, number, rows) => {
    const { path, items } = stated(front, key);
    const shown = expand(items, made);
    const [one, two] = [shown[number], shown[number + 1]];
    if (!two) return size(front, key, made, number, one.count + rows, false);
    refuseSeries(items, one);
    refuseSeries(items, two);
    if (one.at.join() === two.at.join()) throw new WriteOut(one.at[0], tr("Both stripes are written once."));
    const [n, m] = [times(shown, one.at), times(shown, two.at)];
    if (Math.max(n, m) % Math.min(n, m)) throw new WriteOut(one.at[0], tr("These stripes are repeated unevenly."));
    const most = Math.max(n, m);
    const counts = [one.count + (rows * most) / n, two.count - (rows * most) / m];
    if (Math.min(...counts) < 1) throw new Cannot(tr("A stripe has at least one row."));
    return put(front, path, setRun(setRun(items, one.at, { count: counts[0] }), two.at, { count: counts[1] }));
  };

  // How far the edge above a stripe can go: rows down (negative) and up.
  const reach = (front, key, made, number) => {
    const { items } = stated(front, key);
    const shown = expand(items, made);
    const [one, two] = [shown[number], shown[number + 1]];
    const [n, m] = [times(shown, one.at), two ? times(shown, two.at) : 1];
    const most = Math.max(n, m);
    return [-Math.floor(((one.count - 1) * n) / most), two ? Math.floor(((two.count - 1) * m) / most) : 2000];
  };

  // A stripe's rows; with the length locked, its neighbour gives or takes them.
  const size = (front, key, made, number, rows, locked) => {
    const { way, path, items } = own(front, key);
    if (way === "plain") throw new WriteOut(null, tr("It is one yarn over a whole length."));
    const shown = expand(items, made);
    refuseSeries(items, shown[number]);
    if (!(rows >= 1)) throw new Cannot(tr("A stripe has at least one row."));
    if (way === "parts" || !locked) return put(front, path, setRun(items, shown[number].at, { count: rows }));
    const more = rows - shown[number].count;
    if (number + 1 < shown.length) return edge(front, key, made, number, more);
    if (number === 0) throw new Cannot(tr("The length is locked, and this is the only stripe."));
    return edge(front, key, made, number - 1, -more);
  };

  // ---- stripes --------------------------------------------------------------------------------
  const recolour = (front, key, made, number, yarn) => {
    const { way, path, items } = own(front, key);
    if (way === "plain") return put(front, ["pieces", key, "yarn"], yarn);
    const part = expand(items, made)[number];
    refuseSeries(items, part);
    return put(front, path, setRun(items, part.at, { yarn }));
  };

  // The upper half of a stripe in another yarn.
  const split = (front, key, made, number, yarn) => {
    const { items } = stated(front, key);
    const shown = expand(items, made);
    const low = shown.slice(0, number).reduce((sum, part) => sum + part.count, 0);
    const rows = shown[number].count;
    if (rows < 2) throw new Cannot(tr("One row can’t be split."));
    return paint(front, key, made, low + Math.ceil(rows / 2), low + rows, yarn);
  };

  const later = (one, other) => {
    const n = one.at.findIndex((step, place) => step !== other.at[place]);
    return other.at[n] - one.at[n] || 0;
  };

  const remove = (front, key, made, from, to, locked) => {
    const { path, items } = stated(front, key);
    const shown = expand(items, made);
    if (to - from + 1 >= shown.length) throw new Cannot(tr("One stripe has to stay."));
    if (locked) {
      const taken = from > 0 ? from - 1 : to + 1;
      const low = shown.slice(0, from).reduce((sum, part) => sum + part.count, 0);
      const high = shown.slice(0, to + 1).reduce((sum, part) => sum + part.count, 0);
      return paint(front, key, made, low, high, shown[taken].yarn);
    }
    let next = items;
    const places = new Map(shown.slice(from, to + 1).map((part) => [part.at.join(), part]));
    for (const part of [...places.values()].sort(later)) { // the last first, so that places hold
      refuseSeries(items, part);
      if (at(next, listOf(part.at)).length < 2) throw new WriteOut(part.at[0], tr("It would leave nothing of what it stands in."));
      next = splice(next, part.at, 1);
    }
    return put(front, path, next);
  };

  // Whether a stripe takes the rest of its piece; `stripes` of a series is a number.
  const rests = (items) => Array.isArray(items)
    && items.some((item) => byYarn(item)?.amount === "rest" || rests(item.stripes) || rests(item.mirror));

  // What is generated as single stripes: one entry, or (null) all of a piece with its rows stated.
  const writeOut = (front, key, shown, item) => {
    const piece = front.pieces[key];
    if (item !== null) {
      const path = ["pieces", key, wayOf(piece)];
      const own = shown.filter((part) => part.at[0] === item);
      const count = (part) => (wayOf(piece) === "parts" ? part.count : part.rows);
      const list = [...piece[wayOf(piece)]];
      list.splice(item, 1, ...own.map((part) => runText({ yarn: part.yarn, count: count(part) })));
      const next = put(front, path, list);
      if (wayOf(piece) !== "stripes" || !rests(piece.stripes) || rests(list)) return next;
      const { length, rows, ...stated } = next.pieces[key]; // without a rest the stripes say it all
      return put(next, ["pieces", key], stated);
    }
    const { parts, length, rows, yarn, least, ...rest } = piece;
    return put(front, ["pieces", key], { ...rest, stripes: shown.map((part) => runText({ yarn: part.yarn, count: part.rows })) });
  };

  // One yarn for another, in every piece.
  const everywhere = (front, one, other) => put(front, ["pieces"], renamed(front.pieces, { [one]: other }));

  window.Easel.gestures = { WriteOut, Cannot, WHAT, paint, edge, reach, size, recolour, split, remove, writeOut, everywhere };
  window.Easel.within = { stated, listOf, top };
})();
